//! Streams of single loads: arrivals with a spread of minutes between them.

use super::command::Command;
use super::event::Observer;
use super::world::World;
use crate::units::{OrderId, Purpose};

impl World<'_> {
    /// Plans the next arrival of a stream.
    pub(super) fn plan_arrival(&mut self, id: OrderId) {
        let plan = &self.plan.orders[id.at()];
        let Some(between) = &plan.arrivals else {
            return;
        };
        let luck = self.luck.block(
            Purpose::Arrival,
            plan.entity,
            self.orders[id.at()].arrivals,
            0,
        );
        let at = self.now + between.at(plan.load, luck.uniform(0));
        if at <= self.plan.end {
            self.schedule(at, Command::Arrival(id));
        }
    }

    /// A load of a stream arrives, and asks at once.
    pub(super) fn arrival<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        let order = &mut self.orders[id.at()];
        order.arrivals += 1;
        order.came = self.now;
        order.arrived.push_back(self.now);
        self.plan_arrival(id);
        if !self.orders[id.at()].waiting {
            self.orders[id.at()].ask_at = self.now;
            self.ask(id, observer);
        }
    }
}
