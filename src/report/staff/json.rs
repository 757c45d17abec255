//! The answer as JSON.

use super::{prices, sentences};
use crate::observe::{CostPart, MoneyKind};
use crate::statistics::Interval;
use crate::studies::{Absence, CallSheet, Estimate, HaulerCase, OneMore, StaffAnswer, StaffResult};
use serde_json::{Map, Value, json};

/// The study's own part of the JSON:
///
/// ```text
/// {"days", "rule", "seed", "replications", "searched", "level", "stopped",
///  "targets": {"late_share", "undelivered", "stranded"},
///  "decision": {"drivers", "starts", "overtime", "haulers", "part_time", "keep_today", "runs_that_would_show_it", "sentence"},
///                                                                  // null where none meets the targets
///  "today": {"drivers", "starts", "overtime", "haulers"},
///  "staffings": [STAFFING], "equal": [STAFFING],
///  "saving": {"all": {"mean", "low", "high"}, "parts": {change: the same}},        // null where today's is recommended
///  "one_driver_less": ONE, "one_driver_more": ONE,
///  "hire": {"break_even_per_week", "low", "high", "asked_per_week"},
///  "hauler": {"per_h", "least_h", "one_hauler_more": ONE, "days_per_week", "hours_per_week", "hire_saves": {"mean", "low", "high"},
///             "hire_pays_from_days_per_week"},
///  "absence": {"comes", "books", "road", "books_on_average", "books_for_19_days_of_20", "days_off", "costs": {"mean", "low", "high"}},
///  "other_prices": [{"price", "times", "staffing": STAFFING, "saving"}],
///  "growth": [{"per_cent", "as_now": STAFFING, "fewest": STAFFING or null}],
///  "call_in": {"day", "called": [{"driver", "truck", "plant", "report_min", "planned_min", "share_of_days", "earliest_min"}], "not_called": [names]}}
/// STAFFING: {"drivers", "starts", "overtime", "haulers", "part_time", "part_time_h", "final", "meets_targets", "cost": {"mean", "low", "high"},
///            "parts": {words: mean}, "idle_pay", "late_share", "undelivered", "stranded", "margin_min", "overtime_h", "paid_h",
///            "unworked_h", "haulers_h", "haulers_days"}
/// ONE:      {"staffing": STAFFING, "cost_difference": {"mean", "low", "high"}, "overtime_h_difference"}
/// ```
///
/// The year by its seasons, the changed worlds and the amounts of the sheet for who signs stand under `tables`, as in their CSV files:
/// `year`, `year-seasons`, `year-head-counts`, `worlds`, `finance`. Money is per period but where a name says week; minutes of the sheet count from midnight before the first day.
pub(super) fn json(answer: &StaffAnswer, sheet: Option<&CallSheet>) -> Value {
    let asked = &answer.question;
    let best = answer.best.map(|at| answer.results[at].staffing);
    let grown: Vec<Value> = answer
        .grown
        .iter()
        .map(|grown| {
            json!({ "per_cent": grown.per_cent, "as_now": result(&grown.as_now), "fewest": grown.fewest.as_ref().map(result) })
        })
        .collect();
    json!({
        "days": answer.days,
        "rule": answer.rule,
        "seed": asked.seed,
        "replications": asked.replications,
        "searched": answer.searched,
        "level": asked.level,
        "stopped": answer.stopped,
        "targets": { "late_share": asked.late_share, "undelivered": asked.undelivered, "stranded": asked.stranded },
        "decision": {
            "drivers": best.map(|best| best.drivers),
            "starts": best.map(|best| best.starts.word()),
            "overtime": best.map(|best| best.overtime.word()),
            "haulers": best.map(|best| best.hired.haulers),
            "part_time": best.map(|best| best.part_time.drivers),
            "keep_today": answer.best.map(|_| answer.keeps_today()),
            "runs_that_would_show_it": answer.saving.as_ref().and_then(|saving| saving.would_show),
            "sentence": sentences::decision(answer),
        },
        "today": {
            "drivers": answer.today.drivers,
            "starts": answer.today.starts.word(),
            "overtime": answer.today.overtime.word(),
            "haulers": answer.today.hired.haulers,
        },
        "staffings": answer.results.iter().map(result).collect::<Vec<_>>(),
        "equal": answer.equal.iter().map(|at| result(&answer.results[*at])).collect::<Vec<_>>(),
        "saving": answer.saving.as_ref().map(|saving| json!({
            "all": bounds(saving.whole.mean, saving.whole.interval),
            "parts": saving.parts.iter().map(|(part, share)| {
                (sentences::part_words(*part).to_owned(), bounds(share.mean, share.interval))
            }).collect::<Map<_, _>>(),
        })),
        "one_driver_less": answer.less.as_ref().map(one),
        "one_driver_more": answer.more.as_ref().map(one),
        "hire": answer.break_even().map(|(even, interval)| {
            let mut hire = bounds(Some(even), interval);
            hire["break_even_per_week"] = hire["mean"].take();
            hire["asked_per_week"] = json!(asked.hire_per_week);
            hire
        }),
        "hauler": answer.haulers.as_ref().map(|case| hauler(answer, case)),
        "absence": answer.absence.as_ref().map(absence),
        "other_prices": answer.prices.iter().map(|change| json!({
            "price": prices::key(change.price),
            "times": change.times,
            "staffing": result(&answer.results[change.best]),
            "saving": change.saving.as_ref().map(estimate),
        })).collect::<Vec<_>>(),
        "growth": grown,
        "call_in": sheet.map(call_in),
    })
}

