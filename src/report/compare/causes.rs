//! What made loads late: sentences, chart and table.

use super::{charts, sentences};
use crate::observe::{Cause, Causes, Loss};
use crate::report::chart::stacked::{self, Stacked};
use crate::report::csv_text::{Cell, Table};
use crate::report::number::{Unit, number};
use crate::studies::Comparison;
use maud::{Markup, html};
use serde_json::{Map, Value, json};

/// Causes that a sentence names.
const NAMED: usize = 3;

/// `46 % no truck free, 23 % way believed too short`: the main causes.
fn main(causes: &Causes) -> String {
    let named: Vec<String> = causes
        .ranked()
        .into_iter()
        .take(NAMED)
        .map(|cause| {
            let share = Unit::Share.show(causes.share(cause), 0);
            format!("{share} {}", cause.words())
        })
        .collect();
    named.join(", ")
}

/// One sentence on a rule's late loads.
fn sentence(answer: &Comparison, rule: usize) -> String {
    let name = if rule == answer.base {
        sentences::base(answer)
    } else {
        format!("\"{}\"", answer.rules[rule].name)
    };
    let causes = &answer.rules[rule].causes;
    if causes.loads == 0 {
        format!("No load was late under {name}.")
    } else {
        format!("Late loads under {name}: {}.", main(causes))
    }
}

/// The main causes under the base rule, and under the one that a reader looks at first.
pub(in crate::report) fn sentences(answer: &Comparison) -> Vec<String> {
    let mut rules = vec![answer.base, charts::pick(answer)];
    rules.dedup();
    rules
        .into_iter()
        .map(|rule| sentence(answer, rule))
        .collect()
}

/// The chart; none if no load was late under any rule.
pub(in crate::report) fn chart(answer: &Comparison) -> Option<String> {
    let mut all = Causes::default();
    for rule in &answer.rules {
        all.merge(&rule.causes);
    }
    if all.loads == 0 {
        return None;
    }
    let ranked = all.ranked();
    let (drawn, rest) = ranked.split_at(stacked::most_drawn(ranked.len()));
    let per_period = |rule: &Causes, causes: &[Cause]| {
        let loads: f64 = causes.iter().map(|cause| rule.loads_of(*cause)).sum();
        loads / answer.replications().max(1) as f64
    };
    let mut parts: Vec<String> = drawn.iter().map(|cause| cause.words().to_owned()).collect();
    if !rest.is_empty() {
        parts.push("other causes".into());
    }
    let bars = answer.rules.iter().map(|rule| {
        let own = drawn
            .iter()
            .map(|cause| per_period(&rule.causes, &[*cause]));
        let other = (!rest.is_empty()).then(|| per_period(&rule.causes, rest));
        (rule.name.clone(), own.chain(other).collect())
    });
    Some(stacked::svg(&Stacked {
        title: sentence(answer, answer.base)
            .trim_end_matches('.')
            .to_owned(),
        subtitle: format!(
            "Late and undelivered loads {}, each split by what its minutes late went to, mean of {}",
            sentences::period(answer.days),
            charts::same_days(answer)
        ),
        axis: format!("late loads {}", sentences::period(answer.days)),
        unit: Unit::Plain,
        parts,
        bars: bars.collect(),
    }))
}

/// `causes.csv`: one line for each rule and cause.
pub(in crate::report) fn table(answer: &Comparison) -> Vec<u8> {
    let mut table = Table::new(&[
        "rule",
        "cause",
        "words",
        "late_loads",
        "share_of_late_loads",
        "minutes_late",
        "at_most_if_never",
    ]);
    let n = answer.replications().max(1) as f64;
    for rule in &answer.rules {
        for cause in Cause::ALL {
            table.row([
                Cell::Text(&rule.name),
                Cell::Text(cause.key()),
                Cell::Text(cause.words()),
                Cell::Number(rule.causes.loads_of(cause) / n),
                Cell::Number(rule.causes.share(cause)),
                Cell::Number(minutes(&rule.causes, cause) / n),
                at_most(answer, rule.causes.loads_of(cause) == 0.0),
            ]);
        }
    }
    table.finish()
}

