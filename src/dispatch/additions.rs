//! Orders that are added to the day.

use super::Additions;
use crate::units::Millis;

impl Additions {
    /// By how much an order may be moved.
    pub fn latest(self) -> Millis {
        match self {
            Self::TakeAll | Self::OnlyIfHolds => Millis::ZERO,
            Self::FirstFreeTime { hours } => Millis::from_hours(hours),
        }
    }
}
