//! Hours-of-service limits.

use crate::units::Millis;

/// The hours-of-service limits that drivers keep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RuleBook {
    /// No legal clock: the textbook queue.
    Unlimited,
    /// No driving later than `window` after reporting; `rest` off before the next report.
    DutyWindow {
        /// Length of the window from report.
        window: Millis,
        /// Time off before the next report.
        rest: Millis,
    },
    /// A rule book written out, whose clocks are carried along: its position in the scenario's list.
    Set(u16),
}

impl RuleBook {
    /// The moment from which a driver who reported at `report` may no longer drive, where that follows from the report alone.
    pub fn barred_from(self, report: Millis) -> Millis {
        match self {
            Self::Unlimited | Self::Set(_) => Millis::NEVER,
            Self::DutyWindow { window, .. } => report + window,
        }
    }

    /// The earliest next report of a driver released at `release`, where that follows from the release alone.
    pub fn next_report(self, release: Millis) -> Millis {
        match self {
            Self::Unlimited | Self::Set(_) => release,
            Self::DutyWindow { rest, .. } => release + rest,
        }
    }

    /// Whether there is any limit.
    pub fn limits(self) -> bool {
        self != Self::Unlimited
    }
}
