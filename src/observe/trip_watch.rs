//! One load and one driver from a moment on: who takes the load, whether it comes in time and is discharged within its age,
//! whether the driver is back within every clock, when both are home.

use crate::dispatch::Refusal;
use crate::hours::{Clock, Drivable};
use crate::plant::{Event, Observer, Plan};
use crate::units::{DriverId, Millis, OrderId, PlantId, TruckId};

/// What has been seen so far.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TripSeen {
    /// The driver was promised to the load, and from which plant.
    pub taken: Option<PlantId>,
    /// Why the driver was not promised to it, if that was tried: the first reason that does not pass by itself, else the first.
    pub refused: Option<Refusal>,
    /// When the driver's truck pulled into the bay.
    pub loading: Option<Millis>,
    /// When the driver's truck came on site with it.
    pub on_site: Option<Millis>,
    /// How much later than the load could have been taken the driver brought it, below zero if earlier; none where it was not
    /// taken from the driver.
    pub late: Option<Millis>,
    /// Whether the driver brought it no later than its order tolerates, and it was taken.
    pub in_time: bool,
    /// How old the load was when its discharge ended; none if it was lost or turned away.
    pub age: Option<Millis>,
    /// When the driver was back at a plant after it.
    pub back: Option<Millis>,
    /// What was left then of the clock that binds; below zero after a violation. None: no clock.
    pub margin: Option<Millis>,
    /// The clock that binds then, or that has bound the last drive of a driver who is stranded.
    pub binds: Option<Clock>,
    /// Whether the driver has driven beyond a limit.
    pub overrun: bool,
    /// Whether the driver was stranded.
    pub stranded: bool,
    /// Whether the driver has driven beyond a limit with the load, back from it, or on the way home if that comes next.
    pub passed: bool,
    /// Whether the driver was stranded on any of these.
    pub stuck: bool,
    /// When the driver was released at home.
    pub home: Option<Millis>,
    /// The same of whoever brought it.
    pub delivered_in_time: bool,
    /// Who was promised to it first.
    pub first_taker: Option<DriverId>,
}

/// Watches them. Kept warm: [`TripWatch::begin`] before each trial.
#[derive(Clone, Debug)]
pub struct TripWatch {
    order: OrderId,
    number: u32,
    driver: DriverId,
    /// The plant at which the driver is asked to load it; none: any.
    plant: Option<PlantId>,
    /// By truck: who is at the wheel.
    wheel: Vec<Option<DriverId>>,
    /// The truck that is promised to the load or carries it.
    carrier: Option<TruckId>,
    /// The driver has left the site of the load, or the load is gone.
    done: bool,
    away: bool,
    /// The driver is back and has been promised to another load.
    goes_on: bool,
    /// The load has been taken from somebody on site.
    brought: bool,
    seen: TripSeen,
}

impl TripWatch {
    /// For forks of worlds of this plan.
    pub fn new(plan: &Plan) -> Self {
        Self {
            order: OrderId(0),
            number: 0,
            driver: DriverId(0),
            plant: None,
            wheel: vec![None; plan.trucks.len()],
            carrier: None,
            done: false,
            away: false,
            goes_on: false,
            brought: false,
            seen: TripSeen::default(),
        }
    }

    /// Forgets the last trial. `wheel` says who is at the wheel of each truck now.
    pub fn begin(
        &mut self,
        (order, number): (OrderId, u32),
        driver: DriverId,
        wheel: impl Iterator<Item = Option<DriverId>>,
    ) {
        (self.order, self.number, self.driver) = (order, number, driver);
        self.wheel.clear();
        self.wheel.extend(wheel);
        (self.carrier, self.done) = (None, false);
        (self.away, self.goes_on, self.brought) = (false, false, false);
        self.plant = None;
        self.seen = TripSeen::default();
    }

    /// Asked is whether the driver takes the load at this plant: one that the desk then gives the same driver elsewhere is another
    /// choice, and not what is watched.
    pub fn only_at(&mut self, plant: PlantId) {
        self.plant = Some(plant);
    }

    /// What has been seen so far.
    pub fn seen(&self) -> &TripSeen {
        &self.seen
    }

    /// Whether the driver is concerned no longer: did not take the load, or is home after it.
    pub fn is_home(&self) -> bool {
        self.seen.taken.is_none() || self.seen.home.is_some()
    }

    /// Whether nothing more can be seen of it: the driver is home after it, or another has brought it.
    pub fn is_settled(&self) -> bool {
        match self.seen.taken {
            Some(_) => self.seen.home.is_some(),
            None => self.brought,
        }
    }

    /// Whether the load and what it leads to concern the driver still: took it, and is neither home nor sent with another.
    pub fn concerns(&self) -> bool {
        self.seen.taken.is_some() && self.seen.home.is_none() && !self.goes_on
    }

