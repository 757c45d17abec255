//! Tables: every rule tried, the shortlist, and what the chosen rule decides otherwise than today.

use super::sentences::{changed, changes, combination, named, named_setting};
use crate::dispatch::{Habit, Rule};
use crate::observe;
use crate::report::answer::{Cell, Column, Form, Part, Table};
use crate::report::figure::{heading, unit};
use crate::report::final_round::decimals;
use crate::report::habit_words::{choice, label};
use crate::report::habits::tables::{count, share_cells, share_columns};
use crate::scenario::Scenario;
use crate::statistics::{Interval, Summary};
use crate::studies::{Best, Valued};

/// The name of the table of finalists.
pub(super) const SHORTLIST: &str = "shortlist";

/// `tried.csv`: every rule of the search.
pub(super) fn tried(found: &Best, scenario: &Scenario) -> Table {
    let mut columns = vec![Column::file("rule"), Column::file("decisions_changed")];
    let decisions = found.decisions.iter();
    columns.extend(decisions.map(|decision| Column::file(decision.habit.key())));
    let figures: Vec<&observe::Column> = std::iter::once(&found.judge)
        .chain(&found.targets)
        .collect();
    columns.extend(figures.iter().map(|column| {
        Column::file(format!("{}_mean", column.key))
            .part(format!("{}_low", column.key), Part::Low)
            .part(format!("{}_high", column.key), Part::High)
    }));
    columns.extend(["seems_to_meet_targets", "on_the_way_from_today"].map(Column::file));
    let mut table = Table::new("tried", columns);
    for (place, tried) in found.tried.iter().enumerate() {
        let rule = tried.combination.rule(scenario, &found.decisions);
        let mut cells: Vec<Cell> = vec![
            named_setting(found, place, scenario).into(),
            (tried.combination.changes() as f64).into(),
        ];
        let decisions = found.decisions.iter();
        cells.extend(decisions.map(|d| Cell::from(choice(d.habit, &rule, scenario))));
        let summaries = std::iter::once(&tried.seen.judged).chain(&tried.seen.targets);
        cells.extend(figures.iter().zip(summaries).map(|(column, summary)| {
            let interval = summary.interval(found.asked.level);
            estimate(column, summary.mean(), interval)
        }));
        cells.extend([
            Cell::yes(tried.seen.seems_to_meet),
            Cell::yes(found.path.contains(&place)),
        ]);
        table.row(cells);
    }
    table
}

fn estimate(column: &observe::Column, mean: Option<f64>, interval: Interval) -> Cell {
    Cell::Estimate {
        value: mean,
        interval,
        at_least: None,
        form: Form::new(unit(column), decimals(column)),
    }
}

/// One line for each finalist.
pub(super) fn shortlist(found: &Best, scenario: &Scenario) -> Table {
    let targets = !found.targets.is_empty();
    let mut columns = vec![
        Column::new("shortlist").left().key("rule"),
        Column::new("what is changed from today's")
            .left()
            .page_only()
            .key("changed"),
        Column::new("decisions changed").key("decisions_changed"),
        Column::new(heading(&found.judge)).key(format!("{}_mean", found.judge.key)),
        Column::new("against today's").with_ends("against_today"),
    ];
    for column in &found.targets {
        columns.push(Column::new(heading(column)).key(format!("{}_mean", column.key)));
        columns.push(
            Column::new(format!("{}, bound", column.label))
                .page_only()
                .key(format!("{}_bound", column.key)),
        );
    }
    let mut meets = Column::new("meets the targets").key("meets_targets");
    (meets.screen, meets.page) = (targets, targets);
    columns.extend([meets, Column::file("barred"), Column::file("chosen")]);
    let mut table = Table::new(SHORTLIST, columns);
    let mean = |column: &observe::Column, summary: &Summary| {
        summary.mean().map_or(Cell::unknown(), |mean| {
            Cell::number(mean, unit(column), decimals(column))
        })
    };
    for (place, finalist) in found.last.finalists.iter().enumerate() {
        let chosen = found.last.chosen == Some(place);
        let against = finalist.against_written.unwrap_or(Interval::UNBOUNDED);
        let mark = if chosen { " ←" } else { "" };
        let mut cells: Vec<Cell> = vec![
            Cell::from(format!("{}{mark}", named(found, place, scenario))),
            changes(found, place).into(),
            (combination(found, place).changes() as f64).into(),
            mean(&found.judge, &finalist.judged),
            estimate(&found.judge, finalist.saves, against).signed(),
        ];
        let each = found.targets.iter().zip(&finalist.targets);
        for ((column, summary), bound) in each.zip(&finalist.bounds) {
            cells.push(mean(column, summary));
            cells.push(Cell::number(*bound, unit(column), decimals(column) + 1));
        }
        cells.extend([
            if finalist.meets {
                "yes".into()
            } else {
                "cannot be shown".into()
            },
            Cell::yes(finalist.barred.is_some()),
            Cell::yes(chosen),
        ]);
        table.row(cells).marked(chosen);
    }
    table
}

/// What the chosen rule decides otherwise than today, and what that brings.
pub(super) fn changed_decisions(found: &Best, rule: &Rule, scenario: &Scenario) -> Table {
    let mut columns = vec![
        Column::new("decision").left(),
        Column::new("today").left().page_only(),
        Column::new("becomes").left(),
    ];
    let shares = found.shares.as_ref();
    if let Some(shares) = shares {
        let [share, give_or_take] = share_columns(shares);
        columns.extend([share, give_or_take.page_only()]);
        let counted = ["late loads", "drivers stranded"];
        columns.extend(counted.map(|heading| Column::new(heading).page_only()));
    }
    let mut table = Table::new("changed", columns);
    let today = &scenario.rules[found.today];
    let words = |habit: Habit| -> Vec<Cell> {
        vec![
            label(habit).into(),
            choice(habit, today, scenario).into(),
            choice(habit, rule, scenario).into(),
        ]
    };
    match shares {
        Some(shares) => {
            for (result, share) in shares.habits.iter().zip(share_cells(shares)) {
                let mut cells = words(result.habit);
                cells.extend(share);
                cells.push(count(result.of(Valued::LateLoads).share));
                cells.push(count(result.of(Valued::Stranded).share));
                table.row(cells);
            }
        }
        None => {
            let chosen = found.last.chosen.map(|chosen| combination(found, chosen));
            for habit in chosen
                .map(|chosen| changed(found, chosen))
                .unwrap_or_default()
            {
                table.row(words(habit));
            }
        }
    }
    table
}
