//! A table of tickets, row by row: what can be read, and all that cannot with its place.

use super::{PastTickets, Stamp, Ticket};
use crate::hours::Date;
use crate::scenario::decode::{self, Fields, Limits, date_in, days_between, stamp_of};
use crate::scenario::problem::{Faults, Problem, Problems, visible};
use crate::scenario::read::{ReadError, read_bytes};
use crate::scenario::tables;
use crate::scenario::tree::{Kind, Node};
use crate::units::Millis;
use crate::units::measure::{self, Measures, System};
use std::path::Path;

/// What stands in a cell for nothing.
const NOTHING: [&str; 9] = ["-", "–", "—", "?", "n/a", "na", "none", "null", "#n/a"];

/// A step back in time of more than this is the turn of a day.
const TURN: Millis = Millis(12 * Millis::HOUR.0);

/// Reads the tickets of a file: a table in text, or the named or first sheet of a workbook.
///
/// # Errors
/// The file cannot be read, is no table, or all that is wrong in it.
pub fn read(path: &Path, sheet: Option<&str>) -> Result<PastTickets, ReadError> {
    Ok(parse(
        &path.display().to_string(),
        read_bytes(path)?,
        sheet,
    )?)
}

/// Checks the bytes of a file of tickets; `file` is what problems call it.
///
/// # Errors
/// All that is wrong in them.
pub fn parse(file: &str, bytes: Vec<u8>, sheet: Option<&str>) -> Result<PastTickets, Box<Faults>> {
    let problems = Problems::new();
    // Beside no scenario the headings say in which units the volumes are.
    let measures = match tables::alone(file, bytes.clone(), sheet, "tickets") {
        Ok(table) if table.fields().any(|field| field == "m3") => Measures {
            system: System::Si,
            ..measure::here()
        },
        _ => measure::here(),
    };
    let _spoken = measure::speak(measures);
    let table = match tables::alone(file, bytes, sheet, "tickets") {
        Ok(table) => table,
        Err(why) => {
            problems.add::<()>(
                Problem::new(0..0, why).label("expected a table: .csv in UTF-8, or .xlsx"),
            );
            return Err(Box::new(problems.into_faults(file, "")));
        }
    };
    problems.tables_from(1);
    if !Stamp::ALL
        .iter()
        .any(|stamp| table.fields().any(|field| field == stamp.key()))
    {
        let known: Vec<&str> = Stamp::ALL.iter().map(|stamp| stamp.words()).collect();
        problems.add::<()>(
            Problem::new(1..1, "no column holds a time of a ticket")
                .label(format!("expected headings such as {}", known.join(", "))),
        );
    }
    // Room for all at once: grown step by step it would be taken twice.
    let mut rows: Vec<Row> = Vec::with_capacity(table.rows().len());
    rows.extend(table.rows().filter_map(|row| Row::read(&row, &problems)));
    if rows.is_empty() && problems.is_empty() {
        problems.add::<()>(
            Problem::new(1..1, "there is no ticket").label("expected rows below the headings"),
        );
    }
    let ignored = problems.ignored(std::slice::from_ref(table.source()));
    if !problems.is_empty() {
        let mut faults = problems.into_faults(file, "");
        faults.tables = vec![table.into_source()];
        return Err(Box::new(faults));
    }
    drop(table);
    let name = Path::new(file).file_name();
    let dates = rows.iter().flat_map(Row::dates).min_by_key(ordered);
    let days_told = dates.is_some() || rows.iter().any(|row| row.day.is_some());
    let tickets: Vec<Ticket> = rows.into_iter().map(|row| row.ticket(dates)).collect();
    let mut times = tickets.iter().flat_map(|ticket| ticket.times).flatten();
    Ok(PastTickets {
        file: name.map_or(file.into(), |name| name.to_string_lossy().into_owned()),
        first_date: dates,
        days_told,
        whole_minutes: times.all(|at| at.0 % Millis::MINUTE.0 == 0),
        tickets,
        measures,
        ignored: ignored.into_iter().map(|(_, heading)| heading).collect(),
    })
}

fn ordered(date: &Date) -> (i16, i8, i8) {
    (date.year, date.month, date.day)
}

/// The day of a time as it is written.
#[derive(Clone, Copy, Debug, Default)]
struct Day {
    date: Option<Date>,
    next_day: bool,
}

/// One row as it is written. There may be a million of them.
#[derive(Debug)]
struct Row {
    /// Its times are those of the day alone.
    ticket: Ticket,
    date: Option<Date>,
    day: Option<u32>,
    /// What its times say of their days, if any does.
    days: Option<Box<[Day; 8]>>,
}

