//! A loaded truck leaves the plant, if its driver still may; else another driver takes it, or its load is lost.

use super::super::event::{Event, FullDrum, Observer};
use super::super::state::{AfterBreak, Phase};
use super::super::world::World;
use crate::dispatch::{Ask, Refusal, fits};
use crate::hours::DutyStatus;
use crate::units::{Millis, TruckId, Volume};

impl World<'_> {
    /// The loaded truck leaves, if its driver still may: after a break, if that is all that is needed, or with another driver.
    pub(super) fn leave_with_load<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        if self.driver_can_take(truck_id, |world| world.day.now) == Err(Refusal::BreakDue) {
            self.take_break(truck_id, AfterBreak::DriveOut, observer);
        } else {
            self.drive_out_or_lose(truck_id, observer);
        }
    }

    /// The loaded truck leaves, or its load is lost.
    pub(in crate::plant) fn drive_out_or_lose<O: Observer>(
        &mut self,
        truck_id: TruckId,
        observer: &mut O,
    ) {
        if self
            .driver_can_take(truck_id, |world| world.day.now)
            .is_ok()
            || self.relieve(truck_id, observer)
        {
            self.drive_out(truck_id, observer);
        } else {
            self.lose_load(truck_id, observer);
        }
    }

    /// Whether the driver, by own judgement, may begin the loaded leg at `leaving`.
    #[inline(always)]
    pub(super) fn driver_can_take(
        &self,
        truck_id: TruckId,
        leaving: impl FnOnce(&Self) -> Millis,
    ) -> Result<(), Refusal> {
        if self.is_clocked() {
            self.clocks_allow(truck_id, leaving(self))
        } else {
            Ok(())
        }
    }

    fn clocks_allow(&self, truck_id: TruckId, leaving: Millis) -> Result<(), Refusal> {
        let id = self.driver_of(truck_id);
        let Some(rules) = self.book(id) else {
            return Ok(());
        };
        let load = self.day.trucks[truck_id.at()].load();
        let spot = &self.plan.spots[load.spot.at()];
        let ask = Ask {
            load: None,
            site: spot.place,
            target: load.due,
            late: Millis::ZERO,
            volume: load.volume,
            lb_per_yd3: self.plan.orders[load.order.at()].lb_per_yd3,
            makers: &[],
            usual: None,
            stay: spot.stay(self.day.policy),
            parking: spot.parking,
            retarder: self.plan.orders[load.order.at()].retarder,
            age: self.plan.orders[load.order.at()].age,
            overrides: false,
        };
        let view = self.view(&[]);
        let from = self.plan.plants[load.plant.at()].place;
        let ends = (from, self.home_place(truck_id));
        let clocks = (rules, &self.day.clocks[id.at()]);
        fits(self.day.policy, &view, &ask, leaving, ends, clocks)
    }

    /// Whether another driver who stands free at the plant takes over a full drum: the two change trucks.
    fn relieve<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) -> bool {
        if !self.plan.company.relief {
            return false;
        }
        let here = self.day.truck_views[truck_id.at()].place;
        let out_of_hours = self.driver_of(truck_id);
        for slot in 0..self.day.offered.len() {
            let other = self.day.offered[slot];
            let stands = self.day.trucks[other.at()].phase == Phase::Idle
                && self.day.truck_views[other.at()].place == here
                && self.plan.trucks[other.at()].home == self.plan.trucks[truck_id.at()].home;
            let relief = self.driver_of(other);
            let needs = &self.plan.trucks[truck_id.at()].needs;
            let licence = self.plan.drivers[relief.at()].licence.as_ref();
            let own = &self.plan.trucks[other.at()].needs;
            let given = self.plan.drivers[out_of_hours.at()].licence.as_ref();
            let licensed = needs.as_ref().is_none_or(|need| need.allows(licence))
                && own.as_ref().is_none_or(|need| need.allows(given));
            if !stands || !licensed {
                continue;
            }
            self.seat(relief, truck_id);
            if self
                .driver_can_take(truck_id, |world| world.day.now)
                .is_err()
            {
                self.seat(out_of_hours, truck_id);
                continue;
            }
            self.withdraw(other);
            self.seat(out_of_hours, other);
            let how = FullDrum::Relief;
            let truck = truck_id;
            self.tell(observer, Event::OutOfHoursFull { truck, how });
            self.duty(relief, DutyStatus::OnDuty, observer);
            self.go_home(other, observer);
            return true;
        }
        false
    }

    /// The plant took longer than the driver's window: the load is dumped here, and made again for another truck.
    fn lose_load<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let load = *self.day.trucks[truck_id.at()].load();
        debug_assert!(
            load.volume > Volume::ZERO,
            "a loaded truck carries something"
        );
        self.tell(
            observer,
            Event::LoadLost {
                order: load.order,
                truck: truck_id,
                volume: load.volume,
            },
        );
        self.dump_drum(truck_id, observer);
        self.ask_again(truck_id, load.attempt + 1, observer);
        self.become_free(truck_id, observer);
    }
}
