//! Where every truck was and what it did, minute by minute, and everything that happened in words: for a replay.

use super::log::Log;
use super::refusals::{Refusals, RefusedCandidate, ToldRefusals};
use crate::plant::{Event, Observer, Plan};
use crate::scenario::Scenario;
use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId, SpotId, TruckId};

/// What a truck with a driver is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doing {
    /// Standing at a plant without a load: before and between loads, washout.
    Idle,
    /// In the queue for a bay, or on site waiting for a place or for its turn.
    Waiting,
    /// In a bay or at the rack.
    Loading,
    /// Driving with a load.
    Loaded,
    /// Discharging, and washing the chute.
    Discharging,
    /// Driving without a load for a site, or with one that nobody took.
    Empty,
    /// Standing where its driver may no longer legally drive it home from.
    Stranded,
}

impl Doing {
    /// All, in the order of their positions.
    pub const ALL: [Self; 7] = [
        Self::Idle,
        Self::Waiting,
        Self::Loading,
        Self::Loaded,
        Self::Discharging,
        Self::Empty,
        Self::Stranded,
    ];

    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Idle => "idle",
            Self::Waiting => "waiting",
            Self::Loading => "loading",
            Self::Loaded => "driving loaded",
            Self::Discharging => "discharging",
            Self::Empty => "driving empty",
            Self::Stranded => "stranded",
        }
    }
}

/// A span in which a truck does one thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stint {
    /// Which truck.
    pub truck: TruckId,
    /// What it does.
    pub doing: Doing,
    /// From when.
    pub from: Millis,
    /// Until when.
    pub to: Millis,
    /// Where it stands or sets out.
    pub place: PlaceId,
    /// Where it drives; the same place if it stands.
    pub heading: PlaceId,
    /// The load it is about: order and number, from 0.
    pub load: Option<(OrderId, u32)>,
}

/// Something that happened, for a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Happening {
    /// When.
    pub at: Millis,
    /// In words, names included.
    pub what: String,
    /// The truck concerned.
    pub truck: Option<TruckId>,
    /// The driver concerned.
    pub driver: Option<DriverId>,
    /// Where.
    pub place: Option<PlaceId>,
}

/// A driver who could not legally drive home.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stranding {
    /// Who.
    pub driver: DriverId,
    /// With which truck.
    pub truck: TruckId,
    /// Where.
    pub place: PlaceId,
    /// When.
    pub at: Millis,
    /// Whether a helper was sent.
    pub fetched: bool,
    /// When the truck was home. None: not within the replication.
    pub home: Option<Millis>,
}

/// What is known of a truck while it is in use.
#[derive(Clone, Copy, Debug)]
struct Now {
    doing: Doing,
    from: Millis,
    load: Option<(OrderId, u32)>,
    /// The plant that a promise takes it to.
    promised: Option<PlaceId>,
}

/// Keeps it all for one replication.
#[derive(Clone, Debug)]
pub struct Playback<'s> {
    scenario: &'s Scenario,
    plan: &'s Plan,
    log: Log<'s>,
    refusals: Option<Refusals>,
    /// In the order in which they end.
    pub stints: Vec<Stint>,
    /// In the order in which it happened.
    pub happenings: Vec<Happening>,
    /// In the order in which it happened.
    pub stranded: Vec<Stranding>,
    place: Vec<PlaceId>,
    now: Vec<Option<Now>>,
    wheel: Vec<Option<DriverId>>,
    /// By truck: drivers on duty who wait for it.
    waiting: Vec<Vec<DriverId>>,
}

impl<'s> Playback<'s> {
    /// For a run of the scenario, of which this is the plan.
    pub fn new(scenario: &'s Scenario, plan: &'s Plan) -> Self {
        let trucks = plan.trucks.len();
        let homes = plan.trucks.iter();
        Self {
            scenario,
            plan,
            log: Log::new(scenario),
            refusals: None,
            stints: Vec::new(),
            happenings: Vec::new(),
            stranded: Vec::new(),
            place: homes.map(|t| plan.plants[t.home.at()].place).collect(),
            now: vec![None; trucks],
            wheel: vec![None; trucks],
            waiting: vec![Vec::new(); trucks],
        }
    }

    /// For a run of which it is also told who is refused for a load, each candidate once until the reason is another.
    pub fn telling(mut self, refusals: Option<ToldRefusals>) -> Self {
        self.refusals = refusals.map(Refusals::new);
        self
    }

