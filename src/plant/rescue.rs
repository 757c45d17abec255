//! Who fetches a stranded driver, chosen from outside: for looks ahead. Licence, hours, call and the second person for the car
//! are looked at as ever.

use super::command::Command;
use super::event::Observer;
use super::state::{Fetcher, Phase, Rescue, TruckNow};
use super::world::World;
use crate::hours::DutyStatus;
use crate::units::{DriverId, TruckId};

impl World<'_> {
    /// The truck beside which a driver is stranded; none if the driver is not, or somebody has the wheel already.
    pub fn stranded_beside(&self, driver: DriverId) -> Option<TruckId> {
        let waits = |truck: &TruckNow| {
            truck.driver == Some(driver)
                && truck.phase == Phase::Resting
                && truck.fetch.is_none_or(|fetch| !fetch.at_wheel)
        };
        self.day.trucks.iter().position(waits).map(TruckId::new)
    }

    /// From now on the stranded driver comes home in this way; whoever was on the way turns round. Whether it can be done.
    pub fn force_rescue<O: Observer>(
        &mut self,
        driver: DriverId,
        rescue: Rescue,
        observer: &mut O,
    ) -> bool {
        let Some(truck) = self.stranded_beside(driver) else {
            return false;
        };
        let on_duty = self.day.drivers[driver.at()].on_duty;
        if rescue == Rescue::RestOut && !on_duty {
            return true; // rests already
        }
        self.forget_rescue(truck);
        if let Some(fetch) = self.day.trucks[truck.at()].fetch.take() {
            self.let_go(&fetch, self.day.now, observer);
        }
        if rescue == Rescue::RestOut {
            self.rest_out(truck, observer);
            return true;
        }
        if rescue == Rescue::Later {
            let later = self.after_rush().or_else(|| self.next_on_call());
            if let Some(later) = later.filter(|_| on_duty) {
                self.schedule(later, Command::SetOut(truck));
                return true;
            }
            self.rest_out(truck, observer);
            return false;
        }
        if !on_duty {
            // The rest is broken off: riding home is a tour of its own.
            let day = self.day.drivers[driver.at()].day;
            self.begin_tour(driver, self.day.now, day, observer);
            self.seat(driver, truck);
            self.duty(driver, DutyStatus::Waiting, observer);
        }
        self.scratch.rescue = Some(rescue);
        let here = self.day.truck_views[truck.at()].place;
        let goes = self.set_off(truck, here, observer);
        self.scratch.rescue = None;
        if goes {
            self.meet(truck, observer);
        } else {
            self.rest_out(truck, observer);
        }
        goes
    }

    /// Takes out of the calendar what was planned for a stranded truck.
    fn forget_rescue(&mut self, truck: TruckId) {
        let pending = self.day.calendar.pending();
        self.day.calendar.clear();
        for (at, class, command) in pending {
            let of_rescue = matches!(
                command,
                Command::Fetched(of) | Command::DriverHome(of) | Command::SetOut(of) | Command::Rested(of)
                    if of == truck
            );
            if !of_rescue {
                self.day.calendar.schedule(at, class, command);
            }
        }
    }

    /// Whether a choice from outside leaves this helper.
    pub(super) fn may_fetch(&self, who: Fetcher) -> bool {
        match (self.scratch.rescue, who) {
            (None, _) => true,
            (
                Some(Rescue::Helper(chosen) | Rescue::DriverOnly(chosen)),
                Fetcher::Helper(helper),
            ) => chosen == helper,
            (Some(Rescue::Driver(chosen)), Fetcher::Own(driver, _)) => chosen == driver,
            _ => false,
        }
    }
}
