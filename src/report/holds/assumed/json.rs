//! The answer as JSON.

use super::tables::standing;
use crate::statistics::Interval;
use crate::studies::{Holds, UnderAssumptions};
use serde_json::{Value, json};

/// What the JSON has of it; savings are above zero where the rule is better:
///
/// ```text
/// {"inputs": [{"input", "words", "spread", "written", "correlation"}], "against", "asked", "saving", "low", "high", "luck_low", "luck_high",
///  "share_from_assumptions", "share_from_assumptions_in_one", "var_assumptions", "var_luck", "var_rest",   // variances of one replication
///  "saves_in", "shown_to_lose_in", "barred_in", "worlds": [{"values", "saving", "low", "high", "standing"}]}
/// ```
pub(in crate::report::holds) fn json(found: &Holds, drawn: &UnderAssumptions) -> Value {
    let finite = |interval: Interval| interval.is_bounded().then_some(interval);
    let table = drawn.table.as_ref();
    let level = found.assumed.level;
    let both = table.and_then(|table| finite(table.luck_and_worlds(level)));
    let luck = table.and_then(|table| finite(table.luck(level)));
    let correlations = drawn.correlations(level);
    let inputs = drawn.assumptions.iter().zip(&drawn.written);
    let inputs = inputs.zip(&correlations);
    let inputs = inputs.map(|((one, written), correlation)| {
        json!({
            "input": one.input.name(),
            "words": one.input.words(),
            "spread": one.text,
            "written": written,
            "correlation": correlation.map(|found| found.coefficient),
        })
    });
    let worlds = drawn.worlds.iter().map(|world| {
        let sure = finite(world.interval);
        json!({
            "values": world.values,
            "saving": world.saving,
            "low": sure.map(|i| i.low),
            "high": sure.map(|i| i.high),
            "standing": standing(world),
        })
    });
    json!({
        "inputs": inputs.collect::<Vec<_>>(),
        "against": found.assumed.rules[drawn.against].name,
        "asked": drawn.asked,
        "saving": table.map(|table| table.mean()),
        "low": both.map(|i| i.low),
        "high": both.map(|i| i.high),
        "luck_low": luck.map(|i| i.low),
        "luck_high": luck.map(|i| i.high),
        "share_from_assumptions": table.and_then(|table| table.share_of_worlds()),
        "share_from_assumptions_in_one": table.and_then(|table| table.share_of_worlds_in_one()),
        "var_assumptions": table.map(|table| table.var_worlds()),
        "var_luck": table.map(|table| table.var_replications()),
        "var_rest": table.map(|table| table.var_rest()),
        "saves_in": drawn.saves(),
        "shown_to_lose_in": drawn.shown_to_lose(),
        "barred_in": drawn.barred(),
        "worlds": worlds.collect::<Vec<_>>(),
    })
}
