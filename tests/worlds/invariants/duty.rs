//! Drivers, legs and turns, read from a whole run: who drives, by which clock, what could be known when a leg began, when a load
//! was sent, and whose turn it was.

use plantday::dispatch::{AfterDischarge, Policy};
use plantday::hours::{Clock, RuleSet};
use plantday::plant::{Event, Plan};
use plantday::roads::{Haul, RoadState};
use plantday::scenario::{BayQueue, Scenario, Stage};
use plantday::units::{Millis, PlaceId, PlantId, TruckId, Volume};

type Tape = [(Millis, Event)];

/// One run, to be checked.
pub(crate) struct Duty<'a> {
    pub(crate) scenario: &'a Scenario,
    pub(crate) plan: &'a Plan,
    pub(crate) policy: &'a Policy,
    pub(crate) tape: &'a Tape,
}

/// What a truck did before a drive.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Before {
    Nothing,
    /// It left the rack of a plant.
    Rack(PlaceId),
    /// It left a site.
    Site(usize),
    /// It was sent on from one, loaded.
    SentOn,
    /// Its load was given up on the way out.
    GivenUp,
}

/// The truck that an event is about, where it says what the truck does; not where it is only spoken of.
fn truck_of(event: &Event) -> Option<TruckId> {
    match event {
        Event::Reported { .. }
        | Event::Released { .. }
        | Event::Refused { .. }
        | Event::RefusedTogether { .. }
        | Event::Promised { .. }
        | Event::PromiseBroken { .. }
        | Event::Material { .. }
        | Event::BrokeDown { .. }
        | Event::BreakdownHeard { .. }
        | Event::Repaired { .. }
        | Event::TruckOut { .. }
        | Event::OutOfHoursFull { .. }
        | Event::OwnDriverSent { .. }
        | Event::CarDriven { .. }
        | Event::HelperInVain { .. }
        | Event::Foreseen { .. } => None,
        // Washing out ends when it is told.
        doing => doing.truck(),
    }
}

