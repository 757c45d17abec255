//! Plants that are kept open beyond their posted hours, hour by hour, while it saves more than it costs.

use super::command::Command;
use super::event::{Event, Observer};
use super::state::NOT_SEEN;
use super::world::World;
use crate::dispatch::{Lend, RefusedLoad};
use crate::units::{Cents, Millis, OrderId, PlantId};

impl World<'_> {
    /// Plans the decisions at the ends of a plant's posted hours.
    pub(super) fn plan_closings(&mut self, id: PlantId) {
        if self.day.policy.plant_hours.longest() == Millis::ZERO {
            return;
        }
        for span in 0..self.plan.plants[id.at()].open.len() {
            let (_, close) = self.plan.plants[id.at()].open[span];
            if close < self.plan.end {
                self.schedule(close, Command::Closing(id));
            }
        }
    }

    /// A plant is about to close: it stays open for another hour if the loads that it would refuse in it cost more than its crew.
    pub(super) fn closing<O: Observer>(&mut self, id: PlantId, observer: &mut O) {
        let until = self.longest_open(id).min(self.day.now + Millis::HOUR);
        let crew = self.day.policy.prices.crew_per_open_h;
        if until > self.day.now
            && self.somebody_on_duty(id)
            && self.refused_until(id, until) > crew.times((until - self.day.now).hours())
        {
            let plant = &mut self.day.plants[id.at()];
            plant.kept_until = until;
            plant.seen_until = NOT_SEEN;
            plant.stayed_until = until;
            let time = until - self.day.now;
            self.tell(observer, Event::KeptOpen { plant: id, time });
            self.schedule(until, Command::Closing(id));
            self.open(id, observer);
        } else {
            self.send_surplus_home(id, observer);
        }
    }

    /// Until when a plant that closes now, or was kept open until now, may be kept open.
    fn longest_open(&self, id: PlantId) -> Millis {
        let spans = &self.plan.plants[id.at()].open;
        let closed = spans.iter().rfind(|(_, close)| *close <= self.day.now);
        let opens = self.opens_again(id);
        closed.map_or(self.day.now, |(_, close)| {
            (*close + self.day.policy.plant_hours.longest())
                .min(opens)
                .min(self.plan.end)
        })
    }

    fn opens_again(&self, id: PlantId) -> Millis {
        let spans = &self.plan.plants[id.at()].open;
        let next = spans.iter().find(|(open, _)| *open >= self.day.now);
        next.map_or(Millis::NEVER, |(open, _)| *open)
    }

    fn somebody_on_duty(&self, id: PlantId) -> bool {
        (0..self.day.trucks.len()).any(|position| {
            let here = self.day.policy.lend != Lend::Never || self.plan.trucks[position].home == id;
            here && self.is_on_duty(position)
        })
    }

    /// What the loads would cost that this plant would refuse until then: those of known orders for which it is the nearest that
    /// makes their mix, and no other that does is open.
    fn refused_until(&self, id: PlantId, until: Millis) -> Cents {
        let opens = self.opens_again(id);
        let mut cost = Cents::ZERO;
        for position in 0..self.day.orders.len() {
            let (plan, order) = (&self.plan.orders[position], &self.day.orders[position]);
            let nearest = self.plan.nearest(OrderId::new(position));
            let Some(ahead) = nearest.filter(|ahead| ahead.plant == id) else {
                continue;
            };
            let other = |plant: &PlantId| *plant != id && self.is_open(*plant);
            if order.closed || plan.called > self.day.now || plan.makers.iter().any(other) {
                continue;
            }
            let refused = |volume, send: Millis| {
                let late = (opens < plan.day_over).then_some(opens - send - plan.late);
                self.day.policy.prices.refused(RefusedLoad { volume, late })
            };
            for again in &order.again {
                cost += refused(again.volume, self.day.now);
            }
            let mut before = order.promised;
            while before < order.volume {
                let send = self.send_of(OrderId::new(position), ahead, before);
                if send >= until {
                    break;
                }
                let volume = plan.load.min(order.volume - before);
                cost += refused(volume, send.max(self.day.now));
                before += plan.load;
            }
        }
        cost
    }
}
