//! The rows of one driver in order of time: which moments their times are, and whether each begins where the one before ends.
//!
//! Where the clock is put back a time comes twice. Each row lasts some time and begins where the one before ends; if that leaves
//! one way to read the times, they are read so, else an offset is asked for.

use super::super::local_time::{LocalTime, Moments, NoMoment, Written, offset_text};
use super::super::problem::{Problem, Problems, visible};
use super::stretch::{Point, Stretch};
use crate::hours::Entry;
use crate::units::Millis;
use std::collections::BTreeSet;

/// A row with the moments that its times can be.
struct Row<'a> {
    stretch: &'a Stretch,
    start: Moments,
    end: Moments,
}

/// The rows of a driver in order of time, each with its entry; what is wrong goes to `problems`. `unread`: there are rows, perhaps
/// of this driver, that could not be read.
pub(super) fn settle<'a>(
    driver: &str,
    stretches: &'a [Stretch],
    time: &LocalTime,
    may_go_on: bool,
    mut unread: bool,
    problems: &Problems,
) -> Vec<(&'a Stretch, Entry)> {
    let mut rows: Vec<Row<'a>> = Vec::with_capacity(stretches.len());
    for stretch in stretches {
        match row(stretch, time, problems) {
            Some(row) => rows.push(row),
            None => unread = true,
        }
    }
    // Within an hour that comes twice, the order of the rows is all there is.
    let mut read = readings(&rows);
    if read.is_none() {
        rows.sort_by_key(|row| row.start.last);
        read = readings(&rows);
    }
    check_ends(&rows, may_go_on, problems);
    let Some(read) = read else {
        for pair in rows.windows(2) {
            check_order(driver, &pair[0], &pair[1], unread, problems);
        }
        return Vec::new();
    };
    ask_for_offsets(&rows, &read, time, problems);
    for (row, points) in rows.iter_mut().zip(read.chunks(2)) {
        row.start = at(points[0].0);
        row.end = at(points[1].0);
    }
    for pair in rows.windows(2) {
        check_order(driver, &pair[0], &pair[1], unread, problems);
    }
    let entries = rows.iter().map(|row| {
        let entry = Entry {
            status: row.stretch.status,
            from: row.start.first,
            to: row.end.first,
        };
        (row.stretch, entry)
    });
    entries.collect()
}

fn at(moment: Millis) -> Moments {
    Moments {
        first: moment,
        last: moment,
    }
}

fn row<'a>(stretch: &'a Stretch, time: &LocalTime, problems: &Problems) -> Option<Row<'a>> {
    let start = moments(&stretch.start, time, problems);
    let end = match &stretch.end {
        Some(end) => moments(end, time, problems),
        None => start,
    };
    let (start, end) = (start?, end?);
    if stretch.end.is_some() && end.last <= start.first {
        return problems.add(
            Problem::new(stretch.end_at.clone(), "this ends before it has begun")
                .label("expected a time after the start")
                .also(stretch.start.at.clone(), "the start"),
        );
    }
    Some(Row {
        stretch,
        start,
        end,
    })
}

fn moments(point: &Point, time: &LocalTime, problems: &Problems) -> Option<Moments> {
    let zone = time.zone().map_or("", |zone| zone.name());
    let written = point.written;
    let problem = |title: String, label: String| {
        problems.add(Problem::new(point.at.clone(), title).label(label))
    };
    match time.moments(written) {
        Ok(moments) => Some(moments),
        Err(NoMoment::LeftOut(from, to)) => problem(
            format!("{} does not exist in {zone}", shown(written)),
            format!(
                "the clock goes from {} to {} then; expected a time before or after",
                from.strftime("%H:%M"),
                to.strftime("%H:%M")
            ),
        ),
        Err(NoMoment::OtherOffset(offsets)) => {
            let offsets: Vec<String> = offsets.into_iter().map(offset_text).collect();
            problem(
                format!(
                    "the clock of {zone} has another offset at {}",
                    shown(written)
                ),
                format!("expected {}", offsets.join(" or ")),
            )
        }
        Err(NoMoment::OffsetWithoutZone) => problem(
            "an offset from UTC without a time zone".into(),
            "expected local time without an offset, or a zone: --zone or the column zone".into(),
        ),
    }
}

/// `2026-11-01 01:30`
fn shown(written: Written) -> String {
    written.civil.strftime("%Y-%m-%d %H:%M").to_string()
}

