//! The dispatcher's desk: loads ask, trucks are offered, promises are made and broken. What is decided comes from
//! `dispatch`; here it is carried out.

mod broken;
mod day_over;
mod promise;
mod view;
mod wish;

pub(super) use wish::Wish;

use super::command::Command;
use super::event::{Event, Observer};
use super::state::NOT_OFFERED;
use super::world::World;
use crate::units::{Millis, OrderId, TruckId};

impl World<'_> {
    /// The order's next load asks now, whenever it was to.
    pub(super) fn ask_now<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        if self.is_cancelled_now(id, observer) {
            return;
        }
        if !self.day.orders[id.at()].waiting {
            self.will_ask(id, self.day.now);
            self.wait_for_truck(id, observer);
        }
        self.offer_all(id, observer);
    }

    /// Puts the next ask of an order into the calendar, or among the waiting if it is time.
    pub(super) fn plan_ask(&mut self, id: OrderId) {
        let Some(wish) = self.wish(id) else {
            self.day.orders[id.at()].ask_at = Millis::NEVER;
            self.day.less_work |= self.plan.orders[id.at()].arrivals.is_none();
            return;
        };
        let at = self.ask_time(id, &wish);
        self.will_ask(id, at);
        self.schedule(at, Command::Ask(id));
    }

    /// The next load of an order asks then.
    pub(super) fn will_ask(&mut self, id: OrderId, at: Millis) {
        self.day.orders[id.at()].ask_at = at;
        let early = self.plan.orders[id.at()].first - at;
        self.day.asks_early = self.day.asks_early.max(early);
    }

    /// An order's next load asks for a truck.
    pub(super) fn ask<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        if self.day.orders[id.at()].waiting || self.day.orders[id.at()].ask_at != self.day.now {
            return; // planned anew since
        }
        let Some(wish) = self.wish(id) else { return };
        // A paced site may have slowed down since the ask was planned; a minute at least passes between two looks.
        let at = self.ask_time(id, &wish);
        if at > self.day.now {
            let at = at.max(self.day.now + Millis::MINUTE);
            self.will_ask(id, at);
            self.schedule(at, Command::Ask(id));
            return;
        }
        if self.is_cancelled_now(id, observer) {
            return;
        }
        self.wait_for_truck(id, observer);
        self.offer_all(id, observer);
        self.dismiss_if_less_work(observer);
    }

    /// Offers all trucks that can be promised to the waiting load of an order, and to those that follow it at once.
    fn offer_all<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        while self.day.orders[id.at()].waiting
            && !self.day.offered.is_empty()
            && self.try_promise(id, None, observer)
        {}
    }

    fn wait_for_truck<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        self.day.orders[id.at()].waiting = true;
        self.day.waiting.push(id);
        self.tell(observer, Event::Asked { order: id });
    }

    /// Offers one truck that has just become free or near (or, without one, all that can be promised) to the loads that wait,
    /// first things first. The other trucks have been refused for these loads already, and time only tightens a gate.
    pub(super) fn serve_waiting<O: Observer>(&mut self, offer: Option<TruckId>, observer: &mut O) {
        self.rank_waiting();
        let mut next = 0;
        while next < self.day.waiting.len()
            && offer.map_or(!self.day.offered.is_empty(), |truck| {
                self.day.trucks[truck.at()].slot != NOT_OFFERED
            })
        {
            let id = self.day.waiting[next];
            if self.try_promise(id, offer, observer) {
                if offer.is_some() {
                    // Nobody has been refused for the order's following load yet.
                    self.offer_all(id, observer);
                }
                // The order's following load has its own rank: begin again from the top.
                self.rank_waiting();
                next = 0;
            } else {
                next += 1;
            }
        }
        self.dismiss_if_less_work(observer);
    }

    #[inline]
    fn rank_waiting(&mut self) {
        if self.day.waiting.len() > 1 {
            self.rank_several();
        }
    }

    fn rank_several(&mut self) {
        for position in 0..self.day.waiting.len() {
            let id = self.day.waiting[position];
            self.day.orders[id.at()].rank = self.rank_of(id);
        }
        let orders = &self.day.orders;
        self.day
            .waiting
            .sort_unstable_by_key(|id| (orders[id.at()].rank, *id));
    }

    /// Other plants may serve a waiting load later, whether or not a truck becomes free by then.
    fn look_again(&mut self, id: OrderId, at: Millis) {
        let planned = self.day.orders[id.at()].look_again;
        if at < Millis::NEVER && !(self.day.now < planned && planned <= at) {
            let at = at.max(self.day.now + Millis::MINUTE);
            self.day.orders[id.at()].look_again = at;
            self.schedule(at, Command::LookAgain(id));
        }
    }

    /// A load that still waits is offered the trucks of all plants.
    pub(super) fn looked_again<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        self.offer_all(id, observer);
        self.dismiss_if_less_work(observer);
    }

    /// After a promise: the order's following load asks at once if it is time, or is planned.
    fn following_load<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        let plan = &self.plan.orders[id.at()];
        // A load made on demand asks at once, whatever the order has promised.
        let on_demand = plan.endless && plan.arrivals.is_none() && !self.day.period_over;
        let now = on_demand
            || match self.wish(id) {
                Some(wish) => self.ask_time(id, &wish) <= self.day.now,
                None => false,
            };
        if now {
            self.will_ask(id, self.day.now);
            self.tell(observer, Event::Asked { order: id });
        } else {
            self.stop_waiting(id);
            self.plan_ask(id);
        }
    }

    fn stop_waiting(&mut self, id: OrderId) {
        if std::mem::take(&mut self.day.orders[id.at()].waiting) {
            let position = self
                .day
                .waiting
                .iter()
                .position(|other| *other == id)
                .expect("a waiting order is in the list");
            self.day.waiting.swap_remove(position);
        }
    }

    fn dismiss_if_less_work<O: Observer>(&mut self, observer: &mut O) {
        if std::mem::take(&mut self.day.less_work) {
            self.dismiss_idle(observer);
        }
    }
}
