//! Orders drawn day by day: which of those that a day can have it has, when, and how large.
//!
//! Each list is laid out as the orders that a day can have at most (`at_most`, or what all but a millionth of the days need);
//! those that a day does not have count as never ordered. So everything that works by order works with them, all rules meet the
//! same, and a warm world allocates nothing. Lists that make orders as the run goes on were rejected: no name, no figure by
//! order, no replay. One list has one site: Poisson streams that are split stay Poisson.

use super::event::{Event, Observer};
use super::world::World;
use crate::scenario::Slot;
use crate::units::{Millis, OrderId, Purpose, Volume};

/// Lanes of an order's block.
mod lane {
    pub(super) const FIRST: usize = 0;
    pub(super) const VOLUME: usize = 1;
}

impl World<'_> {
    /// Whether this day has such an order.
    pub(super) fn has_slot(&self, slot: Slot) -> bool {
        let drawn = &self.plan.drawn[slot.group];
        // On the books from the start of the period.
        let luck = self.luck_told_at(Millis::ZERO);
        let luck = luck.block(Purpose::OrdersOfDay, drawn.entity, slot.day, 0);
        slot.number < drawn.per_day.at(luck.uniform(0))
    }

    /// Draws when an order that the day has is due, to the minute, and its volume, to the half yard.
    pub(super) fn draw_order<O: Observer>(&mut self, id: OrderId, slot: Slot, observer: &mut O) {
        let drawn = &self.plan.drawn[slot.group];
        let luck = self.luck_told_at(Millis::ZERO);
        let luck = luck.block(Purpose::DrawnOrder, drawn.entity, slot.day, slot.number);
        let minutes = drawn.window.0 / Millis::MINUTE.0;
        let later = (luck.uniform(lane::FIRST) * (minutes + 1) as f64) as i64;
        let yd3 = drawn.volume.at(luck.uniform(lane::VOLUME)) * drawn.growth;
        let halves = (yd3 * 2.0 + 0.5) as i64;
        let largest = self.plan.orders[id.at()].volume;
        let order = &mut self.day.orders[id.at()];
        order.moved = Millis::MINUTE * later.min(minutes);
        order.opens += order.moved;
        order.volume = Volume::thousandths(halves.max(1) * 500).min(largest);
        order.booked = order.volume;
        let (volume, later) = (order.volume, order.moved);
        self.tell(
            observer,
            Event::Drawn {
                order: id,
                volume,
                below_largest: largest - volume,
                later,
            },
        );
    }
}
