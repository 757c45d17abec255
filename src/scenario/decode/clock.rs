//! Times of day and weekdays.

use super::super::problem::{Problem, Problems};
use super::super::tree::{Kind, Node};
use super::{cell, date_in, list, one_of, quoted, wrong_kind};
use crate::hours::Date;
use crate::units::{Millis, Weekday};
use std::borrow::Cow;

/// `"06:30"`: since midnight, at most `"24:00"`.
pub fn time_of_day(node: &Node, problems: &Problems) -> Option<Millis> {
    clock(
        node,
        24,
        "a time of day \"HH:MM\", 00:00 to 24:00",
        problems,
    )
}

/// `"06:30"`, or on the next day `"02:00 +1"` or `"26:00"`: since midnight of the day in question, before 48:00.
pub fn moment(node: &Node, problems: &Problems) -> Option<Millis> {
    clock(
        node,
        48,
        "a time \"HH:MM\", on the next day \"HH:MM +1\"",
        problems,
    )
}

/// `"09:30"`, or on the day before `"16:30 -1"`: since midnight of the day in question, from -24:00 to 24:00.
pub fn call(node: &Node, problems: &Problems) -> Option<Millis> {
    let expected = "a time of day \"HH:MM\", on the day before \"HH:MM -1\"";
    let Some(written) = written(node) else {
        return wrong_kind(node, expected, problems);
    };
    let text: &str = &written;
    let before = text.trim().strip_suffix("-1");
    let time = read(before.unwrap_or(text).trim());
    match time.filter(|(time, marked)| *time <= Millis::DAY && !marked) {
        Some((time, _)) if before.is_some() => Some(time - Millis::DAY),
        Some((time, _)) => Some(time),
        None => not_such(node, text, expected, problems),
    }
}

/// The text of a time; that of a cell as a scenario writes it, if it is a time as people write it.
fn written(node: &Node) -> Option<Cow<'_, str>> {
    let text = node.text()?;
    let plain = matches!(node.kind, Kind::Cell { .. }).then(|| cell::time(text));
    Some(plain.flatten().map_or(Cow::Borrowed(text), Cow::Owned))
}

fn not_such<T>(node: &Node, text: &str, expected: &str, problems: &Problems) -> Option<T> {
    let title = format!("{} is not such a time", quoted(text));
    problems.add(Problem::new(node.span.clone(), title).label(format!("expected {expected}")))
}

fn clock(node: &Node, hours: i64, expected: &str, problems: &Problems) -> Option<Millis> {
    let Some(written) = written(node) else {
        return wrong_kind(node, expected, problems);
    };
    let text: &str = &written;
    let time = read(text.trim()).filter(|(time, marked)| {
        *time <= Millis::HOUR * hours && (hours > 24 || !marked) && *time < Millis::DAY * 2
    });
    match time {
        Some((time, _)) => Some(time),
        None => not_such(node, text, expected, problems),
    }
}

/// [`moment`] of a bare text; none if it is not such a time.
pub fn moment_of(text: &str) -> Option<Millis> {
    read(text)
        .filter(|(time, next_day)| *next_day || *time <= Millis::DAY)
        .map(|(time, _)| time)
}

/// A moment on a ticket, as people write it: a time of day with or without seconds, `6:31 AM`, `06:31:15.2`, `0631`, `00:12 +1` on the next
/// day, with or without its date before it. Gives the date if it is written, the time since midnight, and whether the next day is marked.
pub fn stamp_of(text: &str) -> Option<(Option<Date>, Millis, bool)> {
    let text = text.trim();
    let (text, next_day) = match text.strip_suffix("+1") {
        Some(before) => (before.trim_end(), true),
        None => (text, false),
    };
    let split = text.split_once(['T', ' ']);
    let dated = split.and_then(|(date, time)| Some((date_in(date)?, time.trim())));
    let (date, time) = match dated {
        Some((date, time)) => (Some(date), time),
        None => (None, text),
    };
    let at = match cell::clock(time) {
        Some(at) => at,
        // The four figures of the trade, or the three that a spreadsheet leaves of them.
        None if (3..=4).contains(&time.len()) && time.bytes().all(|b| b.is_ascii_digit()) => {
            let figures: i64 = time.parse().ok()?;
            (figures % 100 < 60).then_some((figures / 100 * 60 + figures % 100) * 60_000)?
        }
        None => return None,
    };
    (at <= Millis::DAY.0).then_some((date, Millis(at), next_day))
}

/// The time, and whether the next day was marked by `+1`.
fn read(text: &str) -> Option<(Millis, bool)> {
    let (clock, days) = match text.strip_suffix("+1") {
        Some(clock) => (clock.trim_end(), 1),
        None => (text, 0),
    };
    let (hour, minute) = clock.split_once(':')?;
    let digits = |part: &str, lengths: std::ops::RangeInclusive<usize>| {
        (lengths.contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit()))
            .then(|| part.parse::<i64>().ok())
            .flatten()
    };
    let (hour, minute) = (digits(hour, 1..=2)?, digits(minute, 2..=2)?);
    (minute < 60 && (days == 0 || hour < 24)).then(|| {
        (
            Millis::HOUR * hour + Millis::MINUTE * minute + Millis::DAY * days,
            days > 0,
        )
    })
}

const WEEKDAYS: [(&str, Weekday); 7] = [
    ("Monday", Weekday::Monday),
    ("Tuesday", Weekday::Tuesday),
    ("Wednesday", Weekday::Wednesday),
    ("Thursday", Weekday::Thursday),
    ("Friday", Weekday::Friday),
    ("Saturday", Weekday::Saturday),
    ("Sunday", Weekday::Sunday),
];

/// `Monday`.
pub fn weekday(node: &Node, problems: &Problems) -> Option<Weekday> {
    one_of("weekday", &WEEKDAYS)(node, problems)
}

/// `[Monday, Tuesday]`, each once, at least one.
pub fn weekdays(node: &Node, problems: &Problems) -> Option<Vec<Weekday>> {
    let days = list(1..=7, "weekday", weekday)(node, problems)?;
    let Kind::List(items) = &node.kind else {
        return Some(days);
    };
    for (at, day) in days.iter().enumerate() {
        if let Some(first) = days[..at].iter().position(|earlier| earlier == day) {
            return problems.add(
                Problem::new(items[at].span.clone(), format!("{day:?} is listed twice"))
                    .label("expected each weekday once")
                    .also(items[first].span.clone(), "first here"),
            );
        }
    }
    Some(days)
}
