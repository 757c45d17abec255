//! The short way of a book that is a window and nothing else: no days, breaks or sums. It gives what the long way would give;
//! `tests/hours/` holds the two against each other.

use super::Clocks;
use crate::hours::fit::Fit;
use crate::hours::left::Drivable;
use crate::hours::rule_set::{Clock, RuleSet};
use crate::hours::status::DutyStatus;
use crate::units::Millis;

impl Clocks {
    #[inline]
    pub(super) fn advance_lone(&mut self, rules: &RuleSet, to: Millis) {
        if to <= self.now {
            return;
        }
        if rules.is_duty(self.status) {
            self.resting = false;
            self.shift = self.shift.or(Some(self.now));
        } else {
            self.rest_on(rules, to);
        }
        self.now = to;
    }

    /// Until when the driver may drive on who goes on as now until `at`, not before now, and drives from then on.
    #[inline]
    pub(super) fn drivable_lone(&self, rules: &RuleSet, at: Millis) -> Drivable {
        until(self.window_ends(rules, at), at)
    }

    /// When the window ends of a driver who goes on as now until `at` and is on duty from then on; None where more than a window
    /// counts.
    #[inline]
    pub fn lone_window_ends(&self, rules: &RuleSet, at: Millis) -> Option<Millis> {
        (self.lone_window && at >= self.now).then(|| self.window_ends(rules, at))
    }

    /// When a lone window ends whose driver goes on as now until `at`, not before now, and is on duty from then on.
    #[inline]
    fn window_ends(&self, rules: &RuleSet, at: Millis) -> Millis {
        let length = rules
            .window
            .as_ref()
            .map_or(Millis::NEVER, |limit| limit.length);
        let begun = if rules.is_duty(self.status) {
            self.shift.unwrap_or(self.now)
        } else {
            let rested = at - self.rest_from >= rules.reset_rest;
            self.shift.filter(|_| !rested).unwrap_or(at)
        };
        begun + length
    }

    /// A plan without rest under a lone window: it ends when it ends, whatever the plan.
    pub(super) fn follow_lone(
        &self,
        rules: &RuleSet,
        from: Millis,
        plan: &[(DutyStatus, Millis)],
    ) -> (Fit, Drivable) {
        let ends = self.window_ends(rules, from);
        let drivable = |at| until(ends, at);
        let mut fit = Fit::UNLIMITED;
        let mut at = from;
        for (status, length) in plan {
            if *status == DutyStatus::Driving && *length > Millis::ZERO {
                fit.add_leg(drivable(at), at + *length);
            }
            at += *length;
        }
        (fit, drivable(at))
    }
}

/// A window that ends then, for a drive that begins at `at`.
#[inline]
fn until(ends: Millis, at: Millis) -> Drivable {
    Drivable {
        until: ends.max(at),
        by: Some(Clock::Window),
    }
}
