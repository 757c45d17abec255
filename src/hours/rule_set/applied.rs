//! What a book makes of a status, a moment or an allowance.

use super::{Restart, RuleSet};
use crate::hours::exceptions::Allowance;
use crate::hours::status::DutyStatus;
use crate::units::Millis;

impl RuleSet {
    /// Whether a status is duty; what is not duty is rest.
    #[inline]
    pub fn is_duty(&self, status: DutyStatus) -> bool {
        match status {
            DutyStatus::OffDuty | DutyStatus::Sleeper => false,
            DutyStatus::OnDuty | DutyStatus::Driving | DutyStatus::Waiting => true,
            DutyStatus::RelievedWaiting => self.relieved_waiting_is_duty,
            DutyStatus::Riding => self.riding_is_duty,
        }
    }

    /// Whether a status can be part of a break.
    #[inline]
    pub(in crate::hours) fn is_break(&self, status: DutyStatus) -> bool {
        self.break_rule.as_ref().is_some_and(|rule| match status {
            DutyStatus::Driving => false,
            DutyStatus::Waiting => rule.waiting_counts || rule.work_counts,
            _ => rule.work_counts || !self.is_duty(status),
        })
    }

    /// The carrier day that a moment belongs to.
    #[inline]
    pub fn carrier_day(&self, at: Millis) -> i64 {
        (at - self.day_start).day()
    }

    /// When a carrier day starts.
    #[inline]
    pub fn day_begins(&self, day: i64) -> Millis {
        Millis::midnight(day) + self.day_start
    }

    /// The driving limit under an allowance.
    pub(in crate::hours) fn driving_limit(&self, allowance: &Allowance) -> Option<Millis> {
        let limit = self.driving.as_ref()?.length;
        Some(match (&self.adverse, allowance.adverse) {
            (Some(extension), Some(_)) => limit + extension.driving,
            _ => limit,
        })
    }

    /// The window under an allowance. A long day and adverse conditions do not add up: no text gives their sum.
    pub(in crate::hours) fn window_limit(&self, allowance: &Allowance) -> Option<Millis> {
        let mut window = self.window.as_ref()?.length;
        let usual = window;
        if let (Some(extension), Some(_)) = (&self.adverse, allowance.adverse) {
            window = usual + extension.window;
        }
        if let (Some(long), true) = (self.long_day_window, allowance.long_day) {
            window = window.max(long);
        }
        Some(window)
    }

    /// Whether the window is the only clock, which no exception moves.
    pub(in crate::hours) fn is_lone_window(&self) -> bool {
        self.window.is_some()
            && self.driving.is_none()
            && self.on_duty.is_none()
            && self.break_rule.is_none()
            && self.cycle.is_none()
            && self.short_haul.is_none()
            && self.long_day_window.is_none()
            && self.adverse.is_none()
    }

    /// Within what a driver must be released to stay short-haul, if the exception is in use.
    pub fn short_haul_release(&self, allowance: &Allowance) -> Option<Millis> {
        let exception = self.short_haul.as_ref()?;
        let within = if self.ready_mix_vehicles {
            exception.release_within_ready_mix
        } else {
            exception.release_within
        };
        (!allowance.outside_short_haul).then_some(within)
    }

    /// The restart in use, if there are weekly hours.
    pub fn restart(&self) -> Option<Restart> {
        let restart = self.cycle.as_ref()?.restart;
        Some(match self.construction_restart {
            Some(length) if self.construction_materials => Restart {
                length,
                nights: 0,
                since_last_began: Millis::ZERO,
            },
            _ => restart,
        })
    }
}
