//! Whether a plan fits.

use super::left::Drivable;
use super::rule_set::Clock;
use crate::units::Millis;

/// Whether a plan fits under every clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fit {
    /// The least that is left at the end of a driven leg; below zero the plan does not fit. [`Millis::NEVER`] without a clock.
    pub slack: Millis,
    /// The clock that leaves the least.
    pub binds: Option<Clock>,
    /// What is left at the end of the plan until the short-haul exception would be lost, if it is in use. Below zero a log
    /// is needed; it forbids no driving.
    pub short_haul_slack: Option<Millis>,
}

impl Fit {
    /// Nothing is driven, or no clock runs.
    pub(super) const UNLIMITED: Self = Self {
        slack: Millis::NEVER,
        binds: None,
        short_haul_slack: None,
    };

    /// A leg that begins while driving is possible so long, and ends at `arrives`.
    #[inline]
    pub(super) fn add_leg(&mut self, drivable: Drivable, arrives: Millis) {
        let slack = drivable.until - arrives;
        if drivable.by.is_some() && slack < self.slack {
            self.slack = slack;
            self.binds = drivable.by;
        }
    }

    /// Whether every driven leg ends within every clock.
    pub fn fits(&self) -> bool {
        self.slack >= Millis::ZERO
    }
}