    /// Who was refused, in the order in which it happened; nobody if that was not to be told.
    pub fn refused(&self) -> &[RefusedCandidate] {
        self.refusals
            .as_ref()
            .map_or(&[], |refusals| &refusals.list)
    }

    /// Takes a refusal down, if refusals are told and this one is news.
    fn refuse(&mut self, refused: RefusedCandidate) {
        let Some(refusals) = &mut self.refusals else {
            return;
        };
        if refusals.hear(refused) {
            self.happenings.push(Happening {
                at: refused.at,
                what: refused.words(self.scenario),
                truck: Some(refused.truck),
                driver: refused.driver,
                place: Some(self.place[refused.truck.at()]),
            });
        }
    }

    /// Ends what is still going on when the replication is over: with its last event.
    pub fn finish(&mut self) {
        let end = self.stints.iter().map(|stint| stint.to).max();
        let end = end.max(self.happenings.last().map(|happening| happening.at));
        for truck in (0..self.now.len()).map(TruckId::new) {
            self.end(truck, end.unwrap_or_default(), self.place[truck.at()]);
            self.now[truck.at()] = None;
        }
    }

    fn home(&self, truck: TruckId) -> PlaceId {
        self.plan.plants[self.plan.trucks[truck.at()].home.at()].place
    }

    fn plant(&self, plant: PlantId) -> PlaceId {
        self.plan.plants[plant.at()].place
    }

    fn spot(&self, spot: SpotId) -> PlaceId {
        self.plan.spots[spot.at()].place
    }

    /// Ends what the truck does at `at`, with a drive to `heading` if that is elsewhere.
    fn end(&mut self, truck: TruckId, at: Millis, heading: PlaceId) {
        let Some(now) = self.now[truck.at()] else {
            return;
        };
        if now.from < at {
            self.stints.push(Stint {
                truck,
                doing: now.doing,
                from: now.from,
                to: at,
                place: self.place[truck.at()],
                heading,
                load: now.load,
            });
        }
        self.place[truck.at()] = heading;
    }

    /// From `at` on the truck does something else where it is.
    fn turn(&mut self, truck: TruckId, at: Millis, doing: Doing) {
        self.end(truck, at, self.place[truck.at()]);
        match &mut self.now[truck.at()] {
            Some(now) => (now.doing, now.from) = (doing, at),
            none => {
                *none = Some(Now {
                    doing,
                    from: at,
                    load: None,
                    promised: None,
                });
            }
        }
    }

    /// A drive without a load for a site has ended: told only now.
    fn drove(&mut self, truck: TruckId, at: Millis, took: Millis, for_load: bool) {
        let Some(now) = self.now[truck.at()] else {
            return;
        };
        // Back from a site a truck heads for its home plant; on an errand, to where it is promised. If it turns out that it
        // only drove to park, that is told next.
        let heading = match now.promised {
            Some(plant) if !for_load => plant,
            _ => self.home(truck),
        };
        self.turn(truck, (at - took).max(now.from), Doing::Empty);
        self.end(truck, at, heading);
        if let Some(now) = &mut self.now[truck.at()] {
            (now.doing, now.from) = (Doing::Idle, at);
        }
    }

    /// The drive that has just ended led here.
    fn correct(&mut self, truck: TruckId, at: Millis, place: PlaceId) {
        if self.place[truck.at()] == place {
            return;
        }
        self.place[truck.at()] = place;
        let last = self.stints.iter_mut().rev().find(|s| s.truck == truck);
        if let Some(last) = last.filter(|s| s.to == at && s.doing == Doing::Empty) {
            last.heading = place;
        }
    }

    fn reported(&mut self, at: Millis, driver: DriverId, truck: TruckId) {
        match self.wheel[truck.at()] {
            Some(other) if other != driver => self.waiting[truck.at()].push(driver),
            Some(_) => {}
            None => {
                self.wheel[truck.at()] = Some(driver);
                self.turn(truck, at, Doing::Idle);
            }
        }
    }

    fn released(&mut self, at: Millis, driver: DriverId, truck: TruckId) {
        if self.wheel[truck.at()] != Some(driver) {
            self.waiting[truck.at()].retain(|waiting| *waiting != driver);
            return;
        }
        if self.now[truck.at()].is_some_and(|now| now.doing == Doing::Stranded) {
            return; // rests beside it
        }
        self.end(truck, at, self.place[truck.at()]);
        self.now[truck.at()] = None;
        let next = self.waiting[truck.at()].pop();
        self.wheel[truck.at()] = next;
        if next.is_some() {
            self.turn(truck, at, Doing::Idle);
        }
    }

