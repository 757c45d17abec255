//! What the comparison found, in sentences.

use super::unit;
use crate::observe::{Better, Column};
use crate::report::number::{Unit, count};
use crate::statistics::Interval;
use crate::studies::{Comparison, Decision};

/// The decision, first of all that is said.
pub fn decision(answer: &Comparison) -> String {
    let rules = &answer.rules;
    let today = &rules[answer.base].name;
    match &answer.decision {
        Decision::Alone => {
            format!("Only \"{today}\" was run: there is nothing to compare it with.")
        }
        Decision::Best(best) if *best == answer.base => {
            format!(
                "Keep today's rule \"{today}\": no other does as well on {}.",
                answer.judged_by().label
            )
        }
        Decision::Best(best) => format!(
            "Run \"{}\": {}.",
            rules[*best].name,
            against_today(answer, *best)
        ),
        Decision::NotToldApart(contenders) => not_told_apart(answer, contenders),
    }
}

fn not_told_apart(answer: &Comparison, contenders: &[usize]) -> String {
    let names: Vec<String> = contenders
        .iter()
        .map(|rule| format!("\"{}\"", answer.rules[*rule].name))
        .collect();
    let names = listed(&names, "or");
    let days = count(answer.replications());
    let more = "more replications may tell them apart";
    if contenders.contains(&answer.base) {
        return format!(
            "{names}: not told apart on {} in {days} replications; today's rule is among them, {more}.",
            answer.judged_by().label
        );
    }
    let gains: Vec<String> = contenders
        .iter()
        .map(|rule| {
            format!(
                "\"{}\" {}",
                answer.rules[*rule].name,
                against_today(answer, *rule)
            )
        })
        .collect();
    format!(
        "{names}, not told apart in {days} replications. Against today's rule, {}; {more}.",
        listed(&gains, "and")
    )
}

/// "saves $1,234 a day against today's "Nearest" (95 % interval $900 to $1,500)".
fn against_today(answer: &Comparison, rule: usize) -> String {
    let column = answer.judged_by();
    let Some(difference) = &answer.judged(rule).difference else {
        return "is today's rule".into();
    };
    let Some(mean) = difference.mean else {
        return "cannot be compared with today's".into();
    };
    let Interval { low, high } = difference.interval;
    let unit = unit(column);
    let decimals = unit.decimals((high - low) / 2.0);
    let (verb, low, high) = verb(column, mean, low, high);
    let bounds = format!(
        "{} to {}",
        unit.show(low, decimals),
        unit.show(high, decimals)
    );
    format!(
        "it {verb} {} {} against today's \"{}\" ({:.0} % interval {bounds}, for all comparisons at once)",
        amount(column, unit, mean.abs(), decimals),
        period(answer.days),
        answer.rules[answer.base].name,
        answer.level * 100.0,
    )
}

/// The verb for a difference and the interval turned with it.
fn verb(column: &Column, mean: f64, low: f64, high: f64) -> (&'static str, f64, f64) {
    match (column.better, mean < 0.0) {
        (Better::Less, true) => ("saves", -high, -low),
        (Better::Less, false) => ("costs another", low, high),
        (_, true) => ("loses", -high, -low),
        (_, false) => ("gains", low, high),
    }
}

fn amount(column: &Column, unit: Unit, value: f64, decimals: usize) -> String {
    let shown = unit.show(value, decimals);
    if column.unit == "$" {
        shown
    } else {
        format!("{shown} {}", column.label)
    }
}

/// "a day", "in 6 days".
pub(super) fn period(days: u32) -> String {
    if days == 1 {
        "a day".into()
    } else {
        format!("in {days} days")
    }
}

/// On what the answer rests.
pub fn sureness(answer: &Comparison) -> String {
    let n = count(answer.replications());
    let same = if answer.days == 1 {
        format!("the same {n} days")
    } else {
        format!("the same {n} times {} days", answer.days)
    };
    let short = if answer.replications() < answer.asked {
        format!(
            " Stopped after {n} of {} replications: the answer is that of a run of {n}.",
            count(answer.asked)
        )
    } else {
        String::new()
    };
    let saved: Vec<f64> = (0..answer.rules.len())
        .filter_map(|rule| {
            answer
                .judged(rule)
                .difference
                .as_ref()
                .and_then(|difference| difference.variance_reduction)
        })
        .collect();
    let smallest = saved.iter().copied().fold(f64::INFINITY, f64::min);
    let common = if smallest.is_finite() {
        format!(
            " Days of independent luck would have taken at least {} times as many.",
            Unit::Plain.show(smallest, 1)
        )
    } else {
        String::new()
    };
    format!(
        "Every rule met {same} (seed {}).{common}{short}",
        answer.seed
    )
}

fn listed(parts: &[String], last: &str) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., end] => format!("{} {last} {end}", rest.join(", ")),
    }
}
