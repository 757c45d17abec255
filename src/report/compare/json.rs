//! The answer as JSON.

use super::losses::not_below_none;
use crate::report::statement;
use crate::statistics::{Interval, Statement};
use crate::studies::{Block, Comparison, Decision, Figure, RuleResult};
use serde_json::{Map, Value, json};

/// What the JSON has of a comparison, beside what all answers have:
///
/// ```text
/// {"days", "seed", "replications", "first_replication", "asked", "level", "judge", "base", "base_is_today",
///  "decision": {"verdict": "best" | "selected" | "not told apart" | "alone", "rules": [names], "sentence"},
///  "selection": {"indifference", "confidence", "finished", "left": [names], "replications", "first_replication", "at_most", "max_replications",
///                "blanks", "left_behind": [{"name", "after"}]},
///  "precision": {"wanted", "reached", "would_take"},
///  "rules": [{"name", "figures": {key: {"said", "mean", "low", "high", "any", "at_most_if_never", "sd", "median", "median_low",
///             "median_high", "p95", "p95_low", "p95_high", "blanks",
///             "difference": {"said", "mean", "low", "high", "chance"}}}, "causes": {key: {"late_loads", "share", "minutes_late"}},
///             "losses": {key: {"said", "mean", "low", "high", "any", "at_most_if_never"}}, "site_wait_min": {key: minutes},
///             "worse_than_best_other": {"low", "high"}}]}
/// ```
///
/// Where the scenario describes mixes, `"per_100_loads": [{"name", "figures": {key: {"said", "mean", "low", "high", "any",
/// "at_most_if_never"}}}]` besides. `said`: "mean", or where fewer than ten replications are affected "chance" with `any`, how many have
/// any, of how many, with the exact interval of the share; "not looked at" of what the scenario cannot have. Of a difference "chance of
/// any" with `chance`: how many replications have some where the base has none (`more`), how many none where the base has some
/// (`less`), and the exact interval of the difference of the two chances; "chance of more" of what most replications have.
/// `at_most_if_never`: the share of replications that may have what no replication has.
/// Under `tables`, `by_customer`, `by_plant`, `by_weekday` and `by_driver` have one row for each rule, line and figure, `orders_that_change`
/// and `drivers_that_change` those of the page, told from the replications with odd numbers; every order is in `by_order.csv` alone.
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
                .filter(|(column, _)| column.is_told())
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
        "first_replication": answer.rows.replications().start,
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
                let value = statement::json(clipped(row.rules[at]));
                (answer.columns[row.column].key.clone(), value)
            })
            .collect();
        json!({ "name": rule.name, "figures": figures })
    };
    answer.rules.iter().enumerate().map(of_rule).collect()
}

/// By key of the loss: what is said of how often.
pub(in crate::report) fn losses(answer: &Comparison, rule: usize) -> Value {
    let by_loss: Map<String, Value> = super::known_losses(answer)
        .map(|loss| {
            let said = clipped(answer.loss(rule, loss));
            (loss.key().to_owned(), statement::json(said))
        })
        .collect();
    Value::Object(by_loss)
}

/// Of a count, whose mean does not reach below none.
fn clipped(said: Statement) -> Statement {
    match said {
        Statement::Mean { mean, interval } => Statement::Mean {
            mean,
            interval: not_below_none(interval),
        },
        said => said,
    }
}

fn figure(figure: &Figure) -> Value {
    let mut value = statement::json(figure.said);
    let more = json!({
        "sd": figure.summary.sd(),
        "median": figure.median,
        "median_low": figure.median_interval.map(|i| i.low),
        "median_high": figure.median_interval.map(|i| i.high),
        "p95": figure.p95,
        "p95_low": figure.p95_interval.map(|i| i.low),
        "p95_high": figure.p95_interval.map(|i| i.high),
        "blanks": figure.summary.blanks(),
    });
    if let (Value::Object(all), Value::Object(more)) = (&mut value, more) {
        all.extend(more);
    }
    if let Some(difference) = &figure.difference {
        value["difference"] = statement::difference_json(difference.said);
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
        "first_replication": Block::Selection.first(0).start,
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