fn bounds(mean: Option<f64>, interval: Interval) -> Value {
    let bounded = interval.is_bounded();
    json!({ "mean": mean, "low": bounded.then_some(interval.low), "high": bounded.then_some(interval.high) })
}

fn estimate(estimate: &Estimate) -> Value {
    bounds(estimate.mean, estimate.interval)
}

fn one(one: &OneMore) -> Value {
    json!({
        "staffing": result(&one.result),
        "cost_difference": bounds(Some(one.cost.0), one.cost.1),
        "overtime_h_difference": one.overtime_h,
    })
}

fn hauler(answer: &StaffAnswer, case: &HaulerCase) -> Value {
    json!({
        "per_h": case.terms.per_h.units(),
        "least_h": case.terms.least.hours(),
        "one_hauler_more": one(&case.more),
        "days_per_week": case.days,
        "hours_per_week": case.hours,
        "hire_saves": bounds(Some(case.hire_saves.0), case.hire_saves.1),
        "hire_pays_from_days_per_week": answer.hire_pays_from(),
    })
}

fn absence(absence: &Absence) -> Value {
    json!({
        "comes": absence.comes,
        "books": absence.books,
        "road": absence.road,
        "books_on_average": absence.books_on_average,
        "books_for_19_days_of_20": absence.books_for_sure,
        "days_off": absence.days_off,
        "costs": estimate(&absence.costs),
    })
}

/// The part that is for drivers more than today.
const HIRES: &str = "drivers more than today";

fn result(result: &StaffResult) -> Value {
    let parts: Map<String, Value> = CostPart::ALL
        .into_iter()
        .filter(|part| {
            part.kind() != MoneyKind::Capacity && part.is_listed(result.parts[*part as usize])
        })
        .map(|part| (part.words().to_owned(), json!(result.parts[part as usize])))
        .chain([(HIRES.to_owned(), json!(result.hire))])
        .collect();
    json!({
        "drivers": result.staffing.drivers,
        "starts": result.staffing.starts.word(),
        "overtime": result.staffing.overtime.word(),
        "haulers": result.staffing.hired.haulers,
        "part_time": result.staffing.part_time.drivers,
        "part_time_h": result.staffing.part_time.shift.hours(),
        "final": result.is_final,
        "meets_targets": result.is_final && result.meets,
        "cost": estimate(&result.cost),
        "parts": parts,
        "idle_pay": result.idle_pay,
        "late_share": estimate(&result.late_share),
        "undelivered": estimate(&result.undelivered),
        "stranded": estimate(&result.stranded),
        "margin_min": estimate(&result.margin_min),
        "overtime_h": estimate(&result.overtime_h),
        "paid_h": estimate(&result.paid_h),
        "unworked_h": estimate(&result.unworked_h),
        "haulers_h": result.hired_h,
        "haulers_days": result.hired_days,
    })
}

fn call_in(sheet: &CallSheet) -> Value {
    let called: Vec<Value> = sheet
        .called
        .iter()
        .map(|call| {
            json!({
                "driver": call.driver,
                "truck": call.truck,
                "plant": call.plant,
                "report_min": call.report.minutes(),
                "planned_min": call.planned.unwrap_or(call.report).minutes(),
                "share_of_days": call.share,
                "earliest_min": call.earliest.map(|earliest| earliest.minutes()),
            })
        })
        .collect();
    json!({ "day": sheet.day + 1, "called": called, "not_called": sheet.not_called })
}
