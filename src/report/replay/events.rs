//! Everything that happened, as a table.

use crate::report::csv_text::{Cell, Table};
use crate::scenario::Scenario;
use crate::studies::Replay;

/// `time_min,time,what,truck,driver,where`: time in minutes since midnight before the first day, and by the clock.
pub(super) fn table(answer: &Replay, scenario: &Scenario) -> Vec<u8> {
    let mut table = Table::new(&["time_min", "time", "what", "truck", "driver", "where"]);
    for happening in &answer.happenings {
        let truck = happening.truck.map(|id| &scenario.trucks[id.at()].name[..]);
        let driver = happening
            .driver
            .map(|id| &scenario.drivers[id.at()].name[..]);
        let place = happening.place.map(|place| scenario.place_name(place));
        table.row([
            Cell::Number(happening.at.minutes()),
            Cell::Text(&happening.at.to_string()),
            Cell::Text(&happening.what),
            truck.map_or(Cell::Blank, Cell::Text),
            driver.map_or(Cell::Blank, Cell::Text),
            place.map_or(Cell::Blank, Cell::Text),
        ]);
    }
    table.finish()
}
