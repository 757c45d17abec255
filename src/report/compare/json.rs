//! The answer as JSON.

use crate::statistics::Interval;
use crate::studies::{Comparison, Decision, Figure, RuleResult};
use serde_json::{Map, Value, json};

/// What the JSON has of a comparison, beside what all answers have:
///
/// ```text
/// {"days", "seed", "replications", "asked", "level", "judge", "base", "base_is_today",
///  "decision": {"verdict": "best" | "selected" | "not told apart" | "alone", "rules": [names], "sentence"},
///  "selection": {"indifference", "confidence", "finished", "left": [names], "replications", "at_most", "max_replications",
///                "blanks", "left_behind": [{"name", "after"}]},
///  "precision": {"wanted", "reached", "would_take"},
///  "rules": [{"name", "figures": {key: {"mean", "low", "high", "at_most_if_never", "sd", "median", "median_low", "median_high", "p95",
///             "p95_low", "p95_high", "blanks",
///             "difference": {"mean", "low", "high"}}}, "causes": {key: {"late_loads", "share", "minutes_late"}},
///             "losses": {key: {"mean", "low", "high", "at_most_if_never"}}, "site_wait_min": {key: minutes},
///             "worse_than_best_other": {"low", "high"}}]}
/// ```
///
/// Where the scenario describes mixes, `"per_100_loads": [{"name", "figures": {key: {"mean", "low", "high", "at_most_if_never"}}}]` besides.
/// `at_most_if_never`: the share of replications that may have what no replication has; it then has no interval.
/// What does not exist is `null`.
pub(super) fn own(answer: &Comparison) -> Value {
    let (verdict, best): (&str, Vec<usize>) = match &answer.decision {
        Decision::Alone => ("alone", vec![answer.base]),
        Decision::Best(rule) => ("best", vec![*rule]),
        Decision::Selected(rule) => ("selected", vec![*rule]),
        Decision::NotToldApart(rules) => ("not told apart", rules.clone()),
    };
    let names: Vec<&str> = best
        .iter()
        .map(|rule| answer.rules[*rule].name.as_str())
        .collect();
    let rules: Vec<Value> = answer
        .rules
        .iter()
        .enumerate()
        .map(|(place, rule)| {
            let figures: Map<String, Value> = answer
                .columns
                .iter()
                .zip(&rule.figures)
                .map(|(column, f)| (column.key.clone(), figure(f)))
                .collect();
            json!({ "name": rule.name, "figures": figures, "causes": super::causes::json(answer, place), "losses": losses(answer, place),
                "site_wait_min": super::site_wait::json(answer, place),
                "worse_than_best_other": ends(Some(answer.against_best_other[place])) })
        })
        .collect();
    let mut answer_json = json!({
        "days": answer.days,
        "seed": answer.seed,
        "replications": answer.replications(),
        "asked": answer.asked,
        "level": answer.level,
        "judge": answer.judged_by().key,
        "base": answer.rules[answer.base].name,
        "base_is_today": answer.base_is_today,
        "decision": { "verdict": verdict, "rules": names, "sentence": super::sentences::decision(answer) },
        "selection": selection(answer),
        "precision": answer.precision.map(|p| json!({
            "wanted": p.wanted,
            "reached": p.reached.is_finite().then_some(p.reached),
            "would_take": p.would_take,
        })),
        "rules": rules,
    });
    if !answer.per_hundred.is_empty() {
        answer_json["per_100_loads"] = per_hundred(answer);
    }
    answer_json
}

fn per_hundred(answer: &Comparison) -> Value {
    let of_rule = |(at, rule): (usize, &RuleResult)| {
        let figures: Map<String, Value> = answer
            .per_hundred
            .iter()
            .map(|row| {
                let summary = &row.rules[at];
                let never = row.at_most_if_never(at, answer.level);
                let interval = finite(summary.interval(answer.level)).filter(|_| never.is_none());
                let value = json!({
                    "mean": summary.mean(),
                    "low": interval.map(|i| i.low),
                    "high": interval.map(|i| i.high),
                    "at_most_if_never": never,
                });
                (answer.columns[row.column].key.clone(), value)
            })
            .collect();
        json!({ "name": rule.name, "figures": figures })
    };
    answer.rules.iter().enumerate().map(of_rule).collect()
}

/// By key of the loss: how often in the mean replication, with its interval.
pub(in crate::report) fn losses(answer: &Comparison, rule: usize) -> Value {
    let by_loss: Map<String, Value> = super::known_losses(answer)
        .map(|loss| {
            let (mean, interval) = answer.loss(rule, loss);
            let interval = finite(interval).filter(|_| mean > 0.0);
            let value = json!({
                "mean": mean,
                "low": interval.map(|i| i.low.max(0.0)),
                "high": interval.map(|i| i.high),
                "at_most_if_never": (mean == 0.0).then(|| answer.at_most_if_never()),
            });
            (loss.key().to_owned(), value)
        })
        .collect();
    Value::Object(by_loss)
}

fn figure(figure: &Figure) -> Value {
    // What never was is bounded, not estimated.
    let interval = finite(figure.interval).filter(|_| figure.at_most.is_none());
    let mut value = json!({
        "mean": figure.summary.mean(),
        "low": interval.map(|i| i.low),
        "high": interval.map(|i| i.high),
        "at_most_if_never": figure.at_most,
        "sd": figure.summary.sd(),
        "median": figure.median,
        "median_low": figure.median_interval.map(|i| i.low),
        "median_high": figure.median_interval.map(|i| i.high),
        "p95": figure.p95,
        "p95_low": figure.p95_interval.map(|i| i.low),
        "p95_high": figure.p95_interval.map(|i| i.high),
        "blanks": figure.summary.blanks(),
    });
    if let Some(difference) = &figure.difference {
        value["difference"] = json!({
            "mean": difference.mean,
            "low": finite(difference.interval).map(|i| i.low),
            "high": finite(difference.interval).map(|i| i.high),
        });
    }
    value
}

fn selection(answer: &Comparison) -> Value {
    let Some(sure) = &answer.sure else {
        return Value::Null;
    };
    let name = |rule: usize| answer.rules[rule].name.as_str();
    let left: Vec<&str> = sure
        .selected
        .survivors
        .iter()
        .map(|rule| name(*rule))
        .collect();
    let behind = sure.selected.eliminated.iter();
    let behind: Vec<Value> = behind
        .map(|gone| json!({ "name": name(gone.system), "after": gone.after }))
        .collect();
    json!({
        "indifference": sure.indifference,
        "confidence": answer.level,
        "finished": sure.selected.best().is_some(),
        "left": left,
        "replications": sure.selected.replications,
        "at_most": sure.selected.at_most,
        "max_replications": sure.most,
        "blanks": sure.selected.blanks,
        "left_behind": behind,
    })
}

fn ends(interval: Option<Interval>) -> Value {
    let interval = interval.and_then(finite);
    json!({ "low": interval.map(|i| i.low), "high": interval.map(|i| i.high) })
}

/// JSON has no infinity.
fn finite(interval: Interval) -> Option<Interval> {
    interval.is_bounded().then_some(interval)
}
