//! What the comparison found, in sentences.

use super::unit;
use crate::observe::{Better, Column};
use crate::report::number::{Unit, count};
use crate::statistics::Interval;
use crate::studies::{Comparison, Decision};

/// The decision, first of all that is said.
pub fn decision(answer: &Comparison) -> String {
    let figure = &answer.judged_by().label;
    match &answer.decision {
        Decision::Alone => format!(
            "Only {} was run: there is nothing to compare it with.",
            quoted(answer, answer.base)
        ),
        Decision::Best(best) if *best == answer.base => {
            let keep = if answer.base_is_today { "Keep" } else { "Run" };
            format!(
                "{keep} {}: no other does as well on {figure}.",
                base(answer)
            )
        }
        Decision::Best(best) => format!(
            "Run {}: it {} against {} ({}).",
            quoted(answer, *best),
            gain(answer, *best),
            base(answer),
            sure(answer, *best)
        ),
        Decision::NotToldApart(contenders) => not_told_apart(answer, contenders),
    }
}

fn not_told_apart(answer: &Comparison, contenders: &[usize]) -> String {
    let names: Vec<String> = contenders
        .iter()
        .map(|rule| match rule {
            rule if *rule == answer.base => base(answer),
            rule => format!(
                "{} ({}, {})",
                quoted(answer, *rule),
                gain(answer, *rule),
                sure(answer, *rule)
            ),
        })
        .collect();
    let against = if contenders.contains(&answer.base) {
        String::new()
    } else {
        format!(" Differences are against {}.", base(answer))
    };
    let names = listed(&names, "or");
    let names = names.replacen(
        "today's",
        "Today's",
        usize::from(names.starts_with("today's")),
    );
    format!(
        "{names}: not told apart on {} in {}; more may tell.{against}",
        answer.judged_by().label,
        replications(answer.replications())
    )
}

fn quoted(answer: &Comparison, rule: usize) -> String {
    format!("\"{}\"", answer.rules[rule].name)
}

/// The rule that the others are compared with: `today's "Nearest"`, or its name alone if today's is not among them.
pub(super) fn base(answer: &Comparison) -> String {
    let name = quoted(answer, answer.base);
    if answer.base_is_today {
        format!("today's {name}")
    } else {
        name
    }
}

/// `1 replication`, `2,000 replications`.
pub(super) fn replications(n: u64) -> String {
    format!("{} replication{}", count(n), if n == 1 { "" } else { "s" })
}

/// `saves $1,234 a day`, by the mean of the paired differences.
fn gain(answer: &Comparison, rule: usize) -> String {
    let column = answer.judged_by();
    let difference = answer.judged(rule).difference.as_ref();
    let Some((mean, interval)) = difference.and_then(|d| Some((d.mean?, d.interval))) else {
        return "cannot be compared".into();
    };
    let (verb, _) = verb(column, mean, interval);
    let decimals = unit(column).decimals(interval.half_width());
    let shown = unit(column).show(mean.abs(), decimals);
    match column.unit {
        "$" => format!("{verb} {shown} {}", period(answer.days)),
        "share" => {
            let points = Unit::Plain.show(mean.abs() * 100.0, decimals);
            format!("{verb} {points} percentage points of {}", column.label)
        }
        "" | "h" | "yd³" => format!("{verb} {shown} {} {}", column.label, period(answer.days)),
        _ if column.label.contains("minutes") => format!("{verb} {shown} {}", column.label),
        "min" => format!("{verb} {shown} min of {}", column.label),
        _ => format!("{verb} {shown} of {}", column.label),
    }
}

/// `95 % interval $900 to $1,500, for all comparisons at once`, turned with the verb of [`gain`].
fn sure(answer: &Comparison, rule: usize) -> String {
    let column = answer.judged_by();
    let difference = answer.judged(rule).difference.as_ref();
    let Some((mean, interval)) = difference.and_then(|d| Some((d.mean?, d.interval))) else {
        return "no replication has both figures".into();
    };
    if !interval.is_bounded() {
        return "to say how sure takes two replications".into();
    }
    let unit = unit(column);
    let decimals = unit.decimals(interval.half_width());
    let (_, Interval { low, high }) = verb(column, mean, interval);
    format!(
        "{:.0} % interval {} to {}, for all comparisons at once",
        answer.level * 100.0,
        unit.show(low, decimals),
        unit.show(high, decimals)
    )
}

/// The verb for a difference, and the interval turned with it.
fn verb(column: &Column, mean: f64, interval: Interval) -> (&'static str, Interval) {
    match (column.better, mean < 0.0) {
        (Better::Less, true) => ("saves", interval.negated()),
        (Better::Less, false) => ("costs another", interval),
        (_, true) => ("loses", interval.negated()),
        (_, false) => ("gains", interval),
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
    let done = answer.replications();
    let same = match (answer.days, done) {
        (1, 1) => "the same day".into(),
        (1, _) => format!("the same {} days", count(done)),
        (days, 1) => format!("the same {days} days"),
        (days, _) => format!("the same {} times {days} days", count(done)),
    };
    let short = if done < answer.asked {
        format!(
            " Stopped after {done} of {}: the answer is that of a run of so many.",
            replications(answer.asked)
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
