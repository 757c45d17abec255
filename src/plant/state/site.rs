//! Sites: who waits for a place, and who stands at an outlet.

use crate::units::{Millis, TruckId};
use std::collections::VecDeque;

/// A spot.
#[derive(Debug)]
pub(in crate::plant) struct SpotNow {
    pub(in crate::plant) queue: VecDeque<TruckId>,
    /// Position of its first outlet in the world's list.
    pub(in crate::plant) first_outlet: u32,
    /// Position of its first place in the ideal timeline's list.
    pub(in crate::plant) first_place: u32,
}

/// An outlet.
#[derive(Debug)]
pub(in crate::plant) struct OutletNow {
    pub(in crate::plant) places: u32,
    pub(in crate::plant) occupied: u32,
    pub(in crate::plant) flowing: bool,
    /// Trucks at it that wait for the flow.
    pub(in crate::plant) positioned: VecDeque<TruckId>,
    /// The ideal timeline: when its flow is free.
    pub(in crate::plant) ideal_flow: Millis,
}

impl Clone for SpotNow {
    fn clone(&self) -> Self {
        Self {
            queue: self.queue.clone(),
            ..*self
        }
    }

    /// Copies into the list that this one already has.
    fn clone_from(&mut self, source: &Self) {
        let mut queue = std::mem::take(&mut self.queue);
        queue.clone_from(&source.queue);
        *self = Self { queue, ..*source };
    }
}

impl Clone for OutletNow {
    fn clone(&self) -> Self {
        Self {
            positioned: self.positioned.clone(),
            ..*self
        }
    }

    /// Copies into the list that this one already has.
    fn clone_from(&mut self, source: &Self) {
        let mut positioned = std::mem::take(&mut self.positioned);
        positioned.clone_from(&source.positioned);
        *self = Self {
            positioned,
            ..*source
        };
    }
}

impl SpotNow {
    /// Nobody there.
    pub(in crate::plant) fn begin(&mut self) {
        let Self {
            queue,
            // Where things stand in the world's lists.
            first_outlet: _,
            first_place: _,
        } = self;
        queue.clear();
    }
}

impl OutletNow {
    /// Nobody there.
    pub(in crate::plant) fn begin(&mut self) {
        let Self {
            places: _, // as planned
            occupied,
            flowing,
            positioned,
            ideal_flow,
        } = self;
        (*occupied, *flowing, *ideal_flow) = (0, false, Millis::ZERO);
        positioned.clear();
    }
}
