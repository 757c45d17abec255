//! Sites: who waits for a place, and who stands at an outlet.

use crate::units::{Millis, TruckId};
use std::collections::VecDeque;

/// A spot.
#[derive(Clone, Debug)]
pub(in crate::plant) struct Spot {
    pub(in crate::plant) queue: VecDeque<TruckId>,
    /// Position of its first outlet in the world's list.
    pub(in crate::plant) first_outlet: u32,
    /// Position of its first place in the ideal timeline's list.
    pub(in crate::plant) first_place: u32,
}

/// An outlet.
#[derive(Clone, Debug)]
pub(in crate::plant) struct Outlet {
    pub(in crate::plant) places: u32,
    pub(in crate::plant) occupied: u32,
    pub(in crate::plant) flowing: bool,
    /// Trucks at it that wait for the flow.
    pub(in crate::plant) positioned: VecDeque<TruckId>,
    /// The ideal timeline: when its flow is free.
    pub(in crate::plant) ideal_flow: Millis,
}
