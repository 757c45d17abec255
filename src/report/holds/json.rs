//! The answer as JSON.

use super::tables::standing;
use crate::scenario::{Otherwise, Scenario};
use crate::statistics::Interval;
use crate::studies::{Holds, Standing, TriedWorld};
use serde_json::{Value, json};

/// What the JSON has of this study; differences are those of the judging figure, means of a replication:
///
/// ```text
/// {"days", "seed", "replications", "level", "judge", "rule", "against", "held", "tried", "left",
///  "as_assumed": world, "worlds": [world],          // {"world", "words", "yours", "changes", "against_base", "low", "high", "standing", "better", "by"}
///  "break_even": [{"price", "today", "turns_at", "factor", "better"}],
///  "not_applying": [{"words", "why"}], "under_assumptions": …}
/// ```
/// The last only where inputs are assumed: see [`under_assumptions`](super::assumed::json).
pub(super) fn own(found: &Holds, scenario: &Scenario) -> Value {
    let assumed = &found.assumed;
    let worlds: Vec<Value> = found
        .worlds
        .iter()
        .map(|tried| world(found, tried, scenario))
        .collect();
    let prices: Vec<Value> = found
        .break_even
        .iter()
        .map(|point| {
            json!({
                "price": point.price,
                "today": point.today,
                "turns_at": point.today.map(|today| today * point.factor),
                "factor": point.factor,
                "better": assumed.rules[point.to].name,
            })
        })
        .collect();
    let not_applying: Vec<Value> = found
        .not_applying
        .iter()
        .map(|(otherwise, why)| json!({ "words": otherwise.words(scenario), "why": why }))
        .collect();
    let mut own = json!({
        "days": assumed.days,
        "seed": assumed.seed,
        "replications": assumed.replications(),
        "level": assumed.level,
        "judge": assumed.judged_by().key,
        "rule": assumed.rules[found.rule].name,
        "against": assumed.rules[assumed.base].name,
        "held": found.held(),
        "tried": found.worlds.len(),
        "left": found.left,
        "as_assumed": world(found, &found.as_assumed, scenario),
        "worlds": worlds,
        "break_even": prices,
        "not_applying": not_applying,
    });
    if let Some(drawn) = &found.under_assumptions {
        own["under_assumptions"] = super::assumed::json(found, drawn);
    }
    own
}

fn world(found: &Holds, tried: &TriedWorld, scenario: &Scenario) -> Value {
    let finite = |interval: Interval| interval.is_bounded().then_some(interval);
    let sure = finite(tried.interval);
    let (better, by) = match &tried.standing {
        Standing::Loses { to, by, .. } => (Some(found.assumed.rules[*to].name.as_str()), Some(*by)),
        _ => (None, None),
    };
    json!({
        "world": tried.otherwise.key(scenario),
        "words": (tried.otherwise != Otherwise::Nothing).then(|| tried.otherwise.words(scenario)),
        "yours": tried.otherwise.is_own(),
        "changes": tried.otherwise.changes(scenario),
        "against_base": tried.against_base,
        "low": sure.map(|i| i.low),
        "high": sure.map(|i| i.high),
        "standing": standing(&tried.standing),
        "better": better,
        "by": by,
    })
}