    fn movement(&mut self, at: Millis, event: &Event) {
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
                    if matches!(now.doing, Doing::Idle) {
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
            | Event::Emptied { truck, .. } => self.turn(truck, at, Doing::Idle),
            Event::BayJoined { truck, plant } => {
                self.place[truck.at()] = self.plant(plant);
                self.turn(truck, at, Doing::Waiting);
            }
            Event::BayEntered { truck, .. } => self.turn(truck, at, Doing::Loading),
            Event::RackLeft { truck, .. } => {
                self.turn(truck, at, Doing::Loaded);
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
                    (now.doing, now.from) = (Doing::Waiting, at);
                    now.load = Some((order, number));
                }
            }
            Event::DischargeBegun { truck, .. } => self.turn(truck, at, Doing::Discharging),
            Event::Rejected { truck, spot, .. } => {
                // On site the truck makes room at once and drives off, full; at the plant it is emptied.
                let doing = match spot {
                    Some(_) => Doing::Empty,
                    None => Doing::Loading,
                };
                self.turn(truck, at, doing);
            }
            Event::SiteLeft { truck, .. } => {
                self.turn(truck, at, Doing::Empty);
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
                let loaded = |now: Now| for_load && now.doing == Doing::Loaded;
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
                self.turn(truck, at, Doing::Stranded);
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

    /// After a stranding the first drive leads home.
    fn came_home(&mut self, truck: TruckId, at: Millis) {
        let last = self.stranded.iter_mut().rev().find(|s| s.truck == truck);
        if let Some(last) = last {
            last.home.get_or_insert(at);
        }
    }

    fn about(&self, event: &Event) -> (Option<TruckId>, Option<DriverId>, Option<PlaceId>) {
        let of_truck = |truck: TruckId| {
            (
                Some(truck),
                self.wheel[truck.at()],
                Some(self.place[truck.at()]),
            )
        };
        let of_order = |order: OrderId| {
            let spots = &self.plan.orders[order.at()].spots;
            let one = spots.len() == 1;
            let place = one.then(|| self.plan.spots[spots.start as usize].place);
            (None, None, place)
        };
        match *event {
            Event::Reported { driver, truck }
            | Event::Released { driver, truck, .. }
            | Event::HelperSent { driver, truck, .. }
            | Event::Stranded { driver, truck, .. } => {
                (Some(truck), Some(driver), Some(self.place[truck.at()]))
            }
            Event::DriverDayLost { driver }
            | Event::RestsOut { driver }
            | Event::NotCalled { driver }
            | Event::NoShow { driver }
            | Event::Duty { driver, .. }
            | Event::LongDayAllowed { driver }
            | Event::LongDay { driver, .. }
            | Event::ReportedLate { driver, .. }
            | Event::StrandedHome { driver, .. } => (None, Some(driver), None),
            Event::OwnDriverSent { driver, truck, .. } => {
                (Some(truck), Some(driver), Some(self.place[truck.at()]))
            }
            Event::Cancelled { order, .. }
            | Event::Drawn { order, .. }
            | Event::BalanceCalled { order, .. }
            | Event::Declined { order, .. }
            | Event::Moved { order, .. }
            | Event::Undelivered { order, .. }
            | Event::LeftOver { order, .. }
            | Event::Asked { order } => of_order(order),
            Event::PlantDown { plant }
            | Event::PlantUp { plant }
            | Event::KeptOpen { plant, .. }
            | Event::CrewStayed { plant, .. } => (None, None, Some(self.plant(plant))),
            _ => event.truck().map_or((None, None, None), of_truck),
        }
    }
}

impl Observer for Playback<'_> {
    fn event(&mut self, at: Millis, event: &Event) {
        if let Event::Refused {
            order,
            number,
            truck,
            plant,
            reason,
        } = *event
        {
            let driver = self.wheel[truck.at()];
            return self.refuse(RefusedCandidate {
                at,
                order,
                number,
                truck,
                driver,
                plant,
                reason,
            });
        }
        // Who is released is looked up before, where everybody is after.
        let before = self.about(event);
        self.movement(at, event);
        self.log.event(at, event);
        let place = match before.0 {
            Some(truck) => Some(self.place[truck.at()]),
            None => before.2,
        };
        for (at, what) in self.log.lines.drain(..) {
            self.happenings.push(Happening {
                at,
                what,
                truck: before.0,
                driver: before.1,
                place,
            });
        }
    }
}
