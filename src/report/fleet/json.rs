//! The answer as JSON.

use super::sentences;
use crate::statistics::Interval;
use crate::studies::{
    Chance, DriverCall, Estimate, FleetAnswer, FleetSize, JOINT_RISK, PourHour, PourPlan,
};
use crate::units::measure::{self, Quantity};
use serde_json::{Value, json};

/// The study's own part of the JSON:
///
/// ```text
/// {"order", "volume_yd3", "tolerated_gap_min", "plant", "backup", "alone", "rule", "target",
///  "level", "seed", "asked", "searched", "stopped",
///  "decision": {"trucks", "plan", "sentence"},        // null where no fleet does what is asked; plan: position in "plans"
///  "no_gap_without": {"site" | "plant" | "trucks" | "roads" | "concrete": {"times", "of", "share", "low", "high", "at_least"}},
///  "plans": [{"first_load", "spacing_min", "finish_by", "planned_finish", "smallest", "cheapest",
///             "by_hand": {"loading_min", "rack_min", "out_min", "on_site_min", "back_min", "round_trip_min", "every_min", "trucks"},
///             "round_trip_min": {"mean", "p90"},
///             "hours": [{"from", "planned_round_trip_min", "needed", "mean", "enough_for_9_in_10", "called", "on_duty": [first shift,
///                        later shifts], "handed_over"}],
///             "calls": [{"drivers", "from", "to", "take_over"}],
///             "loads_at": [loads on average, by plant in the order of the scenario],
///             "sizes": [{"trucks", "drivers", "replications", "final", "meets_target",
///                        "no_gap": {"times", "of", "share", "low", "high", "at_least"}, "finished_in_time": the same or null,
///                        "no_pause_beyond": [{"pause_min", and the same}],
///                        "worst_gap_min", "stands_min", "finished_min", "wait_min", "late_share", "truck_use",
///                        "cost_per_yd3": {"mean", "low", "high"}, "dearer_per_yd3": the same or null,
///                        "against_one_fewer": {"gap", "cost_per_yd3": the same, "same_within_luck"} or null,
///                        "parts": {part: $ per yd³}}]}]}
/// ```
///
/// Where one breakdown is asked about, also `"one_breakdown": [{"trucks", "without": {"no_gap", "worst_gap_min", "finished_min"},
/// "with": the same, "dearer_per_yd3"}]`, the fleet that is spoken of first.
///
/// What does not exist is `null`. `finished_min` counts from midnight before the order's day; pours that were not finished are
/// left out of it.
pub(super) fn json(answer: &FleetAnswer) -> Value {
    let trucks = answer.recommended().map(|(_, size)| size.trucks);
    let mut told = json!({
        "order": answer.order,
        "volume_yd3": measure::rounded(Quantity::Volume, answer.volume_yd3, 6),
        "tolerated_gap_min": answer.tolerated.minutes(),
        "plant": answer.plant,
        "backup": answer.backup,
        "alone": answer.alone,
        "rule": answer.rule,
        "target": answer.target,
        "late_share": answer.late_share,
        "level": answer.level,
        "seed": answer.seed,
        "asked": answer.asked,
        "searched": answer.searched,
        "stopped": answer.stopped,
        "decision": { "trucks": trucks, "plan": answer.best, "sentence": sentences::decision(answer) },
        "no_gap_without": answer.without_trouble.iter().map(|(trouble, no_gap)| (trouble.key().to_owned(), chance(no_gap)))
            .collect::<serde_json::Map<_, _>>(),
        "plans": answer.plans.iter().map(|plan| plan_json(answer, plan)).collect::<Vec<_>>(),
    });
    if !answer.one_breakdown.is_empty() {
        told["one_breakdown"] = super::breakdown::json(answer);
    }
    told
}

