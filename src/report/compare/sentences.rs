//! What the comparison found, in sentences.

use super::{barred, same_days, selection};
use crate::observe::{Better, Column, FigureUnit, figure};
use crate::report::figure::unit;
use crate::report::number::{Unit, level};
use crate::report::period::{noun, per, runs, simulated};
use crate::report::{shell, statement};
use crate::statistics::{Contrast, Interval};
use crate::studies::{Comparison, Decision};
use std::cmp::Ordering;

/// The decision, first of all that is said.
pub(super) fn decision(answer: &Comparison) -> String {
    let figure = &answer.judged_by().label;
    match &answer.decision {
        Decision::Alone => format!(
            "Only {} was run: there is nothing to compare it with.",
            quoted(answer, answer.base)
        ),
        Decision::Best(best) if *best == answer.base => {
            let keep = if answer.base_is_today { "Keep" } else { "Run" };
            let other = if barred::any_better(answer, answer.base) {
                "no other that can be recommended does better"
            } else {
                "no other does as well"
            };
            format!("{keep} {}: {other} on {figure}.", base(answer))
        }
        Decision::Best(best) => format!(
            "Run {}: it {} ({}).",
            quoted(answer, *best),
            gain_against(answer, *best),
            sure(answer, *best)
        ),
        Decision::Selected(best) if *best == answer.base => {
            let keep = if answer.base_is_today { "Keep" } else { "Run" };
            format!(
                "{keep} {}: no other is better on {figure} by more than {}.",
                base(answer),
                selection::indifference(answer)
            )
        }
        Decision::Selected(best) => format!(
            "Run {}: on {figure} the best, or within {} of the best; it {} ({}).",
            quoted(answer, *best),
            selection::indifference(answer),
            gain_against(answer, *best),
            sure(answer, *best)
        ),
        Decision::NotToldApart(contenders) => not_told_apart(answer, contenders),
    }
}

/// What a rule does to strandings against the base, and at what price in late loads; none where it does not change them for sure.
pub(super) fn price_of_hours(answer: &Comparison, rule: usize) -> Option<String> {
    let said = |column: usize| {
        let difference = answer.rules[rule].figures[column].difference.as_ref()?;
        difference.said.told().map(|_| difference.said)
    };
    let words = |(mean, interval): (f64, Interval)| {
        let (low, high) = (interval.low.abs(), interval.high.abs());
        let decimals = if high.max(low) < 1.0 { 2 } else { 1 };
        let more = if mean < 0.0 { "fewer" } else { "more" };
        let [mean, low, high] = [mean.abs(), low.min(high), low.max(high)]
            .map(|value| Unit::Plain.show(value, decimals));
        (format!("{mean} {more}"), format!("{low} to {high}"))
    };
    let stranded = said(figure::STRANDED)?;
    let late = match said(figure::LATE_LOADS) {
        None => "its late loads cannot be told apart".to_owned(),
        Some(late) => {
            let price = if late.told() == Some(Ordering::Greater) {
                "at the price of"
            } else {
                "with"
            };
            match late.mean() {
                Some(late) => {
                    let (loads, sure) = words(late);
                    format!("{price} {loads} late loads ({sure})")
                }
                None => format!("{price} late loads in other {}s", noun(answer.days)),
            }
        }
    };
    let name = quoted(answer, rule);
    Some(match stranded.mean() {
        Some(mean) => {
            let (drivers, sure) = words(mean);
            let per = per(answer.days);
            format!("Under {name} {drivers} drivers are stranded {per} ({sure}), {late}.")
        }
        None => {
            let column = &answer.columns[figure::STRANDED];
            let base = base(answer);
            let words = statement::difference_words(stranded, column, &base, answer.days)?;
            format!("{name} {words}, {late}.")
        }
    })
}

