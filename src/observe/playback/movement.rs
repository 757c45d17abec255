//! What each event does to its truck.

use super::{Doing, Now, Playback, Stranding};
use crate::plant::Event;
use crate::units::{DriverId, Millis, SpotId, TruckId};

impl Playback<'_> {
    pub(super) fn movement(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::Reported { driver, truck } => self.reported(at, driver, truck),
            Event::Released { driver, truck, .. } => self.released(at, driver, truck),
            Event::Promised {
                order,
                number,
                truck,
                plant,
                ..
            } => {
                let plant = self.plant(plant);
                if let Some(now) = &mut self.now[truck.at()] {
                    now.promised = Some(plant);
                    if matches!(now.doing, Doing::Free) {
                        now.load = Some((order, number));
                    }
                }
            }
            Event::PromiseBroken { truck, .. } => {
                if let Some(now) = &mut self.now[truck.at()] {
                    (now.promised, now.load) = (None, None);
                }
            }
            Event::BayQuit { truck, .. }
            | Event::LoadLost { truck, .. }
            | Event::Emptied { truck, .. } => self.turn(truck, at, Doing::Free),
            Event::BayJoined { truck, plant } => {
                self.place[truck.at()] = self.plant(plant);
                self.turn(truck, at, Doing::WaitingToLoad);
            }
            Event::BayEntered { truck, .. } => self.turn(truck, at, Doing::Loading),
            Event::RackLeft { truck, .. } => {
                self.turn(truck, at, Doing::DrivingLoaded);
                if let Some(now) = &mut self.now[truck.at()] {
                    now.promised = None;
                }
            }
            Event::SiteReached {
                order,
                spot,
                number,
                truck,
                ..
            } => {
                self.end(truck, at, self.spot(spot));
                if let Some(now) = &mut self.now[truck.at()] {
                    (now.doing, now.from) = (Doing::WaitingOnSite, at);
                    now.load = Some((order, number));
                }
            }
            Event::DischargeBegun { truck, .. } => self.turn(truck, at, Doing::Unloading),
            Event::Rejected { truck, spot, .. } => {
                // On site the truck makes room at once and drives off, full; at the plant it is emptied.
                let doing = match spot {
                    Some(_) => Doing::DrivingBack,
                    None => Doing::Loading,
                };
                self.turn(truck, at, doing);
            }
            Event::GivenUp { order, truck, .. } => {
                // On the map it stands where its site is.
                let spot = SpotId(self.plan.orders[order.at()].spots.start);
                self.end(truck, at, self.spot(spot));
                if let Some(now) = &mut self.now[truck.at()] {
                    (now.doing, now.from, now.load) = (Doing::BrokenDown, at, None);
                }
            }
            Event::TowedHome { truck, .. } => self.end(truck, at, self.home(truck)),
            Event::SiteLeft { truck, .. } => {
                self.turn(truck, at, Doing::DrivingBack);
                if let Some(now) = &mut self.now[truck.at()] {
                    now.load = None;
                }
            }
            Event::Drove {
                truck,
                took,
                for_load,
                ..
            } => {
                let loaded = |now: Now| for_load && now.doing == Doing::DrivingLoaded;
                if !self.now[truck.at()].is_some_and(loaded) {
                    self.drove(truck, at, took, for_load);
                }
                self.came_home(truck, at);
            }
            Event::Stranded {
                driver,
                truck,
                place,
                ..
            } => {
                self.correct(truck, at, place);
                self.turn(truck, at, Doing::OutOfHours);
                self.stranded.push(Stranding {
                    driver,
                    truck,
                    place,
                    at,
                    fetched: false,
                    home: None,
                });
            }
            Event::HelperSent { truck, .. } => {
                if let Some(last) = self.stranded.iter_mut().rev().find(|s| s.truck == truck) {
                    last.fetched = true;
                }
            }
            _ => {}
        }
    }

    fn reported(&mut self, at: Millis, driver: DriverId, truck: TruckId) {
        match self.wheel[truck.at()] {
            Some(other) if other != driver => self.waiting[truck.at()].push(driver),
            Some(_) => {}
            None => {
                self.wheel[truck.at()] = Some(driver);
                self.turn(truck, at, Doing::Free);
            }
        }
    }

    fn released(&mut self, at: Millis, driver: DriverId, truck: TruckId) {
        if self.wheel[truck.at()] != Some(driver) {
            self.waiting[truck.at()].retain(|waiting| *waiting != driver);
            return;
        }
        if self.now[truck.at()].is_some_and(|now| now.doing == Doing::OutOfHours) {
            return; // rests beside it
        }
        self.end(truck, at, self.place[truck.at()]);
        self.now[truck.at()] = None;
        let next = self.waiting[truck.at()].pop();
        self.wheel[truck.at()] = next;
        if next.is_some() {
            self.turn(truck, at, Doing::Free);
        }
    }

    /// After a stranding the first drive leads home.
    fn came_home(&mut self, truck: TruckId, at: Millis) {
        let last = self.stranded.iter_mut().rev().find(|s| s.truck == truck);
        if let Some(last) = last {
            last.home.get_or_insert(at);
        }
    }
}