    fn refused(&mut self, reason: Refusal) {
        let passes = |reason| matches!(reason, Refusal::BreakDue | Refusal::PlantClosed);
        if self.seen.refused.is_none_or(passes) {
            self.seen.refused = Some(reason);
        }
    }

    fn mine(&self, truck: TruckId) -> bool {
        self.carrier == Some(truck) && self.wheel[truck.at()] == Some(self.driver)
    }

    fn drove(&mut self, at: Millis, for_load: bool, limit: Drivable) {
        if self.seen.taken.is_none() {
            return;
        }
        if self.concerns() && !self.seen.stuck {
            self.seen.passed |= limit.passed_by(at) > Millis::ZERO;
        }
        // A stranded driver's truck is driven home by somebody else, or after a rest.
        if self.seen.back.is_none() && !self.seen.stranded {
            self.seen.overrun |= limit.passed_by(at) > Millis::ZERO;
            self.seen.binds = limit.by;
        }
        if self.done && for_load && self.seen.back.is_none() && !self.seen.stranded {
            self.seen.back = Some(at);
            self.seen.margin = limit.by.map(|_| limit.until - at);
        }
    }
}

impl Observer for TripWatch {
    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::Reported { driver, truck } => self.wheel[truck.at()] = Some(driver),
            Event::Promised { truck, .. }
                if self.seen.back.is_some() && self.wheel[truck.at()] == Some(self.driver) =>
            {
                self.goes_on = true;
            }
            Event::Promised {
                order,
                number,
                truck,
                plant,
                ..
            } if order == self.order && number == self.number => {
                self.carrier = Some(truck);
                let driver = self.wheel[truck.at()];
                self.seen.first_taker = self.seen.first_taker.or(driver);
                let asked = self.plant.is_none_or(|asked| asked == plant);
                if driver == Some(self.driver) && self.seen.taken.is_none() && asked {
                    self.seen.taken = Some(plant);
                    self.done = false;
                }
            }
            Event::Refused {
                order,
                truck,
                reason,
                ..
            } if order == self.order
                && self.seen.first_taker.is_none()
                && self.wheel[truck.at()] == Some(self.driver) =>
            {
                self.refused(reason);
            }
            Event::PromiseBroken {
                order,
                truck,
                reason,
            } if order == self.order && self.carrier == Some(truck) => {
                if self.mine(truck) {
                    self.seen.taken = None;
                    self.refused(reason);
                }
                self.carrier = None;
            }
            Event::BayEntered { truck, .. } if self.mine(truck) && self.seen.loading.is_none() => {
                self.seen.loading = Some(at);
            }
            Event::LoadLost { order, truck, .. }
            | Event::Rejected { order, truck, .. }
            | Event::GivenUp { order, truck, .. }
                if order == self.order && self.carrier == Some(truck) =>
            {
                // A load lost at the plant has no way back; the driver is where the way begins.
                self.done |= self.mine(truck);
                self.carrier = None;
            }
            Event::SiteReached {
                order,
                number,
                truck,
                ..
            } if order == self.order && number == self.number && self.mine(truck) => {
                self.seen.on_site = Some(at);
            }
            Event::Taken {
                order,
                number,
                truck,
                lateness,
                ..
            } if order == self.order && number == self.number => {
                self.seen.delivered_in_time = !lateness.is_late();
                self.brought = true;
                if self.mine(truck) {
                    self.seen.late = Some(lateness.after_ready);
                    self.seen.in_time = !lateness.is_late();
                }
            }
            // Whether it comes after the end of its day is seen, how late is not told any more.
            Event::Undelivered {
                order,
                number,
                carrier: Some(truck),
                late,
                ..
            } if order == self.order && number == Some(self.number) && self.mine(truck) => {
                self.seen.late = Some(late);
            }
            Event::DischargeEnded { truck, age, .. } if self.carrier == Some(truck) => {
                if self.mine(truck) {
                    self.seen.age = Some(age);
                    self.done = true;
                }
                self.carrier = None;
            }
            Event::Drove {
                driver,
                truck,
                for_load,
                limit,
                ..
            } => {
                self.wheel[truck.at()] = Some(driver);
                if driver == self.driver {
                    self.drove(at, for_load, limit);
                }
            }
            Event::Stranded { driver, .. } if driver == self.driver => {
                self.away = true;
                self.seen.stuck |= self.concerns();
                self.seen.stranded |= self.seen.back.is_none();
            }
            Event::StrandedHome { driver, .. } if driver == self.driver => {
                self.away = false;
            }
            Event::Released { driver, .. } if driver == self.driver && !self.away => {
                self.seen.home = Some(at);
            }
            _ => {}
        }
    }
}
