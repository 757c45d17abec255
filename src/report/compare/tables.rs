//! Tables of the page and of files: a typical and a bad day, the concrete, the rules, every figure.

use super::losses::not_below_none;
use super::side_by_side::by_rule;
use crate::observe::{Better, figure as place};
use crate::report::answer::{Answer, Block, Cell, Column, Content, Form, Part, Table};
use crate::report::csv_text;
use crate::report::number::level;
use crate::report::{figure, period, statement};
use crate::statistics::{Contrast, Interval, Statement};
use crate::studies::Comparison;
use std::io::Write;

/// A typical and a bad day: medians and 95th percentiles of cost and lateness, with their intervals.
pub(super) fn add_quantiles(found: &Comparison, answer: &mut Answer) {
    let mut shown = vec![place::COST, place::LATE_MIN];
    if !shown.contains(&found.judge) {
        shown.push(found.judge);
    }
    let noun = period::noun(found.days);
    let first = format!(
        "over {}",
        period::simulated(found.replications(), found.days)
    );
    let mut table = Table::new("quantiles", by_rule(found, first));
    for place in shown {
        let column = &found.columns[place];
        let cell = |value: Option<f64>, interval: Option<Interval>| Cell::Estimate {
            value,
            interval: interval.unwrap_or(Interval::UNBOUNDED),
            at_least: None,
            form: figure::form(column),
        };
        let heading = figure::heading(column);
        let figures = || found.rules.iter().map(|rule| &rule.figures[place]);
        let medians = figures().map(|figure| cell(figure.median, figure.median_interval));
        table.row(std::iter::once(format!("{heading}: median").into()).chain(medians));
        let than = if column.better == Better::More {
            "is above"
        } else {
            "is worse than"
        };
        let bad = figures().map(|figure| cell(figure.p95, figure.p95_interval));
        let what = format!("{heading}: 1 {noun} in 20 {than}");
        table.row(std::iter::once(what.into()).chain(bad));
    }
    answer.section(
        format!("A typical {noun} and a bad {noun}"),
        vec![
            Block::Table(table.name),
            Block::Note(format!(
                "In brackets the {} interval from order statistics, which holds whatever the distribution; none: too few runs to say.",
                level(found.level)
            )),
        ],
    );
    answer.tables.push(table);
}

/// What becomes of the concrete, for each hundred loads delivered.
pub(super) fn add_concrete(found: &Comparison, answer: &mut Answer) {
    if found.per_hundred.is_empty() {
        return;
    }
    let first = format!("average ({} interval)", level(found.level));
    let mut table = Table::new("per-100-loads", by_rule(found, first));
    for row in &found.per_hundred {
        let heading = figure::heading(&found.columns[row.column]);
        let cells = row.rules.iter().map(|said| {
            statement::cell(*said, found.days, true, |mean, interval| {
                let unit = figure::unit(&found.columns[row.column]);
                if interval.is_bounded() {
                    let form = Form::new(unit, unit.decimals(interval.half_width()));
                    statement::estimate(mean, not_below_none(interval), form)
                } else {
                    statement::plain_mean(&found.columns[row.column])(mean, interval)
                }
            })
        });
        table.row(std::iter::once(heading.into()).chain(cells));
    }
    answer.section(
        "The concrete, for each 100 loads delivered",
        vec![
            Block::Table(table.name),
            Block::Note(
                format!(
                    "A load below its specified strength because of added water is accepted and a liability. A load heavier than the law \
                     allows is a risk and no saving: the answer is a smaller load or a truck scale. {}",
                    statement::FEW
                ),
            ),
        ],
    );
    answer.tables.push(table);
}

/// What the rules are.
pub(super) fn add_rules(found: &Comparison, answer: &mut Answer) {
    let columns = vec![
        Column::new("rule").left(),
        Column::new("what it does").left(),
    ];
    let mut table = Table::new("rules", columns);
    for rule in &found.rules {
        table.row([rule.name.as_str().into(), rule.about.as_str().into()]);
    }
    answer.section("What the rules are", vec![Block::Table(table.name)]);
    answer.tables.push(table);
}

/// `figures.csv`: every figure, one line for each replication and rule. There may be more than memory holds: it is written from the rows
/// when it is wanted.
pub(super) fn figures(found: &Comparison) -> Content {
    use csv_text::Cell;
    let columns: Vec<(usize, String)> = (found.columns.iter().enumerate())
        .filter(|(_, column)| column.is_told())
        .map(|(at, column)| (at, column.key.clone()))
        .collect();
    let rules: Vec<String> = found.rules.iter().map(|rule| rule.name.clone()).collect();
    let rows = found.rows.clone();
    let cells = (1 + rows.len() * rules.len()) * (2 + columns.len());
    let write = move |to: &mut dyn Write| {
        let mut headings = vec!["replication", "rule"];
        headings.extend(columns.iter().map(|(_, key)| key.as_str()));
        let mut table = csv_text::Table::to(to, &headings)?;
        for replication in rows.replications() {
            for (case, rule) in rules.iter().enumerate() {
                let row = rows.row(case, replication);
                let figures = columns.iter().map(|(at, _)| Cell::Single(row[*at]));
                let line = [Cell::Number(replication as f64), Cell::Text(rule)];
                table.add(line.into_iter().chain(figures))?;
            }
        }
        table.end()
    };
    Content::table(cells, write)
}

