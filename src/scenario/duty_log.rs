//! Duty logs and histories of drivers as users write them: CSV with times by the clock of the home terminal.
//!
//! ```text
//! driver,status,start,end[,exception][,zone]           driver,date,hours[,exception]
//! D. Heron,on,2026-03-02T05:30,2026-03-02T06:00        D. Heron,2026-03-01,9.5
//! ```
//!
//! A status is `off`, `sleeper`, `on` or `drive`; or, where rule books judge them differently, `waiting` (with the truck, no
//! other work), `relieved` (waiting while someone else watches the truck) or `riding` (as a passenger). The column `exception`
//! may be left out or be empty; `long_day` claims the once-a-week longer window for the tour, or says in a history that it was
//! used on that day, and `adverse` claims adverse driving conditions from the row on. The column `zone` names the time zone of the
//! log, the same in all rows; without one the clock is taken never to be changed. The last row of a driver may have no end, if the
//! log is asked about a moment.

mod asked;
mod settle;
mod stretch;

pub use asked::Asked;

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::path::Path;

use jiff::civil::Date;

use self::settle::settle;
use self::stretch::{Stretch, ZoneOfLog, exception, stretch};
use super::csv_table::{self, Row};
use super::decode;
use super::local_time::{LocalTime, YEARS, Zone};
use super::problem::{
    Faults, Problem, Problems, breaks_line, listed, nearest, turns_writing, visible,
};
use super::read::{ReadError, read_text};
use crate::hours::{Claim, Entry, Exception};
use crate::units::Millis;

/// Logs of several drivers. Times are milliseconds since midnight before the first date.
#[derive(Clone, Debug, PartialEq)]
pub struct DutyLogs {
    /// The first date in the file, and the zone of the clock.
    pub time: LocalTime,
    /// One log a driver, in the order in which they first appear.
    pub drivers: Vec<DriverLog>,
}

/// The log of one driver.
#[derive(Clone, Debug, PartialEq)]
pub struct DriverLog {
    /// The driver's name.
    pub driver: String,
    /// In order of time, without gaps or overlaps; at least one. The last one may have no length: it goes on.
    pub entries: Vec<Entry>,
    /// On duty before the log, by days after the first date (below zero before it); at most once a day.
    pub history: BTreeMap<i64, Millis>,
    /// Exceptions that the log claims, in order of time.
    pub claims: Vec<Claim>,
    /// Days, as in `history`, on which the once-a-week longer window was used.
    pub long_days: BTreeSet<i64>,
}

impl DutyLogs {
    /// Where the last log ends.
    pub fn ends(&self) -> Millis {
        let ends = self.drivers.iter().filter_map(|log| log.entries.last());
        ends.map(|last| last.to).max().unwrap_or(Millis::ZERO)
    }
}

/// What is known of a log besides its text.
#[derive(Clone, Debug, Default)]
pub struct Known {
    /// Its time zone, if it is named outside.
    pub zone: Option<Zone>,
    /// It is asked about a moment, so that its last rows may have no end.
    pub may_go_on: bool,
}

/// Reads a log, and the history before it if there is one.
///
/// # Errors
/// If a file cannot be read, or all that is wrong in it; the history is looked at only if the log is right.
pub fn read(log: &Path, history: Option<&Path>, known: &Known) -> Result<DutyLogs, ReadError> {
    let mut logs = parse(&log.display().to_string(), &read_text(log)?, known)?;
    if let Some(path) = history {
        add_history(&mut logs, &path.display().to_string(), &read_text(path)?)?;
    }
    Ok(logs)
}

/// Checks the text of a log; `file` is what problems call it.
///
/// # Errors
/// All that is wrong in the text.
pub fn parse(file: &str, text: &str, known: &Known) -> Result<DutyLogs, Box<Faults>> {
    let problems = Problems::new();
    let mut drivers: Vec<(String, Vec<Stretch>)> = Vec::new();
    let mut places: HashMap<String, usize> = HashMap::new();
    let mut zone = ZoneOfLog::new(known.zone.as_ref());
    let mut unread = false;
    csv_table::read(
        text,
        &["driver", "status", "start", "end", "exception", "zone"],
        2,
        &problems,
        |row| {
            zone.take(row, &problems);
            let name = driver(row, &problems);
            let Some((name, stretch)) = name.zip(stretch(row, &problems)) else {
                unread = true;
                return;
            };
            let place = *places.entry(name).or_insert_with_key(|name| {
                drivers.push((name.clone(), Vec::new()));
                drivers.len() - 1
            });
            drivers[place].1.push(stretch);
        },
    );
    let dates = drivers.iter().flat_map(|(_, stretches)| stretches);
    let Some(first_date) = dates
        .map(|stretch| stretch.start.written.civil.date())
        .min()
    else {
        if problems.is_empty() {
            let label = "expected rows below the heading";
            let problem = Problem::new(text.len()..text.len(), "the log is empty").label(label);
            problems.add::<()>(problem);
        }
        return Err(Box::new(problems.into_faults(file, text)));
    };
    let time = LocalTime::new(first_date, zone.found());
    let mut logs = Vec::with_capacity(drivers.len());
    // With a zone that is not known, what the clock leaves out is not known either.
    for (driver, stretches) in drivers.into_iter().filter(|_| zone.is_known()) {
        let rows = settle(
            &driver,
            &stretches,
            &time,
            known.may_go_on,
            unread,
            &problems,
        );
        logs.push(DriverLog {
            driver,
            claims: rows
                .iter()
                .filter_map(|(stretch, entry)| {
                    Some(Claim {
                        what: stretch.exception?,
                        from: entry.from,
                    })
                })
                .collect(),
            long_days: BTreeSet::new(),
            entries: rows.into_iter().map(|(_, entry)| entry).collect(),
            history: BTreeMap::new(),
        });
    }
    if problems.is_empty() {
        Ok(DutyLogs {
            time,
            drivers: logs,
        })
    } else {
        Err(Box::new(problems.into_faults(file, text)))
    }
}

