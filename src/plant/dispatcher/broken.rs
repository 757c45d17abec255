//! A load that has lost its truck, or is to be made again, asks again.

use super::super::event::{Event, Observer};
use super::super::state::{Again, PromisedLoad};
use super::super::world::World;
use crate::dispatch::{GivenUp, Refusal};
use crate::units::{Millis, TruckId, Volume};

impl World<'_> {
    /// A promised truck cannot take its load after all: the load asks again, before all others.
    pub(in crate::plant) fn break_promise<O: Observer>(
        &mut self,
        truck_id: TruckId,
        reason: Refusal,
        observer: &mut O,
    ) {
        let load = *self.day.trucks[truck_id.at()].load();
        self.tell(
            observer,
            Event::PromiseBroken {
                order: load.order,
                truck: truck_id,
                reason,
            },
        );
        let now = self.day.now;
        if self.day.given_up.last().is_some_and(|last| last.at < now) {
            self.day.given_up.clear();
        }
        self.day.given_up.push(GivenUp {
            at: now,
            truck: truck_id,
            load: (load.order, load.number),
            plant: load.plant,
            why: reason,
        });
        self.ask_again(truck_id, load.attempt, observer);
    }

    /// The load of a truck is to be made again, as the given attempt.
    pub(in crate::plant) fn ask_again<O: Observer>(
        &mut self,
        truck_id: TruckId,
        attempt: u32,
        observer: &mut O,
    ) {
        let load = *self.day.trucks[truck_id.at()].load();
        self.leave_order(truck_id);
        self.asks_again(&load, attempt, observer);
    }

    /// A truck is no longer promised to its load.
    pub(in crate::plant) fn leave_order(&mut self, truck_id: TruckId) {
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.drop_load();
        self.day.orders[truck.load().order.at()].ahead -= 1;
    }

    /// A load that has lost its truck asks for another, as the given attempt.
    pub(in crate::plant) fn asks_again<O: Observer>(
        &mut self,
        load: &PromisedLoad,
        attempt: u32,
        observer: &mut O,
    ) {
        let order = &mut self.day.orders[load.order.at()];
        if self.plan.orders[load.order.at()].endless {
            return; // made on demand
        }
        if order.closed {
            if !load.given_up {
                // It was on site by the end of the day and was turned away: what would replace it does not come.
                let day_over = self.plan.orders[load.order.at()].day_over;
                self.tell(
                    observer,
                    Event::Undelivered {
                        order: load.order,
                        volume: load.volume,
                        number: Some(load.number),
                        carrier: None,
                        due: load.due,
                        ready: load.ready,
                        late: (day_over - load.ready).max(Millis::ZERO),
                        first: load.before == Volume::ZERO,
                    },
                );
            }
            self.tell(
                observer,
                Event::LeftOver {
                    order: load.order,
                    volume: load.volume,
                },
            );
            return;
        }
        order.again.push(Again {
            number: load.number,
            attempt,
            volume: load.volume,
            before: load.before,
            due: load.due,
            ready: load.ready,
        });
        self.will_ask(load.order, self.day.now);
        if self.day.period_over {
            return;
        }
        if !self.day.orders[load.order.at()].waiting {
            self.wait_for_truck(load.order, observer);
        }
        // Trucks that stand idle have been refused for other loads, not for this one.
        self.offer_all(load.order, observer);
        self.dismiss_if_less_work(observer);
    }
}
