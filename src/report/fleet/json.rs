//! The answer as JSON.

use super::sentences;
use crate::statistics::Interval;
use crate::studies::{Chance, Estimate, FleetAnswer, FleetSize, PourPlan};
use crate::units::measure::{self, Quantity};
use serde_json::{Value, json};

/// The study's own part of the JSON:
///
/// ```text
/// {"order", "volume_yd3", "tolerated_gap_min", "plant", "backup", "alone", "rule", "target",
///  "level", "seed", "asked", "searched", "stopped",
///  "decision": {"trucks", "plan", "sentence"},        // null where no fleet meets the target; plan: position in "plans"
///  "plans": [{"first_load", "spacing_min", "finish_by", "smallest",
///             "by_hand": {"loading_min", "rack_min", "out_min", "on_site_min", "back_min", "round_trip_min", "every_min", "trucks"},
///             "round_trip_min": {"mean", "p90"},
///             "hours": [{"from", "mean", "enough_for_9_in_10"}],
///             "sizes": [{"trucks", "replications", "final", "meets_target",
///                        "no_gap": {"times", "of", "share", "low", "high", "at_least"}, "finished_in_time": the same or null,
///                        "worst_gap_min", "finished_min", "wait_min", "truck_use",
///                        "cost_per_yd3": {"mean", "low", "high"}}]}]}
/// ```
///
/// What does not exist is `null`. `finished_min` counts from midnight before the order's day; pours that were not finished are
/// left out of it.
pub(super) fn json(answer: &FleetAnswer) -> Value {
    let trucks = answer.recommended().map(|(_, size)| size.trucks);
    json!({
        "order": answer.order,
        "volume_yd3": measure::rounded(Quantity::Volume, answer.volume_yd3, 6),
        "tolerated_gap_min": answer.tolerated.minutes(),
        "plant": answer.plant,
        "backup": answer.backup,
        "alone": answer.alone,
        "rule": answer.rule,
        "target": answer.target,
        "level": answer.level,
        "seed": answer.seed,
        "asked": answer.asked,
        "searched": answer.searched,
        "stopped": answer.stopped,
        "decision": { "trucks": trucks, "plan": answer.best, "sentence": sentences::decision(answer) },
        "plans": answer.plans.iter().map(|plan| plan_json(answer, plan)).collect::<Vec<_>>(),
    })
}

fn plan_json(answer: &FleetAnswer, plan: &PourPlan) -> Value {
    let hand = &plan.hand;
    let sums = &sentences::spoken_of(plan).sums;
    let hours: Vec<Value> = sentences::hours(answer, plan)
        .into_iter()
        .map(|(from, mean, most)| json!({ "from": from, "mean": mean, "enough_for_9_in_10": most }))
        .collect();
    json!({
        "first_load": sentences::clock(answer, plan.first),
        "spacing_min": plan.spacing.minutes(),
        "finish_by": plan.finish_by.map(|by| sentences::clock(answer, by)),
        "smallest": plan.smallest.map(|at| plan.sizes[at].trucks),
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
        "hours": hours,
        "sizes": plan.sizes.iter().map(|size| size_json(answer, size)).collect::<Vec<_>>(),
    })
}

fn size_json(answer: &FleetAnswer, size: &FleetSize) -> Value {
    let from = answer.midnight.minutes();
    let finished = Estimate {
        mean: size.finished_min.mean.map(|mean| mean - from),
        interval: Interval {
            low: size.finished_min.interval.low - from,
            high: size.finished_min.interval.high - from,
        },
    };
    json!({
        "trucks": size.trucks,
        "replications": size.replications,
        "final": size.is_final,
        "meets_target": size.is_final && size.meets(answer.target),
        "no_gap": chance(&size.no_gap),
        "finished_in_time": size.finished.as_ref().map(chance),
        "worst_gap_min": estimate(&size.worst_pause_min),
        "finished_min": estimate(&finished),
        "wait_min": estimate(&size.wait_min),
        "truck_use": estimate(&size.truck_use),
        "cost_per_yd3": estimate(&size.cost_per_yd3),
    })
}

fn chance(chance: &Chance) -> Value {
    json!({
        "times": chance.times,
        "of": chance.of,
        "share": (chance.of > 0).then(|| chance.share()),
        "low": chance.interval.low,
        "high": chance.interval.high,
        "at_least": chance.at_least,
    })
}

fn estimate(estimate: &Estimate) -> Value {
    let bounded = estimate.interval.is_bounded();
    json!({
        "mean": estimate.mean,
        "low": bounded.then_some(estimate.interval.low),
        "high": bounded.then_some(estimate.interval.high),
    })
}
