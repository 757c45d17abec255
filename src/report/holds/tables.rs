//! Tables: world by world, and prices.

use crate::report::answer::{Cell, Column, Form, Part, Table};
use crate::report::figure::unit;
use crate::report::number::Unit;
use crate::report::period::per;
use crate::scenario::Scenario;
use crate::studies::{BreakEven, Holds, Standing, TriedWorld};

/// The name of the table of worlds.
pub(super) const WORLDS: &str = "worlds";
/// The name of the table of prices.
pub(super) const PRICES: &str = "break_even";

/// Worlds that a screen shows.
const SCREEN: usize = 14;
/// The same beside drawn worlds.
const SHORT: usize = 6;

/// One line for each world, the world as assumed first.
pub(super) fn worlds(found: &Holds, scenario: &Scenario) -> Table {
    let assumed = &found.assumed;
    let base = if assumed.base_is_today {
        "today's".to_owned()
    } else {
        format!("\"{}\"", assumed.rules[assumed.base].name)
    };
    let lost = |world: &TriedWorld| matches!(world.standing, Standing::Loses { .. });
    // Seen only where there is something to see.
    let seen = |column: Column| {
        if found.worlds.iter().any(lost) || lost(&found.as_assumed) {
            column
        } else {
            column.only_in_files()
        }
    };
    let mut table = Table::new(
        WORLDS,
        vec![
            Column::new("if").left().key("words"),
            Column::file("world"),
            Column::new(format!("against {base} {}", per(assumed.days)))
                .without_interval()
                .key("against_base")
                .part("low", Part::Low)
                .part("high", Part::High),
            Column::new("the decision").left().key("standing"),
            seen(Column::new("better").left().key("better")),
            seen(
                Column::new("by")
                    .key("by")
                    .without_interval()
                    .part("by_low", Part::Low)
                    .part("by_high", Part::High),
            ),
            Column::file("yours"),
            Column::file("changes"),
        ],
    );
    let worlds = std::iter::once(&found.as_assumed).chain(&found.worlds);
    let screen = match found.under_assumptions {
        Some(_) => SHORT,
        None => SCREEN,
    };
    let mut shown = 0;
    for world in worlds {
        // What does not hold is never left out.
        shown += 1;
        let on_screen = shown <= screen || !world.holds() || world.otherwise.is_own();
        table.row(row(found, world, scenario)).screen(on_screen);
    }
    table
}

fn row(found: &Holds, world: &TriedWorld, scenario: &Scenario) -> [Cell; 8] {
    let assumed = &found.assumed;
    let unit = unit(assumed.judged_by());
    let decimals = unit.decimals(world.interval.half_width());
    let estimate = |value: f64, interval, decimals| Cell::Estimate {
        value: Some(value),
        interval,
        at_least: None,
        form: Form::new(unit, decimals),
    };
    let (better, by) = match &world.standing {
        Standing::Loses { to, by, interval } => (
            assumed.rules[*to].name.as_str().into(),
            estimate(*by, *interval, unit.decimals(interval.half_width())),
        ),
        _ => (Cell::Blank, Cell::Blank),
    };
    let otherwise = &world.otherwise;
    [
        otherwise.words(scenario).into(),
        otherwise.key(scenario).into(),
        estimate(world.against_base, world.interval, decimals).signed(),
        standing(&world.standing).into(),
        better,
        by,
        Cell::yes(otherwise.is_own()),
        otherwise.changes(scenario).join("; ").into(),
    ]
}

/// How it stands, in words.
pub(super) fn standing(standing: &Standing) -> &'static str {
    match standing {
        Standing::Wins => "the best",
        Standing::NotToldApart => "not told apart",
        Standing::Loses { .. } => "does not hold",
        Standing::Barred(_) => "could not be recommended",
    }
}

/// One line for each price that turns the decision.
pub(super) fn prices(found: &Holds) -> Table {
    let mut table = Table::new(
        PRICES,
        vec![
            Column::new("price of").left().key("price"),
            Column::new("today").key("today"),
            Column::new("turns at").key("turns_at"),
            Column::new("times today's").key("factor"),
            Column::new("then better").left().key("better"),
        ],
    );
    for (nth, point) in found.break_even.iter().enumerate() {
        let turns = point.today.map(|today| today * point.factor);
        let side = if point.factor < 1.0 { "below" } else { "above" };
        let price = |value: Option<f64>| match value {
            Some(value) => Cell::worded(
                format!("{} {}", crate::report::number::money(value), point.per),
                Some(value),
            ),
            None => Cell::unknown(),
        };
        table
            .row([
                point.price.into(),
                price(point.today),
                turned(point, turns, side),
                Cell::number(point.factor, Unit::Plain, 2),
                found.assumed.rules[point.to].name.as_str().into(),
            ])
            .screen(nth < 4);
    }
    table
}

fn turned(point: &BreakEven, turns: Option<f64>, side: &str) -> Cell {
    match turns {
        Some(value) => Cell::worded(
            format!(
                "{side} {} {}",
                crate::report::number::money(value),
                point.per
            ),
            Some(value),
        ),
        None => Cell::worded(format!("{side} {:.2} times", point.factor), None),
    }
}
