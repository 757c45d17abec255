//! What is chosen from outside, for looks ahead.

use crate::units::{DriverId, OrderId, PlantId};

/// A forced choice for one load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::plant) enum Forced {
    /// The driver takes the load at this plant as soon as both can, and no other load before.
    Take(DriverId, Which, PlantId),
    /// The driver does not take the load.
    Leave(DriverId, Which),
}

/// One load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::plant) struct Which {
    pub(in crate::plant) order: OrderId,
    pub(in crate::plant) number: u32,
}

/// How a stranded driver comes home.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rescue {
    /// Rests beside the truck and drives it home.
    RestOut,
    /// Fetched with the truck by one of the helpers' list, by position.
    Helper(u32),
    /// Driven home by one of the helpers' list; the truck stays where it is.
    DriverOnly(u32),
    /// Waits until the rush is over, where the rule knows one, or the next helper comes on call.
    Later,
    /// Fetched by a driver of the own fleet who stands free.
    Driver(DriverId),
}
