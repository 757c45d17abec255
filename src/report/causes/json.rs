//! The answer as JSON.

use super::sentences;
use crate::report::compare;
use crate::statistics::Interval;
use crate::studies::{Counterfactuals, Gone};
use serde_json::{Map, Value, json};

/// What the JSON has of the changes, beside what all answers have; amounts are means of a replication, which has `days` days:
///
/// ```text
/// {"days", "seed", "replications", "asked", "level", "rule", "rule_is_today", "finding",
///  "as_it_is": {"cost", "late_loads", "undelivered", "stranded", "dumped_yd3"},
///  "lateness": {cause: {"late_loads", "share", "minutes_late"}},
///  "losses": {loss: {"mean", "low", "high", "at_most_if_never"}},
///  "changes": [{"change", "words", "paid",                  // what of its own cost is in its worth, or null
///               "can_be_decided", "left_over": as worth, or null, "pays_back_after": {"periods", "low", "high"} or null,
///               "worth" | "late_loads" | "undelivered" | "stranded" | "dumped_yd3":
///                   {"gone", "low", "high", "share", "share_low", "share_high", "told_apart"},
///               "beside_ledger": {"causes", "late_loads", "low", "high", "own": {"gone", …}, "why"}}],   // worth most first
///  "not_applying": [{"change", "words", "why"}]}
/// ```
///
/// What does not exist is `null`.
pub(super) fn own(answer: &Counterfactuals) -> Value {
    let changes: Vec<Value> = answer
        .changes
        .iter()
        .map(|change| {
            let mut value = Map::new();
            value.insert("change".into(), change.change.key().into());
            value.insert("words".into(), change.change.words().into());
            value.insert("paid".into(), json!(change.change.paid()));
            value.insert(
                "can_be_decided".into(),
                json!(change.change.can_be_decided()),
            );
            let left = change.left_over().map(gone);
            value.insert("left_over".into(), json!(left));
            let back = change.pays_back_after().map(|(after, sure)| {
                let high = sure.high.is_finite().then_some(sure.high);
                json!({ "periods": after, "low": sure.low, "high": high })
            });
            value.insert("pays_back_after".into(), json!(back));
            for (key, figure) in super::tables::figures_of(change) {
                value.insert(key.into(), gone(figure));
            }
            let beside = change.beside_ledger.as_ref().map(|ledger| {
                let causes: Vec<&str> = ledger.causes.iter().map(|cause| cause.key()).collect();
                let sure = finite(ledger.there_interval);
                json!({
                    "causes": causes,
                    "late_loads": ledger.there,
                    "low": sure.map(|i| i.low),
                    "high": sure.map(|i| i.high),
                    "own": gone(ledger.own),
                    "why": super::beside_ledger::why(change),
                })
            });
            value.insert("beside_ledger".into(), beside.into());
            Value::Object(value)
        })
        .collect();
    let not_applying: Vec<Value> = answer
        .not_applying
        .iter()
        .map(|(change, why)| json!({ "change": change.key(), "words": change.words(), "why": why }))
        .collect();
    let there = answer.as_it_is;
    json!({
        "days": answer.days,
        "seed": answer.seed,
        "replications": answer.replications(),
        "asked": answer.asked,
        "level": answer.level,
        "rule": answer.rule,
        "rule_is_today": answer.rule_is_today,
        "finding": sentences::finding(answer),
        "as_it_is": {
            "cost": there.cost,
            "late_loads": there.late_loads,
            "undelivered": there.undelivered,
            "stranded": there.stranded,
            "dumped_yd3": there.dumped_yd3,
        },
        "lateness": compare::lateness_json(&answer.ledger, 0),
        "losses": compare::losses_json(&answer.ledger, 0),
        "changes": changes,
        "not_applying": not_applying,
    })
}

fn finite(interval: Interval) -> Option<Interval> {
    interval.is_bounded().then_some(interval)
}

fn gone(gone: Gone) -> Value {
    json!({
        "gone": gone.mean,
        "low": finite(gone.interval).map(|i| i.low),
        "high": finite(gone.interval).map(|i| i.high),
        "share": gone.share,
        "share_low": finite(gone.share_interval).map(|i| i.low),
        "share_high": finite(gone.share_interval).map(|i| i.high),
        "told_apart": gone.told_apart(),
    })
}
