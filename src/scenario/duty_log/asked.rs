//! The moment that a log is asked about, as people write it.

use super::super::decode::moment_of;
use super::super::local_time::{NoMoment, Written, offset_text};
use super::DutyLogs;
use crate::units::Millis;
use jiff::civil::Date;

/// A moment as it is written: with its date, or as a time on the last day of the log or on a weekday.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    text: String,
    when: When,
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum When {
    Dated(Written),
    /// Since midnight of the log's last day, or of its last day of that name.
    Time(Option<String>, Millis),
}

impl Asked {
    /// What is asked for.
    pub const EXPECTED: &'static str = "a time on the log's last day, like 13:40, or one with its weekday or date, like \
        \"Mon 13:40\" or 2026-03-02T13:40";

    /// Reads it; none if it is no such time.
    pub fn read(text: &str) -> Option<Self> {
        let text = text.trim();
        let when = match Written::read(text) {
            Some(written) => When::Dated(written),
            None => match text.split_once(' ') {
                Some((day, time)) if is_weekday(day) => {
                    When::Time(Some(day.to_owned()), moment_of(time.trim())?)
                }
                _ => When::Time(None, moment_of(text)?),
            },
        };
        Some(Self {
            text: text.to_owned(),
            when,
        })
    }

    /// As it was written.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Which moment it is in these logs.
    ///
    /// # Errors
    /// If it is none, or one of two: what is wrong, and what was expected.
    pub fn moment(&self, logs: &DutyLogs) -> Result<Millis, String> {
        let written = match &self.when {
            When::Dated(written) => *written,
            When::Time(day, time) => {
                let last = logs.time.civil(logs.ends() - Millis(1)).date();
                let mut days = (0..7).filter_map(|ago| last.checked_sub(days(ago)).ok());
                let date = match day {
                    Some(day) => days.find(|date| is_named(*date, day)).unwrap_or(last),
                    None => last,
                };
                let civil = date.at(0, 0, 0, 0);
                Written {
                    civil: civil.saturating_add(jiff::Span::new().milliseconds(time.0)),
                    offset: None,
                }
            }
        };
        let zone = logs.time.zone().map_or("", |zone| zone.name());
        let shown = written.civil.strftime("%Y-%m-%d %H:%M");
        let text = &self.text;
        match logs.time.moments(written) {
            Ok(moments) if moments.first == moments.last => Ok(moments.first),
            Ok(moments) => {
                let offsets = [moments.first, moments.last].map(|at| {
                    let offset = logs.time.offset(at).unwrap_or(Millis::ZERO);
                    format!(
                        "{}{}",
                        written.civil.strftime("%Y-%m-%dT%H:%M"),
                        offset_text(offset)
                    )
                });
                Err(format!(
                    "--at {text:?}: {shown} comes twice in {zone}\n  expected the offset with it, {}",
                    offsets.join(" or ")
                ))
            }
            Err(NoMoment::LeftOut(from, to)) => Err(format!(
                "--at {text:?}: {shown} does not exist in {zone}, where the clock goes from {} to {}\n  expected a time before or after",
                from.strftime("%H:%M"),
                to.strftime("%H:%M")
            )),
            Err(NoMoment::OtherOffset(offsets)) => {
                let offsets: Vec<String> = offsets.into_iter().map(offset_text).collect();
                Err(format!(
                    "--at {text:?}: the clock of {zone} has another offset then\n  expected {}",
                    offsets.join(" or ")
                ))
            }
            Err(NoMoment::OffsetWithoutZone) => Err(format!(
                "--at {text:?} has an offset from UTC, and the log no time zone\n  expected local time without an offset, or --zone"
            )),
        }
    }
}

fn days(days: i64) -> jiff::Span {
    jiff::Span::new().days(days)
}

const WEEKDAYS: [&str; 7] = [
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
];

fn is_weekday(word: &str) -> bool {
    let word = word.to_lowercase();
    WEEKDAYS.iter().any(|day| *day == word || day[..3] == *word)
}

fn is_named(date: Date, word: &str) -> bool {
    let at = usize::try_from(date.weekday().to_monday_zero_offset()).unwrap_or(0);
    let word = word.to_lowercase();
    word.starts_with(&WEEKDAYS[at][..3])
}