impl Duty<'_> {
    /// All of it.
    pub(crate) fn check(&self) {
        // Books with more clocks than a window are another matter: see `clock_logs`.
        let book = self.book();
        if book.is_none_or(|rules| {
            rules
                .law(Clock::Window)
                .is_some_and(|law| law.rule == "duty_window")
        }) {
            self.drivers_and_legs();
        }
        self.turns();
        self.desk();
    }

    fn reckons(&self, from: PlaceId, to: PlaceId, haul: Haul, depart: Millis) -> Millis {
        let state = RoadState::default();
        let roads = self.plan.roads().at(&state, depart);
        roads.believed(self.policy.driver_belief, from, to, haul, depart)
    }

    fn book(&self) -> Option<&RuleSet> {
        self.scenario.rule_book.of(&self.scenario.rule_sets)
    }

    fn window(&self, reported: Millis) -> Millis {
        let window = self.book().and_then(|rules| rules.window.as_ref());
        window.map_or(Millis::NEVER, |limit| reported + limit.length)
    }

    fn home(&self, truck: TruckId) -> PlaceId {
        self.plan.plants[self.plan.trucks[truck.at()].home.at()].place
    }

    fn lawful(&self, place: PlaceId) -> bool {
        match place.at().checked_sub(self.scenario.plants.len()) {
            None => true,
            Some(site) => self.scenario.sites[site].parking,
        }
    }

    /// What becomes of a truck after an event: the next event about it.
    fn next(&self, at: usize, truck: TruckId) -> Option<&(Millis, Event)> {
        let later = &self.tape[at + 1..];
        later
            .iter()
            .find(|(_, event)| truck_of(event) == Some(truck))
    }

    fn drivers_and_legs(&self) {
        let mut reported = vec![None; self.scenario.drivers.len()];
        let mut away = vec![false; self.scenario.drivers.len()];
        let mut before = vec![Before::Nothing; self.scenario.trucks.len()];
        let mut since = vec![Millis::ZERO; self.scenario.trucks.len()];
        let mut fetched = vec![false; self.scenario.trucks.len()];
        for (index, (at, event)) in self.tape.iter().enumerate() {
            match *event {
                Event::Reported { driver, truck } => {
                    assert_eq!(self.scenario.drivers[driver.at()].truck, truck);
                    reported[driver.at()] = Some(*at);
                }
                Event::Released { driver, .. } => reported[driver.at()] = None,
                Event::RackLeft { truck, plant, .. } => {
                    before[truck.at()] = Before::Rack(self.plan.plants[plant.at()].place);
                }
                Event::SiteLeft { truck, spot, .. } => {
                    before[truck.at()] = Before::Site(spot.at());
                }
                Event::Rejected { truck, spot, .. } => {
                    before[truck.at()] =
                        spot.map_or(Before::Nothing, |spot| Before::Site(spot.at()));
                }
                Event::LoadLost { truck, .. } | Event::DryUp { truck, .. } => {
                    before[truck.at()] = Before::Nothing;
                }
                Event::GivenUp { truck, .. } => before[truck.at()] = Before::GivenUp,
                Event::TowedHome { truck, .. } => before[truck.at()] = Before::Nothing,
                Event::Redirected { truck, .. } => before[truck.at()] = Before::SentOn,
                Event::HelperSent { truck, .. } => fetched[truck.at()] = true,
                Event::Stranded {
                    driver,
                    truck,
                    place,
                    ..
                } => {
                    assert_ne!(place, self.home(truck), "{driver:?} is stranded at home");
                    assert!(
                        !std::mem::replace(&mut away[driver.at()], true),
                        "{driver:?} is stranded twice before being home"
                    );
                    // No drive comes first on a site where one may stand, or from which the way to where one may is barred.
                    let last = std::mem::replace(&mut before[truck.at()], Before::Nothing);
                    // Who broke down stands where that was.
                    let mut barred = last == Before::GivenUp;
                    if let Before::Site(spot) = last {
                        let on_duty =
                            reported[driver.at()].expect("only who is on duty is stranded");
                        let window = self.window(on_duty);
                        assert_eq!(place, self.plan.spots[spot].place);
                        self.way_back(truck, spot, *at, window, true);
                        barred = !self.parks(spot, *at, window);
                    }
                    assert!(
                        barred || self.lawful(place),
                        "{driver:?} is stranded where none may stand"
                    );
                }
                Event::WashedOut { truck, .. } => {
                    // Whoever brought it home drives it: the driver released next.
                    if let Some((_, Event::Released { driver, .. })) = self.tape.get(index + 1) {
                        away[driver.at()] = false;
                    }
                    fetched[truck.at()] = false;
                }
                Event::Drove {
                    driver,
                    truck,
                    took,
                    for_load,
                    limit,
                    ..
                } => {
                    let (began, on_duty) = (*at - took, reported[driver.at()]);
                    let on_duty: Millis = on_duty.expect("only who is on duty drives");
                    assert!(began >= on_duty, "{driver:?} drove before the report");
                    assert!(
                        began >= since[truck.at()],
                        "{truck:?} drove while it did something else"
                    );
                    let window = if fetched[truck.at()] {
                        Millis::NEVER // the helper's hours are another matter
                    } else {
                        self.window(on_duty)
                    };
                    assert_eq!(limit.until, window, "{driver:?} drives by another clock");
                    let then = self.next(index, truck).map(|(at, event)| (*at, *event));
                    // Who headed for another plant and came too late for the way home is stranded there, after the load's trip.
                    let elsewhere =
                        self.policy.after_discharge != AfterDischarge::HomePlant && for_load;
                    let stranded = !elsewhere
                        && matches!(then, Some((then, Event::Stranded { .. })) if then == *at);
                    let last = std::mem::replace(&mut before[truck.at()], Before::Nothing);
                    let given_up = matches!(then, Some((_, Event::GivenUp { .. })));
                    match last {
                        Before::Rack(_) | Before::SentOn if given_up => {}
                        Before::Rack(_) if matches!(then, Some((_, Event::Redirected { .. }))) => {}
                        Before::SentOn => {
                            assert!(matches!(then, Some((_, Event::SiteReached { .. }))));
                        }
                        Before::GivenUp => {}
                        Before::Rack(from) => {
                            let Some((_, Event::SiteReached { spot, .. })) = then else {
                                panic!("{truck:?} drives out and comes to no site: {then:?}");
                            };
                            self.loaded_leg(from, spot.at(), began, window);
                        }
                        Before::Site(spot) => {
                            self.way_back(truck, spot, began, window, stranded);
                            assert!(
                                !stranded || self.parks(spot, began, window),
                                "{truck:?} drives on past a limit that its driver knows"
                            );
                        }
                        Before::Nothing => {}
                    }
                    assert_eq!(
                        for_load,
                        last != Before::Nothing && !stranded,
                        "which drives serve a load: {truck:?} at {at}"
                    );
                }
                _ => {}
            }
            if let Some(truck) = truck_of(event) {
                since[truck.at()] = *at;
            }
        }
    }

    /// Nobody sets out with a load knowing that it cannot end within the window.
    fn loaded_leg(&self, from: PlaceId, spot: usize, began: Millis, window: Millis) {
        let to = &self.plan.spots[spot];
        let mut done = began + self.reckons(from, to.place, Haul::Loaded, began);
        if to.parking != to.place {
            done += self.reckons(to.place, to.parking, Haul::Empty, done);
        }
        assert!(
            done <= window,
            "sets out at {began}, reckons with {done} of {window}"
        );
    }

    /// Home if that can be expected in time; else to the nearest lawful place.
    fn way_back(&self, truck: TruckId, spot: usize, began: Millis, window: Millis, stops: bool) {
        let (spot, home) = (&self.plan.spots[spot], self.home(truck));
        // A truck full of concrete is slower on some roads only, none of them here.
        let fits = began + self.reckons(spot.place, home, Haul::Empty, began) <= window;
        assert_eq!(stops, !fits, "{truck:?} at {began}");
    }

    /// Whether the nearest lawful place can be expected in time.
    fn parks(&self, spot: usize, began: Millis, window: Millis) -> bool {
        let spot = &self.plan.spots[spot];
        began + self.reckons(spot.place, spot.parking, Haul::Empty, began) <= window
    }

    /// Bays where nobody ranks, and racks, serve in the order of coming; only a load that is dried up goes before.
    fn turns(&self) {
        let mut bays: Vec<Vec<TruckId>> = vec![Vec::new(); self.plan.plants.len()];
        let mut racks = vec![Vec::new(); self.plan.plants.len()];
        let mut drying = vec![false; self.scenario.trucks.len()];
        for (_, event) in self.tape {
            match *event {
                Event::DryUp { truck, .. } => drying[truck.at()] = true,
                Event::BayJoined { truck, plant } if drying[truck.at()] => {
                    let queue = &mut bays[plant.at()];
                    let ahead = queue.iter().take_while(|t| drying[t.at()]).count();
                    queue.insert(ahead, truck);
                }
                Event::BayJoined { truck, plant } => bays[plant.at()].push(truck),
                Event::BayQuit { truck, plant } => bays[plant.at()].retain(|t| *t != truck),
                Event::BayEntered { truck, plant, .. } => {
                    let queue = &mut bays[plant.at()];
                    if self.scenario.plants[plant.at()].bay_queue == BayQueue::FirstCome {
                        assert_eq!(queue[0], truck, "first come, first served at the bay");
                    }
                    if let Some(other) = queue.iter().find(|t| drying[t.at()]) {
                        assert_eq!(
                            *other, truck,
                            "{other:?} is dried up before all others, in turn"
                        );
                    }
                    queue.retain(|t| *t != truck);
                }
                Event::BayLeft { truck, plant, .. } => {
                    drying[truck.at()] = false;
                    racks[plant.at()].push(truck);
                }
                Event::RackEntered { truck, plant, .. } => {
                    assert_eq!(racks[plant.at()].remove(0), truck, "in turn at the rack");
                }
                _ => {}
            }
        }
    }

    /// Only what asks is promised, nothing joins a bay queue before the plant's send time but what the plant loads as it closes before
    /// that, and what is left over has been counted as undelivered.
    fn desk(&self) {
        let mut asked = vec![false; self.plan.orders.len()];
        let mut sends = vec![Millis::ZERO; self.scenario.trucks.len()];
        let mut left = vec![Volume::ZERO; self.plan.orders.len()];
        let mut undelivered = vec![Volume::ZERO; self.plan.orders.len()];
        for (at, event) in self.tape {
            match *event {
                Event::Asked { order } => asked[order.at()] = true,
                Event::Promised {
                    order,
                    truck,
                    plant,
                    due,
                    ..
                } => {
                    let asks = std::mem::take(&mut asked[order.at()]);
                    assert!(asks, "a load of {order:?} is promised that did not ask");
                    sends[truck.at()] = if self.plan.orders[order.at()].endless {
                        Millis::ZERO
                    } else {
                        due - self.longest_lead(order.at(), plant.at(), due)
                    };
                }
                Event::BayJoined { truck, plant } => {
                    // One that is dried up, or has its batch made good, comes to the bay again.
                    let send = std::mem::replace(&mut sends[truck.at()], Millis::ZERO);
                    assert!(
                        *at >= send || self.closes_before(plant, *at, send),
                        "{truck:?} loads before its send time"
                    );
                }
                Event::Undelivered { order, volume, .. } => undelivered[order.at()] += volume,
                Event::LeftOver { order, volume } => left[order.at()] += volume,
                _ => {}
            }
        }
        for (left, undelivered) in left.iter().zip(&undelivered) {
            assert!(
                undelivered >= left,
                "{left:?} left over, {undelivered:?} undelivered"
            );
        }
    }

    /// Whether a plant that is joined now closes as loading is believed to begin, and before the load would be sent.
    fn closes_before(&self, plant: PlantId, now: Millis, send: Millis) -> bool {
        let mut open = self.plan.plants[plant.at()].open.iter();
        let bay_wait = self.policy.bay_wait;
        let closing = |(_, close): &(Millis, Millis)| {
            (now..=now + bay_wait).contains(close) && send + bay_wait > *close
        };
        // One that is kept open closes at other times too.
        open.any(closing) || self.policy.plant_hours.longest() > Millis::ZERO
    }

    /// How long before it is due the largest load of an order is sent from a plant: believed trip, means of loading and rack,
    /// the rule's margins.
    fn longest_lead(&self, order: usize, plant: usize, due: Millis) -> Millis {
        let spot = &self.plan.spots[self.plan.orders[order].spots.start as usize];
        let (from, to) = (self.plan.plants[plant].place, spot.place);
        let free = self.plan.roads().free_flow(from, to, Haul::Loaded);
        let state = RoadState::default();
        let roads = self.plan.roads().at(&state, due);
        let trip = roads.believed(self.policy.belief, from, to, Haul::Loaded, due - free);
        let plant = &self.scenario.plants[plant];
        let loading = match &plant.loading {
            Stage::Minutes(spread) => spread.mean(),
            Stage::PerYard {
                fixed_min,
                min_per_yd3,
                luck,
            } => (fixed_min + min_per_yd3 * self.plan.orders[order].load.yd3()) * luck.mean(),
        };
        let yard = Millis::from_minutes(loading + plant.pull_in_min + plant.rack.mean());
        // Two roundings to whole milliseconds.
        trip + yard + self.policy.bay_wait + self.policy.early + Millis(2)
    }
}
