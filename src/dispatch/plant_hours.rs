//! How long plants are open.

use super::{PlantHours, Prices};
use crate::units::{Cents, Millis, Volume};

/// A load that would be refused because its plant closes.
#[derive(Clone, Copy, Debug)]
pub struct RefusedLoad {
    /// Its volume.
    pub volume: Volume,
    /// How much later than in time it would be, if the plant opens again on its order's day; none if it would not come.
    pub late: Option<Millis>,
}

impl PlantHours {
    /// How long a plant may be kept open beyond its posted hours.
    pub fn longest(self) -> Millis {
        match self {
            Self::AsPosted => Millis::ZERO,
            Self::KeptOpen { hours } => Millis::from_hours(hours),
        }
    }
}

impl Prices {
    /// What a load costs that is refused because its plant closes.
    pub fn refused(&self, load: RefusedLoad) -> Cents {
        let penalty = match load.late {
            Some(late) => self.late_per_min.times(late.max(Millis::ZERO).minutes()),
            None => self.undelivered_per_yd3.times(load.volume.yd3()),
        };
        self.late_per_load + penalty
    }
}
