//! Exceptions: when each may be used. Each is judged by a pure function with its source beside it.

use super::rule_set::{RuleSet, ShortHaul};
use crate::units::Millis;

/// Why a run takes longer than planned, as far as the rule on adverse driving conditions tells reasons apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DelayCause {
    /// Snow, ice, sleet, fog or other weather.
    Weather,
    /// Unusual road or traffic conditions, such as a closure after somebody else's crash.
    UnusualRoadOrTraffic,
    /// Traffic that comes every day at this hour.
    RushHour,
    /// Loading or discharging takes longer, the pour is late.
    LatePour,
    /// The driver's own crash or breakdown.
    OwnCrash,
}

/// A valid claim of adverse driving conditions; made by [`Adverse::claim`] alone, so that a late pour cannot be one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Adverse(());

impl Adverse {
    /// The claim, if it is one: conditions on the road that neither driver nor dispatcher could know of before the duty day
    /// began or the truck was sent, on a run that would have fitted without them.
    ///
    /// Source: 49 CFR 395.1(b)(1) and 395.2; delays at loading or discharge are none (FMCSA guidance to 395.1, question 4);
    /// the run must have fitted (question 5).
    pub fn claim(
        cause: DelayCause,
        known_beforehand: bool,
        would_have_fitted: bool,
    ) -> Option<Self> {
        let on_the_road = matches!(
            cause,
            DelayCause::Weather | DelayCause::UnusualRoadOrTraffic
        );
        (on_the_road && !known_beforehand && would_have_fitted).then_some(Self(()))
    }
}

/// Exceptions that are in use; they end with the next full rest.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Allowance {
    /// Adverse driving conditions are claimed.
    pub adverse: Option<Adverse>,
    /// The once-a-week longer window is used; whether it may be is [`TourRecord::may_use_long_day`]'s answer.
    pub long_day: bool,
    /// The truck has left the short-haul radius or does not return: the exception is lost for the day.
    pub outside_short_haul: bool,
    /// Until then a missed break is excused: the short-haul exception was lost unforeseeably and the break is taken at the
    /// first safe stop (FMCSA guidance to 395.1, question 33, 78 FR 76757; a strict reading does not carry it over to the
    /// break rule of 2020).
    pub break_excused_until: Option<Millis>,
}

/// A driver's last tours, for the once-a-week longer window. Fixed size.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct TourRecord {
    /// Whether the last five tours ended at the normal work reporting location, the latest first.
    pub last_five_at_home: [bool; 5],
    /// The carrier day on which the longer window was last used.
    pub last_used: Option<i64>,
}

impl TourRecord {
    /// Every tour so far ended at home and the longer window was never used.
    pub const SETTLED: Self = Self {
        last_five_at_home: [true; 5],
        last_used: None,
    };

    /// Takes down the end of a tour; `used_on` is its carrier day if the driver drove beyond the ordinary window in it (a
    /// long day without such driving is no use of the exception).
    pub fn released(&mut self, at_home: bool, used_on: Option<i64>) {
        self.last_five_at_home.rotate_right(1);
        self.last_five_at_home[0] = at_home;
        self.last_used = used_on.or(self.last_used);
    }

    /// Takes down a restart of the weekly hours: an earlier use no longer counts, the five tours still do.
    pub fn restarted(&mut self) {
        self.last_used = None;
    }

    /// Whether the longer window may be used on a carrier day, provided the driver comes home within it: the previous five
    /// tours ended at home, and it was not used on the previous six days.
    ///
    /// Source: 49 CFR 395.1(o). Days are counted from today as day 0 (by hand from the text).
    pub fn may_use_long_day(&self, day: i64) -> bool {
        self.last_five_at_home.iter().all(|home| *home)
            && self.last_used.is_none_or(|used| day - used > 6)
    }
}

/// The window of a tour, looking back: the longer one if the driver may use it, came home, and was released within it;
/// otherwise the ordinary one held all day. None if the rule book has no window.
///
/// Source: 49 CFR 395.1(o).
pub fn window_of_tour(
    rules: &RuleSet,
    may_use_long_day: bool,
    came_home: bool,
    on_duty: Millis,
    released: Millis,
) -> Option<Millis> {
    let usual = rules.window.as_ref()?.length;
    Some(match rules.long_day_window {
        Some(long) if may_use_long_day && came_home && released - on_duty <= long => long,
        _ => usual,
    })
}

/// One day of a driver, for the short-haul exception.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShortHaulDay {
    /// Came on duty.
    pub on_duty: Millis,
    /// Was released from duty.
    pub released: Millis,
    /// Time driven.
    pub driving: Millis,
    /// Farthest from the normal work reporting location, straight line, in statute miles.
    pub farthest_statute_miles: f64,
    /// Came back to the normal work reporting location.
    pub returned: bool,
    /// Consecutive time off before coming on duty.
    pub rest_before: Millis,
    /// The truck is a ready-mixed concrete delivery vehicle.
    pub ready_mix_vehicle: bool,
}

/// Statute miles in an air mile: 1852 m (the international nautical mile) by 1609.344 m.
const STATUTE_MILES_PER_AIR_MILE: f64 = 1852.0 / 1609.344;

/// Statute miles as air miles.
pub fn air_miles(statute_miles: f64) -> f64 {
    statute_miles / STATUTE_MILES_PER_AIR_MILE
}

/// Whether a day meets the short-haul exception: then no log and no break are needed.
///
/// Source: 49 CFR 395.1(e)(1); 49 USC 31502(f) for ready-mixed concrete vehicles.
pub fn is_short_haul(rules: &RuleSet, exception: &ShortHaul, day: &ShortHaulDay) -> bool {
    let release_within = if day.ready_mix_vehicle {
        exception.release_within_ready_mix
    } else {
        exception.release_within
    };
    air_miles(day.farthest_statute_miles) <= exception.radius_air_miles
        && day.returned
        && day.released - day.on_duty <= release_within
        && day.rest_before >= rules.reset_rest
        && rules
            .driving
            .as_ref()
            .is_none_or(|limit| day.driving <= limit.length)
}
