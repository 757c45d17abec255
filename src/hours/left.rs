//! What is left on every clock of a driver.

use super::rule_set::Clock;
use crate::units::Millis;

/// What is left on every clock, never below zero; None where the rule book has no such clock, or an exception lifts it.
/// The window is whole while no shift has begun; a rest counts as soon as it has lasted its full length.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Left {
    /// Driving.
    pub driving: Option<Millis>,
    /// Elapsed time until the window ends.
    pub window: Option<Millis>,
    /// Time on duty.
    pub on_duty: Option<Millis>,
    /// Driving, or elapsed time, before a break is needed.
    pub break_in: Option<Millis>,
    /// Time on duty within the weekly hours.
    pub cycle: Option<Millis>,
}

impl Left {
    /// What is left under one rule.
    pub fn of(&self, clock: Clock) -> Option<Millis> {
        match clock {
            Clock::Driving => self.driving,
            Clock::Window => self.window,
            Clock::OnDuty => self.on_duty,
            Clock::Break => self.break_in,
            Clock::Cycle => self.cycle,
        }
    }

    /// The clock with the least left, the first of [`Clock::ALL`] among equal ones; None if there is no clock.
    pub fn least(&self) -> Option<(Clock, Millis)> {
        // Field by field: worlds ask this at every leg of every candidate.
        let mut least: Option<(Clock, Millis)> = None;
        let mut take = |clock: Clock, left: Option<Millis>| {
            if let Some(left) = left
                && least.is_none_or(|(_, so_far)| left < so_far)
            {
                least = Some((clock, left));
            }
        };
        take(Clock::Driving, self.driving);
        take(Clock::Window, self.window);
        take(Clock::OnDuty, self.on_duty);
        take(Clock::Break, self.break_in);
        take(Clock::Cycle, self.cycle);
        least
    }

    /// Whether some clock bars driving.
    pub fn bars(&self) -> bool {
        self.least().is_some_and(|(_, left)| left == Millis::ZERO)
    }
}

/// What is left of a limit when so much is used.
pub(super) fn rest_of(limit: Millis, used: Millis) -> Millis {
    (limit - used).max(Millis::ZERO)
}

/// How long one may drive on without a pause.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Drivable {
    /// Driving is barred from this moment on; [`Millis::NEVER`] if no clock bars it.
    pub until: Millis,
    /// By this clock, the first of [`Clock::ALL`] among several.
    pub by: Option<Clock>,
}

impl Drivable {
    /// No clock bars it.
    pub const ALWAYS: Self = Self {
        until: Millis::NEVER,
        by: None,
    };

    /// How much of a drive that ends at `at` lies past it.
    pub fn passed_by(&self, at: Millis) -> Millis {
        (at - self.until).max(Millis::ZERO)
    }
}
