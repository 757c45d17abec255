//! The answer as JSON.

use super::sentences::{changed, combination};
use crate::report::habit_words::{choice, label};
use crate::scenario::{Scenario, rule_text};
use crate::studies::Best;
use crate::units::measure;
use serde_json::{Map, Value, json};

/// What the JSON has of this study alone:
///
/// ```text
/// {"days", "seed", "level", "judge", "indifference", "searched", "decided_on", "tried": how many rules, "targets": {key: bound},
///  "decisions": [{"decision", "words", "ways": [words]}],                           // today's way first
///  "chosen": {"changes": [decision], "against_today": {"mean", "low", "high"}} | null, "rule": text to paste | null,
///  "smallest": the same as "chosen" | null, "share_of_smallest" | null, "worse_by_at_most" | null,
///  "shares": {decision: {"mean", "low", "high"}} | null,
///  "reach": [{"change", "words", "targets": {key: mean}, "seems_to_meet"}]}
/// ```
pub(super) fn own(found: &Best, scenario: &Scenario) -> Value {
    let finalist = |place: usize| {
        let finalist = &found.last.finalists[place];
        let habits = changed(found, combination(found, place));
        let ends = finalist.against_written.filter(|i| i.is_bounded());
        json!({
            "changes": habits.iter().map(|habit| measure::key(habit.key()).0).collect::<Vec<_>>(),
            "against_today": {
                "mean": finalist.saves, "low": ends.map(|i| i.low), "high": ends.map(|i| i.high),
            },
        })
    };
    let decisions: Vec<Value> = found
        .decisions
        .iter()
        .map(|decision| {
            let ways = decision.ways.iter();
            let ways = ways.map(|rule| choice(decision.habit, &scenario.rules[*rule], scenario));
            json!({
                "decision": measure::key(decision.habit.key()).0, "words": label(decision.habit), "ways": ways.collect::<Vec<_>>(),
            })
        })
        .collect();
    let by_target = |values: &dyn Fn(usize) -> Value| -> Map<String, Value> {
        let columns = found.targets.iter().enumerate();
        columns
            .map(|(at, column)| (column.key.clone(), values(at)))
            .collect()
    };
    let reach: Vec<Value> = found
        .reach
        .iter()
        .map(|reach| {
            json!({
                "change": reach.what.key(), "words": reach.what.words(), "seems_to_meet": reach.seen.seems_to_meet,
                "targets": by_target(&|at| json!(reach.seen.targets[at].mean())),
            })
        })
        .collect();
    let shares = found.shares.as_ref().map(|shares| {
        let each = shares.habits.iter().map(|result| {
            let share = result.of(crate::studies::Valued::Cost).share;
            let value = json!({ "mean": share.mean, "low": share.interval.low, "high": share.interval.high });
            (result.habit.key().to_owned(), value)
        });
        each.collect::<Map<String, Value>>()
    });
    let brings = |place: usize| found.last.finalists[place].saves;
    let share = found
        .smallest
        .zip(found.last.chosen)
        .and_then(|(smallest, chosen)| Some(brings(smallest)? / brings(chosen)?));
    json!({
        "days": found.days, "seed": found.asked.seed, "level": found.asked.level, "judge": found.judge.key,
        "indifference": found.asked.indifference, "searched": found.searched, "decided_on": found.last.decided_on,
        "tried_rules": found.tried.len(), "targets": by_target(&|at| json!(found.asked.targets[at].bound)),
        "decisions": decisions,
        "chosen": found.last.chosen.map(finalist), "rule": found.rule.as_ref().map(rule_text),
        "smallest": found.smallest.map(finalist), "share_of_smallest": share,
        "worse_by_at_most": found.last.worse_by_at_most.is_finite().then_some(found.last.worse_by_at_most),
        "shares": shares, "reach": reach,
    })
}
