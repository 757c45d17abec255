//! Duty logs and histories of drivers as users write them: CSV with civil times of the home terminal, without zone.
//!
//! ```text
//! driver,status,start,end[,exception]                  driver,date,hours[,exception]
//! D. Heron,on,2026-03-02T05:30,2026-03-02T06:00        D. Heron,2026-03-01,9.5
//! ```
//!
//! A status is `off`, `sleeper`, `on` or `drive`; or, where rule books judge them differently, `waiting` (with the truck, no
//! other work), `relieved` (waiting while someone else watches the truck) or `riding` (as a passenger). The column `exception`
//! may be left out or be empty; `long_day` claims the once-a-week longer window for the tour, or says in a history that it was
//! used on that day, and `adverse` claims adverse driving conditions from the row on.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use jiff::civil::{Date, DateTime};

use super::csv_table::{self, Row};
use super::problem::{Faults, Problem, Problems, listed, nearest, visible};
use super::read::{ReadError, read_text};
use super::tree::Span;
use crate::hours::{Claim, DutyStatus, Entry, Exception};
use crate::units::Millis;

const STATUSES: [(&str, DutyStatus); 7] = [
    ("off", DutyStatus::OffDuty),
    ("sleeper", DutyStatus::Sleeper),
    ("on", DutyStatus::OnDuty),
    ("drive", DutyStatus::Driving),
    ("waiting", DutyStatus::Waiting),
    ("relieved", DutyStatus::RelievedWaiting),
    ("riding", DutyStatus::Riding),
];

/// Logs of several drivers. Times are milliseconds since midnight before [`first_date`](Self::first_date).
#[derive(Clone, Debug, PartialEq)]
pub struct DutyLogs {
    /// The first date in the file.
    pub first_date: Date,
    /// One log a driver, in the order in which they first appear.
    pub drivers: Vec<DriverLog>,
}

/// The log of one driver.
#[derive(Clone, Debug, PartialEq)]
pub struct DriverLog {
    /// The driver's name.
    pub driver: String,
    /// In order of time, without gaps or overlaps; at least one.
    pub entries: Vec<Entry>,
    /// On duty before the log, by days after the first date (below zero before it); at most once a day.
    pub history: BTreeMap<i64, Millis>,
    /// Exceptions that the log claims, in order of time.
    pub claims: Vec<Claim>,
    /// Days, as in `history`, on which the once-a-week longer window was used.
    pub long_days: BTreeSet<i64>,
}

impl DutyLogs {
    /// A civil time as time since midnight before the first date.
    pub fn moment(&self, at: DateTime) -> Millis {
        since(self.first_date, at)
    }
}

/// Reads a log, and the history before it if there is one.
///
/// # Errors
/// If a file cannot be read, or all that is wrong in it; the history is looked at only if the log is right.
pub fn read(log: &Path, history: Option<&Path>) -> Result<DutyLogs, ReadError> {
    let mut logs = parse(&log.display().to_string(), &read_text(log)?)?;
    if let Some(path) = history {
        add_history(&mut logs, &path.display().to_string(), &read_text(path)?)?;
    }
    Ok(logs)
}

/// A row of a log that is right in itself.
struct Stretch {
    status: DutyStatus,
    exception: Option<Exception>,
    from: DateTime,
    to: DateTime,
    line: usize,
    start: Span,
    end: Span,
}

/// Checks the text of a log; `file` is what problems call it.
///
/// # Errors
/// All that is wrong in the text.
pub fn parse(file: &str, text: &str) -> Result<DutyLogs, Box<Faults>> {
    let problems = Problems::new();
    let mut drivers: Vec<(String, Vec<Stretch>)> = Vec::new();
    let mut unread = false;
    csv_table::read(
        text,
        &["driver", "status", "start", "end", "exception"],
        1,
        &problems,
        |row| {
            let name = driver(row, &problems);
            let Some((name, stretch)) = name.zip(stretch(row, &problems)) else {
                unread = true;
                return;
            };
            match drivers.iter_mut().find(|(known, _)| *known == name) {
                Some((_, stretches)) => stretches.push(stretch),
                None => drivers.push((name, vec![stretch])),
            }
        },
    );
    for (name, stretches) in &mut drivers {
        stretches.sort_by_key(|stretch| stretch.from);
        for pair in stretches.windows(2) {
            check_order(name, &pair[0], &pair[1], unread, &problems);
        }
    }
    let stretches = drivers.iter().flat_map(|(_, stretches)| stretches);
    let first = stretches.map(|stretch| stretch.from.date()).min();
    if first.is_none() && problems.is_empty() {
        let label = "expected rows below the heading";
        problems.add::<()>(Problem::new(text.len()..text.len(), "the log is empty").label(label));
    }
    match first {
        Some(first_date) if problems.is_empty() => Ok(DutyLogs {
            first_date,
            drivers: drivers
                .into_iter()
                .map(|(driver, stretches)| DriverLog {
                    driver,
                    claims: stretches
                        .iter()
                        .filter_map(|stretch| {
                            Some(Claim {
                                what: stretch.exception?,
                                from: since(first_date, stretch.from),
                            })
                        })
                        .collect(),
                    long_days: BTreeSet::new(),
                    entries: stretches
                        .iter()
                        .map(|stretch| Entry {
                            status: stretch.status,
                            from: since(first_date, stretch.from),
                            to: since(first_date, stretch.to),
                        })
                        .collect(),
                    history: BTreeMap::new(),
                })
                .collect(),
        }),
        _ => Err(Box::new(problems.into_faults(file, text))),
    }
}

