//! Times as people write them where they work: by the clock on the wall, in a time zone if one is named. Zones come with the program
//! (IANA Time Zone Database), so that an answer depends on no machine.

mod written;

pub(super) use written::YEARS;
pub use written::{Written, offset_text};

use jiff::Timestamp;
use jiff::civil::{Date, DateTime};
use jiff::tz::{AmbiguousOffset, TimeZone, TimeZoneDatabase};

use super::problem::nearest;
use crate::hours::WallClock;
use crate::units::Millis;

/// A time zone of the IANA Time Zone Database.
#[derive(Clone, Debug, PartialEq)]
pub struct Zone {
    name: String,
    rules: TimeZone,
}

/// A name that no time zone has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoSuchZone {
    /// The closest name there is, if it is close enough to be worth saying.
    pub near: Option<String>,
}

impl Zone {
    /// The zone of a name, in capitals or not.
    ///
    /// # Errors
    /// If there is none.
    pub fn named(name: &str) -> Result<Self, NoSuchZone> {
        let known = TimeZoneDatabase::bundled();
        if let Ok(rules) = known.get(name) {
            return Ok(Self {
                name: rules.iana_name().unwrap_or(name).to_owned(),
                rules,
            });
        }
        // Short names such as CET are near to any other three letters, and mean something else.
        let names = known.available().map(|zone| zone.to_string());
        let names: Vec<String> = names.filter(|zone| zone.contains('/')).collect();
        // A place alone is the end of a name.
        let place = name.replace(' ', "_");
        let ends = |zone: &&String| {
            let last = zone.rsplit('/').next().unwrap_or_default();
            last.eq_ignore_ascii_case(&place)
        };
        let near = names.iter().find(ends).map(String::as_str);
        let near = near.or_else(|| nearest(name, names.iter().map(String::as_str)));
        Err(NoSuchZone {
            near: near.map(str::to_owned),
        })
    }

    /// Its name.
    pub fn name(&self) -> &str {
        &self.name
    }
}

/// Why a time is no moment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoMoment {
    /// The clock on the wall leaves it out: it goes from the first to the second of these.
    LeftOut(DateTime, DateTime),
    /// The clock has one of these offsets then, not the one that is written.
    OtherOffset(Vec<Millis>),
    /// An offset says nothing without a zone.
    OffsetWithoutZone,
}

/// The moments that a written time can be: one, or two where the clock has been put back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Moments {
    /// The first.
    pub first: Millis,
    /// The second, or the first again.
    pub last: Millis,
}

/// The time of a log. Moments are milliseconds since midnight before the first date, by a clock that runs on evenly.
#[derive(Clone, Debug, PartialEq)]
pub struct LocalTime {
    first_date: Date,
    zone: Option<Zone>,
    /// From 1970 in UTC to moment zero; without a zone as if the clock on the wall showed UTC.
    zero: i64,
}

impl LocalTime {
    /// Time counted from a date on, in a zone if there is one.
    pub fn new(first_date: Date, zone: Option<Zone>) -> Self {
        let midnight = first_date.at(0, 0, 0, 0);
        let zero = zone.as_ref().and_then(|zone| {
            let found = zone.rules.to_ambiguous_timestamp(midnight);
            // Where midnight is left out, what comes after it counts as if the clock had run on.
            let found = match found.offset() {
                AmbiguousOffset::Gap { .. } => found.later(),
                _ => found.earlier(),
            };
            Some(found.ok()?.as_millisecond())
        });
        Self {
            first_date,
            zone,
            zero: zero.unwrap_or_else(|| since_1970(midnight)),
        }
    }

    /// The date that moments count from.
    pub fn first_date(&self) -> Date {
        self.first_date
    }

    /// The zone, if one is named.
    pub fn zone(&self) -> Option<&Zone> {
        self.zone.as_ref()
    }

    /// The moments that a written time can be.
    ///
    /// # Errors
    /// If it is none.
    pub fn moments(&self, written: Written) -> Result<Moments, NoMoment> {
        let Some(zone) = &self.zone else {
            if written.offset.is_some() {
                return Err(NoMoment::OffsetWithoutZone);
            }
            let at = Millis(since_1970(written.civil) - self.zero);
            return Ok(Moments {
                first: at,
                last: at,
            });
        };
        let found = zone.rules.to_ambiguous_timestamp(written.civil);
        if matches!(found.offset(), AmbiguousOffset::Gap { .. }) {
            return Err(self.left_out(zone, written.civil));
        }
        let at = |stamp: Result<Timestamp, jiff::Error>| {
            stamp.map_or(Millis::ZERO, |stamp| {
                Millis(stamp.as_millisecond() - self.zero)
            })
        };
        let both = Moments {
            first: at(found.earlier()),
            last: at(found.later()),
        };
        let Some(offset) = written.offset else {
            return Ok(both);
        };
        let meant = Millis(since_1970(written.civil) - offset.0 - self.zero);
        if meant != both.first && meant != both.last {
            let mut offsets = vec![self.offset(both.first), self.offset(both.last)];
            offsets.dedup();
            let offsets = offsets.into_iter().flatten().collect();
            return Err(NoMoment::OtherOffset(offsets));
        }
        Ok(Moments {
            first: meant,
            last: meant,
        })
    }