impl Row {
    fn read(node: &Node, problems: &Problems) -> Option<Self> {
        let mut fields = Fields::of(node, "ticket", problems)?;
        let text = |fields: &mut Fields<'_>, name| {
            let node = told(fields, name)?;
            let text = decode::name(node, problems)?;
            // What was written so that no spreadsheet takes it for a formula.
            let plain = text
                .strip_prefix('\'')
                .filter(|rest| rest.starts_with(['=', '+', '-', '@']));
            Some(plain.map_or_else(|| text.clone(), str::to_owned))
        };
        let volume = decode::number(Limits::between("yd³", 0.0, 1_000.0));
        let mut ticket = Ticket {
            number: text(&mut fields, "number"),
            plant: text(&mut fields, "plant"),
            truck: text(&mut fields, "truck"),
            driver: text(&mut fields, "driver"),
            site: text(&mut fields, "site"),
            order: text(&mut fields, "order"),
            load: None,
            mix: text(&mut fields, "mix"),
            yd3: told(&mut fields, "yd3").and_then(|node| volume(node, problems)),
            placed_yd3: told(&mut fields, "placed_yd3").and_then(|node| volume(node, problems)),
            back_at: text(&mut fields, "back_at"),
            times: [None; 8],
        };
        let load = decode::whole(Limits::between("load of the order", 1.0, 100_000.0));
        ticket.load = told(&mut fields, "load").and_then(|node| load(node, problems));
        let day = decode::whole(Limits::between("day", 1.0, 100_000.0));
        let day = told(&mut fields, "day").and_then(|node| day(node, problems));
        let date = told(&mut fields, "date").and_then(|node| date(node, problems));
        let mut days: Option<Box<[Day; 8]>> = None;
        for stamp in Stamp::ALL {
            let written = told(&mut fields, stamp.key()).and_then(|node| time(node, problems));
            let Some((date, since, next_day)) = written else {
                continue;
            };
            ticket.times[stamp as usize] = Some(since);
            if date.is_some() || next_day {
                days.get_or_insert_default()[stamp as usize] = Day { date, next_day };
            }
        }
        fields.finish();
        Some(Self {
            ticket,
            date,
            day,
            days,
        })
    }

    fn dates(&self) -> impl Iterator<Item = Date> {
        let own = self.days.iter().flat_map(|days| days.iter());
        self.date.into_iter().chain(own.filter_map(|day| day.date))
    }

    /// The ticket with its times since midnight before this date.
    fn ticket(self, first: Option<Date>) -> Ticket {
        let days = |date: Date| first.map_or(0, |first| days_between(first, date));
        let own = match (self.date, self.day) {
            (Some(date), _) => days(date),
            (None, Some(day)) => i64::from(day) - 1,
            (None, None) => 0,
        };
        let mut ticket = self.ticket;
        let mut before: Option<Millis> = None;
        let written = self.days.map_or_else(Default::default, |days| *days);
        for (at, written) in ticket.times.iter_mut().zip(written) {
            let Some(since) = *at else { continue };
            let day = match written.date {
                Some(date) => days(date),
                None => own,
            };
            let mut moment = Millis::midnight(day + i64::from(written.next_day)) + since;
            // Who writes the time alone writes no day, and goes on past midnight.
            if written.date.is_none()
                && !written.next_day
                && before.is_some_and(|before| moment + TURN < before)
            {
                moment += Millis::DAY;
            }
            before = Some(moment);
            *at = Some(moment);
        }
        ticket
    }
}

/// The value of a field, if something is told there.
fn told<'a>(fields: &mut Fields<'a>, name: &'static str) -> Option<&'a Node> {
    let node = fields.node(name)?;
    let nothing = node
        .text()
        .is_some_and(|text| NOTHING.contains(&text.trim().to_lowercase().as_str()));
    (!nothing).then_some(node)
}

fn date(node: &Node, problems: &Problems) -> Option<Date> {
    let text = node.text().unwrap_or_default();
    // A date cell of a spreadsheet may bring a time.
    let alone = text.split([' ', 'T']).next().unwrap_or_default();
    date_in(text).or_else(|| date_in(alone)).or_else(|| {
        let title = format!("\"{}\" is no date", visible(text, 60));
        problems.add(
            Problem::new(node.span.clone(), title).label(
                "expected a date: 2026-06-08, 6/8/2026 (month first) or 8.6.2026 (day first)",
            ),
        )
    })
}

/// A date if one is written, the time of day, and whether it is that of the next day.
fn time(node: &Node, problems: &Problems) -> Option<(Option<Date>, Millis, bool)> {
    let text = match &node.kind {
        Kind::Cell { text, .. } => text.as_str(),
        _ => "",
    };
    stamp_of(text).or_else(|| {
        let title = format!("\"{}\" is no time", visible(text, 60));
        problems.add(
            Problem::new(node.span.clone(), title)
                .label("expected a time of day, such as 06:31, 6:31:15 AM, or 2026-06-08 06:31"),
        )
    })
}