fn not_told_apart(answer: &Comparison, contenders: &[usize]) -> String {
    let label = &answer.judged_by().label;
    let blank = |rule: &usize| answer.judged(*rule).summary.n() == 0;
    if contenders.iter().all(blank) {
        return format!(
            "Nothing to judge by: {label} has no value in any of {}.",
            simulated(answer.replications(), answer.days)
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
                format!("{} (the same in every run)", quoted(answer, *rule))
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
            format!(
                "the one {}",
                simulated(1, answer.days).trim_start_matches("1 ")
            )
        } else {
            format!("any of {}", simulated(done, answer.days))
        };
        return format!(
            "{}: no difference between them was seen on {label} in {which}.{against}",
            begun(listed(&names, "and"))
        );
    }
    format!(
        "{}: too close to call on {label} in {}; more may tell.{against}",
        begun(listed(&names, "or")),
        simulated(done, answer.days)
    )
}

pub(super) fn quoted(answer: &Comparison, rule: usize) -> String {
    format!("\"{}\"", answer.rules[rule].name)
}

/// Whether a rule has the better mean of the judging figure.
pub(super) fn better(answer: &Comparison, rule: usize, than: usize) -> bool {
    let mean = |rule: usize| answer.judged(rule).summary.mean();
    let (Some(one), Some(other)) = (mean(rule), mean(than)) else {
        return false;
    };
    match answer.judged_by().better {
        Better::More => one > other,
        Better::Less | Better::Neither => one < other,
    }
}