    /// What the clock does around a time that it leaves out.
    fn left_out(&self, zone: &Zone, civil: DateTime) -> NoMoment {
        // Read by the offset of before, the time lies after the change, by less than a day.
        let later = since_1970(civil) - offset_at(&zone.rules, since_1970(civil) - DAY).0;
        let change = zone.rules.preceding(stamp(later + DAY)).next();
        let change = change.map_or(later, |change| change.timestamp().as_millisecond());
        let shown = |at: i64| zone.rules.to_datetime(stamp(at));
        let before = shown(change - 1);
        let before = before.checked_add(jiff::Span::new().milliseconds(1));
        NoMoment::LeftOut(before.unwrap_or(civil), shown(change))
    }

    /// A civil time as the first moment that can be it; where the clock leaves it out, as if it had not been changed yet.
    pub fn moment(&self, civil: DateTime) -> Millis {
        let Some(zone) = &self.zone else {
            return Millis(since_1970(civil) - self.zero);
        };
        let found = zone.rules.to_ambiguous_timestamp(civil);
        match found.compatible() {
            Ok(stamp) => Millis(stamp.as_millisecond() - self.zero),
            Err(_) => Millis(since_1970(civil) - self.zero),
        }
    }

    /// What the clock on the wall shows at a moment.
    pub fn civil(&self, at: Millis) -> DateTime {
        match &self.zone {
            Some(zone) => zone.rules.to_datetime(stamp(self.zero + at.0)),
            None => {
                let midnight = self.first_date.at(0, 0, 0, 0);
                midnight.saturating_add(jiff::Span::new().milliseconds(at.0))
            }
        }
    }

    /// By how much the clock is ahead of UTC at a moment; none without a zone.
    pub fn offset(&self, at: Millis) -> Option<Millis> {
        let zone = self.zone.as_ref()?;
        Some(offset_at(&zone.rules, self.zero + at.0))
    }

    /// Whether the clock shows the same time twice, at this moment and another.
    pub fn is_shown_twice(&self, at: Millis) -> bool {
        let written = Written {
            civil: self.civil(at),
            offset: None,
        };
        self.moments(written)
            .is_ok_and(|moments| moments.first != moments.last)
    }

    /// A date by the days since the first.
    pub fn date(&self, day: i64) -> Date {
        let days = jiff::Span::new().try_days(day).ok();
        let date = days.and_then(|days| self.first_date.checked_add(days).ok());
        date.unwrap_or(self.first_date)
    }

    /// Days from the first date to another.
    pub fn day(&self, date: Date) -> i64 {
        (since_1970(date.at(0, 0, 0, 0)) - since_1970(self.first_date.at(0, 0, 0, 0))) / DAY
    }

    /// Moments between two others at which the clock is put forward, and by how much; back if that is below zero.
    pub fn changes(&self, from: Millis, to: Millis) -> Vec<(Millis, Millis)> {
        let Some(zone) = &self.zone else {
            return Vec::new();
        };
        let (first, last) = (self.zero + from.0, self.zero + to.0);
        let changes = zone.rules.following(stamp(first));
        let changes = changes.map(|change| change.timestamp().as_millisecond());
        let changes = changes.take_while(|at| *at <= last).map(|at| {
            let forward = offset_at(&zone.rules, at) - offset_at(&zone.rules, at - 1);
            (Millis(at - self.zero), forward)
        });
        // At others only the name of the zone's time changes.
        changes
            .filter(|(_, forward)| *forward != Millis::ZERO)
            .collect()
    }

    /// The clock on the wall, with its changes between two moments.
    pub fn wall_clock(&self, from: Millis, to: Millis) -> WallClock {
        let Some(zone) = &self.zone else {
            return WallClock::default();
        };
        let at_zero = Millis(since_1970(self.first_date.at(0, 0, 0, 0)) - self.zero);
        let mut ahead = offset_at(&zone.rules, self.zero + from.0) - at_zero;
        let mut all = Vec::new();
        if ahead != Millis::ZERO {
            all.push((from, ahead));
        }
        for (at, forward) in self.changes(from, to) {
            ahead += forward;
            all.push((at, ahead));
        }
        WallClock::new(all)
    }
}

const DAY: i64 = Millis::DAY.0;

