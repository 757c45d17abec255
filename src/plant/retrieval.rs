//! Bringing stranded drivers and trucks home: who goes, when, who drives what, and whose clocks run.
//!
//! A stranded driver rests out next to the truck and drives it home then, or is fetched as the rule says: by a helper or a free
//! driver of the truck's plant with license and hours, at once, after the rush, or when somebody comes on call; or alone by
//! car, the truck staying until its next driver is driven out. Riding along is duty unless the rule book says otherwise.
//! Driving the car is duty, not driving.

mod foresee;
mod left_truck;
mod way_home;
mod who_goes;

use who_goes::Errand;

use super::command::Command;
use super::event::Observer;
use super::state::{Fetcher, Fetching, Phase, Rescue};
use super::world::World;
use crate::dispatch::Retrieval;
use crate::hours::DutyStatus;
use crate::roads::Haul;
use crate::units::{DriverId, Millis, PlaceId, Purpose, TruckId};

impl<'p> World<'p> {
    /// Whether somebody else than its driver has the wheel of a truck.
    #[inline]
    pub(super) fn helper_drives(&self, truck_id: TruckId) -> bool {
        self.day.trucks[truck_id.at()]
            .fetch
            .is_some_and(|fetch| fetch.at_wheel)
    }

    /// Who is free again after an errand, from `at` on.
    pub(super) fn let_go<O: Observer>(&mut self, fetch: &Fetching, at: Millis, observer: &mut O) {
        for helper in fetch.car.iter().copied() {
            self.day.helpers[helper as usize] = at;
        }
        match fetch.who {
            Fetcher::Helper(helper) => self.day.helpers[helper as usize] = at,
            Fetcher::Own(_, truck) => self.become_free(truck, observer),
        }
    }

    /// When the rush is over, if nobody sets out now because of it.
    pub(super) fn after_rush(&self) -> Option<Millis> {
        let (from, to) = self.day.policy.retrieval.fetch()?.not_between?;
        let midnight = Millis::midnight(self.day.now.day());
        (midnight + from..midnight + to)
            .contains(&self.day.now)
            .then_some(midnight + to)
    }

    /// Somebody fetches a stranded driver, if the rule does so and there is anybody. Whether the driver waits for that.
    pub(super) fn send_helper<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) -> bool {
        if self.day.policy.retrieval.fetch().is_none() {
            return false;
        }
        if self.day.trucks[truck_id.at()].fetch.is_none() {
            if let Some(later) = self.after_rush() {
                self.schedule(later, Command::SetOut(truck_id));
                return true;
            }
            let here = self.day.truck_views[truck_id.at()].place;
            if !self.set_off(truck_id, here, observer) {
                return self.wait_for_helper(truck_id);
            }
        }
        self.meet(truck_id, observer);
        true
    }

    /// Nobody can go now: whether the driver waits for the next who comes on call.
    fn wait_for_helper(&mut self, truck_id: TruckId) -> bool {
        if !self
            .day
            .policy
            .retrieval
            .fetch()
            .is_some_and(|fetch| fetch.waits)
        {
            return false;
        }
        let id = self.driver_of(truck_id);
        let here = self.day.truck_views[truck_id.at()].place;
        let way = self.judged(truck_id, here, self.home_place(truck_id));
        let rested = self.rested_for(id, way);
        let Some(next) = self.next_on_call().filter(|next| *next < rested) else {
            return false;
        };
        self.schedule(next, Command::SetOut(truck_id));
        true
    }

    /// When the next helper comes on call.
    pub(super) fn next_on_call(&self) -> Option<Millis> {
        let starts = self.plan.helpers.iter().flat_map(|helper| &helper.on_call);
        starts
            .map(|span| span.0)
            .filter(|from| *from > self.day.now)
            .min()
    }

    /// The rush is over, or somebody comes on call: whoever is free now sets out.
    pub(super) fn set_out<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let here = self.day.truck_views[truck_id.at()].place;
        if self.set_off(truck_id, here, observer) {
            self.meet(truck_id, observer);
        } else if !self.wait_for_helper(truck_id) {
            self.rest_out(truck_id, observer);
        }
    }

    /// Chooses who goes, and lets them go. Whether anybody does.
    pub(super) fn set_off<O: Observer>(
        &mut self,
        truck_id: TruckId,
        here: PlaceId,
        observer: &mut O,
    ) -> bool {
        let driver_only = match self.scratch.rescue {
            None => {
                matches!(self.day.policy.retrieval, Retrieval::FetchDriver(_))
                    && self.comes_again(truck_id)
            }
            Some(rescue) => matches!(rescue, Rescue::DriverOnly(_)),
        };
        let driver_only = driver_only && !self.day.trucks[truck_id.at()].is_full();
        let home = self.home_place(truck_id);
        let errand = Errand {
            truck: truck_id,
            here,
            home,
            driver_only,
        };
        let Some((who, car)) = self.nearest(&errand) else {
            return false;
        };
        let from = self.place_of(who, home);
        let foreseen = self.day.trucks[truck_id.at()].phase != Phase::Resting;
        let u = if foreseen || driver_only {
            self.car_luck(truck_id)
        } else {
            let entity = self.plan.trucks[truck_id.at()].entity;
            let truck = &mut self.day.trucks[truck_id.at()];
            let luck = self
                .day
                .luck
                .block(Purpose::EmptyTrip, entity, truck.moves, 0);
            truck.moves += 1;
            luck.uniform(0)
        };
        let out = self.roads().trip(from, here, Haul::Empty, self.day.now, u);
        match who {
            Fetcher::Helper(helper) => self.day.helpers[helper as usize] = Millis::NEVER,
            Fetcher::Own(helper, truck) => {
                self.withdraw(truck);
                self.day.trucks[truck.at()].phase = Phase::Helping;
                // A car is no commercial vehicle: duty, not driving.
                self.duty(helper, DutyStatus::OnDuty, observer);
            }
        }
        if let Some(helper) = car {
            self.day.helpers[helper as usize] = Millis::NEVER;
        }
        self.day.trucks[truck_id.at()].fetch = Some(Fetching {
            who,
            car,
            driver_only,
            sent: self.day.now,
            there: self.day.now + out,
            at_wheel: false,
        });
        true
    }

    pub(super) fn car_luck(&mut self, truck_id: TruckId) -> f64 {
        let entity = self.plan.trucks[truck_id.at()].entity;
        let truck = &mut self.day.trucks[truck_id.at()];
        let luck = self.day.luck.block(Purpose::Car, entity, truck.fetches, 0);
        truck.fetches += 1;
        luck.uniform(0)
    }

    pub(super) fn place_of(&self, who: Fetcher, home: PlaceId) -> PlaceId {
        match who {
            Fetcher::Helper(helper) => self.plan.helpers[helper as usize].place,
            Fetcher::Own(..) => home,
        }
    }

    /// Whether somebody is planned to drive the truck on a later day, so that it can stay where it is until then.
    fn comes_again(&self, truck_id: TruckId) -> bool {
        self.plan.drivers.iter().enumerate().any(|(id, driver)| {
            let id = DriverId::new(id);
            let rest = self.rest_of(id);
            let latest = |report: &Millis| *report + self.plan.latest_report > self.day.now + rest;
            let mut reports = driver.reports.iter().zip(0..);
            driver.truck == truck_id
                && reports.any(|(report, nth)| latest(report) && !self.is_off(id, nth))
        })
    }
}
