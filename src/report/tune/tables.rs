//! The surface and the final round as tables.

use super::sentences::{named, written};
use crate::observe;
use crate::report::answer::{Cell, Column, Form, Part, Table};
use crate::report::figure::{heading, unit};
use crate::report::final_round::decimals;
use crate::statistics::{Interval, Summary};
use crate::studies::{Block, Tuned};

/// Every setting of the search; its chart has the same name.
pub(super) const SURFACE: &str = "surface";
/// How many settings a screen has room for.
pub(super) const SCREEN: usize = 16;

fn figures(answer: &Tuned) -> impl Iterator<Item = &observe::Column> {
    std::iter::once(&answer.judge).chain(&answer.targets)
}

fn cell(column: &observe::Column, mean: Option<f64>, interval: Interval) -> Cell {
    Cell::Estimate {
        value: mean,
        interval,
        at_least: None,
        form: Form::new(unit(column), decimals(column)),
    }
}

/// One line for each setting of the search.
pub(super) fn surface(answer: &Tuned) -> Table {
    let mut columns = vec![Column::file("setting"), Column::new("search").left()];
    let vary = &answer.asked.vary;
    columns.extend(vary.iter().map(|v| Column::file(v.name())));
    columns.extend(figures(answer).map(|column| {
        Column::new(heading(column))
            .without_interval()
            .key(format!("{}_mean", column.key))
            .part(format!("{}_low", column.key), Part::Low)
            .part(format!("{}_high", column.key), Part::High)
    }));
    columns
        .extend(["replications", "first_replication", "seems_to_meet_targets"].map(Column::file));
    let mut table = Table::new(SURFACE, columns);
    // The study's own part of the JSON tells all of it.
    table.json = false;
    let chosen = answer
        .last
        .chosen
        .map(|chosen| answer.last.finalists[chosen].setting);
    for (place, setting) in answer.settings.iter().enumerate() {
        let places = setting.places.as_ref();
        let name = places.map_or("as written", |_| "searched");
        let mut cells = vec![name.into(), named(answer, setting).into()];
        cells.extend(vary.iter().enumerate().map(|(n, vary)| {
            let at = places.map(|places| places[n]);
            at.map_or(Cell::Blank, |at| match vary.number(at) {
                Some(number) => number.into(),
                None => vary.written(at).into(),
            })
        }));
        let summaries = std::iter::once(&setting.seen.judged).chain(&setting.seen.targets);
        cells.extend(figures(answer).zip(summaries).map(|(column, summary)| {
            cell(column, summary.mean(), summary.interval(answer.asked.level))
        }));
        cells.extend([
            (answer.searched as f64).into(),
            (Block::Search.first(0).start as f64).into(),
            Cell::yes(setting.seen.seems_to_meet),
        ]);
        table
            .row(cells)
            .marked(chosen == Some(place))
            .screen(place < SCREEN);
    }
    table
}

/// One line for each finalist.
pub(super) fn last(answer: &Tuned) -> Table {
    let mut columns = vec![
        Column::file("setting"),
        Column::new("final round").left(),
        Column::new(heading(&answer.judge)).key(format!("{}_mean", answer.judge.key)),
    ];
    for column in &answer.targets {
        columns.extend([
            Column::new(heading(column)).key(format!("{}_mean", column.key)),
            Column::new(format!("{}, bound", column.label))
                .page_only()
                .key(format!("{}_bound", column.key)),
        ]);
    }
    let mut meets = Column::new("meets the targets");
    (meets.screen, meets.page) = (!answer.targets.is_empty(), !answer.targets.is_empty());
    columns.extend([
        meets,
        Column::file("meets_targets"),
        Column::new(format!(
            "{} against the rule as it stands",
            answer.judge.label
        ))
        .page_only()
        .with_ends("against_written"),
        Column::file("chosen"),
        Column::file("replications"),
        Column::file("first_replication"),
    ]);
    let mut table = Table::new("final", columns);
    table.json = false;
    let mean = |column: &observe::Column, summary: &Summary, more: usize| {
        summary.mean().map_or(Cell::unknown(), |mean| {
            Cell::number(mean, unit(column), decimals(column) + more)
        })
    };
    for (place, finalist) in answer.last.finalists.iter().enumerate() {
        let setting = &answer.settings[finalist.setting];
        let chosen = answer.last.chosen == Some(place);
        let mark = if chosen { " ←" } else { "" };
        let mut cells = vec![
            written(answer, setting).into(),
            format!("{}{mark}", named(answer, setting)).into(),
            mean(&answer.judge, &finalist.judged, 0),
        ];
        let targets = answer.targets.iter().zip(&finalist.targets);
        for ((column, summary), bound) in targets.zip(&finalist.bounds) {
            cells.push(mean(column, summary, 0));
            cells.push(Cell::number(*bound, unit(column), decimals(column) + 1));
        }
        let against = finalist.against_written.unwrap_or(Interval::UNBOUNDED);
        cells.extend([
            if finalist.meets {
                "yes".into()
            } else {
                "cannot be shown".into()
            },
            Cell::yes(finalist.meets),
            cell(&answer.judge, finalist.saves, against).signed(),
            Cell::yes(chosen),
            (answer.last.decided_on as f64).into(),
            (Block::Final.first(0).start as f64).into(),
        ]);
        table.row(cells).marked(chosen);
    }
    table
}
