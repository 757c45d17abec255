//! The clock on the wall beside the time that passes: where summer time begins or ends, a day has 23 or 25 hours.

use super::rule_set::RuleSet;
use crate::units::Millis;

/// How far the clock on the wall is ahead of the time that is counted, from which moment on. Both show the same until the first
/// change; a clock without changes is the time that is counted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WallClock {
    /// In order of time: from this moment on it is ahead by so much, behind if that is below zero.
    changes: Vec<(Millis, Millis)>,
}

/// A clock that is never changed.
pub(super) static STEADY: WallClock = WallClock {
    changes: Vec::new(),
};

impl WallClock {
    /// A clock with these changes: from a moment on it is ahead of the time that is counted by so much.
    pub fn new(mut changes: Vec<(Millis, Millis)>) -> Self {
        changes.sort_unstable_by_key(|change| change.0);
        Self { changes }
    }

    /// What it shows at a moment.
    pub fn shows(&self, at: Millis) -> Millis {
        let after = self.changes.partition_point(|(from, _)| *from <= at);
        match after.checked_sub(1) {
            Some(last) => at + self.changes[last].1,
            None => at,
        }
    }

    /// The first moment at which it shows a time, or a later one where that is left out.
    pub fn first_at(&self, shown: Millis) -> Millis {
        let mut from = -Millis::NEVER;
        let mut ahead = Millis::ZERO;
        for (next, then) in &self.changes {
            let at = (shown - ahead).max(from);
            if at < *next {
                return at;
            }
            (from, ahead) = (*next, *then);
        }
        (shown - ahead).max(from)
    }

    /// When a carrier day starts, by the clock on the wall (49 CFR 395.2: at the hour that the carrier names for the terminal; that a
    /// day on which the clock is changed has 23 or 25 hours is read so, from memory).
    pub fn day_begins(&self, rules: &RuleSet, day: i64) -> Millis {
        self.first_at(rules.day_begins(day))
    }

    /// The carrier day that a moment belongs to.
    pub fn carrier_day(&self, rules: &RuleSet, at: Millis) -> i64 {
        let day = rules.carrier_day(self.shows(at));
        // A clock that is put back shows the end of a day again that has ended.
        if !self.changes.is_empty() && self.day_begins(rules, day + 1) <= at {
            day + 1
        } else {
            day
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hours::built_in;

    fn hours(hours: f64) -> Millis {
        Millis::from_hours(hours)
    }

    /// By hand. Spring: at 2:00 the clock shows 3:00, so the second day begins after 23 hours. Autumn: at 2:00 it shows 1:00 again, so
    /// it begins after 25. Twin: no change.
    #[test]
    fn a_day_on_which_the_clock_is_changed_is_shorter_or_longer() {
        let rules = built_in("us_property_2020").expect("built in");
        let spring = WallClock::new(vec![(hours(2.0), hours(1.0))]);
        let autumn = WallClock::new(vec![(hours(2.0), -Millis::HOUR)]);
        for (clock, length) in [(&spring, 23), (&autumn, 25), (&STEADY, 24)] {
            assert_eq!(clock.day_begins(&rules, 1), Millis::HOUR * length);
            assert_eq!(clock.carrier_day(&rules, Millis::HOUR * length), 1);
            let before = Millis::HOUR * length - Millis(1);
            assert_eq!(clock.carrier_day(&rules, before), 0);
        }
        assert_eq!(spring.first_at(hours(2.5)), hours(2.0));
        assert_eq!(spring.shows(hours(2.0)), hours(3.0));
        assert_eq!(autumn.first_at(hours(1.5)), hours(1.5));
        assert_eq!(autumn.shows(hours(2.5)), hours(1.5));
    }

    /// By hand: where the carrier's day starts at 1:30 and the clock goes back from 2:00 to 1:00, the day starts once.
    #[test]
    fn a_day_that_starts_in_the_hour_that_comes_twice_starts_once() {
        let mut rules = built_in("us_property_2020").expect("built in");
        rules.day_start = hours(1.5);
        let autumn = WallClock::new(vec![(hours(2.0), -Millis::HOUR)]);
        assert_eq!(autumn.carrier_day(&rules, hours(1.25)), -1);
        for later in [1.5, 2.0, 2.25, 2.75, 20.0] {
            assert_eq!(autumn.carrier_day(&rules, hours(later)), 0, "{later}");
        }
    }
}
