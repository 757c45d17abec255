//! Stages under way, drawn again given how long they have lasted.

use super::super::changes::paced;
use super::super::command::Command;
use super::super::shift::lane as day_lane;
use super::super::world::{World, lane};
use super::TRIES;
use crate::units::{Millis, OrderId, PlantId, Purpose, TruckId, Volume};

/// What [`World::fresh`] numbers are for; drives have their own.
const RACK_AGAIN: u64 = 2;
const PARKED: u32 = 3;

impl World<'_> {
    /// When a pending command comes up in this fork.
    pub(super) fn renewed_time(&mut self, command: Command, at: Millis) -> Millis {
        match command {
            Command::LeaveBay(truck) => self.renewed_loading(truck),
            Command::LeaveRack(truck) => self.renewed_check(truck),
            Command::Positioned(truck) => self.renewed_position(truck),
            Command::Discharged(truck) => self.renewed_discharge(truck),
            Command::LeaveSite(truck) => self.renewed_wash(truck),
            Command::PreTripDone(truck) => self.renewed_pre_trip(truck),
            Command::Release(truck) => self.renewed_release(truck),
            Command::Emptied(truck) => self.renewed_emptying(truck),
            Command::ArriveSite(truck) | Command::ArrivePlace(truck) => {
                self.renewed_arrival(truck, at)
            }
            Command::Fetched(truck) => self.renewed_fetch(truck, at),
            Command::DriverHome(truck) => self.renewed_ride(truck, at),
            Command::Repaired(truck) => self.renewed_roadside(truck),
            Command::TowedHome(truck) => self.renewed_tow(truck),
            Command::AtTruck(truck) => self.renewed_way_to_truck(truck),
            Command::Up(plant, false) => self.renewed_repair(plant, at),
            Command::Arrival(order) => self.renewed_stream(order),
            _ => at,
        }
    }

    fn renewed_loading(&mut self, truck: TruckId) -> Millis {
        let state = &self.day.trucks[truck.at()];
        let (load, begun) = (state.load(), state.begun);
        let lasted = self.day.now - begun;
        let length = if load.dry_up {
            let u = self.fresh(self.plan.trucks[truck.at()].entity, PARKED, 0);
            self.plan.dry_up.beyond(Volume::ZERO, lasted, u)
        } else {
            let plant = &self.plan.plants[load.plant.at()];
            let u = load.luck.uniform(lane::LOADING);
            plant.loading.beyond(load.fresh(), lasted, u)
        };
        begun + length
    }

    fn renewed_check(&mut self, truck: TruckId) -> Millis {
        let state = &self.day.trucks[truck.at()];
        let (since, load) = (state.since, *state.load());
        let lasted = self.day.now - since;
        let rack = &self.plan.plants[load.plant.at()].rack;
        if self.day.drums.is_empty() {
            return since + rack.beyond(load.volume, lasted, load.luck.uniform(lane::RACK));
        }
        // The whole check anew, as it would have gone from its beginning, until one has lasted so long.
        let (luck, now) = (self.day.luck, self.day.now);
        let mut took = Millis::ZERO;
        for nth in 0..TRIES {
            self.day.drums[truck.at()] = self.day.unchecked[truck.at()];
            self.day.luck = luck.fork([RACK_AGAIN, truck.at() as u64, u64::from(nth)]);
            self.day.now = since;
            let u = self.fresh(self.plan.trucks[truck.at()].entity, PARKED, nth);
            took = self.check_drum(truck, rack.at(load.volume, u));
            if took > lasted {
                break;
            }
        }
        (self.day.luck, self.day.now) = (luck, now);
        since + took.max(lasted)
    }

    fn renewed_position(&mut self, truck: TruckId) -> Millis {
        let state = &self.day.trucks[truck.at()];
        let load = state.load();
        let position = &self.plan.spots[load.spot.at()].position;
        let u = load.luck.uniform(lane::POSITION);
        state.begun + position.beyond(load.volume, self.day.now - state.begun, u)
    }

    fn renewed_discharge(&mut self, truck: TruckId) -> Millis {
        self.day.trucks[truck.at()].load_mut().spare = Volume::ZERO;
        self.judge_need(truck);
        let state = &self.day.trucks[truck.at()];
        let load = state.load();
        let pace = self.day.orders[load.order.at()].pace;
        let outlet = load.outlet - self.day.spots[load.spot.at()].first_outlet;
        let rate = &self.plan.spots[load.spot.at()].rates[outlet as usize];
        let lasted = Millis(((self.day.now - state.since).0 as f64 / pace) as i64);
        let u = load.luck.uniform(lane::DISCHARGE);
        state.since + paced(rate.beyond(load.volume - load.spare, lasted, u), pace)
    }

    fn renewed_wash(&mut self, truck: TruckId) -> Millis {
        let state = &self.day.trucks[truck.at()];
        let load = state.load();
        let wash = &self.plan.spots[load.spot.at()].chute_wash;
        let u = load.luck.uniform(lane::CHUTE_WASH);
        state.since + wash.beyond(load.volume, self.day.now - state.since, u)
    }

    fn renewed_pre_trip(&mut self, truck: TruckId) -> Millis {
        let since = self.day.trucks[truck.at()].since;
        let u = self.day_luck(self.driver_of(truck), day_lane::PRE_TRIP);
        let lasted = self.day.now - since;
        since + self.plan.pre_trip.beyond(Volume::ZERO, lasted, u)
    }

    /// Two stages of which only the sum is known: drawn until the sum is longer than what has passed.
    fn renewed_release(&mut self, truck: TruckId) -> Millis {
        let state = &self.day.trucks[truck.at()];
        let entity = self.plan.trucks[truck.at()].entity;
        let lasted = self.day.now - state.since;
        let cleaning = if state.load_set {
            self.plan.company.drum_cleaning
        } else {
            Millis::ZERO
        };
        let driver = self.driver_of(truck);
        let mut washout = self.day_luck(driver, day_lane::WASHOUT);
        let mut post_trip = self.day_luck(driver, day_lane::POST_TRIP);
        let mut took = Millis::ZERO;
        for nth in 0..TRIES {
            took = cleaning
                + self.plan.washout.at(Volume::ZERO, washout)
                + self.plan.post_trip.at(Volume::ZERO, post_trip);
            if took > lasted {
                break;
            }
            washout = self.fresh(entity, PARKED, 2 * nth);
            post_trip = self.fresh(entity, PARKED, 2 * nth + 1);
        }
        state.since + took.max(lasted)
    }

    fn renewed_emptying(&mut self, truck: TruckId) -> Millis {
        let since = self.day.trucks[truck.at()].since;
        let u = self.fresh(self.plan.trucks[truck.at()].entity, PARKED, 0);
        since
            + self
                .plan
                .empty
                .beyond(Volume::ZERO, self.day.now - since, u)
    }

    /// The repair of a drawn outage.
    fn renewed_repair(&mut self, plant: PlantId, at: Millis) -> Millis {
        let plan = &self.plan.plants[plant.at()];
        let begun = self.day.plants[plant.at()].broken_since;
        let (Some((_, length)), Some(begun)) = (&plan.outages, begun) else {
            return at;
        };
        let u = self.fresh(plan.entity, PARKED, 0);
        begun + length.beyond(self.day.now - begun, u)
    }

    fn renewed_stream(&mut self, order: OrderId) -> Millis {
        let plan = &self.plan.orders[order.at()];
        let state = &self.day.orders[order.at()];
        let Some(between) = &plan.arrivals else {
            return self.day.now;
        };
        let luck = self
            .day
            .luck
            .block(Purpose::Arrival, plan.entity, state.arrivals, 0);
        let lasted = self.day.now - state.came;
        state.came + between.beyond(plan.load, lasted, luck.uniform(0))
    }
}
