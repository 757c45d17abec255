//! How late a load is.

use crate::units::Millis;

/// When a load came on site, against when it could have been taken in the ideal timeline, and what its order tolerates.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lateness {
    /// So long after that moment; below zero: before it.
    pub after_ready: Millis,
    /// Up to so much the load is not called late; at least 0.
    pub tolerated: Millis,
}

impl Lateness {
    /// How late, at least 0.
    pub fn late(self) -> Millis {
        self.after_ready.max(Millis::ZERO)
    }

    /// How much of it is more than the order tolerates, at least 0.
    pub fn beyond(self) -> Millis {
        (self.late() - self.tolerated).max(Millis::ZERO)
    }

    /// By how much it came earlier than the order tolerates before it could be taken, at least 0.
    pub fn early(self) -> Millis {
        (-self.after_ready - self.tolerated).max(Millis::ZERO)
    }

    /// The same against a time that lies so much earlier.
    pub fn later_by(self, earlier: Millis) -> Self {
        Self {
            after_ready: self.after_ready + earlier,
            ..self
        }
    }

    /// Whether the load counts as late: beyond what the order tolerates.
    pub fn is_late(self) -> bool {
        self.beyond() > Millis::ZERO
    }
}
