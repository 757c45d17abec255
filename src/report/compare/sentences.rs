//! What the comparison found, in sentences.

use super::unit;
use crate::observe::{Better, Column, FigureUnit, figure};
use crate::report::number::{Unit, count};
use crate::report::shell;
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
        Decision::Selected(best) if *best == answer.base => {
            let keep = if answer.base_is_today { "Keep" } else { "Run" };
            format!(
                "{keep} {}: no other is better on {figure} by more than {}.",
                base(answer),
                indifference(answer)
            )
        }
        Decision::Selected(best) => format!(
            "Run {}: on {figure} the best, or within {} of the best; it {} against {} ({}).",
            quoted(answer, *best),
            indifference(answer),
            gain(answer, *best),
            base(answer),
            sure(answer, *best)
        ),
        Decision::NotToldApart(contenders) => not_told_apart(answer, contenders),
    }
}

/// What a rule does to strandings against the base, and at what price in late loads; none where it does not change them for sure.
pub(super) fn price_of_hours(answer: &Comparison, rule: usize) -> Option<String> {
    let change = |column: usize| {
        let difference = answer.rules[rule].figures[column].difference.as_ref()?;
        let told = difference.interval.is_bounded() && difference.interval.excludes_zero();
        Some((difference.mean.filter(|_| told)?, difference.interval))
    };
    let words = |(mean, interval): (f64, Interval)| {
        let (low, high) = (interval.low.abs(), interval.high.abs());
        let decimals = if high.max(low) < 1.0 { 2 } else { 1 };
        let more = if mean < 0.0 { "fewer" } else { "more" };
        let [mean, low, high] = [mean.abs(), low.min(high), low.max(high)]
            .map(|value| Unit::Plain.show(value, decimals));
        (mean, more, format!("{low} to {high}"))
    };
    let (drivers, more, sure) = words(change(figure::STRANDED)?);
    let late = match change(figure::LATE_LOADS) {
        None => "its late loads are not told apart".to_owned(),
        Some(late) => {
            let (loads, more, sure) = words(late);
            let price = if late.0 > 0.0 {
                "at the price of"
            } else {
                "with"
            };
            format!("{price} {loads} late loads {more} ({sure})")
        }
    };
    Some(format!(
        "{} strands {drivers} drivers {more} {} ({sure}), {late}.",
        quoted(answer, rule),
        period(answer.days)
    ))
}