/// The earliest and the latest reading of start and end of each row, one after the other, such that each lasts some time and begins no
/// earlier than the one before ends; none if there is no such reading.
fn readings(rows: &[Row<'_>]) -> Option<Vec<(Millis, Millis)>> {
    let mut points: Vec<Moments> = rows.iter().flat_map(|row| [row.start, row.end]).collect();
    // The end of a row and the start of the next, written alike, are one moment: what an offset says of one holds for both.
    for at in 1..rows.len() {
        let (end, start) = (2 * at - 1, 2 * at);
        let before = &rows[at - 1].stretch.end;
        let alike = before
            .as_ref()
            .is_some_and(|end| end.written.civil == rows[at].stretch.start.written.civil);
        let both = Moments {
            first: points[end].first.max(points[start].first),
            last: points[end].last.min(points[start].last),
        };
        if alike && both.first <= both.last {
            (points[end], points[start]) = (both, both);
        }
    }
    let lasts = |at: usize| {
        let is_end = at % 2 == 1;
        Millis(i64::from(is_end && rows[at / 2].stretch.end.is_some()))
    };
    let mut early = Vec::with_capacity(points.len());
    let mut before = -Millis::NEVER;
    for (at, moments) in points.iter().enumerate() {
        let least = before + lasts(at);
        before = [moments.first, moments.last]
            .into_iter()
            .find(|moment| *moment >= least)?;
        early.push(before);
    }
    let mut after = Millis::NEVER;
    let mut late = Vec::with_capacity(points.len());
    for (at, moments) in points.iter().enumerate().rev() {
        let most = after
            - if at + 1 < points.len() {
                lasts(at + 1)
            } else {
                Millis::ZERO
            };
        after = [moments.last, moments.first]
            .into_iter()
            .find(|moment| *moment <= most)?;
        late.push(after);
    }
    late.reverse();
    Some(early.into_iter().zip(late).collect())
}

/// Asks for the offset of every time that can be read in two ways.
fn ask_for_offsets(
    rows: &[Row<'_>],
    read: &[(Millis, Millis)],
    time: &LocalTime,
    problems: &Problems,
) {
    let zone = time.zone().map_or("", |zone| zone.name());
    let mut asked = BTreeSet::new();
    for (row, points) in rows.iter().zip(read.chunks(2)) {
        let starts = (Some(&row.stretch.start), points[0]);
        let ends = (row.stretch.end.as_ref(), points[1]);
        for (point, (early, late)) in [starts, ends] {
            let Some(point) = point.filter(|_| early != late && asked.insert(early)) else {
                continue;
            };
            let offset = |at: Millis| time.offset(at).map(offset_text).unwrap_or_default();
            let civil = point.written.civil.strftime("%Y-%m-%dT%H:%M");
            let title = format!("{} comes twice in {zone}", shown(point.written));
            let label = format!(
                "expected the offset with it, {civil}{} or {civil}{}: the order of the rows does not tell",
                offset(early),
                offset(late)
            );
            problems.add::<()>(Problem::new(point.at.clone(), title).label(label));
        }
    }
}

/// A row without an end is the last one, of a log that is asked about a moment.
fn check_ends(rows: &[Row<'_>], may_go_on: bool, problems: &Problems) {
    for (at, row) in rows.iter().enumerate() {
        if row.stretch.end.is_some() {
            continue;
        }
        let last = at + 1 == rows.len();
        let label = match (last, may_go_on) {
            (true, true) => continue,
            (true, false) => "expected a time, or --at with the moment until which this goes on",
            (false, _) => "expected a time: only a driver's last row may go on",
        };
        let problem = Problem::new(row.stretch.end_at.clone(), "the end is missing");
        problems.add::<()>(problem.label(label));
    }
}

/// Two rows of one driver, the later one beginning no earlier.
fn check_order(driver: &str, before: &Row<'_>, after: &Row<'_>, unread: bool, problems: &Problems) {
    if before.stretch.end.is_none() {
        return; // that it has no end is said
    }
    let driver = visible(driver, 60);
    let ended = before.stretch.end.as_ref().map(|end| end.written.civil);
    let ended = ended.map_or(String::new(), |ended| ended.to_string());
    let (what, label) = if after.start.last < before.end.first {
        ("overlap", format!("expected {ended} or later"))
    } else if after.start.first > before.end.last {
        (
            "leave a gap",
            format!("expected {ended}, write time off as off"),
        )
    } else {
        return;
    };
    let (line, next) = (before.stretch.line, after.stretch.line);
    let title = format!("lines {line} and {next} of {driver} {what}");
    let problem = Problem::new(after.stretch.start.at.clone(), title)
        .label(label)
        .also(before.stretch.end_at.clone(), "the one before ends here");
    // Between two rows there may be the one that could not be read.
    if unread && after.start.first > before.end.last {
        problems.add_consequence::<()>(problem);
    } else {
        problems.add::<()>(problem);
    }
}
