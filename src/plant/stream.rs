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
        let luck = self.day.luck.block(
            Purpose::Arrival,
            plan.entity,
            self.day.orders[id.at()].arrivals,
            0,
        );
        let at = self.day.now + between.at(plan.load, luck.uniform(0));
        if at <= self.plan.end {
            self.schedule(at, Command::Arrival(id));
        }
    }

    /// A load of a stream arrives, and asks at once.
    pub(super) fn arrival<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        let order = &mut self.day.orders[id.at()];
        order.arrivals += 1;
        order.came = self.day.now;
        order.arrived.push_back(self.day.now);
        self.plan_arrival(id);
        if !self.day.orders[id.at()].waiting {
            self.will_ask(id, self.day.now);
            self.ask(id, observer);
        }
    }
}
