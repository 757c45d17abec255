//! A row of a log, as far as it can be read by itself.

use super::super::csv_table::Row;
use super::super::local_time::{Written, Zone};
use super::super::problem::{Problem, Problems, listed, nearest, visible};
use super::super::tree::Span;
use crate::hours::{DutyStatus, Exception};
use std::collections::BTreeSet;

const STATUSES: [(&str, DutyStatus); 7] = [
    ("off", DutyStatus::OffDuty),
    ("sleeper", DutyStatus::Sleeper),
    ("on", DutyStatus::OnDuty),
    ("drive", DutyStatus::Driving),
    ("waiting", DutyStatus::Waiting),
    ("relieved", DutyStatus::RelievedWaiting),
    ("riding", DutyStatus::Riding),
];

/// A row of a log that is right in itself.
pub(super) struct Stretch {
    pub(super) status: DutyStatus,
    pub(super) exception: Option<Exception>,
    pub(super) start: Point,
    /// None: it goes on.
    pub(super) end: Option<Point>,
    /// Where the end stands, or would stand.
    pub(super) end_at: Span,
    pub(super) line: usize,
}

/// A time and where it is written.
#[derive(Clone)]
pub(super) struct Point {
    pub(super) written: Written,
    pub(super) at: Span,
}

pub(super) fn stretch(row: &Row<'_>, problems: &Problems) -> Option<Stretch> {
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
    let start = point(row, 2, problems);
    let end = match row.cell(3) {
        "" => Some(None),
        _ => point(row, 3, problems).map(Some),
    };
    let exception = exception(row, 4, &Exception::ALL, problems);
    let ((status, start), end) = status.zip(start).zip(end)?;
    Some(Stretch {
        status: status.1,
        exception,
        start,
        end,
        end_at: row.span(3),
        line: row.line(),
    })
}

fn point(row: &Row<'_>, column: usize, problems: &Problems) -> Option<Point> {
    let text = row.cell(column);
    let Some(written) = Written::read(text) else {
        let title = format!("\"{}\" is not a date and time", visible(text, 60));
        let label = "expected local time, like 2026-03-02T05:30, of a year from 1900 to 9998";
        return problems.add(Problem::new(row.span(column), title).label(label));
    };
    Some(Point {
        written,
        at: row.span(column),
    })
}

/// The exception that a row claims, if it claims one.
pub(super) fn exception(
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

/// The zone of a log, as its column or an option names it.
pub(super) struct ZoneOfLog {
    found: Option<Zone>,
    /// Where it comes from: an option, or a place in the text.
    named_at: Option<Span>,
    /// Names that no zone has, and names of other zones: each is told once.
    told: BTreeSet<String>,
    unknown: bool,
}

impl ZoneOfLog {
    pub(super) fn new(given: Option<&Zone>) -> Self {
        Self {
            found: given.cloned(),
            named_at: None,
            told: BTreeSet::new(),
            unknown: false,
        }
    }

    pub(super) fn found(&self) -> Option<Zone> {
        self.found.clone()
    }

    /// Whether every name is that of a zone.
    pub(super) fn is_known(&self) -> bool {
        !self.unknown
    }

    /// Looks at the zone of a row.
    pub(super) fn take(&mut self, row: &Row<'_>, problems: &Problems) {
        let name = row.cell(5);
        let same = self.found.as_ref().is_some_and(|zone| zone.name() == name);
        if name.is_empty() || same || self.told.contains(name) {
            return;
        }
        let zone = match Zone::named(name) {
            Ok(zone) => zone,
            Err(none) => {
                self.unknown = true;
                self.told.insert(name.to_owned());
                let title = format!("there is no time zone \"{}\"", visible(name, 60));
                let mut problem = Problem::new(row.span(5), title)
                    .label("expected an IANA name, such as America/New_York");
                if let Some(near) = none.near {
                    let why = format!("a similar name exists: {near}");
                    problem = problem.replace(row.span(5), near, why);
                }
                problems.add::<()>(problem);
                return;
            }
        };
        match &self.found {
            None => {
                self.found = Some(zone);
                self.named_at = Some(row.span(5));
            }
            Some(found) if *found == zone => {}
            Some(found) => {
                self.told.insert(name.to_owned());
                let title = format!("the log is in {} already", found.name());
                let mut problem = Problem::new(row.span(5), title)
                    .label("expected the same zone in every row: that of the home terminal");
                problem = match &self.named_at {
                    Some(place) => problem.also(place.clone(), "named here"),
                    None => problem.help(format!("--zone says {}", found.name())),
                };
                problems.add::<()>(problem);
            }
        }
    }
}