/// By key of the cause: late loads and minutes in the mean replication, and the share of the late loads.
pub(in crate::report) fn json(answer: &Comparison, rule: usize) -> Value {
    let n = answer.replications().max(1) as f64;
    let causes = &answer.rules[rule].causes;
    let by_cause: Map<String, Value> = Cause::ALL
        .into_iter()
        .map(|cause| {
            let value = json!({
                "late_loads": causes.loads_of(cause) / n,
                "share": causes.share(cause),
                "minutes_late": minutes(causes, cause) / n,
            });
            (cause.key().to_owned(), value)
        })
        .collect();
    Value::Object(by_cause)
}

/// Minutes late, all replications together.
fn minutes(causes: &Causes, cause: Cause) -> f64 {
    causes.late[cause as usize] as f64 / 60_000.0
}

/// The losses that this scenario can have.
pub(in crate::report) fn known_losses(answer: &Comparison) -> impl Iterator<Item = Loss> {
    let computed = !answer.per_hundred.is_empty();
    let known = move |loss: &Loss| computed || !loss.of_computed_concrete();
    Loss::ALL.into_iter().filter(known)
}

/// `losses.csv`: drivers stranded and loads wasted, one line for each rule and cause, per replication.
pub(in crate::report) fn losses(answer: &Comparison) -> Vec<u8> {
    let mut table = Table::new(&[
        "rule",
        "loss",
        "words",
        "mean",
        "mean_low",
        "mean_high",
        "at_most_if_never",
    ]);
    for (place, rule) in answer.rules.iter().enumerate() {
        for loss in known_losses(answer) {
            let (mean, interval) = answer.loss(place, loss);
            table.row([
                Cell::Text(&rule.name),
                Cell::Text(loss.key()),
                Cell::Text(loss.words()),
                Cell::Number(mean),
                Cell::Number(if interval.is_bounded() {
                    interval.low.max(0.0)
                } else {
                    interval.low
                }),
                Cell::Number(interval.high),
                at_most(answer, mean == 0.0),
            ]);
        }
    }
    table.finish()
}

/// Of what was never seen: the largest share of replications that can have it.
fn at_most(answer: &Comparison, never: bool) -> Cell<'static> {
    never.then(|| answer.at_most_if_never()).into()
}

/// The same for the page: losses that happen under some rule, one column for each rule.
pub(in crate::report) fn losses_section(answer: &Comparison) -> Markup {
    let happens =
        |loss: &Loss| (0..answer.rules.len()).any(|rule| answer.loss(rule, *loss).0 > 0.0);
    let shown: Vec<Loss> = known_losses(answer).filter(happens).collect();
    let cell = |rule: usize, loss: Loss| {
        let (mean, interval) = answer.loss(rule, loss);
        if mean == 0.0 {
            return "none".to_owned();
        }
        if !interval.is_bounded() {
            return number(mean, 2);
        }
        let low = number(interval.low.max(0.0), 3);
        format!(
            "{} ({low} to {})",
            number(mean, 3),
            number(interval.high, 3)
        )
    };
    html! {
        @if !shown.is_empty() {
            h2 { "Why drivers are stranded and concrete is wasted" }
            div.wide {
                table {
                    thead {
                        tr {
                            th { "mean " (sentences::period(answer.days)) }
                            @for rule in &answer.rules { th { (rule.name) } }
                        }
                    }
                    tbody {
                        @for loss in shown {
                            tr {
                                td { (loss.words()) }
                                @for rule in 0..answer.rules.len() { td { (cell(rule, loss)) } }
                            }
                        }
                    }
                }
            }
            p.note {
                "Drivers and loads; in brackets the " (format!("{:.0}", answer.level * 100.0)) " % interval of each mean."
            }
        }
    }
}
