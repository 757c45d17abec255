//! Drivers: on duty since when, until when, and the tours before.

use super::super::plan::DriverPlan;
use crate::hours::TourRecord;
use crate::units::Millis;

/// A driver.
#[derive(Clone, Copy, Debug)]
pub(in crate::plant) struct DriverNow {
    pub(in crate::plant) on_duty: bool,
    /// Stranded and not yet home.
    pub(in crate::plant) away: bool,
    pub(in crate::plant) reported: Millis,
    pub(in crate::plant) shift_over: Millis,
    /// Day of the period that the tour belongs to.
    pub(in crate::plant) day: u16,
    /// From when the next report is legal.
    pub(in crate::plant) rested: Millis,
    pub(in crate::plant) released: Millis,
    /// Since when stranded.
    pub(in crate::plant) stranded: Millis,
    /// The last tours, for the once-a-week longer window.
    pub(in crate::plant) tours: TourRecord,
    /// Driven in this tour beyond the ordinary window, within the longer one.
    pub(in crate::plant) beyond: Millis,
    /// Began the tour with less than a whole day of driving ahead.
    pub(in crate::plant) short: bool,
    /// The restart of the weekly hours that was looked at last.
    pub(in crate::plant) restart: Option<Millis>,
    /// Days in a row worked up to `last_day`.
    pub(in crate::plant) in_row: u32,
    pub(in crate::plant) last_day: i64,
    /// By report, the first in the lowest bit: whether the driver is off then.
    pub(in crate::plant) off: u32,
}

impl DriverNow {
    /// Whether the driver is off on the day of this report.
    pub(in crate::plant) fn is_off(&self, nth: u16) -> bool {
        self.off
            .checked_shr(nth.into())
            .is_some_and(|off| off & 1 == 1)
    }

    /// Off duty, with the days before the period behind.
    pub(in crate::plant) fn fresh(plan: &DriverPlan) -> Self {
        Self {
            on_duty: false,
            away: false,
            reported: Millis::ZERO,
            shift_over: Millis::ZERO,
            day: 0,
            rested: plan.rested,
            released: plan.released,
            stranded: Millis::ZERO,
            tours: plan.tours,
            beyond: Millis::ZERO,
            short: false,
            restart: plan.clocks.last_restart_began(),
            in_row: plan.in_row,
            last_day: -1,
            off: 0,
        }
    }
}
