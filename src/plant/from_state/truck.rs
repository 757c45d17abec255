//! A truck in the middle of the stage that its driver is in.

use super::super::command::Command;
use super::super::event::{Event, Observer};
use super::super::state::{AfterBreak, Cargo, Hold, Phase, PromisedLoad};
use super::super::world::World;
use super::SOON;
use crate::roads::Haul;
use crate::scenario::day_state::{Doing, DriverState, Pause, Promised};
use crate::units::{Millis, OrderId, PlaceId, PlantId, SpotId, TruckId};

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
                if let Some(next) = &state.next {
                    self.take_promise(truck, next, observer);
                } else if !self.day.period_over {
                    self.offer(truck);
                }
                // A break that is due is had now; one that is running goes on.
                self.stand_free(truck, observer);
            }
            Doing::Checking => {
                self.day.trucks[truck.at()].phase = Phase::PreTrip;
                self.schedule(now + SOON, Command::PreTripDone(truck));
            }
            Doing::Queueing(plant) => {
                let view = &mut self.day.truck_views[truck.at()];
                view.place = self.plan.plants[plant.at()].place;
                if let Some(next) = &state.next {
                    self.take_promise(truck, next, observer);
                }
                self.day.trucks[truck.at()].phase = Phase::BayQueue;
                self.day.plants[plant.at()].queue.push_back(truck);
                self.tell(observer, Event::BayJoined { truck, plant });
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
                self.keep_drum(truck);
                let plant = &mut self.day.plants[load.plant.at()];
                let state = &mut self.day.trucks[truck.at()];
                if plant.rack_busy < self.plan.plants[load.plant.at()].rack_places {
                    plant.rack_busy += 1;
                    state.phase = Phase::AtRack;
                    self.schedule(now + SOON, Command::LeaveRack(truck));
                } else {
                    plant.rack_queue.push_back(truck);
                    state.phase = Phase::RackQueue;
                }
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
            Doing::Washing(order) => {
                self.rid_of(truck, order);
                let truck_now = &mut self.day.trucks[truck.at()];
                (truck_now.phase, truck_now.arrived) = (Phase::ChuteWash, state.since);
                self.schedule(now + SOON, Command::LeaveSite(truck));
            }
            Doing::Returning(order) => {
                let site = self.rid_of(truck, order);
                self.come_back(truck, (site, state.since), state.next.as_ref(), observer);
                self.schedule(now + SOON + SOON, Command::ArrivePlace(truck));
            }
            Doing::Repositioning(from, to) => {
                self.drive_empty(truck, (from, to), state.next.as_ref(), observer);
                self.schedule(now + SOON + SOON, Command::ArrivePlace(truck));
            }
            Doing::GoingHome(from) => {
                self.set_on_road(truck, Phase::GoingHome, (from, Haul::Empty));
                self.day.truck_views[truck.at()].place = self.home_place(truck);
                self.schedule(now + SOON, Command::ArrivePlace(truck));
            }
            Doing::WashingOut => {
                self.day.trucks[truck.at()].phase = Phase::WashingOut;
                self.schedule(now + SOON, Command::Release(truck));
            }
            Doing::OnBreak(pause) => {
                let then = match pause {
                    Pause::Free(plant) => {
                        let view = &mut self.day.truck_views[truck.at()];
                        view.place = self.plan.plants[plant.at()].place;
                        AfterBreak::Nothing
                    }
                    Pause::Loaded(load) => {
                        self.carry(truck, &load, observer);
                        AfterBreak::DriveOut
                    }
                    Pause::OnSite(order) => {
                        self.rid_of(truck, order);
                        AfterBreak::DriveBack
                    }
                };
                let truck_now = &mut self.day.trucks[truck.at()];
                (truck_now.phase, truck_now.after_break) = (Phase::OnBreak, then);
                // However long it was meant to be, it lasts until it is whole.
                let whole = self.break_whole_at(state.driver);
                let over = state.until.unwrap_or(whole).max(whole).max(now + SOON);
                self.schedule(over, Command::BreakOver(truck));
            }
            Doing::BrokenDown(standstill) => {
                self.stand_broken(state, &standstill, observer);
            }
            Doing::Resting(_) => {} // is nobody's truck on duty
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

    /// The truck has been unloaded for an order, at whose site it is: where that is.
    pub(super) fn rid_of(&mut self, truck: TruckId, order: OrderId) -> PlaceId {
        let plan = &self.plan.orders[order.at()];
        let spot = SpotId(plan.spots.start);
        self.day.trucks[truck.at()].cargo = Cargo::Load(
            Hold::Rid,
            PromisedLoad {
                order,
                spot,
                volume: plan.load,
                ..PromisedLoad::none(&self.day.luck)
            },
        );
        let site = self.plan.spots[spot.at()].place;
        self.day.truck_views[truck.at()].place = site;
        site
    }

    /// On the way back from a site since then.
    pub(super) fn come_back<O: Observer>(
        &mut self,
        truck: TruckId,
        (site, since): (PlaceId, Millis),
        next: Option<&Promised>,
        observer: &mut O,
    ) {
        let now = self.day.now;
        self.set_on_road(truck, Phase::ToPlant, (site, Haul::Empty));
        let home = self.home_place(truck);
        let roads = self.roads();
        let belief = self.day.policy.belief;
        let way = roads.believed(belief, site, home, Haul::Empty, since);
        let view = &mut self.day.truck_views[truck.at()];
        view.place = home;
        view.free_at = since + way;
        view.idle_since = view.free_at;
        let near_at = view.free_at - self.plan.horizon;
        self.day.trucks[truck.at()].near_at = near_at.max(now + SOON);
        if let Some(next) = next {
            self.take_promise(truck, next, observer);
        }
    }

    /// Empty on the way to a plant: to load there, or to stand there free.
    pub(super) fn drive_empty<O: Observer>(
        &mut self,
        truck: TruckId,
        (from, to): (PlaceId, PlantId),
        next: Option<&Promised>,
        observer: &mut O,
    ) {
        let phase = match next {
            Some(next) => {
                self.take_promise(truck, next, observer);
                Phase::Repositioning
            }
            None => Phase::BroughtBack,
        };
        self.set_on_road(truck, phase, (from, Haul::Empty));
        self.day.truck_views[truck.at()].place = self.plan.plants[to.at()].place;
    }

    pub(super) fn set_on_road(&mut self, truck: TruckId, phase: Phase, drive: (PlaceId, Haul)) {
        self.begin_drive(truck);
        let state = &mut self.day.trucks[truck.at()];
        (state.phase, state.drive) = (phase, drive);
    }
}
