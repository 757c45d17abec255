//! The spacing at which the desk sends loads: as ordered, or by the rule's own factor. Due times never move.

use super::dispatcher::Wish;
use super::world::World;
use crate::dispatch::spaced;
use crate::units::{Millis, OrderId, Volume};

impl World<'_> {
    /// When the desk wants the next load of an order on site. What is made again, made on demand or a stream of its own has no
    /// spacing.
    pub(super) fn aim(&self, id: OrderId, wish: &Wish) -> Millis {
        let plan = &self.plan.orders[id.at()];
        if wish.again || plan.endless || plan.arrivals.is_some() {
            wish.due
        } else {
            self.aim_after(id, wish.before)
        }
    }

    /// When the desk wants a load on site that has this volume of its order before it.
    pub(super) fn aim_after(&self, id: OrderId, before: Volume) -> Millis {
        let due = self.due_after(id, before);
        let factor = self.day.policy.spacing_factor;
        if factor == 1.0 || self.plan.orders[id.at()].arrivals.is_some() {
            return due;
        }
        let first = self.due_after(id, Volume::ZERO);
        first + spaced(due - first, factor)
    }
}
