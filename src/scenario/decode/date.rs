//! Calendar dates.

use super::super::problem::{Problem, Problems};
use super::super::tree::{Kind, Node};
use super::{quoted, wrong_kind};
use crate::hours::Date;
use crate::units::Weekday;
use jiff::civil;

const EXPECTED: &str = "a date \"2026-03-01\": year, month, day";

/// `"2026-03-01"`, as in ISO 8601; in a cell of a table also as people write it.
pub fn date(node: &Node, problems: &Problems) -> Option<Date> {
    let Some(text) = node.text() else {
        return wrong_kind(node, EXPECTED, problems);
    };
    let read = match node.kind {
        Kind::Cell { .. } => date_in(text),
        _ => iso(text),
    };
    read.or_else(|| {
        problems.add(
            Problem::new(node.span.clone(), format!("{} is no date", quoted(text)))
                .label(format!("expected {EXPECTED}")),
        )
    })
}

fn iso(text: &str) -> Option<Date> {
    let date = text.trim().parse::<civil::Date>().ok()?;
    Some(Date::new(date.year(), date.month(), date.day()))
}

/// A date as people write it: `2026-03-01`, `3/1/2026` (month first, as in the US), `1.3.2026` (day first).
pub fn date_in(text: &str) -> Option<Date> {
    let text = text.trim();
    let parts = |by: char| -> Option<[i16; 3]> {
        let parts: Option<Vec<i16>> = text.split(by).map(|part| part.parse().ok()).collect();
        parts?.try_into().ok()
    };
    let (year, month, day) = if let Some([month, day, year]) = parts('/') {
        (year, month, day)
    } else if let Some([day, month, year]) = parts('.') {
        (year, month, day)
    } else {
        return iso(text);
    };
    let year = if (0..100).contains(&year) {
        2000 + year
    } else {
        year
    };
    let date = civil::Date::new(year, month.try_into().ok()?, day.try_into().ok()?).ok()?;
    Some(Date::new(date.year(), date.month(), date.day()))
}

/// Days from one date to another.
pub fn days_between(from: Date, to: Date) -> i64 {
    let days = |date: Date| civil::Date::new(date.year, date.month, date.day).ok();
    match (days(from), days(to)) {
        (Some(from), Some(to)) => from.duration_until(to).as_hours() / 24,
        // Dates are read from a calendar.
        _ => 0,
    }
}

/// The date so many days after another.
pub fn later(date: Date, days: i64) -> Date {
    let at = civil::Date::new(date.year, date.month, date.day).ok();
    let later = at.and_then(|at| at.checked_add(jiff::Span::new().days(days)).ok());
    later.map_or(date, |at| Date::new(at.year(), at.month(), at.day()))
}

/// The weekday of a date.
pub fn weekday_of(date: Date) -> Weekday {
    let monday = Date::new(2024, 1, 1);
    let all = [
        Weekday::Monday,
        Weekday::Tuesday,
        Weekday::Wednesday,
        Weekday::Thursday,
        Weekday::Friday,
        Weekday::Saturday,
        Weekday::Sunday,
    ];
    all[days_between(monday, date).rem_euclid(7) as usize]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 January 2024 was a Monday, 29 February 2024 a Thursday, 8 June 2026 is a Monday (any calendar).
    #[test]
    fn dates_have_their_weekdays() {
        for (text, expected) in [
            ("2024-01-01", Weekday::Monday),
            ("2/29/2024", Weekday::Thursday),
            ("8.6.2026", Weekday::Monday),
            ("6/8/26", Weekday::Monday),
            ("2026-06-07", Weekday::Sunday),
        ] {
            assert_eq!(date_in(text).map(weekday_of), Some(expected), "{text}");
        }
        assert_eq!(date_in("2/30/2024"), None);
        assert_eq!(date_in("12"), None);
        let day = |text: &str| date_in(text).expect("a date");
        assert_eq!(days_between(day("2024-02-28"), day("2024-03-01")), 2);
        assert_eq!(days_between(day("2026-06-09"), day("2026-06-08")), -1);
    }
}