fn not_told_apart(answer: &Comparison, contenders: &[usize]) -> String {
    let label = &answer.judged_by().label;
    let blank = |rule: &usize| answer.judged(*rule).summary.n() == 0;
    if contenders.iter().all(blank) {
        return format!(
            "Nothing to judge by: {label} has no value in any of {}.",
            replications(answer.replications())
        );
    }
    let alike = contenders.len() > 1
        && contenders
            .iter()
            .all(|rule| answer.same(*rule, contenders[0]));
    let names: Vec<String> = contenders
        .iter()
        .map(|rule| match rule {
            rule if *rule == answer.base => base(answer),
            rule if answer.same(*rule, answer.base) && !alike => {
                format!("{} (the same in every replication)", quoted(answer, *rule))
            }
            rule if alike && contenders.contains(&answer.base) => quoted(answer, *rule),
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
    let begun = |names: String| {
        let capital = usize::from(names.starts_with("today's"));
        names.replacen("today's", "Today's", capital)
    };
    let done = answer.replications();
    if alike {
        let which = if done == 1 {
            "the one replication".to_owned()
        } else {
            format!("any of {}", replications(done))
        };
        return format!(
            "{}: no difference between them was seen on {label} in {which}.{against}",
            begun(listed(&names, "and"))
        );
    }
    format!(
        "{}: not told apart on {label} in {}; more may tell.{against}",
        begun(listed(&names, "or")),
        replications(done)
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
pub(in crate::report) fn replications(n: u64) -> String {
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
        FigureUnit::Money => format!("{verb} {shown} {}", period(answer.days)),
        FigureUnit::Share => {
            let points = Unit::Plain.show(mean.abs() * 100.0, decimals);
            format!("{verb} {points} percentage points of {}", column.label)
        }
        FigureUnit::Count => format!("{verb} {shown} {} {}", column.label, period(answer.days)),
        FigureUnit::Hours | FigureUnit::Yd3 | FigureUnit::Lb => format!(
            "{verb} {shown} {} of {} {}",
            column.unit.text(),
            column.label,
            period(answer.days)
        ),
        FigureUnit::MoneyPerYd3 => format!("{verb} {shown} of {}", column.label),
        unit => format!("{verb} {shown} {} of {}", unit.text(), column.label),
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
    // A difference of shares is in percentage points, as in `gain`.
    let show = |value: f64| match unit {
        Unit::Share => Unit::Plain.show(value * 100.0, decimals),
        unit => unit.show(value, decimals),
    };
    format!(
        "{} % interval {} to {}{}, for all comparisons at once",
        percent(answer.level),
        show(low),
        show(high),
        if unit == Unit::Share { " points" } else { "" }
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
pub(in crate::report) fn period(days: u32) -> String {
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

/// 0.95 as `95`, 0.999 as `99.9`.
pub(in crate::report) fn percent(level: f64) -> String {
    let text = format!("{:.1}", level * 100.0);
    text.trim_end_matches(".0").to_owned()
}

/// `$50 a day`: the difference that does not matter.
fn indifference(answer: &Comparison) -> String {
    let sure = answer.sure.as_ref();
    amount(answer, sure.map_or(0.0, |sure| sure.indifference))
}

/// An amount of the judging figure, with its unit.
fn amount(answer: &Comparison, value: f64) -> String {
    let column = answer.judged_by();
    let decimals = (0..6)
        .find(|places| {
            let shown = match column.unit {
                FigureUnit::Share => value * 100.0,
                _ => value,
            } * libm::pow(10.0, f64::from(*places));
            (shown - libm::round(shown)).abs() < 1e-6
        })
        .unwrap_or(6) as usize;
    match column.unit {
        FigureUnit::Share => format!(
            "{} percentage points",
            Unit::Plain.show(value * 100.0, decimals)
        ),
        FigureUnit::Money => format!(
            "{} {}",
            unit(column).show(value, decimals),
            period(answer.days)
        ),
        FigureUnit::MoneyPerYd3 => format!("{} per yd³", unit(column).show(value, decimals.max(2))),
        unit => format!("{} {}", Unit::Plain.show(value, decimals), unit.text())
            .trim_end()
            .to_owned(),
    }
}

/// How the best was selected and how precise the differences are, where that was asked for.
pub fn selection(answer: &Comparison) -> Vec<String> {
    let mut sentences = Vec::new();
    let level = percent(answer.level);
    if let Some(sure) = &answer.sure {
        let (selected, within) = (&sure.selected, amount(answer, sure.indifference));
        let own = replications(selected.replications);
        sentences.push(match (selected.best(), selected.at_most) {
            (Some(best), _) => format!(
                "Sure: {} was selected with {level} % confidence as the best of {} on {}, differences up to {within} not mattering, in {own} of its own; \
                 the figures here are from others.",
                quoted(answer, best),
                answer.rules.len(),
                answer.judged_by().label,
            ),
            (None, at_most) => {
                let left: Vec<String> = selected.survivors.iter().map(|rule| quoted(answer, *rule)).collect();
                let needed = at_most.map_or("more than 50 replications".to_owned(), |needed| {
                    format!("at most {}", replications(needed + selected.blanks))
                });
                format!(
                    "Not sure yet: {} may be the best after {own} of the selection. To be {level} % sure within {within} takes {needed} \
                     (--max-replications).",
                    listed(&left, "or")
                )
            }
        });
        if selected.blanks > 0 {
            sentences.push(format!(
                "Of the selection's replications {} had no {} under some rule and were left out.",
                count(selected.blanks),
                answer.judged_by().label
            ));
        }
    }
    if let Some(precision) = &answer.precision {
        let wanted = amount(answer, precision.wanted);
        let decimals = unit(answer.judged_by()).decimals(precision.reached);
        let reached = unit(answer.judged_by()).show(precision.reached, decimals);
        sentences.push(if precision.reached <= precision.wanted {
            format!("The precision asked for is met: give or take {reached}, {wanted} asked for.")
        } else {
            let needed = precision.would_take.map_or("more replications than can be said".to_owned(), |needed| {
                format!("about {}", replications(needed))
            });
            format!("The precision asked for, give or take {wanted}, is not met; it takes {needed} (--max-replications).")
        });
    }
    sentences
}

/// The options that give the answer again, as they were given or by default. A run that was stopped is given again by a shorter
/// one.
pub(super) fn options(answer: &Comparison) -> String {
    let stopped = answer.replications() < answer.asked;
    let precision = answer.precision.as_ref().filter(|_| !stopped);
    let begun_with = if stopped {
        answer.replications()
    } else {
        answer.begun_with
    };
    let mut options = format!(" --replications {begun_with} --seed {}", answer.seed);
    if answer.level != 0.95 {
        options += &format!(" --confidence {}", answer.level);
    }
    if let Some(sure) = &answer.sure {
        options += &format!(" --until-sure --indifference {}", sure.indifference);
    }
    if let Some(precision) = precision {
        options += &format!(" --precision {}", precision.wanted);
    }
    if answer.sure.is_some() || precision.is_some() {
        options += &format!(" --max-replications {}", answer.most);
    }
    options += &format!(" --judge {}", answer.judged_by().key);
    let names: Vec<&str> = answer.rules.iter().map(|rule| rule.name.as_str()).collect();
    if names.iter().any(|name| name.contains(';')) {
        for name in names {
            options += &format!(" --rule {}", shell::quoted(name));
        }
    } else {
        options += &format!(" --rules {}", shell::quoted(&names.join(";")));
    }
    options
}

fn listed(parts: &[String], last: &str) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., end] => format!("{} {last} {end}", rest.join(", ")),
    }
}
