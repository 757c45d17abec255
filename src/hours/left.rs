//! What is left on every clock of a driver.

use super::rule_set::Rule;
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
    pub fn of(&self, rule: Rule) -> Option<Millis> {
        match rule {
            Rule::Driving => self.driving,
            Rule::Window => self.window,
            Rule::OnDuty => self.on_duty,
            Rule::Break => self.break_in,
            Rule::Cycle => self.cycle,
        }
    }

    /// The clock with the least left, the first of [`Rule::ALL`] among equal ones; None if there is no clock.
    pub fn least(&self) -> Option<(Rule, Millis)> {
        // Field by field: worlds ask this at every leg of every candidate.
        let mut least: Option<(Rule, Millis)> = None;
        let mut take = |rule: Rule, left: Option<Millis>| {
            if let Some(left) = left
                && least.is_none_or(|(_, so_far)| left < so_far)
            {
                least = Some((rule, left));
            }
        };
        take(Rule::Driving, self.driving);
        take(Rule::Window, self.window);
        take(Rule::OnDuty, self.on_duty);
        take(Rule::Break, self.break_in);
        take(Rule::Cycle, self.cycle);
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
    /// By this clock, the first of [`Rule::ALL`] among several.
    pub by: Option<Rule>,
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