fn plan_json(answer: &FleetAnswer, plan: &PourPlan) -> Value {
    let hand = &plan.hand;
    let sums = &plan.spoken_of().sums;
    let hour = |hour: &PourHour| {
        json!({
            "from": sentences::clock(answer, hour.from),
            "planned_round_trip_min": hour.round_trip.map(|round_trip| round_trip.minutes()),
            "needed": hour.needed,
            "mean": hour.at_work,
            "enough_for_9_in_10": hour.enough,
            "called": hour.called,
            "on_duty": hour.on_duty,
            "handed_over": hour.handed_over,
        })
    };
    let call = |call: &DriverCall| {
        json!({
            "drivers": call.drivers,
            "from": sentences::clock(answer, call.first),
            "to": sentences::clock(answer, call.last),
            "take_over": call.later,
        })
    };
    let loads_at: Vec<f64> = sums
        .loads_at
        .iter()
        .map(|loads| *loads as f64 / sums.replications.max(1) as f64)
        .collect();
    json!({
        "first_load": sentences::clock(answer, plan.first),
        "spacing_min": plan.spacing.minutes(),
        "finish_by": plan.finish_by.map(|by| sentences::clock(answer, by)),
        "planned_finish": sentences::clock(answer, plan.planned_finish),
        "smallest": plan.smallest.map(|at| plan.sizes[at].trucks),
        "cheapest": plan.cheapest.map(|at| plan.sizes[at].trucks),
        "by_hand": {
            "loading_min": hand.loading.minutes(),
            "rack_min": hand.rack.minutes(),
            "out_min": hand.out.minutes(),
            "on_site_min": hand.on_site.minutes(),
            "back_min": hand.back.minutes(),
            "round_trip_min": hand.round_trip().minutes(),
            "every_min": hand.every().minutes(),
            "trucks": hand.trucks(),
        },
        "round_trip_min": {
            "mean": sums.mean_round().map(|round| round.minutes()),
            "p90": sums.round(0.9).map(|round| round.minutes()),
        },
        "hours": plan.hours.iter().map(hour).collect::<Vec<_>>(),
        "calls": plan.calls.iter().map(call).collect::<Vec<_>>(),
        "loads_at": loads_at,
        "sizes": plan.sizes.iter().enumerate().map(|(at, size)| {
            let dearer = plan.dearer.iter().find(|(other, _)| *other == at);
            size_json(answer, size, dearer.map(|(_, more)| more))
        }).collect::<Vec<_>>(),
    })
}

fn size_json(answer: &FleetAnswer, size: &FleetSize, dearer: Option<&Estimate>) -> Value {
    let from = answer.midnight.minutes();
    let finished = since(from, &size.finished_min);
    json!({
        "trucks": size.trucks,
        "drivers": size.drivers,
        "replications": size.replications,
        "final": size.is_final,
        "meets_target": size.is_final && size.meets(answer.target, answer.late_share),
        "no_gap": chance(&size.no_gap),
        "finished_in_time": size.finished.as_ref().map(chance),
        "no_pause_beyond": JOINT_RISK.iter().zip(&size.no_pause_beyond).map(|(pause, no_pause)| {
            let mut told = chance(no_pause);
            told["pause_min"] = pause.minutes().into();
            told
        }).collect::<Vec<_>>(),
        "worst_gap_min": estimate(&size.worst_pause_min),
        "stands_min": estimate(&size.stands_min),
        "finished_min": estimate(&finished),
        "wait_min": estimate(&size.wait_min),
        "late_share": estimate(&size.late_share),
        "truck_use": estimate(&size.truck_use),
        "cost_per_yd3": estimate(&sentences::per_volume(&size.cost_per_yd3)),
        "dearer_per_yd3": dearer.map(|more| estimate(&sentences::per_volume(more))),
        "against_one_fewer": size.truck_more.map(|more| json!({
            "gap": estimate(&more.gap),
            "cost_per_yd3": estimate(&sentences::per_volume(&more.cost)),
            "same_within_luck": more.gap_is_the_same_within_luck(),
        })),
        "parts": size.parts.iter().map(|(part, cost)| (part.words().to_owned(), json!(Quantity::PerVolume.told(*cost)))).collect::<serde_json::Map<_, _>>(),
    })
}

/// Minutes since another moment.
pub(super) fn since(from: f64, minutes: &Estimate) -> Estimate {
    Estimate {
        mean: minutes.mean.map(|mean| mean - from),
        interval: Interval {
            low: minutes.interval.low - from,
            high: minutes.interval.high - from,
        },
    }
}

pub(super) fn chance(chance: &Chance) -> Value {
    json!({
        "times": chance.times,
        "of": chance.of,
        "share": (chance.of > 0).then(|| chance.share()),
        "low": chance.interval.low,
        "high": chance.interval.high,
        "at_least": chance.at_least,
    })
}

pub(super) fn estimate(estimate: &Estimate) -> Value {
    let bounded = estimate.interval.is_bounded();
    json!({
        "mean": estimate.mean,
        "low": bounded.then_some(estimate.interval.low),
        "high": bounded.then_some(estimate.interval.high),
    })
}