/// Checks the text of a history and adds it to the logs.
///
/// # Errors
/// All that is wrong in the text, or does not go with the logs.
pub fn add_history(logs: &mut DutyLogs, file: &str, text: &str) -> Result<(), Box<Faults>> {
    let problems = Problems::new();
    let columns = ["driver", "date", "hours", "exception"];
    csv_table::read(text, &columns, 1, &problems, |row| {
        let name = driver(row, &problems);
        let exception = exception(row, 3, &[Exception::LongDay], &problems);
        let date = date(row, &problems);
        let hours = hours(row, &problems);
        let Some(((name, date), hours)) = name.zip(date).zip(hours) else {
            return;
        };
        let Some(at) = logs.drivers.iter().position(|log| log.driver == name) else {
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
        let day = since(logs.first_date, date.at(0, 0, 0, 0)).day();
        let log = &mut logs.drivers[at];
        if day >= log.entries[0].from.day() {
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

/// Civil time as the columns hold it: `2026-03-02T05:30`, seconds allowed, no zone.
pub fn civil_time(text: &str) -> Option<DateTime> {
    let (date, time) = text.split_once(['T', 't', ' '])?;
    let plain = |c: char| c.is_ascii_digit() || ":.".contains(c);
    if !time.chars().all(plain) || !time.contains(':') {
        return None;
    }
    let at: DateTime = format!("{date}T{time}").parse().ok()?;
    YEARS.contains(&at.year()).then_some(at)
}

/// Years that a log can be of; rests of weeks before and after it stay within the calendar.
const YEARS: std::ops::RangeInclusive<i16> = 1900..=9998;

fn since(first: Date, at: DateTime) -> Millis {
    let span = at.duration_since(first.at(0, 0, 0, 0));
    Millis(i64::try_from(span.as_millis()).unwrap_or(Millis::NEVER.0))
}

fn driver(row: &Row<'_>, problems: &Problems) -> Option<String> {
    let name = row.cell(0);
    if name.is_empty() {
        let problem = Problem::new(row.span(0), "the driver is missing");
        return problems.add(problem.label("expected a name"));
    }
    Some(name.to_owned())
}

fn stretch(row: &Row<'_>, problems: &Problems) -> Option<Stretch> {
    let word = row.cell(1);
    let status = STATUSES
        .iter()
        .find(|(name, _)| name.eq_ignore_ascii_case(word));
    if status.is_none() {
        let names = || STATUSES.iter().map(|(name, _)| *name);
        let mut problem = Problem::new(
            row.span(1),
            format!("unknown status \"{}\"", visible(word, 60)),
        )
        .label("expected a duty status")
        .help(format!("a status is one of {}", listed(names())));
        let near = problems
            .deserve_hints()
            .then(|| nearest(word, names()))
            .flatten();
        if let Some(near) = near {
            problem = problem.replace(row.span(1), near, format!("a similar name exists: {near}"));
        }
        problems.add::<()>(problem);
    }
    let (from, to) = (time(row, 2, problems), time(row, 3, problems));
    let exception = exception(row, 4, &Exception::ALL, problems);
    let ((status, from), to) = status.zip(from).zip(to)?;
    if to <= from {
        return problems.add(
            Problem::new(row.span(3), "this ends before it has begun")
                .label("expected a time after the start")
                .also(row.span(2), "the start"),
        );
    }
    Some(Stretch {
        status: status.1,
        exception,
        from,
        to,
        line: row.line(),
        start: row.span(2),
        end: row.span(3),
    })
}

/// The exception that a row claims, if it claims one.
fn exception(
    row: &Row<'_>,
    column: usize,
    known: &[Exception],
    problems: &Problems,
) -> Option<Exception> {
    let word = row.cell(column);
    let found = known
        .iter()
        .find(|known| known.key().eq_ignore_ascii_case(word));
    if word.is_empty() || found.is_some() {
        return found.copied();
    }
    let names = || known.iter().map(|known| known.key());
    let title = format!("unknown exception \"{}\"", visible(word, 60));
    let mut problem = Problem::new(row.span(column), title)
        .label("expected an exception that is claimed, or nothing")
        .help(format!("an exception is {}", listed(names())));
    if let Some(near) = nearest(word, names()) {
        problem = problem.replace(
            row.span(column),
            near,
            format!("a similar name exists: {near}"),
        );
    }
    problems.add(problem)
}

fn time(row: &Row<'_>, column: usize, problems: &Problems) -> Option<DateTime> {
    civil_time(row.cell(column)).or_else(|| {
        let title = format!(
            "\"{}\" is not a date and time",
            visible(row.cell(column), 60)
        );
        let label =
            "expected local time without zone, like 2026-03-02T05:30, of a year from 1900 to 9998";
        problems.add(Problem::new(row.span(column), title).label(label))
    })
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

/// Two stretches of one driver, the later one beginning no earlier.
fn check_order(driver: &str, before: &Stretch, after: &Stretch, unread: bool, problems: &Problems) {
    let driver = visible(driver, 60);
    let (what, label) = if after.from < before.to {
        ("overlap", format!("expected {} or later", before.to))
    } else if after.from > before.to {
        (
            "leave a gap",
            format!("expected {}, write time off as off", before.to),
        )
    } else {
        return;
    };
    let title = format!(
        "lines {} and {} of {driver} {what}",
        before.line, after.line
    );
    let problem = Problem::new(after.start.clone(), title)
        .label(label)
        .also(before.end.clone(), "the one before ends here");
    // Between two stretches there may be the row that could not be read.
    if unread && after.from > before.to {
        problems.add_consequence::<()>(problem);
    } else {
        problems.add::<()>(problem);
    }
}
