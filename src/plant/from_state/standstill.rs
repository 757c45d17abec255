//! What stands: a truck beside the road, broken down; a driver beside the truck, off duty until rested.

use super::super::command::Command;
use super::super::event::{Event, Observer};
use super::super::state::Phase;
use super::super::world::World;
use super::SOON;
use crate::roads::Haul;
use crate::scenario::day_state::{Drive, DriverState, Standstill};
use crate::units::{Millis, PlaceId};

impl<'p> World<'p> {
    /// The truck has stopped on its drive. The desk hears of it now, and decides what becomes of its load or its promise.
    pub(super) fn stand_broken<O: Observer>(
        &mut self,
        state: &DriverState,
        standstill: &Standstill,
        observer: &mut O,
    ) {
        let (truck, now, left) = (state.truck, self.day.now, standstill.left);
        self.day.trucks[truck.at()].since = left;
        let load = match standstill.drive {
            Drive::Out(load) => {
                self.carry(truck, &load, observer);
                let from = self.plan.plants[load.plant.at()].place;
                self.set_on_road(truck, Phase::Out, (from, Haul::Loaded));
                Some((load.order, load.number))
            }
            Drive::Back(order) => {
                let site = self.rid_of(truck, order);
                self.come_back(truck, (site, left), state.next.as_ref(), observer);
                None
            }
            Drive::To(from, to) => {
                self.drive_empty(truck, (from, to), state.next.as_ref(), observer);
                None
            }
        };
        let driven = (state.since - left).max(Millis::ZERO);
        let leg = &mut self.day.legs[truck.at()];
        leg.stops = state.since;
        // Until a fork draws it.
        leg.repaired = now + SOON + SOON;
        leg.broken = leg.repaired - leg.stops;
        leg.look_at = now + SOON;
        leg.driven = driven + SOON;
        leg.breakdowns = 1;
        (leg.told, leg.drum_turns) = (state.until, standstill.drum_turns);
        let arrives = leg.repaired + SOON;
        self.tell(
            observer,
            Event::BrokeDown {
                truck,
                load,
                driven,
            },
        );
        match standstill.drive {
            Drive::Out(_) => self.plan_site_arrival(truck, arrives),
            Drive::Back(_) | Drive::To(..) => {
                self.schedule(arrives, Command::ArrivePlace(truck));
            }
        }
        self.plan_standstill(truck);
    }

    /// The driver has been released beside the truck, and drives on when rested.
    pub(super) fn stand_resting<O: Observer>(
        &mut self,
        state: &DriverState,
        place: PlaceId,
        observer: &mut O,
    ) {
        let (id, truck, now) = (state.driver, state.truck, self.day.now);
        self.seat(id, truck);
        self.tell(observer, Event::Reported { driver: id, truck });
        self.day.truck_views[truck.at()].place = place;
        let truck_now = &mut self.day.trucks[truck.at()];
        (truck_now.phase, truck_now.since) = (Phase::Resting, state.since);
        let rested = state.since + self.rest_of(id);
        let driver = &mut self.day.drivers[id.at()];
        (driver.away, driver.stranded) = (true, state.since);
        (driver.released, driver.rested) = (state.since, rested);
        let tour = state.since - state.reported;
        self.tell(
            observer,
            Event::Released {
                driver: id,
                truck,
                tour,
            },
        );
        // The rest counts from its beginning.
        self.day.now = state.since;
        let way = self.judged(truck, place, self.home_place(truck));
        let from = self.rested_for(id, way);
        self.day.now = now;
        self.schedule(from.max(now + SOON), Command::Rested(truck));
        self.plan_next_report(id);
    }
}
