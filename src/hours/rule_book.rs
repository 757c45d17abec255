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
}

impl RuleBook {
    /// The moment from which a driver who reported at `report` may no longer drive.
    pub fn barred_from(self, report: Millis) -> Millis {
        match self {
            Self::Unlimited => Millis::NEVER,
            Self::DutyWindow { window, .. } => report + window,
        }
    }

    /// The earliest next report of a driver released at `release`.
    pub fn next_report(self, release: Millis) -> Millis {
        match self {
            Self::Unlimited => release,
            Self::DutyWindow { rest, .. } => release + rest,
        }
    }
}
