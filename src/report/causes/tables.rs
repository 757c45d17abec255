//! Tables: what each change does, and every figure of every replication.

use super::sentences::{amount, periods};
use crate::observe::{columns, figure};
use crate::report::answer::{Cell, Column, Content, Form, Part, Table};
use crate::report::csv_text;
use crate::report::number::{Unit, level, number};
use crate::report::period::{noun, per};
use crate::scenario::Scenario;
use crate::statistics::Interval;
use crate::studies::{Counterfactual, Counterfactuals, Gone};
use crate::units::measure;
use std::borrow::Cow;
use std::io::Write;

/// The figures of a change, by name.
pub(super) fn figures_of(change: &Counterfactual) -> [(Cow<'static, str>, Gone); 5] {
    [
        ("worth".into(), change.worth),
        ("late_loads".into(), change.late_loads),
        ("undelivered".into(), change.undelivered),
        ("stranded".into(), change.stranded),
        (measure::key("dumped_yd3").0, change.dumped_yd3),
    ]
}

/// `worth.csv`: one line for each change and figure, means of a replication.
pub(super) fn worth(answer: &Counterfactuals) -> Table {
    let gone = |key: &str, low: &str, high: &str| {
        Column::file(key)
            .part(low, Part::Low)
            .part(high, Part::High)
    };
    let mut table = Table::new(
        "worth",
        vec![
            Column::file("change"),
            Column::file("words"),
            Column::file("figure"),
            gone("gone", "low", "high"),
            gone("share", "share_low", "share_high"),
        ],
    );
    let cell = |value: Option<f64>, interval: Interval, unit: Unit| Cell::Estimate {
        value,
        interval,
        at_least: None,
        form: Form::new(unit, 2),
    };
    for change in &answer.changes {
        for (key, gone) in figures_of(change) {
            table.row([
                change.change.key().into(),
                change.change.words().into(),
                key.into_owned().into(),
                cell(Some(gone.mean), gone.interval, Unit::Plain),
                cell(gone.share, gone.share_interval, Unit::Share),
            ]);
        }
        let back = change.pays_back_after();
        let priced = [
            (
                "left_over",
                change.left_over().map(|left| (left.mean, left.interval)),
            ),
            ("pays_back_after_periods", back),
        ];
        for (key, figure) in priced {
            if let Some((value, interval)) = figure {
                table.row([
                    change.change.key().into(),
                    change.change.words().into(),
                    key.into(),
                    cell(Some(value), interval, Unit::Plain),
                    cell(None, Interval::UNBOUNDED, Unit::Share),
                ]);
            }
        }
    }
    table
}

/// What there is, and what of it each change would avoid.
pub(super) fn changes(answer: &Counterfactuals) -> Table {
    let sure = Column::new(format!("give or take, {}", level(answer.level)));
    // A screen has no room for both; the sign of what is not told apart stands beside what is left.
    let sure = if answer.prices.is_empty() {
        sure
    } else {
        sure.page_only()
    };
    let priced = |column: Column| {
        if answer.prices.is_empty() {
            column.only_in_files()
        } else {
            column
        }
    };
    let mut table = Table::new(
        "changes",
        vec![
            Column::new("avoided with").left(),
            Column::new(format!("worth {}", per(answer.days))),
            sure,
            priced(Column::new("after its price")),
            Column::new("late loads"),
            Column::new("drivers stranded"),
            Column::new(measure::said("yd³ dumped")),
        ],
    );
    let there = answer.as_it_is;
    let shown = |value: f64, words: String| Cell::worded(words, Some(value));
    table.row([
        format!("today, all there is {}", per(answer.days)).into(),
        Cell::number(there.cost, Unit::Money, 0),
        Cell::Blank,
        Cell::Blank,
        shown(there.late_loads, amount(there.late_loads)),
        shown(there.stranded, number(there.stranded, 2)),
        shown(there.dumped_yd3, amount(there.dumped_yd3)),
    ]);
    for change in &answer.changes {
        let worth = change.worth;
        let half = worth.interval.half_width();
        let decimals = Unit::Money.decimals(half);
        let apart = if worth.told_apart() { "" } else { " ·" };
        let sure = if worth.interval.is_bounded() {
            let words = format!("{}{apart}", Unit::Money.show(half, decimals));
            shown(half, words)
        } else {
            "two runs needed".into()
        };
        table
            .row([
                change.change.words().into(),
                Cell::number(worth.mean, Unit::Money, decimals),
                sure,
                after_price(answer, change),
                gone(change.late_loads),
                gone(change.stranded),
                gone(change.dumped_yd3),
            ])
            .screen(change.change.can_be_decided());
    }
    table
}

/// What is left of the worth, or when the price has come back.
fn after_price(answer: &Counterfactuals, change: &Counterfactual) -> Cell {
    if let Some(left) = change.left_over() {
        let decimals = Unit::Money.decimals(left.interval.half_width());
        let apart = if left.told_apart() { "" } else { " ·" };
        let words = format!("{}{apart}", Unit::Money.show(left.mean, decimals));
        return Cell::Worded {
            words,
            value: Some(left.mean),
            low: Some(left.interval.low),
            high: Some(left.interval.high),
        };
    }
    let noun = noun(answer.days);
    match change.pays_back_after() {
        Some((after, sure)) if sure.high.is_finite() => Cell::worded(
            format!(
                "back in {} to {} {noun}s",
                periods(sure.low),
                periods(sure.high)
            ),
            Some(after),
        ),
        Some((_, sure)) => Cell::worded(format!("back in {}+ {noun}s", periods(sure.low)), None),
        None => Cell::unknown(),
    }
}

/// `58 (42%)`; `2.1 more` where it adds to what there is; `·` where nothing is shown to change.
fn gone(gone: Gone) -> Cell {
    let words = if gone.interval.is_bounded() && !gone.told_apart() {
        "·".into()
    } else {
        let decimals = Unit::Plain.decimals(gone.interval.half_width()).min(2);
        let mean = number(gone.mean.abs(), decimals);
        match gone.share {
            _ if gone.mean < 0.0 => format!("{mean} more"),
            Some(share) => format!("{mean} ({})", Unit::Share.show(share, 0)),
            None => mean,
        }
    };
    Cell::Worded {
        words,
        value: Some(gone.mean),
        low: Some(gone.interval.low),
        high: Some(gone.interval.high),
    }
}

/// What the signs mean.
pub(super) fn legend(answer: &Counterfactuals) -> String {
    format!(
        "In brackets the share of today's. · not told apart from no change ({} sure, all {} at once).",
        level(answer.level),
        answer.changes.len()
    )
}

/// `figures.csv`: one line for each replication and change, `as_it_is` first.
pub(super) fn figures(answer: &Counterfactuals, scenario: &Scenario) -> Content {
    use csv_text::Cell;
    let columns = columns(scenario).into_iter().take(figure::COUNT);
    let columns: Vec<(usize, String)> = (columns.enumerate())
        .filter(|(_, column)| column.is_told())
        .map(|(at, column)| (at, column.key))
        .collect();
    let changed = answer.cases.iter().map(|change| change.key().to_owned());
    let cases: Vec<String> = std::iter::once("as_it_is".to_owned())
        .chain(changed)
        .collect();
    let rows = answer.rows.clone();
    let cells = (1 + rows.len() * cases.len()) * (2 + columns.len());
    let write = move |to: &mut dyn Write| {
        let mut headings = vec!["replication", "change"];
        headings.extend(columns.iter().map(|(_, key)| key.as_str()));
        let mut table = csv_text::Table::to(to, &headings)?;
        for replication in rows.replications() {
            for (case, key) in cases.iter().enumerate() {
                let row = rows.row(case, replication);
                let figures = columns.iter().map(|(at, _)| Cell::Single(row[*at]));
                let line = [Cell::Number(replication as f64), Cell::Text(key)];
                table.add(line.into_iter().chain(figures))?;
            }
        }
        table.end()
    };
    Content::table(cells, write)
}
