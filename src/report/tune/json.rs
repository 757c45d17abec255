//! The answer as JSON.

use super::sentences::{decision, notes};
use crate::statistics::{Interval, Summary};
use crate::studies::{Block, Tuned};
use serde_json::{Map, Value, json};

/// The study's own part of the JSON:
///
/// ```text
/// {"days", "rule", "seed", "level", "judge", "indifference", "searched", "search_from", "decided_on", "final_from",
///  "targets": {key: bound}, "decision", "notes": [texts], "chosen": setting | null, "as_good": [settings], "worse_by_at_most",
///  "surface": [{"setting": {parameter: value} | null, "judged": figure, "targets": {key: figure}, "seems_to_meet"}],
///  "final": [{"setting", "judged", "targets", "bounds": {key: bound}, "never_missed": {key: bool}, "meets", "against_written": {"mean", "low", "high"}}],
///  "effects": {parameter: {"means", "low", "high", "targets_untouched", "does_not_matter"}}}
/// ```
///
/// A figure is `{"mean", "low", "high"}`. What does not exist is `null`; the setting `null` is the rule as it is written.
pub(super) fn json(answer: &Tuned) -> Value {
    let setting = |place: usize| -> Value {
        let Some(places) = &answer.settings[place].places else {
            return Value::Null;
        };
        let pairs = answer.asked.vary.iter().zip(places);
        let pairs: Map<String, Value> = pairs
            .map(|(vary, at)| {
                let value = match vary.number(*at) {
                    Some(number) => json!(number),
                    None => json!(vary.written(*at)),
                };
                (vary.name().into_owned(), value)
            })
            .collect();
        Value::Object(pairs)
    };
    let figure = |summary: &Summary| {
        let (low, high) = ends(summary.interval(answer.asked.level));
        json!({ "mean": summary.mean(), "low": low, "high": high })
    };
    let by_target = |values: Vec<Value>| -> Map<String, Value> {
        answer
            .targets
            .iter()
            .map(|c| c.key.clone())
            .zip(values)
            .collect()
    };
    let figures = |all: &[Summary]| by_target(all.iter().map(figure).collect());
    let surface: Vec<Value> = answer
        .settings
        .iter()
        .enumerate()
        .map(|(n, s)| json!({ "setting": setting(n), "judged": figure(&s.seen.judged), "targets": figures(&s.seen.targets), "seems_to_meet": s.seen.seems_to_meet }))
        .collect();
    let last: Vec<Value> = answer
        .last
        .finalists
        .iter()
        .map(|f| {
            let (low, high) = f.against_written.map_or((None, None), ends);
            json!({
                "setting": setting(f.setting), "judged": figure(&f.judged), "targets": figures(&f.targets),
                "bounds": by_target(f.bounds.iter().map(|b| json!(b)).collect()),
                "never_missed": by_target(f.never_missed.iter().map(|never| json!(never)).collect()), "meets": f.meets,
                "against_written": { "mean": f.saves, "low": low, "high": high },
            })
        })
        .collect();
    let effects: Map<String, Value> = answer
        .asked
        .vary
        .iter()
        .zip(&answer.effects)
        .map(|(vary, effect)| {
            let (low, high) = ends(effect.reach);
            let value = json!({ "means": effect.means, "low": low, "high": high,
                "targets_untouched": effect.targets_untouched, "does_not_matter": effect.does_not_matter });
            (vary.name().into_owned(), value)
        })
        .collect();
    json!({
        "days": answer.days, "rule": answer.rule, "seed": answer.asked.seed,
        "level": answer.asked.level, "judge": answer.judge.key, "indifference": answer.asked.indifference,
        "searched": answer.searched, "search_from": Block::Search.first(0).start,
        "decided_on": answer.last.decided_on, "final_from": Block::Final.first(0).start,
        "targets": by_target(answer.asked.targets.iter().map(|t| json!(t.bound)).collect()),
        "decision": decision(answer), "notes": notes(answer),
        "found": answer.last.chosen.is_some(),
        "chosen": answer.last.chosen.map_or(Value::Null, |c| setting(answer.last.finalists[c].setting)),
        "as_good": answer.last.as_good.iter().map(|f| setting(answer.last.finalists[*f].setting)).collect::<Vec<_>>(),
        "worse_by_at_most": answer.last.worse_by_at_most.is_finite().then_some(answer.last.worse_by_at_most),
        "surface": surface, "final": last, "effects": effects,
    })
}

fn ends(interval: Interval) -> (Option<f64>, Option<f64>) {
    let known = interval.is_bounded();
    (
        known.then_some(interval.low),
        known.then_some(interval.high),
    )
}
