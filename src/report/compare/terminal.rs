//! The answer on one screen.

use super::rules_shown::{left_out, rules_shown};
use super::{causes, charts, decision, heading, sentences, sureness, unit};
use crate::observe::{Column, figure};
use crate::report::number::Unit;
use crate::report::table::{Align, Table};
use crate::report::wrap::wrap;
use crate::studies::{Comparison, Figure, RuleResult};
use std::fmt::Write;

/// The figures that a screen has room for; all are in the files.
pub(super) const SHOWN: [usize; 16] = [
    figure::COST,
    figure::COST_PER_YD3,
    figure::LATE_LOADS,
    figure::FIRST_LATE,
    figure::UNDELIVERED,
    figure::GAPS,
    figure::STRANDED,
    figure::MARGIN_MIN,
    figure::REJECTED,
    figure::REBATCHED,
    figure::DRY_UPS,
    figure::OVERTIME_H,
    figure::TRUCK_USE,
    figure::BAY_WAIT_MIN,
    figure::SITE_WAIT_MIN,
    figure::LOADS,
];

/// What is shown besides where the scenario describes mixes.
pub(super) const SHOWN_OF_CONCRETE: [usize; 2] = [figure::WET_AT_RACK, figure::BELOW_STRENGTH];

/// Of those what is shown where a rule has any.
const SHOWN_IF_ANY: [usize; 4] = [
    figure::PSI_LOST,
    figure::PARTS_DUMPED_YD3,
    figure::HEAVY,
    figure::FOUND_HEAVY,
];

/// Whether a rule has any of it.
pub(super) fn any(answer: &Comparison, position: usize) -> bool {
    let above = |rule: &RuleResult| {
        rule.figures[position]
            .summary
            .max()
            .is_some_and(|m| m > 0.0)
    };
    answer.rules.iter().any(above)
}

/// The figures shown of this answer.
pub(super) fn shown(answer: &Comparison) -> Vec<usize> {
    let mut shown = SHOWN.to_vec();
    if !answer.per_hundred.is_empty() {
        shown.extend(SHOWN_OF_CONCRETE);
        shown.extend(SHOWN_IF_ANY.into_iter().filter(|place| any(answer, *place)));
    }
    shown
}

/// Not shown where no rule has any.
const CONCRETE: [usize; 3] = [figure::REJECTED, figure::REBATCHED, figure::DRY_UPS];

/// The answer for a terminal of this width: decision, rules side by side with their differences, on what it rests. To be printed
/// through `anstream`.
pub fn terminal(answer: &Comparison, width: u16) -> String {
    let mut text = String::new();
    let bold = anstyle::Style::new().bold();
    let title = one_line(&answer.scenario);
    let _ = writeln!(text, "{title}\n");
    for line in wrap("", &one_line(&decision(answer)), usize::from(width)) {
        let _ = writeln!(text, "{bold}{line}{bold:#}");
    }
    text.push('\n');
    let rules = rules_shown(answer, width);
    text.push_str(&means(answer, &rules, width));
    let mut paragraph = |sentence: &str| {
        for line in wrap("", &one_line(sentence), usize::from(width)) {
            let _ = writeln!(text, "{line}");
        }
    };
    if let Some(sentence) = left_out(answer, &rules) {
        paragraph(&sentence);
    }
    paragraph("");
    for sentence in causes::sentences(answer) {
        paragraph(&sentence);
    }
    if let Some(sentence) = sentences::price_of_hours(answer, charts::pick(answer)) {
        paragraph(&sentence);
    }
    paragraph(&sureness(answer));
    for sentence in sentences::selection(answer) {
        paragraph(&sentence);
    }
    let never = never(answer);
    if !never.is_empty() {
        let _ = writeln!(text, "{never}");
    }
    text
}

/// Means of the shown figures, one column for each of these rules.
fn means(answer: &Comparison, rules: &[usize], width: u16) -> String {
    let names: Vec<String> = rules
        .iter()
        .map(|rule| (*rule, &answer.rules[*rule]))
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
        let quiet = |rule: &RuleResult| {
            let figure = &rule.figures[position];
            // No such figure in this scenario, such as a margin without a limit; or loads that are always as ordered.
            figure.summary.n() == 0 || CONCRETE.contains(&position) && figure.at_most.is_some()
        };
        if answer.rules.iter().all(quiet) {
            continue;
        }
        let cells = rules
            .iter()
            .map(|rule| mean(column, &answer.rules[*rule].figures[position]));
        table.row(std::iter::once(heading(column)).chain(cells));
        if position == answer.judge && answer.rules.len() > 1 {
            for row in differences(answer, rules) {
                table.row(row);
            }
        }
    }
    table.render(width)
}

pub(super) fn mean(column: &Column, figure: &Figure) -> String {
    if figure.at_most.is_some() {
        return "none".into();
    }
    let form = crate::report::figure::form(column);
    let mean = figure.summary.mean();
    mean.map_or("–".into(), |mean| form.show(mean))
}

/// Two rows below the judging figure: its paired differences against the base, and how far their simultaneous intervals reach.
fn differences(answer: &Comparison, rules: &[usize]) -> [Vec<String>; 2] {
    let unit = unit(answer.judged_by());
    let against = if answer.base_is_today {
        "against today's".to_owned()
    } else {
        format!("against {}", sentences::base(answer))
    };
    let mut rows = [
        vec![against],
        vec![format!(
            "  give or take, {} %",
            sentences::percent(answer.level)
        )],
    ];
    for rule in rules {
        let Some(difference) = &answer.judged(*rule).difference else {
            rows[0].push(String::new());
            rows[1].push(String::new());
            continue;
        };
        let interval = difference.interval;
        let half = (interval.high - interval.low) / 2.0;
        let decimals = unit.decimals(half);
        rows[0].push(
            difference
                .mean
                .map_or("–".into(), |mean| unit.show_difference(mean, decimals)),
        );
        rows[1].push(if interval.is_bounded() {
            unit.show(half, decimals)
        } else {
            "two needed".into()
        });
    }
    rows
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
