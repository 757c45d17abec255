//! What made loads late: sentences, chart and table.

use super::{pick, same_days, sentences};
use crate::observe::{Causes, LateCause};
use crate::report::answer::{Answer, Column, Table};
use crate::report::chart::stacked::{self, Stacked};
use crate::report::number::Unit;
use crate::report::period;
use crate::studies::Comparison;
use serde_json::{Map, Value, json};

/// Causes that a sentence names.
const NAMED: usize = 3;

/// `46% no truck free, 23% drive time underestimated`: the main causes.
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
    let mut rules = vec![answer.base, pick(answer)];
    rules.dedup();
    rules
        .into_iter()
        .map(|rule| sentence(answer, rule))
        .collect()
}

/// Adds the chart, whose numbers are in the table of this name; not if no load was late under any rule.
pub(in crate::report) fn add_chart(
    answer: &Comparison,
    name: &'static str,
    to: &mut Answer,
) -> bool {
    let mut all = Causes::default();
    for rule in &answer.rules {
        all.merge(&rule.causes);
    }
    if all.loads == 0 {
        return false;
    }
    let ranked = all.ranked();
    let (drawn, rest) = ranked.split_at(stacked::most_drawn(ranked.len()));
    let per_period = |rule: &Causes, causes: &[LateCause]| {
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
    let finding = sentence(answer, answer.base);
    let finding = finding.trim_end_matches('.');
    let svg = stacked::svg(&Stacked {
        title: finding.to_owned(),
        subtitle: format!(
            "Late and undelivered loads {}, each split by what its minutes late went to, average of {}",
            period::per(answer.days),
            same_days(answer)
        ),
        axis: format!("late loads {}", period::per(answer.days)),
        unit: Unit::Plain,
        parts,
        bars: bars.collect(),
    });
    to.add_chart(name, "What made loads late", finding, svg, name);
    true
}

/// One line for each rule and cause.
pub(in crate::report) fn table(answer: &Comparison, name: &'static str) -> Table {
    let columns = [
        "rule",
        "cause",
        "words",
        "late_loads",
        "share_of_late_loads",
        "minutes_late",
        "at_most_if_never",
    ];
    let mut table = Table::new(name, columns.map(Column::file).into());
    let n = answer.replications().max(1) as f64;
    for rule in &answer.rules {
        for cause in LateCause::ALL {
            let never = rule.causes.loads_of(cause) == 0.0;
            table.row([
                rule.name.as_str().into(),
                cause.key().into(),
                cause.words().into(),
                (rule.causes.loads_of(cause) / n).into(),
                rule.causes.share(cause).into(),
                (minutes(&rule.causes, cause) / n).into(),
                never.then(|| answer.at_most_if_never()).into(),
            ]);
        }
    }
    table
}

/// By key of the cause: late loads and minutes in the mean replication, and the share of the late loads.
pub(in crate::report) fn json(answer: &Comparison, rule: usize) -> Value {
    let n = answer.replications().max(1) as f64;
    let causes = &answer.rules[rule].causes;
    let by_cause: Map<String, Value> = LateCause::ALL
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
fn minutes(causes: &Causes, cause: LateCause) -> f64 {
    causes.late[cause as usize] as f64 / 60_000.0
}
