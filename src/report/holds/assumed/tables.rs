//! The averages, and one line for each drawn world.

use super::sentences::value_words;
use super::{Line, difference, difference_interval};
use crate::report::answer::{Cell, Column, Form, Part, Table};
use crate::report::figure::unit;
use crate::report::period::per;
use crate::scenario::InputKind;
use crate::statistics::Interval;
use crate::studies::{DrawnWorld, Holds, UnderAssumptions};

/// The name of the table of averages.
pub(super) const AVERAGES: &str = "assumed_averages";
/// The name of the table of drawn worlds.
pub(super) const DRAWN: &str = "assumed";
/// Drawn worlds that a page shows.
const PAGE: usize = 40;

/// `against today's a week`.
fn heading(found: &Holds, drawn: &UnderAssumptions) -> String {
    let assumed = &found.assumed;
    let against = if assumed.base_is_today && drawn.against == assumed.base {
        "today's".to_owned()
    } else {
        format!("\"{}\"", assumed.rules[drawn.against].name)
    };
    format!("against {against} {}", per(assumed.days))
}

fn input_columns(drawn: &UnderAssumptions) -> impl Iterator<Item = Column> + '_ {
    drawn.assumptions.iter().map(|one| {
        let words = match one.input.kind() {
            InputKind::Times => format!("{}, times", one.input.words()),
            InputKind::Share | InputKind::Minutes => one.input.words().to_owned(),
        };
        Column::new(words)
            .brief(one.input.name().replace('_', " "))
            .key(one.input.name())
    })
}

fn input_cells<'a>(
    drawn: &'a UnderAssumptions,
    values: Option<&'a [f64]>,
) -> impl Iterator<Item = Cell> + 'a {
    drawn.assumptions.iter().enumerate().map(move |(at, one)| {
        values.map_or(Cell::Blank, |values| {
            Cell::worded(value_words(one.input, values[at]), Some(values[at]))
        })
    })
}

fn estimate(found: &Holds, mean: Option<f64>, interval: Interval) -> Cell {
    let unit = unit(found.assumed.judged_by());
    Cell::Estimate {
        value: mean,
        interval,
        at_least: None,
        form: Form::new(unit, unit.decimals(interval.half_width())).signed(),
    }
}

/// As written, on average over the drawn worlds, and the two at the ends.
pub(super) fn averages(found: &Holds, drawn: &UnderAssumptions, lines: &[Line<'_>]) -> Table {
    let mut columns = vec![Column::new("").left().key("what")];
    columns.extend(input_columns(drawn));
    columns.push(
        Column::new(heading(found, drawn))
            .key("difference")
            .part("low", Part::Low)
            .part("high", Part::High),
    );
    let mut table = Table::new(AVERAGES, columns);
    for line in lines {
        let mut cells = vec![Cell::from(line.words.as_str())];
        cells.extend(input_cells(drawn, line.values));
        cells.push(estimate(found, Some(line.mean), line.interval));
        table.row(cells);
    }
    table
}

/// One line for each drawn world. What is saved stands in files: above zero is better.
pub(super) fn worlds(found: &Holds, drawn: &UnderAssumptions) -> Table {
    let mut columns = vec![Column::new("world").key("drawn")];
    columns.extend(input_columns(drawn));
    columns.extend([
        Column::file("saving"),
        Column::new(heading(found, drawn))
            .key("difference")
            .part("low", Part::Low)
            .part("high", Part::High),
        Column::new("the rule").left().key("standing"),
    ]);
    let mut table = Table::new(DRAWN, columns);
    for (nth, world) in drawn.worlds.iter().enumerate() {
        let mut cells = vec![Cell::count(nth as u64 + 1)];
        cells.extend(input_cells(drawn, Some(&world.values)));
        let mean = world.saving.map(|saving| difference(found, saving));
        cells.extend([
            Cell::from(world.saving),
            estimate(found, mean, difference_interval(found, world.interval)),
            standing(world).into(),
        ]);
        table.row(cells).page(nth < PAGE).screen(false);
    }
    table
}

/// How the rule stands in a drawn world beside the one that it is set against.
pub(super) fn standing(world: &DrawnWorld) -> &'static str {
    match world {
        DrawnWorld {
            barred: Some(_), ..
        } => "could not be recommended",
        world if world.interval.low > 0.0 => "better",
        world if world.interval.high < 0.0 => "worse",
        _ => "not told apart",
    }
}
