//! The answer on one screen.

use super::{decision, heading, sentences, sureness, unit};
use crate::observe::{Column, figure};
use crate::report::number::Unit;
use crate::report::table::{Align, Table};
use crate::studies::{Comparison, Figure};
use std::fmt::Write;

/// The figures that a screen has room for; all are in the files.
pub(super) const SHOWN: [usize; 13] = [
    figure::COST,
    figure::COST_PER_YD3,
    figure::LATE_LOADS,
    figure::FIRST_LATE,
    figure::UNDELIVERED,
    figure::GAPS,
    figure::STRANDED,
    figure::MARGIN_MIN,
    figure::OVERTIME_H,
    figure::TRUCK_USE,
    figure::BAY_WAIT_MIN,
    figure::SITE_WAIT_MIN,
    figure::LOADS,
];

/// What is shown besides where the scenario describes mixes.
pub(super) const SHOWN_OF_CONCRETE: [usize; 5] = [
    figure::WET_AT_RACK,
    figure::DRY_UPS,
    figure::REBATCHED,
    figure::REJECTED,
    figure::BELOW_STRENGTH,
];

/// The figures shown of this answer.
pub(super) fn shown(answer: &Comparison) -> Vec<usize> {
    let mut shown = SHOWN.to_vec();
    if !answer.per_hundred.is_empty() {
        shown.extend(SHOWN_OF_CONCRETE);
    }
    shown
}

/// The answer for a terminal of this width: decision, rules side by side, differences, on what it rests. To be printed
/// through `anstream`.
pub fn terminal(answer: &Comparison, width: u16) -> String {
    let mut text = String::new();
    let bold = anstyle::Style::new().bold();
    let title = one_line(&answer.scenario);
    let _ = writeln!(
        text,
        "{title}\n\n{bold}{}{bold:#}\n",
        one_line(&decision(answer))
    );
    text.push_str(&means(answer, width));
    if answer.rules.len() > 1 {
        let _ = writeln!(
            text,
            "\nDifference from {} in {}:\n",
            one_line(&sentences::base(answer)),
            heading(answer.judged_by())
        );
        text.push_str(&differences(answer, width));
    }
    let _ = writeln!(text, "\n{}", sureness(answer));
    let never = never(answer);
    if !never.is_empty() {
        let _ = writeln!(text, "{never}");
    }
    text
}

/// Means of the shown figures, one column for each rule.
fn means(answer: &Comparison, width: u16) -> String {
    let names: Vec<String> = answer
        .rules
        .iter()
        .enumerate()
        .map(|(rule, result)| {
            if rule == answer.base && answer.base_is_today {
                format!("{} (today)", result.name)
            } else {
                result.name.clone()
            }
        })
        .collect();
    let mut columns = vec![("mean of", Align::Left)];
    columns.extend(names.iter().map(|name| (name.as_str(), Align::Right)));
    let mut table = Table::new(&columns);
    let mut shown = shown(answer);
    if !shown.contains(&answer.judge) {
        shown.insert(0, answer.judge);
    }
    for position in shown {
        let column = &answer.columns[position];
        if answer
            .rules
            .iter()
            .all(|rule| rule.figures[position].summary.n() == 0)
        {
            continue; // no such figure in this scenario, such as a margin without a limit
        }
        let cells = answer
            .rules
            .iter()
            .map(|rule| mean(column, &rule.figures[position]));
        table.row(std::iter::once(heading(column)).chain(cells));
    }
    table.render(width)
}

pub(super) fn mean(column: &Column, figure: &Figure) -> String {
    if figure.at_most.is_some() {
        return "none".into();
    }
    let unit = unit(column);
    let decimals = if unit == Unit::Share {
        1
    } else {
        column.decimals
    };
    figure
        .summary
        .mean()
        .map_or("–".into(), |mean| unit.show(mean, decimals))
}

fn differences(answer: &Comparison, width: u16) -> String {
    let column = answer.judged_by();
    let unit = unit(column);
    let level = format!("{:.0} % interval", answer.level * 100.0);
    let mut table = Table::new(&[
        ("rule", Align::Left),
        ("difference", Align::Right),
        (level.as_str(), Align::Right),
        ("", Align::Left),
    ]);
    for rule in &answer.rules {
        let Some(difference) = &rule.figures[answer.judge].difference else {
            continue;
        };
        let interval = difference.interval;
        let decimals = unit.decimals((interval.high - interval.low) / 2.0);
        let show = |value: f64| unit.show_difference(value, decimals);
        let standing = match (
            interval.is_bounded(),
            interval.low > 0.0,
            interval.high < 0.0,
        ) {
            (true, true, _) | (true, _, true) => "told apart",
            _ => "not told apart",
        };
        let bounds = if interval.is_bounded() {
            format!("{} to {}", show(interval.low), show(interval.high))
        } else {
            "needs two replications".into()
        };
        table.row([
            rule.name.clone(),
            difference.mean.map_or("–".into(), show),
            bounds,
            standing.into(),
        ]);
    }
    table.render(width)
}

/// What "none" means.
fn never(answer: &Comparison) -> String {
    let bound = shown(answer)
        .iter()
        .flat_map(|position| {
            answer
                .rules
                .iter()
                .map(|rule| rule.figures[*position].at_most)
        })
        .flatten()
        .next();
    bound.map_or(String::new(), |share| {
        let n = sentences::replications(answer.replications());
        format!(
            "\"none\": not once in {n}; in at most {} of all, {:.0} % sure.",
            Unit::Share.show(share, 2),
            answer.level * 100.0
        )
    })
}

/// Names from files must not break the line.
fn one_line(text: &str) -> String {
    crate::report::plain_text::one_line(text)
}
