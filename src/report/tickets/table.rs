//! Tickets as a table, which `plantday tickets` reads again: times to the millisecond, so that nothing is rounded.

use crate::hours::Date;
use crate::report::csv_text::{Cell, Table};
use crate::scenario::decode::later;
use crate::scenario::past_tickets::{Stamp, Ticket};
use crate::units::Millis;
use crate::units::measure::{self, Quantity};

/// The table as CSV. With the date of the first day a ticket tells its date, without one its day, from 1.
pub fn table(tickets: &[Ticket], first_date: Option<Date>) -> Vec<u8> {
    let day = if first_date.is_some() { "date" } else { "day" };
    let before = [
        "ticket", day, "plant", "order", "load", "site", "mix", "yd3", "truck", "driver",
    ];
    let stamps = Stamp::ALL.map(Stamp::words);
    let placed = format!("placed {}", measure::key("yd3").0);
    let after = ["back at", placed.as_str()];
    let headings: Vec<&str> = before.into_iter().chain(stamps).chain(after).collect();
    let mut table = Table::new(&headings);
    for ticket in tickets {
        let own = ticket.first().map_or(0, Millis::day);
        let dated = first_date.map(|first| later(first, own).to_string());
        let times = ticket
            .times
            .map(|at| at.map_or(String::new(), |at| time(at - Millis::midnight(own))));
        let text = |text: &'_ Option<String>| text.clone().unwrap_or_default();
        let texts = [
            text(&ticket.number),
            text(&ticket.plant),
            text(&ticket.order),
            text(&ticket.site),
            text(&ticket.mix),
            text(&ticket.truck),
            text(&ticket.driver),
            text(&ticket.back_at),
        ];
        let [number, plant, order, site, mix, truck, driver, back_at] = &texts;
        let mut row: Vec<Cell<'_>> = vec![
            Cell::Text(number),
            match &dated {
                Some(date) => Cell::Text(date),
                None => Cell::Number(own as f64 + 1.0),
            },
            Cell::Text(plant),
            Cell::Text(order),
            ticket.load.map(f64::from).into(),
            Cell::Text(site),
            Cell::Text(mix),
            volume(ticket.yd3),
            Cell::Text(truck),
            Cell::Text(driver),
        ];
        row.extend(times.iter().map(|time| Cell::Text(time)));
        row.extend([Cell::Text(back_at), volume(ticket.placed_yd3)]);
        table.row(row);
    }
    table.finish()
}

fn volume(yd3: Option<f64>) -> Cell<'static> {
    yd3.map(|yd3| measure::rounded(Quantity::Volume, yd3, 6))
        .into()
}

/// `06:31:05.250`, on the next day `00:12:03.100 +1`.
fn time(at: Millis) -> String {
    let (day, rest) = (at.day(), at.0.rem_euclid(Millis::DAY.0));
    let (hour, minute) = (rest / 3_600_000, rest / 60_000 % 60);
    let mut text = format!("{hour:02}:{minute:02}:{:02}", rest / 1_000 % 60);
    if rest % 1_000 > 0 {
        text += &format!(".{:03}", rest % 1_000);
    }
    if day > 0 {
        text += " +1";
    }
    text
}
