//! From the meeting at the truck until all are home: who has the wheel, and whose clock runs.

use super::super::command::Command;
use super::super::event::{Event, Observer};
use super::super::state::{Fetcher, Phase};
use super::super::world::World;
use crate::hours::{Drivable, DutyStatus};
use crate::roads::Haul;
use crate::units::{DriverId, Purpose, TruckId};

impl<'p> World<'p> {
    /// Driver and helper: from now on it is known when all are home.
    pub(in crate::plant) fn meet<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let Some(fetch) = self.day.trucks[truck_id.at()].fetch else {
            return;
        };
        let driver = self.driver_of(truck_id);
        let truck = truck_id;
        let leaves = fetch.there.max(self.day.now);
        let here = self.day.truck_views[truck_id.at()].place;
        let home = self.home_place(truck_id);
        let (u, haul) = if fetch.driver_only {
            (self.car_luck(truck_id), Haul::Empty)
        } else {
            // The trip that the truck will make: the same draw, so all are out for exactly as long.
            let state = &self.day.trucks[truck_id.at()];
            let entity = self.plan.trucks[truck_id.at()].entity;
            let luck = self
                .day
                .luck
                .block(Purpose::EmptyTrip, entity, state.moves, 0);
            (luck.uniform(0), self.haul_of(truck_id))
        };
        let back = leaves + self.roads().trip(here, home, haul, leaves, u);
        let (takes, since) = (back - fetch.sent, fetch.sent);
        match fetch.who {
            Fetcher::Helper(helper) => {
                self.day.helpers[helper as usize] = back;
                let sent = Event::HelperSent {
                    driver,
                    truck,
                    takes,
                    since,
                };
                self.tell(observer, sent);
            }
            Fetcher::Own(helper, _) => {
                let sent = Event::OwnDriverSent {
                    helper,
                    driver,
                    truck,
                    since,
                };
                self.tell(observer, sent);
            }
        }
        if let Some(helper) = fetch.car {
            self.day.helpers[helper as usize] = back;
            self.tell(observer, Event::CarDriven { truck, takes });
        }
        if fetch.sent < self.day.now {
            let gained = self.day.now.min(fetch.there) - fetch.sent;
            self.tell(observer, Event::Foreseen { truck, gained });
        }
        self.full_drum(truck_id, !fetch.driver_only, observer);
        self.schedule(leaves, Command::Fetched(truck_id));
        if fetch.driver_only {
            self.schedule(back, Command::DriverHome(truck_id));
        }
    }

    /// The helper takes the wheel, of the truck or of the car; the driver rides along.
    pub(in crate::plant) fn fetched<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        self.truck_duty(truck_id, DutyStatus::Riding, observer);
        let Some(fetch) = &mut self.day.trucks[truck_id.at()].fetch else {
            return;
        };
        if fetch.driver_only {
            return;
        }
        let who = fetch.who;
        if !self.still_fits(truck_id, who) {
            // Waiting has used up the helper's hours.
            if let Some(fetch) = self.day.trucks[truck_id.at()].fetch.take() {
                self.let_go(&fetch, self.day.now, observer);
            }
            self.rest_out(truck_id, observer);
            return;
        }
        self.take_wheel(truck_id);
        // It is the helper who drives, and the helper's clock that counts.
        self.day.trucks[truck_id.at()].limit = match who {
            Fetcher::Helper(helper) => match self.helper_clock(helper as usize) {
                Some((rules, mut clocks)) => {
                    clocks.change(rules, self.day.now, DutyStatus::Driving);
                    self.day.helper_clocks[helper as usize] = clocks;
                    clocks.drivable(rules)
                }
                None => Drivable::ALWAYS,
            },
            Fetcher::Own(helper, _) => {
                self.duty(helper, DutyStatus::Driving, observer);
                self.drivable(helper)
            }
        };
        let home = self.home_place(truck_id);
        self.move_empty(truck_id, home, Phase::GoingHome);
    }

    fn take_wheel(&mut self, truck_id: TruckId) {
        if let Some(fetch) = &mut self.day.trucks[truck_id.at()].fetch {
            fetch.at_wheel = true;
        }
    }

    /// Whether the way home fits whoever is to drive it now.
    fn still_fits(&self, truck_id: TruckId, who: Fetcher) -> bool {
        let here = self.day.truck_views[truck_id.at()].place;
        let way = self.judged(truck_id, here, self.home_place(truck_id));
        let leg = [(DutyStatus::Driving, way)];
        match who {
            Fetcher::Helper(helper) => self
                .helper_clock(helper as usize)
                .is_none_or(|(rules, clocks)| clocks.fits(rules, self.day.now, &leg).fits()),
            Fetcher::Own(helper, _) => self.fits(helper, &leg),
        }
    }

    /// A driver comes home with a truck: if after being stranded, that is over, and whoever helped is free again.
    pub(in crate::plant) fn home_again<O: Observer>(
        &mut self,
        id: DriverId,
        truck_id: TruckId,
        observer: &mut O,
    ) {
        if std::mem::take(&mut self.day.drivers[id.at()].away) {
            let after = self.day.now - self.day.drivers[id.at()].stranded;
            self.tell(observer, Event::StrandedHome { driver: id, after });
        }
        let Some(fetch) = self.day.trucks[truck_id.at()].fetch.take() else {
            return;
        };
        if let Fetcher::Helper(helper) = fetch.who
            && fetch.at_wheel
            && let Some((rules, mut clocks)) = self.helper_clock(helper as usize)
        {
            clocks.change(rules, self.day.now, DutyStatus::OnDuty);
            self.day.helper_clocks[helper as usize] = clocks;
        }
        self.let_go(&fetch, self.day.now, observer);
    }

    /// A driver is brought home by car; the truck stays.
    pub(in crate::plant) fn driver_home<O: Observer>(
        &mut self,
        truck_id: TruckId,
        observer: &mut O,
    ) {
        let id = self.driver_of(truck_id);
        self.home_again(id, truck_id, observer);
        self.end_tour(id, truck_id, observer);
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.phase = Phase::Off;
        truck.driver = None;
        if let Some(next) = truck.next_driver.take() {
            self.take_truck(next, truck_id, observer);
        }
    }
}
