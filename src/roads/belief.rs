//! What somebody takes a trip to last, before the trip is made.

use super::memo::LuckName;
use crate::units::Millis;

/// What the dispatcher believes of a trip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Belief {
    /// The distance on the map at one speed: no traffic, no detours.
    StraightLine,
    /// The minutes of the empty road.
    FreeFlow,
    /// The minutes usual at the hour.
    TimeOfDay {
        /// Which share of such trips is no longer than what is believed, 0.05 to 0.99; none for the mean.
        quantile: Option<f64>,
    },
    /// The minutes usual at the hour, with what is known now: how bad this day is, and which incidents are there. Over a
    /// table, which knows neither, the minutes usual at the hour.
    Live,
}

/// A belief made ready for the roads it is held about: see [`Roads::believe`](crate::roads::Roads::believe).
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Believed {
    /// The distance on the map at one speed.
    StraightLine,
    /// The minutes of the empty road.
    FreeFlow,
    /// The empty road's minutes times this factor of luck, driven through the traffic of the hour.
    AtTheHour {
        /// The mean, or a quantile, of the luck of a trip.
        luck: f64,
        /// What stands for it where trips are remembered.
        name: LuckName,
    },
    /// Driven through the traffic of the hour in the present state of the roads.
    Live,
}

impl Believed {
    /// The empty road's minutes times this, through the traffic of the hour.
    pub(super) fn at_the_hour(luck: f64) -> Self {
        Self::AtTheHour {
            luck,
            name: LuckName::of(luck),
        }
    }
}

/// What a drive takes at least that nowhere goes quicker than so many times the empty road: a minute less than it may be, for the
/// rounding of each link.
#[inline]
pub(super) fn at_least(free: Millis, times: f64) -> Millis {
    if free == Millis::NEVER {
        return free;
    }
    (Millis((free.0 as f64 * times) as i64) - Millis::MINUTE).max(Millis::ZERO)
}
