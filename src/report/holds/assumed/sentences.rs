//! What is said of it.

use super::{difference, difference_interval};
use crate::engine::Spread;
use crate::observe::{Better as FigureBetter, Column as FigureColumn};
use crate::report::compare::{ends, gained, listed};
use crate::report::figure::unit;
use crate::report::number::{Unit, number};
use crate::report::period::noun;
use crate::scenario::assume::Assumption;
use crate::scenario::{Input, InputKind};
use crate::statistics::Correlation;
use crate::studies::{Holds, UnderAssumptions};

/// `With loads misread between 1% and 4%: "X" saves $… a week against today's "Y" ($… to $…, luck and assumptions together; luck alone
/// $… to $…); it saves in 19 of 20 drawn worlds.`
pub(super) fn decision(found: &Holds, drawn: &UnderAssumptions) -> String {
    let assumed = &found.assumed;
    let with = format!("With {}", all_known(&drawn.assumptions));
    let rule = &assumed.rules[drawn.rule].name;
    let Some(table) = &drawn.table else {
        return format!("{with}: too few drawn worlds or runs to tell what \"{rule}\" saves.");
    };
    let todays = if assumed.base_is_today && drawn.against == assumed.base {
        "today's "
    } else {
        ""
    };
    let against = &assumed.rules[drawn.against].name;
    let mean = difference(found, table.mean());
    let both = difference_interval(found, table.luck_and_worlds(assumed.level));
    let luck = difference_interval(found, table.luck(assumed.level));
    let column = assumed.judged_by();
    let (times, of) = (drawn.saves(), drawn.worlds.len());
    let in_all = match times == of {
        true => format!("in all {of} drawn worlds"),
        false => format!("in {times} of {of} drawn worlds"),
    };
    let better = if saves(column) { "saves" } else { "is better" };
    let barred = match drawn.barred() {
        0 => String::new(),
        1 => "; in one it could not be recommended".into(),
        many => format!("; in {many} it could not be recommended"),
    };
    format!(
        "{with}: \"{rule}\" {} against {todays}\"{against}\" ({}, luck and assumptions together; luck alone {}); it {better} {in_all}{barred}.",
        gained(column, mean, both, assumed.days),
        ends(column, mean, both),
        ends(column, mean, luck),
    )
}

/// Each by [`known`], and once of what the times are.
fn all_known(assumptions: &[Assumption]) -> String {
    let mut each: Vec<String> = assumptions.iter().map(known).collect();
    let times = |one: &Assumption| one.input.kind() == InputKind::Times;
    if let Some(last) = assumptions.iter().rposition(times) {
        each[last] += " what is written";
    }
    listed(&each, "and")
}

/// `"X" saves $… a week ($… to $…, luck and assumptions together)`
pub(super) fn in_short(found: &Holds, drawn: &UnderAssumptions) -> String {
    let rule = &found.assumed.rules[drawn.rule].name;
    let Some(table) = &drawn.table else {
        return format!("What \"{rule}\" saves cannot be told");
    };
    let mean = difference(found, table.mean());
    let both = difference_interval(found, table.luck_and_worlds(found.assumed.level));
    let column = found.assumed.judged_by();
    let told = match both.excludes_zero() {
        true => "",
        false => ": not told apart",
    };
    format!(
        "\"{rule}\" {} ({}, luck and assumptions together){told}",
        gained(column, mean, both, found.assumed.days),
        ends(column, mean, both)
    )
}

/// `loads misread between 1% and 4%`; of a spread without ends, nine in ten of its values.
fn known(one: &Assumption) -> String {
    let words = one.input.words();
    let show = |value: f64| value_words(one.input, value);
    let sampler = one.spread.sampler();
    let without_ends = matches!(
        one.spread,
        Spread::Normal { .. }
            | Spread::Lognormal { .. }
            | Spread::Gamma { .. }
            | Spread::Exponential { .. }
            | Spread::Weibull { .. }
    );
    let (mostly, [low, high]) = match without_ends {
        true => ("mostly ", [0.05, 0.95].map(|share| sampler.at(share))),
        false => ("", [0.0, 1.0].map(|share| sampler.at(share))),
    };
    let of = match one.input.kind() {
        InputKind::Times => " times",
        InputKind::Share | InputKind::Minutes => "",
    };
    if low == high {
        return format!("{words} at {}{of}", show(low));
    }
    format!(
        "{words} {mostly}between {} and {}{of}",
        show(low),
        show(high)
    )
}

/// `4%`, `1.15`, `60 min`.
pub(super) fn value_words(input: Input, value: f64) -> String {
    let trimmed = |text: String| match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    };
    match input.kind() {
        InputKind::Times => trimmed(number(value, 2)),
        InputKind::Share => format!("{}%", trimmed(number(value * 100.0, 1))),
        InputKind::Minutes => format!("{} min", trimmed(number(value, 1))),
    }
}

/// Where the uncertainty comes from, and what more runs would do.
pub(super) fn shares(found: &Holds, drawn: &UnderAssumptions) -> Option<String> {
    let table = drawn.table.as_ref()?;
    let percent = |share: f64| Unit::Share.show(share, 0);
    let Some(share) = table.share_of_worlds() else {
        return Some("Neither luck nor the assumptions change it.".into());
    };
    let advice = match share {
        _ if share > 0.5 => "more runs would narrow it little; knowing these inputs better would",
        _ => "more runs would narrow it",
    };
    let not_shown = match table.luck_and_worlds(found.assumed.level).excludes_zero() {
        true => "",
        false => "Luck and assumptions together, it is not shown which of the two is better. ",
    };
    let one = table.share_of_worlds_in_one().unwrap_or_default();
    let moved = moved_by(found, drawn).unwrap_or_default();
    Some(format!(
        "{not_shown}Of that uncertainty {} comes from the assumptions and {} from the luck of the days: {advice}.{moved} Of how single {}s \
         differ, the assumptions make {}.",
        percent(share),
        percent(1.0 - share),
        noun(found.assumed.days),
        percent(one),
    ))
}

/// ` What moves it most: trip times; the higher, the less it saves.`
fn moved_by(found: &Holds, drawn: &UnderAssumptions) -> Option<String> {
    let correlations = drawn.correlations(found.assumed.level);
    let told = drawn.assumptions.iter().zip(correlations);
    let told = told.filter_map(|(one, correlation)| Some((one, correlation?)));
    let (one, most) = told
        .filter(|(_, correlation)| correlation.told)
        .max_by(|a, b| {
            let size = |correlation: Correlation| correlation.coefficient.abs();
            size(a.1).total_cmp(&size(b.1))
        })?;
    let money = saves(found.assumed.judged_by());
    let turn = match (most.coefficient > 0.0, money) {
        (true, true) => "more it saves",
        (false, true) => "less it saves",
        (true, false) => "better",
        (false, false) => "worse",
    };
    let words = one.input.words();
    Some(format!(
        " What moves it most: {words}; the higher, the {turn}."
    ))
}

/// Whether what is better is money saved.
fn saves(column: &FigureColumn) -> bool {
    unit(column) == Unit::Money && column.better != FigureBetter::More
}
