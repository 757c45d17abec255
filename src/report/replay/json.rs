//! The answer as JSON.

use super::{late, sentences};
use crate::hours::Clock;
use crate::observe::LateCause;
use crate::scenario::Scenario;
use crate::studies::Replay;
use crate::units::Millis;
use serde_json::{Map, Value, json};

/// What the JSON has of a replay, beside what all answers have; times in minutes since midnight before the first day:
///
/// ```text
/// {"rule", "today", "seed", "replication", "searched", "asked", "sentence",
///  "figures": {key: {"here", "mean"}},
///  "late": [{"order", "load", "truck", "plant", "at_min", "late_min", "because": [{"cause", "min"}], "sentence"}],
///  "undelivered": [{"order", "load", "truck", "yd3", "day", "ready_min", "at_min", "late_min", "because": [{"cause", "min"}],
///                   "sentence"}],
///  "stranded": [{"driver", "truck", "place", "at_min", "fetched", "home_min"}],
///  "refused": [{"at_min", "order", "load", "driver", "truck", "plant", "reason",
///               "clock": "driving" | "window" | "on_duty" | "break" | "cycle"}]}
/// ```
///
/// What does not exist is `null`, such as refusals if they were not asked for, and the clock of one that is not by a clock. A load
/// that was never promised a truck has no number yet; `late_min` of an undelivered load is by the end of its order's `day`, 1 for
/// the first.
pub(super) fn own(answer: &Replay, scenario: &Scenario) -> Value {
    let figures: Map<String, Value> = answer
        .columns
        .iter()
        .enumerate()
        .filter(|(_, column)| column.is_told())
        .map(|(place, column)| {
            let here = Some(answer.figure(place)).filter(|value| value.is_finite());
            let value = json!({ "here": here, "mean": answer.means[place] });
            (column.key.clone(), value)
        })
        .collect();
    let because = |parts: &[(LateCause, Millis)]| -> Vec<Value> {
        parts
            .iter()
            .map(|(cause, part)| json!({ "cause": cause.key(), "min": part.minutes() }))
            .collect()
    };
    let late: Vec<Value> = answer
        .late
        .iter()
        .map(|late| {
            json!({
                "order": scenario.order_name(late.order),
                "load": late.number + 1,
                "truck": scenario.trucks[late.truck.at()].name,
                "plant": scenario.plants[late.plant.at()].name,
                "at_min": late.at.minutes(),
                "late_min": late.late.minutes(),
                "because": because(&late.parts),
                "sentence": late::story(late),
            })
        })
        .collect();
    let undelivered: Vec<Value> = answer
        .never
        .iter()
        .map(|never| {
            json!({
                "order": scenario.order_name(never.order),
                "load": never.number.map(|number| number + 1),
                "truck": never.truck.map(|truck| &scenario.trucks[truck.at()].name[..]),
                "yd3": never.volume.yd3(),
                "day": never.day() + 1,
                "ready_min": never.ready.minutes(),
                "at_min": never.at.minutes(),
                "late_min": never.late.minutes(),
                "because": because(&never.parts),
                "sentence": late::missing_story(never),
            })
        })
        .collect();
    let stranded: Vec<Value> = answer
        .stranded
        .iter()
        .map(|stranded| {
            json!({
                "driver": scenario.drivers[stranded.driver.at()].name,
                "truck": scenario.trucks[stranded.truck.at()].name,
                "place": scenario.place_name(stranded.place),
                "at_min": stranded.at.minutes(),
                "fetched": stranded.fetched,
                "home_min": stranded.home.map(Millis::minutes),
            })
        })
        .collect();
    let refused = answer.told.map(|_| {
        let refused = answer.refused.iter().map(|refused| {
            json!({
                "at_min": refused.at.minutes(),
                "order": scenario.order_name(refused.order),
                "load": refused.number + 1,
                "driver": refused.driver.map(|driver| &scenario.drivers[driver.at()].name[..]),
                "truck": scenario.trucks[refused.truck.at()].name,
                "plant": scenario.plants[refused.plant.at()].name,
                "reason": refused.reason.words(),
                "clock": refused.reason.clock().map(Clock::key),
            })
        });
        refused.collect::<Vec<Value>>()
    });
    json!({
        "rule": answer.rule,
        "today": answer.today,
        "seed": answer.seed,
        "replication": answer.replication,
        "searched": answer.searched,
        "asked": answer.asked,
        "sentence": sentences::summary(answer),
        "figures": figures,
        "late": late,
        "undelivered": undelivered,
        "stranded": stranded,
        "refused": refused,
    })
}