/// Which kinds of money the difference of a rule consists of, where money judges: cash, sales, trouble.
pub(super) fn kinds_of_money(answer: &Comparison, rule: usize) -> Option<String> {
    let kinds: &[(usize, &str)] = match answer.judge {
        figure::COST => &[
            (figure::CASH_PAID, "cash paid"),
            (figure::LOST_SALES, "lost sales"),
            (figure::TROUBLE, "priced trouble"),
        ],
        figure::CASH => &[
            (figure::CASH_PAID, "cash paid"),
            (figure::LOST_SALES, "lost sales"),
        ],
        _ => return None,
    };
    let (_, interval) = answer.judged(rule).difference.as_ref()?.said.mean()?;
    let decimals = Unit::Money.decimals(interval.half_width());
    // What adds up is the plain means, however seldom a part of it differs.
    let plain = |rule: usize, column: usize| answer.rules[rule].figures[column].summary.mean();
    let kind = |(column, words): &(usize, &str)| {
        let mean = plain(rule, *column)? - plain(answer.base, *column)?;
        let amount = Unit::Money.show(mean.abs(), decimals);
        Some(if amount == Unit::Money.show(0.0, decimals) {
            format!("no change in {words}")
        } else {
            let turn = if mean > 0.0 { "more" } else { "less" };
            format!("{amount} {turn} {words}")
        })
    };
    let kinds: Option<Vec<String>> = kinds.iter().map(kind).collect();
    Some(format!("That is {}.", listed(&kinds?, "and")))
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

/// [`gain`] with what it is against, which a chance names itself.
fn gain_against(answer: &Comparison, rule: usize) -> String {
    let said = answer
        .judged(rule)
        .difference
        .map(|difference| difference.said);
    match said.and_then(Contrast::mean) {
        Some(_) => format!("{} against {}", gain(answer, rule), base(answer)),
        None => gain(answer, rule),
    }
}

/// `saves $1,234 a day`, by the mean of the paired differences.
pub(super) fn gain(answer: &Comparison, rule: usize) -> String {
    let column = answer.judged_by();
    let said = answer
        .judged(rule)
        .difference
        .map(|difference| difference.said);
    let Some((mean, interval)) = said.and_then(Contrast::mean) else {
        let base = base(answer);
        let words = |said| statement::difference_words(said, column, &base, answer.days);
        return said.and_then(words).unwrap_or("cannot be compared".into());
    };
    gained(column, mean, interval, answer.days)
}

/// `saves $1,234 a day`: a mean difference in a figure, to the digits that its interval warrants.
pub(in crate::report) fn gained(
    column: &Column,
    mean: f64,
    interval: Interval,
    days: u32,
) -> String {
    let (verb, _) = verb(column, mean, interval);
    let decimals = unit(column).decimals(interval.half_width());
    let shown = unit(column).show(mean.abs(), decimals);
    let label = &column.label;
    match column.unit {
        FigureUnit::Money => format!("{verb} {shown} {}", per(days)),
        FigureUnit::MoneyPerYd3 => format!("{verb} {shown} of {label}"),
        FigureUnit::Share => {
            let points = Unit::Plain.show(mean.abs() * 100.0, decimals);
            format!("{verb} {points} percentage points of {label}")
        }
        // `has 21.0 fewer late loads a week`.
        FigureUnit::Count => {
            let more = if mean < 0.0 { "fewer" } else { "more" };
            format!("has {shown} {more} {label} {}", per(days))
        }
        unit @ (FigureUnit::Hours | FigureUnit::Yd3 | FigureUnit::Lb) => {
            let unit = unit.text();
            format!("{verb} {shown} {unit} of {label} {}", per(days))
        }
        unit => format!("{verb} {shown} {} of {label}", unit.text()),
    }
}

/// `95% interval $900 to $1,500, for all comparisons at once`, turned with the verb of [`gain`].
fn sure(answer: &Comparison, rule: usize) -> String {
    let column = answer.judged_by();
    let said = answer
        .judged(rule)
        .difference
        .map(|difference| difference.said);
    if let Some(said @ Contrast::Chance { .. }) = said {
        return format!(
            "{} interval of the difference of chances {}, for all comparisons at once",
            level(answer.level),
            statement::difference_ends(said)
        );
    }
    let Some((mean, interval)) = said.and_then(Contrast::mean) else {
        return "no run has both figures".into();
    };
    if !interval.is_bounded() {
        return "to say how sure takes two runs".into();
    }
    format!(
        "{} interval {}, for all comparisons at once",
        level(answer.level),
        ends(column, mean, interval)
    )
}

/// `$900 to $1,500`: the interval of a mean difference, turned with the verb of [`gained`].
pub(in crate::report) fn ends(column: &Column, mean: f64, interval: Interval) -> String {
    let unit = unit(column);
    let decimals = unit.decimals(interval.half_width());
    let (_, Interval { low, high }) = verb(column, mean, interval);
    // A difference of shares is in percentage points, as in `gained`.
    let show = |value: f64| match unit {
        Unit::Share => Unit::Plain.show(value * 100.0, decimals),
        unit => unit.show(value, decimals),
    };
    let points = if unit == Unit::Share { " points" } else { "" };
    format!("{} to {}{points}", show(low), show(high))
}

/// The verb for a difference, and the interval turned with it.
fn verb(column: &Column, mean: f64, interval: Interval) -> (&'static str, Interval) {
    match (column.better, mean < 0.0) {
        (Better::Less, true) => ("saves", interval.negated()),
        (Better::Less, false) => ("adds", interval),
        (_, true) => ("loses", interval.negated()),
        (_, false) => ("gains", interval),
    }
}

/// On what the answer rests.
pub(super) fn sureness(answer: &Comparison) -> String {
    let done = answer.replications();
    let short = if done < answer.asked {
        format!(
            " Stopped after {done} of {}: the answer is that of so many.",
            runs(answer.asked)
        )
    } else {
        String::new()
    };
    format!(
        "Every rule had {} with the same chance events (random seed {}).{short}",
        same_days(answer),
        answer.seed
    )
}

/// What it brings that all rules have the same days, where that is much.
pub(super) fn same_chance(answer: &Comparison) -> Option<String> {
    let saved = (0..answer.rules.len()).filter_map(|rule| {
        answer
            .judged(rule)
            .difference
            .as_ref()
            .and_then(|difference| difference.variance_reduction)
    });
    let smallest = saved.fold(f64::INFINITY, f64::min);
    // Little is gained below this, and nothing is worth saying.
    (smallest.is_finite() && smallest >= 1.5).then(|| {
        format!(
            "Running every rule on the same days gave this precision with about 1/{} of the runs.",
            Unit::Plain.show(smallest, 0)
        )
    })
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

pub(in crate::report) fn listed(parts: &[String], last: &str) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., end] => format!("{} {last} {end}", rest.join(", ")),
    }
}
