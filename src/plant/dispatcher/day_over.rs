//! The end of an order's day, and of the period: what has not come is counted, and nothing more is sent.
//!
//! Undelivered loads pay by the yard and once per late load, not by the minute until midnight, which would drown the rest.

use super::super::event::{Event, Observer};
use super::super::state::Phase;
use super::super::world::World;
use crate::units::{Millis, OrderId, TruckId, Volume};

impl World<'_> {
    /// The day of an order is over: what is not on site is late until now, and undelivered.
    pub(in crate::plant) fn day_over<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        if self.day.orders[id.at()].closed {
            return; // refused when it was called in
        }
        let plan = &self.plan.orders[id.at()];
        let now = self.day.now;
        for position in 0..self.day.trucks.len() {
            let truck = &mut self.day.trucks[position];
            if truck.promised().is_some_and(|load| load.order == id) && before_site(truck.phase) {
                truck.load_mut().given_up = true;
                let load = *truck.load();
                let late = (now - load.ready).max(Millis::ZERO);
                self.tell(
                    observer,
                    Event::Undelivered {
                        order: id,
                        volume: load.volume,
                        number: Some(load.number),
                        carrier: Some(TruckId::new(position)),
                        due: load.due,
                        ready: load.ready,
                        late,
                        first: load.before == Volume::ZERO,
                    },
                );
            }
        }
        let mut left = Volume::ZERO;
        for position in 0..self.day.orders[id.at()].again.len() {
            let again = self.day.orders[id.at()].again[position];
            left += again.volume;
            let late = (now - again.ready).max(Millis::ZERO);
            self.tell(
                observer,
                Event::Undelivered {
                    order: id,
                    volume: again.volume,
                    number: Some(again.number),
                    carrier: None,
                    due: again.due,
                    ready: again.ready,
                    late,
                    first: again.before == Volume::ZERO,
                },
            );
        }
        let mut before = self.day.orders[id.at()].promised;
        while before < self.day.orders[id.at()].volume {
            let volume = plan.load.min(self.day.orders[id.at()].volume - before);
            let ready = self.ready(id, before);
            let late = (now - ready).max(Millis::ZERO);
            self.tell(
                observer,
                Event::Undelivered {
                    order: id,
                    volume,
                    number: None,
                    carrier: None,
                    due: self.due_after(id, before),
                    ready,
                    late,
                    first: before == Volume::ZERO,
                },
            );
            left += volume;
            before += volume;
        }
        if left > Volume::ZERO {
            self.tell(
                observer,
                Event::LeftOver {
                    order: id,
                    volume: left,
                },
            );
        }
        self.stop_waiting(id);
        let order = &mut self.day.orders[id.at()];
        order.closed = true;
        order.again.clear();
        order.ask_at = Millis::NEVER;
        self.dismiss_idle(observer);
    }

    /// The period is over: nothing is sent any more, and whoever is idle goes home.
    pub(in crate::plant) fn end_period<O: Observer>(&mut self, observer: &mut O) {
        self.day.period_over = true;
        while let Some(id) = self.day.waiting.pop() {
            self.day.orders[id.at()].waiting = false;
        }
        self.dismiss_idle(observer);
        self.dismiss_waiting_drivers(observer);
    }
}

/// Whether a promised truck in this phase has not yet reached the site.
fn before_site(phase: Phase) -> bool {
    !matches!(
        phase,
        Phase::SiteQueue | Phase::AtOutlet | Phase::Discharging
    )
}
