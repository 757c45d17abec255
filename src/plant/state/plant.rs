//! Plants: bays, batchers, racks and their queues.

use crate::units::{Millis, TruckId};
use std::collections::VecDeque;

/// The desk has to look at its hours.
pub(in crate::plant) const NOT_SEEN: Millis = Millis(-1);

/// A plant.
#[derive(Debug)]
pub(in crate::plant) struct PlantNow {
    /// Position of the present or next open span.
    pub(in crate::plant) span: usize,
    /// Until when its crew has been paid beyond closing.
    pub(in crate::plant) stayed_until: Millis,
    /// Until when it is or was kept open beyond its posted hours.
    pub(in crate::plant) kept_until: Millis,
    /// Until when the desk need not look at its hours again, if nothing happens to it.
    pub(in crate::plant) seen_until: Millis,
    pub(in crate::plant) queue: VecDeque<TruckId>,
    pub(in crate::plant) bays_busy: u32,
    pub(in crate::plant) batcher_busy: bool,
    pub(in crate::plant) batcher_queue: VecDeque<TruckId>,
    pub(in crate::plant) rack_busy: u32,
    pub(in crate::plant) rack_queue: VecDeque<TruckId>,
    /// Outages that hold it now.
    pub(in crate::plant) down: u32,
    /// Until when those of them were planned that were.
    pub(in crate::plant) planned_until: Millis,
    /// Since when the one that was not planned.
    pub(in crate::plant) broken_since: Option<Millis>,
    /// Outages drawn so far.
    pub(in crate::plant) outages: u32,
}

impl Clone for PlantNow {
    fn clone(&self) -> Self {
        Self {
            queue: self.queue.clone(),
            batcher_queue: self.batcher_queue.clone(),
            rack_queue: self.rack_queue.clone(),
            ..*self
        }
    }

    /// Copies into the queues that this one already has.
    fn clone_from(&mut self, source: &Self) {
        let mut queue = std::mem::take(&mut self.queue);
        let mut batcher_queue = std::mem::take(&mut self.batcher_queue);
        let mut rack_queue = std::mem::take(&mut self.rack_queue);
        queue.clone_from(&source.queue);
        batcher_queue.clone_from(&source.batcher_queue);
        rack_queue.clone_from(&source.rack_queue);
        *self = Self {
            queue,
            batcher_queue,
            rack_queue,
            ..*source
        };
    }
}

impl PlantNow {
    /// Empty.
    pub(in crate::plant) fn fresh() -> Self {
        Self::with([VecDeque::new(), VecDeque::new(), VecDeque::new()])
    }

    /// Back to the beginning; its queues keep their room.
    pub(in crate::plant) fn begin(&mut self) {
        *self = Self::with([
            emptied(&mut self.queue),
            emptied(&mut self.batcher_queue),
            emptied(&mut self.rack_queue),
        ]);
    }

    fn with([queue, batcher_queue, rack_queue]: [VecDeque<TruckId>; 3]) -> Self {
        Self {
            span: 0,
            stayed_until: Millis::ZERO,
            kept_until: Millis::ZERO,
            seen_until: NOT_SEEN,
            queue,
            bays_busy: 0,
            batcher_busy: false,
            batcher_queue,
            rack_busy: 0,
            rack_queue,
            down: 0,
            planned_until: Millis::ZERO,
            broken_since: None,
            outages: 0,
        }
    }
}

fn emptied(queue: &mut VecDeque<TruckId>) -> VecDeque<TruckId> {
    queue.clear();
    std::mem::take(queue)
}
