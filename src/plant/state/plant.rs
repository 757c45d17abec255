//! Plants: bays, batchers, racks and their queues.

use crate::units::{Millis, TruckId};
use std::collections::VecDeque;

/// A plant.
#[derive(Clone, Debug)]
pub(in crate::plant) struct Plant {
    /// Position of the present or next open span.
    pub(in crate::plant) span: usize,
    /// Until when its crew has been paid beyond closing.
    pub(in crate::plant) stayed_until: Millis,
    /// Until when it is or was kept open beyond its posted hours.
    pub(in crate::plant) kept_until: Millis,
    pub(in crate::plant) queue: VecDeque<TruckId>,
    pub(in crate::plant) bays_busy: u32,
    pub(in crate::plant) batcher_busy: bool,
    pub(in crate::plant) batcher_queue: VecDeque<TruckId>,
    pub(in crate::plant) rack_busy: u32,
    pub(in crate::plant) rack_queue: VecDeque<TruckId>,
    /// Outages that hold it now.
    pub(in crate::plant) down: u32,
    /// When the desk reckons it to work again.
    pub(in crate::plant) back_at: Millis,
    /// Outages drawn so far.
    pub(in crate::plant) outages: u32,
}