/// Milliseconds from 1970 to a civil time, as if it were UTC.
fn since_1970(civil: DateTime) -> i64 {
    let from = Date::constant(1970, 1, 1).at(0, 0, 0, 0);
    i64::try_from(civil.duration_since(from).as_millis()).unwrap_or(0)
}

/// Moments of a log lie within the calendar, and so do weeks before and after it.
fn stamp(millis: i64) -> Timestamp {
    Timestamp::from_millisecond(millis).unwrap_or(Timestamp::UNIX_EPOCH)
}

/// By how much a zone's clock is ahead of UTC at a moment.
fn offset_at(rules: &TimeZone, millis: i64) -> Millis {
    let at = stamp(millis);
    Millis(since_1970(rules.to_datetime(at)) - at.as_millisecond())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn time(zone: &str, date: &str) -> LocalTime {
        let zone = Zone::named(zone).expect("a zone");
        LocalTime::new(date.parse().expect("a date"), Some(zone))
    }

    fn written(text: &str) -> Written {
        Written::read(text).unwrap_or_else(|| panic!("{text}"))
    }

    /// 15 USC 260a: summer time from 2:00 on the second Sunday of March to 2:00 on the first Sunday of November; 8 March and 1 November
    /// 2026. By hand.
    #[test]
    fn hours_are_left_out_and_come_twice() {
        let spring = time("America/New_York", "2026-03-07");
        let at = |time: &LocalTime, text: &str| time.moments(written(text));
        let hours = |hours: f64| {
            let at = Millis::from_hours(hours);
            Ok(Moments {
                first: at,
                last: at,
            })
        };
        assert_eq!(at(&spring, "2026-03-08T01:59"), hours(26.0 - 1.0 / 60.0));
        assert_eq!(at(&spring, "2026-03-08T03:00"), hours(26.0));
        let gap = |text: &str| written(text).civil;
        assert_eq!(
            at(&spring, "2026-03-08T02:30"),
            Err(NoMoment::LeftOut(
                gap("2026-03-08T02:00"),
                gap("2026-03-08T03:00")
            ))
        );
        let autumn = time("America/New_York", "2026-11-01");
        let both = at(&autumn, "2026-11-01T01:30").expect("two moments");
        assert_eq!(both.last - both.first, Millis::HOUR);
        assert!(autumn.is_shown_twice(both.first) && autumn.is_shown_twice(both.last));
        assert_eq!(at(&autumn, "2026-11-01T01:30-04:00"), hours(1.5));
        assert_eq!(at(&autumn, "2026-11-01T01:30-05:00"), hours(2.5));
        assert_eq!(
            at(&autumn, "2026-11-01T01:30-06:00"),
            Err(NoMoment::OtherOffset(vec![
                Millis::HOUR * -4,
                Millis::HOUR * -5
            ]))
        );
        assert_eq!(autumn.civil(Millis::HOUR * 3), gap("2026-11-01T02:00"));
        assert_eq!(offset_text(Millis::HOUR * -5), "-05:00");
        // Twin: no summer time there, from 15 USC 260a(a).
        let steady = time("America/Phoenix", "2026-03-07");
        assert_eq!(at(&steady, "2026-03-08T02:30"), hours(26.5));
        assert_eq!(
            steady.wall_clock(-Millis::DAY, Millis::DAY * 300),
            WallClock::default()
        );
    }

    #[test]
    fn the_wall_clock_is_the_civil_time() {
        for (zone, date) in [
            ("America/New_York", "2026-03-01"),
            ("America/New_York", "2026-10-20"),
            // Midnight itself is left out or comes twice.
            ("America/Havana", "2026-03-08"),
            ("America/Havana", "2026-11-01"),
            ("America/St_Johns", "2026-03-08"),
        ] {
            let time = time(zone, date);
            let wall = time.wall_clock(-Millis::DAY * 40, Millis::DAY * 40);
            for half_hour in -48 * 30..48 * 30 {
                let at = Millis::MINUTE * (30 * half_hour);
                let shown = since_1970(time.civil(at)) - since_1970(time.date(0).at(0, 0, 0, 0));
                assert_eq!(wall.shows(at), Millis(shown), "{zone} {date} {half_hour}");
            }
        }
    }

    #[test]
    fn a_zone_that_is_not_there_has_a_near_one() {
        let near = |name: &str| Zone::named(name).expect_err("no zone").near;
        assert_eq!(
            near("America/New_Yrok").as_deref(),
            Some("America/New_York")
        );
        assert_eq!(near("new york").as_deref(), Some("America/New_York"));
        assert_eq!(near("x"), None);
        assert_eq!(near("CST"), None);
        assert_eq!(
            Zone::named("america/new_york").expect("a zone").name(),
            "America/New_York"
        );
    }
}
