//! Whether a tour of a log was short-haul, and since when and why it was not.

use super::reading::Reading;
use super::shifts::shifts_of;
use crate::hours::exceptions::{Allowance, ShortHaulDay, is_short_haul};
use crate::hours::log::DutyLog;
use crate::hours::rule_set::RuleSet;
use crate::hours::status::DutyStatus;
use crate::units::Millis;

/// Why a tour is not short-haul.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LostBy {
    /// Not released within the time that the exception gives.
    ReleasedLate,
    /// Driven for longer than the driving limit.
    DroveTooLong,
    /// Left the radius, or did not come back.
    LeftRadius,
}

/// A tour that was to be short-haul and was not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LostShortHaul {
    /// First duty of the tour.
    pub came_on_duty: Millis,
    /// Its last duty ends.
    pub released: Millis,
    /// The moment from which it no longer met the conditions.
    pub since: Millis,
    /// The condition.
    pub by: LostBy,
}

/// The tours up to the end of a log that were to be short-haul and were not, in order of time; none under a book without the
/// exception. A log holds no distances: the truck is taken to have stayed within the radius and come back unless an allowance says
/// otherwise.
pub fn lost_short_haul(log: &DutyLog, rules: &RuleSet) -> Vec<LostShortHaul> {
    if rules.short_haul.is_none() {
        return Vec::new();
    }
    lost(&Reading::new(log, rules))
}

pub(super) fn lost(reading: &Reading<'_>) -> Vec<LostShortHaul> {
    let tours = shifts_of(reading, reading.log.ends()).into_iter();
    tours.filter_map(|tour| lost_in(reading, tour)).collect()
}

/// Until when the driver must be released for the tour that is running at a moment to stay short-haul; none if no tour is running or
/// the exception is not in use.
pub fn release_by(log: &DutyLog, rules: &RuleSet, at: Millis) -> Option<Millis> {
    let reading = Reading::new(log, rules);
    let look = reading.look(at);
    let within = rules.short_haul_release(&look.allowance())?;
    Some(look.shift_start()? + within)
}

/// How a tour, from its first duty to the end of its last, was lost to the exception; none if it was short-haul, or if the book has
/// no such exception.
pub(super) fn lost_in(
    reading: &Reading<'_>,
    (on_duty, released): (Millis, Millis),
) -> Option<LostShortHaul> {
    let rules = reading.rules;
    let exception = rules.short_haul.as_ref()?;
    let allowance = reading.look(released).allowance();
    let day = ShortHaulDay {
        on_duty,
        released,
        driving: reading.driven(on_duty, released),
        farthest_statute_miles: 0.0,
        returned: !allowance.outside_short_haul,
        // A tour begins after a full rest, or after what the log is told to begin with.
        rest_before: rules.reset_rest,
        ready_mix_vehicle: rules.ready_mix_vehicles,
    };
    if is_short_haul(rules, exception, &day) {
        return None;
    }
    let within = rules.short_haul_release(&Allowance::default());
    let late = within.map(|within| on_duty + within);
    let conditions = [
        (late.filter(|late| *late < released), LostBy::ReleasedLate),
        (
            drove_too_long(reading, (on_duty, released)),
            LostBy::DroveTooLong,
        ),
    ];
    let first = conditions
        .into_iter()
        .filter_map(|(since, by)| Some((since?, by)))
        .min_by_key(|(since, _)| *since);
    // Neither too late nor too long: it left the radius, at a moment that a log does not hold.
    let (since, by) = first.unwrap_or((on_duty, LostBy::LeftRadius));
    Some(LostShortHaul {
        came_on_duty: on_duty,
        released,
        since,
        by,
    })
}

/// When driving in a tour reached the driving limit, if it went on.
fn drove_too_long(reading: &Reading<'_>, tour: (Millis, Millis)) -> Option<Millis> {
    let limit = reading.rules.driving.as_ref()?.length;
    if reading.driven(tour.0, tour.1) <= limit {
        return None;
    }
    let entries = &reading.log.entries;
    let first = entries.partition_point(|entry| entry.to <= tour.0);
    let mut left = limit;
    for entry in &entries[first..] {
        if entry.status != DutyStatus::Driving {
            continue;
        }
        let (from, to) = (entry.from.max(tour.0), entry.to.min(tour.1));
        if to - from > left {
            return Some(from + left);
        }
        left -= to - from;
    }
    None
}