/// `summary.csv`: one line for each rule and figure.
pub(super) fn summary(found: &Comparison) -> Table {
    let names = ["rule", "figure", "unit", "replications", "blanks"];
    let columns = names.into_iter().map(Column::file);
    let columns = columns
        .chain(said_columns())
        .chain([
            Column::file("sd"),
            ends("median", "median_low", "median_high"),
            ends("p95", "p95_low", "p95_high"),
        ])
        .chain(difference_columns())
        .chain([Column::file("variance_reduction")])
        .collect();
    let mut table = Table::new("summary", columns);
    // The JSON has them by rule and figure.
    table.json = false;
    for rule in &found.rules {
        let all = found.columns.iter().zip(&rule.figures);
        for (column, figure) in all.filter(|(column, _)| column.is_told()) {
            let difference = figure.difference.as_ref();
            let names = [
                rule.name.as_str().into(),
                column.key.as_str().into(),
                column.unit.text().into_owned().into(),
                (figure.summary.n() as f64).into(),
                (figure.summary.blanks() as f64).into(),
            ];
            let rest = [
                figure.summary.sd().into(),
                cell(figure.median, figure.median_interval),
                cell(figure.p95, figure.p95_interval),
            ];
            let reduction = difference.and_then(|d| d.variance_reduction).into();
            let cells = names.into_iter().chain(said_cells(figure.said)).chain(rest);
            let cells = cells.chain(difference_cells(difference.map(|d| d.said)));
            table.row(cells.chain([reduction]));
        }
    }
    table
}

/// The columns of what is said of a figure, in a file.
pub(super) fn said_columns() -> [Column; 4] {
    [
        Column::file("said"),
        Column::file("mean")
            .part("mean_low", Part::Low)
            .part("mean_high", Part::High),
        Column::file("replications_with_any")
            .part("chance_low", Part::Low)
            .part("chance_high", Part::High),
        Column::file("at_most_if_never"),
    ]
}

/// Their cells.
pub(super) fn said_cells(said: Statement) -> [Cell; 4] {
    let mean = said.mean();
    let (times, interval) = match said {
        Statement::Chance {
            times, interval, ..
        } => (Some(times as f64), Some(interval)),
        _ => (None, None),
    };
    [
        statement::kind(said).map_or(Cell::Blank, Cell::from),
        cell(statement::plain(said), mean.map(|(_, interval)| interval)),
        cell(times, interval),
        said.at_most_if_never().into(),
    ]
}

/// The columns of what is said of a difference from the base, in a file.
pub(super) fn difference_columns() -> [Column; 5] {
    [
        Column::file("difference_said"),
        ends("difference_from_base", "difference_low", "difference_high"),
        Column::file("replications_with_more"),
        Column::file("replications_with_less"),
        ends(
            "chance_difference",
            "chance_difference_low",
            "chance_difference_high",
        ),
    ]
}

/// Their cells; blank for the base itself.
pub(super) fn difference_cells(said: Option<Contrast>) -> [Cell; 5] {
    let mean = said.and_then(Contrast::mean);
    let (more, less, chance) = match said {
        Some(Contrast::Chance {
            more,
            less,
            of,
            interval,
            ..
        }) => {
            let (more, less) = (more as f64, less as f64);
            let seen = (more - less) / of as f64;
            (Some(more), Some(less), Some((seen, interval)))
        }
        _ => (None, None, None),
    };
    let kind = said.and_then(statement::kind_of_difference);
    [
        kind.map_or(Cell::Blank, Cell::from),
        cell(
            mean.map(|(mean, _)| mean),
            mean.map(|(_, interval)| interval),
        ),
        more.into(),
        less.into(),
        cell(
            chance.map(|(seen, _)| seen),
            chance.map(|(_, interval)| interval),
        ),
    ]
}

/// A column for files with the ends of its intervals.
fn ends(key: &str, low: &str, high: &str) -> Column {
    Column::file(key)
        .part(low, Part::Low)
        .part(high, Part::High)
}

/// A value for files, with its interval if it has one.
fn cell(value: Option<f64>, interval: Option<Interval>) -> Cell {
    Cell::Estimate {
        value,
        interval: interval.unwrap_or(Interval::UNBOUNDED),
        at_least: None,
        form: Form::new(crate::report::number::Unit::Plain, 0),
    }
}
