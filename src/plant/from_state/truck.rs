//! A truck in the middle of the stage that its driver is in.

use super::super::command::Command;
use super::super::event::Observer;
use super::super::state::{Cargo, Phase, PromisedLoad};
use super::super::world::World;
use super::SOON;
use crate::roads::Haul;
use crate::scenario::day_state::{Doing, DriverState};
use crate::units::{PlaceId, SpotId, TruckId};

impl<'p> World<'p> {
    pub(super) fn stand_truck<O: Observer>(&mut self, state: &DriverState, observer: &mut O) {
        let truck = state.truck;
        let now = self.day.now;
        match state.doing {
            Doing::Off => {}
            Doing::Free(plant) => {
                self.day.trucks[truck.at()].phase = Phase::Idle;
                let view = &mut self.day.truck_views[truck.at()];
                view.place = self.plan.plants[plant.at()].place;
                (view.free_at, view.idle_since) = (state.since, state.since);
                if !self.day.period_over {
                    self.offer(truck);
                }
                // A break that is due is had now; one that is running goes on.
                self.stand_free(truck, observer);
            }
            Doing::Loading(load) => {
                self.carry(truck, &load, observer);
                let pull_in = self.plan.plants[load.plant.at()].pull_in;
                let begun = (state.since + pull_in).min(now);
                let plant = &mut self.day.plants[load.plant.at()];
                plant.bays_busy += 1;
                let waits = self.plan.plants[load.plant.at()].shared_batcher && plant.batcher_busy;
                if self.plan.plants[load.plant.at()].shared_batcher {
                    plant.batcher_busy = true;
                }
                if waits {
                    plant.batcher_queue.push_back(truck);
                } else {
                    self.schedule(now + SOON, Command::LeaveBay(truck));
                }
                let state = &mut self.day.trucks[truck.at()];
                (state.phase, state.begun) = (Phase::InBay, begun);
                state.load_mut().batched = begun;
            }
            Doing::AtRack(load) => {
                self.carry(truck, &load, observer);
                self.day.plants[load.plant.at()].rack_busy += 1;
                self.day.trucks[truck.at()].phase = Phase::AtRack;
                self.keep_drum(truck);
                self.schedule(now + SOON, Command::LeaveRack(truck));
            }
            Doing::Out(load) => {
                self.carry(truck, &load, observer);
                let from = self.plan.plants[load.plant.at()].place;
                self.set_on_road(truck, Phase::Out, (from, Haul::Loaded));
                self.plan_site_arrival(truck, now + SOON);
            }
            Doing::OnSite(load) => {
                self.carry(truck, &load, observer);
                self.day.trucks[truck.at()].phase = Phase::SiteQueue;
                let spot = self.day.trucks[truck.at()].load().spot;
                self.day.spots[spot.at()].queue.push_back(truck);
            }
            Doing::Discharging(load) => {
                self.carry(truck, &load, observer);
                let spot = self.day.trucks[truck.at()].load().spot;
                let first = self.day.spots[spot.at()].first_outlet;
                let outlets = self.plan.spots[spot.at()].outlet_places.len() as u32;
                let free = (first..first + outlets)
                    .find(|outlet| !self.day.outlets[*outlet as usize].flowing)
                    .unwrap_or(first);
                let outlet = &mut self.day.outlets[free as usize];
                (outlet.flowing, outlet.occupied) = (true, outlet.occupied + 1);
                let state = &mut self.day.trucks[truck.at()];
                state.phase = Phase::Discharging;
                state.load_mut().outlet = free;
                self.day.orders[load.order.at()].begun = true;
                self.schedule(now + SOON, Command::Discharged(truck));
            }
            Doing::Returning(order) => {
                let spot = SpotId(self.plan.orders[order.at()].spots.start);
                let site = self.plan.spots[spot.at()].place;
                let state_of = &mut self.day.trucks[truck.at()];
                state_of.cargo = Cargo::Rid(PromisedLoad {
                    order,
                    spot,
                    ..PromisedLoad::none(&self.day.luck)
                });
                self.set_on_road(truck, Phase::ToPlant, (site, Haul::Empty));
                let home = self.home_place(truck);
                let roads = self.roads();
                let belief = self.day.policy.belief;
                let way = roads.believed(belief, site, home, Haul::Empty, state.since);
                let view = &mut self.day.truck_views[truck.at()];
                view.place = home;
                view.free_at = state.since + way;
                view.idle_since = view.free_at;
                let near_at = view.free_at - self.plan.horizon;
                self.day.trucks[truck.at()].near_at = near_at.max(now + SOON);
                self.schedule(now + SOON + SOON, Command::ArrivePlace(truck));
            }
            Doing::Stranded(place) => {
                self.day.trucks[truck.at()].phase = Phase::Resting;
                self.day.truck_views[truck.at()].place = place;
                let driver = &mut self.day.drivers[state.driver.at()];
                (driver.away, driver.stranded) = (true, state.since);
                if self.day.policy.retrieval.fetch().is_some() {
                    self.schedule(now + SOON, Command::SetOut(truck));
                } else {
                    self.rest_out(truck, observer);
                }
            }
        }
    }

    fn set_on_road(&mut self, truck: TruckId, phase: Phase, drive: (PlaceId, Haul)) {
        self.begin_drive(truck);
        let state = &mut self.day.trucks[truck.at()];
        (state.phase, state.drive) = (phase, drive);
    }
}
