//! Dates and times as they are written, with or without an offset from UTC.

use crate::units::Millis;
use jiff::civil::{Date, DateTime};

/// Years that a log can be of; rests of weeks before and after it stay within the calendar.
pub(in crate::scenario) const YEARS: std::ops::RangeInclusive<i16> = 1900..=9998;

/// A date and time as it is written, with an offset from UTC if one stands with it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Written {
    /// By the clock on the wall.
    pub civil: DateTime,
    /// The clock is ahead of UTC by so much, behind if below zero.
    pub offset: Option<Millis>,
}

impl Written {
    /// `2026-03-02T05:30`, seconds allowed, `24:00` at the end of a day, an offset from UTC after it: `2026-11-01T01:30-05:00`. Of a
    /// year from 1900 to 9998; none if it is not such a time.
    pub fn read(text: &str) -> Option<Self> {
        let (date, time) = text.split_once(['T', 't', ' '])?;
        let (time, offset) = match time.rfind(['+', '-']) {
            Some(at) => (time[..at].trim_end(), Some(offset(&time[at..])?)),
            None => (time, None),
        };
        let plain = |c: char| c.is_ascii_digit() || ":.".contains(c);
        if !time.chars().all(plain) || !time.contains(':') {
            return None;
        }
        let civil: DateTime = if matches!(time, "24:00" | "24:00:00") {
            let date: Date = date.parse().ok()?;
            date.tomorrow().ok()?.at(0, 0, 0, 0)
        } else {
            format!("{date}T{time}").parse().ok()?
        };
        let known = YEARS.contains(&civil.year());
        known.then_some(Self { civil, offset })
    }
}

/// `-05:00`
fn offset(text: &str) -> Option<Millis> {
    let sign = if text.starts_with('-') { -1 } else { 1 };
    let (hours, minutes) = text[1..].split_once(':')?;
    let two = |text: &str| {
        let digits = text.len() == 2 && text.bytes().all(|byte| byte.is_ascii_digit());
        digits.then(|| text.parse::<i64>().ok()).flatten()
    };
    let (hours, minutes) = (two(hours)?, two(minutes)?);
    (hours < 24 && minutes < 60).then_some((Millis::HOUR * hours + Millis::MINUTE * minutes) * sign)
}

/// `-05:00`, with seconds where a clock of long ago had some.
pub fn offset_text(offset: Millis) -> String {
    let sign = if offset < Millis::ZERO { '-' } else { '+' };
    let seconds = offset.0.abs() / 1000;
    let (hours, minutes) = (seconds / 3600, seconds / 60 % 60);
    match seconds % 60 {
        0 => format!("{sign}{hours:02}:{minutes:02}"),
        seconds => format!("{sign}{hours:02}:{minutes:02}:{seconds:02}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(text: &str) -> Written {
        Written::read(text).unwrap_or_else(|| panic!("{text}"))
    }

    #[test]
    fn times_are_read_as_they_are_written() {
        let day = |text: &str| written(text).civil.to_string();
        assert_eq!(day("2026-03-02T24:00"), "2026-03-03T00:00:00");
        assert_eq!(day("2026-12-31 24:00"), "2027-01-01T00:00:00");
        assert_eq!(
            written("2026-03-02T05:30+05:30").offset,
            Some(Millis::MINUTE * 330)
        );
        for wrong in [
            "2026-03-02",
            "2026-03-02T24:01",
            "2026-03-02T25:00",
            "2026-03-02T08:00Z",
            "2026-03-02T05:30-5",
            "2026-03-02T05:30-05:60",
            "9999-01-01T05:30",
            "2026-03-02T05:30 ",
        ] {
            assert_eq!(Written::read(wrong), None, "{wrong}");
        }
    }
}