/// Checks the text of a history and adds it to the logs.
///
/// # Errors
/// All that is wrong in the text, or does not go with the logs.
pub fn add_history(logs: &mut DutyLogs, file: &str, text: &str) -> Result<(), Box<Faults>> {
    let problems = Problems::new();
    let columns = ["driver", "date", "hours", "exception"];
    let places = logs.drivers.iter().enumerate();
    let places: HashMap<String, usize> = places.map(|(at, log)| (log.driver.clone(), at)).collect();
    csv_table::read(text, &columns, 1, &problems, |row| {
        let name = driver(row, &problems);
        let exception = exception(row, 3, &[Exception::LongDay], &problems);
        let date = date(row, &problems);
        let hours = hours(row, &problems);
        let Some(((name, date), hours)) = name.zip(date).zip(hours) else {
            return;
        };
        let Some(at) = places.get(&name).copied() else {
            let names = || logs.drivers.iter().map(|log| log.driver.as_str());
            let title = format!("there is no driver \"{}\" in the log", visible(&name, 60));
            let mut problem = Problem::new(row.span(0), title)
                .label("expected a driver of the log")
                .help(format!("the drivers are {}", listed(names())));
            let near = problems
                .deserve_hints()
                .then(|| nearest(&name, names()))
                .flatten();
            if let Some(near) = near {
                problem =
                    problem.replace(row.span(0), near, format!("a similar name exists: {near}"));
            }
            problems.add::<()>(problem);
            return;
        };
        let day = logs.time.day(date);
        let log = &mut logs.drivers[at];
        if date >= logs.time.civil(log.entries[0].from).date() {
            let title = format!("the log of {} holds {date} already", visible(&name, 60));
            let label = "expected a date before the driver's log";
            problems.add::<()>(Problem::new(row.span(1), title).label(label));
        } else if log.history.insert(day, hours).is_some() {
            let title = format!("{date} is given twice for {}", visible(&name, 60));
            problems.add::<()>(Problem::new(row.span(1), title).label("expected each date once"));
        } else if exception.is_some() {
            log.long_days.insert(day);
        }
    });
    if problems.is_empty() {
        Ok(())
    } else {
        Err(Box::new(problems.into_faults(file, text)))
    }
}

fn driver(row: &Row<'_>, problems: &Problems) -> Option<String> {
    let name = row.cell(0);
    if name.is_empty() {
        let problem = Problem::new(row.span(0), "the driver is missing");
        return problems.add(problem.label("expected a name"));
    }
    let hidden = |c: &char| c.is_control() || breaks_line(*c) || turns_writing(*c);
    if let Some(refused) = name.chars().find(hidden) {
        let quoted = format!("\"{}\"", visible(name, 60));
        return problems.add(decode::unprintable(refused, quoted, row.span(0)));
    }
    Some(name.to_owned())
}

fn date(row: &Row<'_>, problems: &Problems) -> Option<Date> {
    let text = row.cell(1);
    let date: Option<Date> = text.parse().ok().filter(|_| text.len() == 10);
    let date = date.filter(|date| YEARS.contains(&date.year()));
    date.or_else(|| {
        let title = format!("\"{}\" is not a date", visible(text, 60));
        problems.add(Problem::new(row.span(1), title).label("expected a date like 2026-03-02"))
    })
}

fn hours(row: &Row<'_>, problems: &Problems) -> Option<Millis> {
    let text = row.cell(2);
    let hours = text.parse::<f64>().ok();
    match hours.filter(|hours| (0.0..=24.0).contains(hours)) {
        Some(hours) => Some(Millis::from_hours(hours)),
        None => {
            let title = format!("\"{}\" is not a number of hours", visible(text, 60));
            problems.add(Problem::new(row.span(2), title).label("expected 0 to 24, like 9.5"))
        }
    }
}
