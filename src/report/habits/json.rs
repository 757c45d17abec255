//! The answer as JSON.

use super::tables::key;
use crate::observe::columns;
use crate::report::habit_words::{choice, label};
use crate::scenario::Scenario;
use crate::studies::{Change, Habits, Valued};
use crate::units::measure;
use serde_json::{Map, Value, json};

/// What the JSON has of this study; amounts are means of a replication, second rule less first:
///
/// ```text
/// {"days", "seed", "replications", "asked", "level", "from", "from_is_today", "to", "rules_run", "orders",     // orders: null if all
///  "decisions": [{"decision", "words", "from", "to",
///                 "figures": {figure: {"added_alone" | "taken_last" | "share": {"mean", "low", "high", "told_apart"}}}}],
///  "all": {figure: {"mean", "low", "high", "told_apart"}}}
/// ```
pub(super) fn own(found: &Habits, scenario: &Scenario) -> Value {
    let figures = columns(scenario);
    let decisions: Vec<Value> = found
        .habits
        .iter()
        .map(|result| {
            let figures: Map<String, Value> = Valued::ALL
                .into_iter()
                .map(|valued| {
                    let value = result.of(valued);
                    let changes = json!({
                        "added_alone": change(value.alone),
                        "taken_last": change(value.last),
                        "share": change(value.share),
                    });
                    (key(&figures, valued), changes)
                })
                .collect();
            json!({
                "decision": measure::key(result.habit.key()).0,
                "words": label(result.habit),
                "from": choice(result.habit, &found.from, scenario),
                "to": choice(result.habit, &found.to, scenario),
                "figures": figures,
            })
        })
        .collect();
    let all: Map<String, Value> = Valued::ALL
        .into_iter()
        .map(|valued| (key(&figures, valued), change(found.whole(valued))))
        .collect();
    json!({
        "days": found.days,
        "seed": found.asked.seed,
        "replications": found.replications,
        "asked": found.asked.replications,
        "level": found.asked.level,
        "from": found.from.name,
        "from_is_today": found.from_is_today,
        "to": found.to.name,
        "rules_run": found.rules_run,
        "orders": found.orders,
        "decisions": decisions,
        "all": all,
    })
}

fn change(change: Change) -> Value {
    let finite = change.interval.is_bounded().then_some(change.interval);
    json!({
        "mean": change.mean,
        "low": finite.map(|i| i.low),
        "high": finite.map(|i| i.high),
        "told_apart": change.interval.is_bounded() && change.interval.excludes_zero(),
    })
}
