//! Everything that happened, as a table.

use crate::report::csv_text::{Cell, Table};
use crate::scenario::Scenario;
use crate::studies::Replay;
use crate::units::Millis;
use std::io::{self, Write};

/// Time in minutes since midnight before the first day; the day, 1 for the first, and the time by its clock.
const HEADINGS: [&str; 7] = [
    "time_min", "day", "time", "what", "truck", "driver", "where",
];

/// How many cells the table has.
pub(super) fn cells(answer: &Replay) -> usize {
    HEADINGS.len() * (1 + answer.happenings.len())
}

/// Writes it.
pub(super) fn write(answer: &Replay, scenario: &Scenario, to: &mut dyn Write) -> io::Result<()> {
    let mut table = Table::to(to, &HEADINGS)?;
    for happening in &answer.happenings {
        let truck = happening.truck.map(|id| &scenario.trucks[id.at()].name[..]);
        let driver = happening
            .driver
            .map(|id| &scenario.drivers[id.at()].name[..]);
        let place = happening.place.map(|place| scenario.place_name(place));
        table.add([
            Cell::Number(happening.at.minutes()),
            Cell::Number((happening.at.day() + 1) as f64),
            Cell::Text(&of_the_day(happening.at).to_string()),
            Cell::Text(&happening.what),
            truck.map_or(Cell::Blank, Cell::Text),
            driver.map_or(Cell::Blank, Cell::Text),
            place.map_or(Cell::Blank, Cell::Text),
        ])?;
    }
    table.end()
}

/// Since midnight of its day.
fn of_the_day(at: Millis) -> Millis {
    at - Millis::midnight(at.day())
}
