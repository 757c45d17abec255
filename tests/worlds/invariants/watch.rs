//! An observer that refuses what cannot be.

use plantday::concrete::{ReturnedFate, WATER_LB_PER_GAL};
use plantday::plant::{BrokenDrum, Event, MaterialStep, Observer, Plan};
use plantday::scenario::Scenario;
use plantday::units::{Millis, OrderId, PlantId, Volume};

/// Where a truck is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    Free,
    BayQueue,
    Bay,
    RackQueue,
    Rack,
    Out,
    SiteQueue,
    AtOutlet,
    Discharging,
    Washing,
}

/// A load that asks: of which order, its number, at which plant.
type Asked = (OrderId, u32, PlantId);

#[derive(Clone, Copy, Default)]
struct Balance {
    promised: Volume,
    again: Volume,
    placed: Volume,
    left: Volume,
    /// Called in beyond the volume ordered.
    more: Volume,
    /// Below the largest that a drawn order can be.
    less: Volume,
    /// The site has said that it takes no loads.
    waits: bool,
}

/// What is in a drum, lb by component, where it is computed.
#[derive(Clone, Copy, Debug, Default)]
struct InDrum {
    lb: [f64; 6],
    /// Left of the load before, until the next is batched on top of it.
    under: [f64; 6],
    dry_ups: u32,
}

impl InDrum {
    fn step(&mut self, step: MaterialStep) {
        let moved = step
            .components()
            .map_or([0.0; 6], |components| components.0.map(f64::from));
        match step {
            MaterialStep::Under(_) => {
                // What is reused is what was left, component by component.
                for (left, under) in self.lb.iter_mut().zip(moved) {
                    assert!((*left - under).abs() < 0.05, "{step:?} of {left}");
                    *left = 0.0;
                }
                self.under = moved;
            }
            MaterialStep::Batched(_) => {
                self.is_empty();
                let under = std::mem::take(&mut self.under);
                *self = Self {
                    lb: std::array::from_fn(|at| moved[at] + under[at]),
                    ..Self::default()
                };
            }
            MaterialStep::Watered { gal } | MaterialStep::Retempered { gal } => {
                assert!(gal > 0.0);
                self.lb[2] += f64::from(gal) * WATER_LB_PER_GAL;
            }
            MaterialStep::DriedUp { cement_lb, fine_lb } => {
                assert!(cement_lb >= 0.0 && fine_lb >= 0.0 && cement_lb + fine_lb > 0.0);
                self.dry_ups += 1;
                assert!(self.dry_ups <= 2, "dried up twice at most");
                self.lb[0] += f64::from(cement_lb);
                self.lb[3] += f64::from(fine_lb);
            }
            MaterialStep::HrwrAdded { lb } => self.lb[5] += f64::from(lb),
            MaterialStep::Dumped(_) | MaterialStep::Placed(_) => {
                for (left, gone) in self.lb.iter_mut().zip(moved) {
                    assert!(gone >= 0.0);
                    *left -= gone;
                    assert!(*left >= -0.05, "more is gone than came in: {step:?}");
                }
            }
            MaterialStep::BelowStrength { psi, lost_psi } => assert!(psi > 0.0 && lost_psi > 0.0),
            MaterialStep::Waited { minutes } => assert!(minutes > 0.0),
            MaterialStep::PartDumped { yd3 } => assert!(yd3 > 0.0),
            MaterialStep::Read { slump_in, .. } | MaterialStep::Tested { slump_in, .. } => {
                assert!((0.0..=11.0).contains(&slump_in));
            }
            MaterialStep::Heavy { .. }
            | MaterialStep::FoundWet { .. }
            | MaterialStep::WetOnSite { .. } => {}
        }
    }

    /// All that came in has gone, by component; singles hold a drum's pounds to about 0.01.
    #[track_caller]
    fn is_empty(&self) {
        assert!(self.lb.iter().all(|lb| lb.abs() < 0.05), "{self:?}");
    }
}

pub(crate) struct Watch<'a> {
    scenario: &'a Scenario,
    plan: &'a Plan,
    now: Millis,
    trucks: Vec<(Stage, bool, Volume)>,
    /// By truck: when the drive under way ends, as far as that has been told.
    arrives: Vec<Option<Millis>>,
    /// By truck: since when it stands broken down; whether its last drive ended before it was to; until when it is out.
    stands: Vec<Option<Millis>>,
    cut: Vec<bool>,
    out_until: Vec<Millis>,
    /// Trucks whose load is being dried up.
    drying: Vec<bool>,
    masses: Vec<InDrum>,
    /// Trucks whose load has been sent on and not promised again yet.
    sent_on: Vec<bool>,
    /// On duty since; released at; stranded in this tour's day.
    drivers: Vec<(Option<Millis>, Option<Millis>, u32)>,
    down: Vec<u32>,
    /// By plant: until when it is kept open.
    kept: Vec<Millis>,
    bays: Vec<u32>,
    racks: Vec<u32>,
    /// Trucks at the outlets of a spot, and how many of them discharge.
    places: Vec<(u32, u32)>,
    queues: Vec<Vec<usize>>,
    /// By truck: order, number and plant of the load that it is promised to.
    promises: Vec<Option<(OrderId, u32, PlantId)>>,
    /// By truck: the promise that was broken last, and when.
    broken: Vec<Option<(Millis, Asked)>>,
    orders: Vec<Balance>,
    batched: Volume,
    placed: Volume,
    dumped: Volume,
    returned: Volume,
    reused: Volume,
    /// By truck: what has come back in its drum, and what of it goes under the present load.
    came_back: Vec<(Volume, Volume)>,
    reports: u32,
    stranded: u32,
}

impl<'a> Watch<'a> {
    pub(crate) fn new(scenario: &'a Scenario, plan: &'a Plan) -> Self {
        Self {
            scenario,
            plan,
            now: Millis::ZERO,
            trucks: vec![(Stage::Free, false, Volume::ZERO); scenario.trucks.len()],
            arrives: vec![None; scenario.trucks.len()],
            stands: vec![None; scenario.trucks.len()],
            cut: vec![false; scenario.trucks.len()],
            out_until: vec![Millis::ZERO; scenario.trucks.len()],
            drying: vec![false; scenario.trucks.len()],
            masses: vec![InDrum::default(); scenario.trucks.len()],
            sent_on: vec![false; scenario.trucks.len()],
            drivers: vec![(None, None, 0); scenario.drivers.len()],
            down: vec![0; plan.plants.len()],
            kept: vec![Millis::ZERO; plan.plants.len()],
            bays: vec![0; plan.plants.len()],
            racks: vec![0; plan.plants.len()],
            places: vec![(0, 0); plan.spots.len()],
            queues: vec![Vec::new(); plan.spots.len()],
            promises: vec![None; scenario.trucks.len()],
            broken: vec![None; scenario.trucks.len()],
            orders: vec![Balance::default(); plan.orders.len()],
            batched: Volume::ZERO,
            placed: Volume::ZERO,
            dumped: Volume::ZERO,
            returned: Volume::ZERO,
            reused: Volume::ZERO,
            came_back: vec![(Volume::ZERO, Volume::ZERO); scenario.trucks.len()],
            reports: 0,
            stranded: 0,
        }
    }

    fn step(&mut self, truck: usize, from: Stage, to: Stage) {
        assert_eq!(self.trucks[truck].0, from, "truck {truck} at {}", self.now);
        self.trucks[truck].0 = to;
    }

    /// When all is over: everybody is home, nothing is in a drum, what was ordered is placed or left over.
    pub(crate) fn end(&self) {
        for (truck, (stage, promised, _)) in self.trucks.iter().enumerate() {
            assert_eq!((*stage, *promised), (Stage::Free, false), "truck {truck}");
            self.masses[truck].is_empty();
            assert_eq!(self.came_back[truck], (Volume::ZERO, Volume::ZERO));
        }
        for (driver, (on_duty, ..)) in self.drivers.iter().enumerate() {
            assert_eq!(*on_duty, None, "driver {driver} is still on duty");
        }
        assert_eq!(
            self.batched + self.reused,
            self.placed + self.dumped + self.returned,
            "batched + reused = placed + dumped + returned"
        );
        for (order, balance) in self.scenario.orders.iter().zip(&self.orders) {
            assert_eq!(
                order.volume + balance.more - balance.less,
                balance.placed + balance.left,
                "{}: ordered = placed + left over",
                order.name
            );
        }
        assert!(
            self.stranded <= self.reports,
            "stranded at most once a tour"
        );
    }
}

impl Observer for Watch<'_> {
    fn event(&mut self, at: Millis, event: &Event) {
        assert!(at >= self.now, "time goes back at {at}: {event:?}");
        self.now = at;
        match *event {
            Event::Reported { driver, .. } => {
                let (on_duty, released, _) = self.drivers[driver.at()];
                assert_eq!(on_duty, None, "{driver:?} reports twice");
                let book = self.scenario.drivers[driver.at()].rule_book;
                if let (Some(rules), Some(released)) = (book.of(&self.scenario.rule_sets), released)
                {
                    let rest = rules.reset_rest;
                    assert!(
                        at >= released + rest,
                        "{driver:?} reports after {} of rest",
                        (at - released).hours()
                    );
                }
                self.drivers[driver.at()].0 = Some(at);
                self.reports += 1;
            }
            Event::Released { driver, tour, .. } => {
                let since = self.drivers[driver.at()]
                    .0
                    .take()
                    .expect("a driver on duty is released");
                assert_eq!(tour, at - since);
                self.drivers[driver.at()].1 = Some(at);
            }
            Event::Duty { .. }
            | Event::LongDayAllowed { .. }
            | Event::LongDay { .. }
            | Event::HelperInVain { .. }
            | Event::CarDriven { .. }
            | Event::OwnDriverSent { .. }
            | Event::Foreseen { .. }
            | Event::OutOfHoursFull { .. }
            | Event::DriverDayLost { .. }
            | Event::RestsOut { .. }
            | Event::NotCalled { .. }
            | Event::CalledOff { .. }
            | Event::DayOff { .. }
            | Event::NoShow { .. }
            | Event::BreakdownHeard { .. }
            | Event::Asked { .. }
            | Event::Refused { .. }
            | Event::RefusedTogether { .. } => {}
            Event::PlantDown { plant } => self.down[plant.at()] += 1,
            Event::PlantUp { plant } => self.down[plant.at()] = 0,
            Event::ReportedLate { late, .. } => assert!(late > Millis::ZERO),
            Event::StrandedHome { after, .. } => assert!(after >= Millis::ZERO),
            Event::HelperSent { takes, .. } => assert!(takes >= Millis::ZERO),
            Event::Moved { by, .. } | Event::SitePhones { by, .. } => assert!(by > Millis::ZERO),
            Event::Drawn {
                order,
                volume,
                below_largest,
                later,
            } => {
                assert!(volume > Volume::ZERO && later >= Millis::ZERO);
                self.orders[order.at()].less = below_largest;
            }
            Event::BalanceCalled { order, volume } => {
                assert!(volume > Volume::ZERO);
                self.orders[order.at()].more += volume;
            }
            Event::Cancelled { order, volume, .. } | Event::Declined { order, volume } => {
                self.orders[order.at()].left += volume
            }
            Event::Promised {
                order,
                number,
                truck,
                volume,
                lent,
                plant,
                ..
            } => {
                let truck_plan = &self.plan.trucks[truck.at()];
                assert_eq!(lent, truck_plan.home != plant);
                assert!(
                    volume > Volume::ZERO && volume <= self.scenario.trucks[truck.at()].capacity
                );
                assert!(volume <= self.plan.orders[order.at()].load);
                let sent_on = std::mem::take(&mut self.sent_on[truck.at()]);
                let stage = if sent_on { Stage::Out } else { Stage::Free };
                assert_eq!(self.trucks[truck.at()].0, stage);
                assert!(!self.trucks[truck.at()].1, "promised twice");
                assert_ne!(
                    self.broken[truck.at()],
                    Some((at, (order, number, plant))),
                    "{truck:?} is promised again what it could not take at this instant"
                );
                self.promises[truck.at()] = Some((order, number, plant));
                assert!(
                    at < self.plan.sent_until,
                    "nothing is sent after the last order's day"
                );
                assert!(
                    at >= self.out_until[truck.at()],
                    "{truck:?} is out of service"
                );
                self.trucks[truck.at()].1 = true;
                self.trucks[truck.at()].2 = volume;
                self.orders[order.at()].promised += volume;
            }
            Event::PromiseBroken { order, truck, .. } => {
                assert_eq!(self.trucks[truck.at()].0, Stage::Free);
                self.trucks[truck.at()].1 = false;
                self.broken[truck.at()] = self.promises[truck.at()].map(|load| (at, load));
                self.orders[order.at()].again += self.trucks[truck.at()].2;
            }
            Event::BayJoined { truck, plant } => {
                let open = self.plan.plants[plant.at()]
                    .open
                    .iter()
                    .any(|(open, close)| (*open..=*close).contains(&at));
                assert!(
                    open || at <= self.kept[plant.at()] || self.drying[truck.at()],
                    "a truck joins the queue of a closed plant at {at}"
                );
                self.step(truck.at(), Stage::Free, Stage::BayQueue);
            }
            Event::BayQuit { truck, .. } => self.step(truck.at(), Stage::BayQueue, Stage::Free),
            Event::BayEntered {
                truck,
                plant,
                waited,
            } => {
                assert!(waited >= Millis::ZERO);
                assert_eq!(
                    self.down[plant.at()],
                    0,
                    "a plant that stands still loads nobody"
                );
                self.step(truck.at(), Stage::BayQueue, Stage::Bay);
                self.bays[plant.at()] += 1;
                assert!(self.bays[plant.at()] <= self.plan.plants[plant.at()].bays);
            }
            Event::BayLeft {
                truck,
                plant,
                volume,
                took,
                ..
            } => {
                assert!(took >= Millis::ZERO);
                self.step(truck.at(), Stage::Bay, Stage::RackQueue);
                self.bays[plant.at()] -= 1;
                if std::mem::take(&mut self.drying[truck.at()]) {
                    assert_eq!(volume, Volume::ZERO, "nothing new for the order");
                } else {
                    let under = std::mem::take(&mut self.came_back[truck.at()].1);
                    assert_eq!(volume + under, self.trucks[truck.at()].2);
                }
                self.batched += volume;
            }
            Event::RackEntered { truck, plant, .. } => {
                self.step(truck.at(), Stage::RackQueue, Stage::Rack);
                self.racks[plant.at()] += 1;
                assert!(self.racks[plant.at()] <= self.plan.plants[plant.at()].rack_places);
            }
            Event::RackLeft { truck, plant, .. } => {
                self.step(truck.at(), Stage::Rack, Stage::Out);
                self.racks[plant.at()] -= 1;
            }
            Event::LoadLost {
                order,
                truck,
                volume,
            } => {
                self.step(truck.at(), Stage::Out, Stage::Free);
                self.trucks[truck.at()].1 = false;
                self.dumped += volume;
                self.orders[order.at()].again += volume;
            }
            Event::Redirected {
                order,
                truck,
                volume,
            } => {
                assert_eq!(self.trucks[truck.at()].0, Stage::Out);
                self.trucks[truck.at()].1 = false;
                self.sent_on[truck.at()] = true;
                self.orders[order.at()].again += volume;
            }
            Event::DryUp { truck, .. } => {
                self.step(truck.at(), Stage::Out, Stage::Free);
                assert!(!self.drying[truck.at()], "dried up once");
                self.drying[truck.at()] = true;
            }
            Event::Rejected {
                order,
                truck,
                volume,
                spot,
                ..
            } => {
                match spot {
                    Some(spot) => {
                        self.step(truck.at(), Stage::AtOutlet, Stage::Free);
                        self.places[spot.at()].0 -= 1;
                    }
                    None => self.step(truck.at(), Stage::Out, Stage::Free),
                }
                assert_eq!(volume, self.trucks[truck.at()].2);
                self.trucks[truck.at()].1 = false;
                self.dumped += volume;
                self.orders[order.at()].again += volume;
            }
            Event::Material { truck, step, .. } => self.masses[truck.at()].step(step),
            Event::Emptied { truck, .. } => assert_eq!(self.trucks[truck.at()].0, Stage::Free),
            Event::Returned {
                truck,
                volume,
                age,
                fate,
                ..
            } => {
                let reuse = self.scenario.concrete.reuse.expect("it is reused");
                let (back, under) = &mut self.came_back[truck.at()];
                assert_eq!(std::mem::take(back), volume, "all of it, once");
                if fate == ReturnedFate::Reused {
                    assert!(age <= reuse.age_limit);
                    let load = self.trucks[truck.at()].2;
                    assert!(volume.yd3() <= reuse.share * load.yd3() + 0.0005);
                    assert_eq!(self.trucks[truck.at()].0, Stage::Bay);
                    *under = volume;
                    self.reused += volume;
                }
            }
            Event::Departed { truck, takes, .. } => self.arrives[truck.at()] = Some(at + takes),
            Event::Drove { truck, took, .. } => {
                assert!(took >= Millis::ZERO);
                assert!(
                    !self.cut[truck.at()],
                    "a drive that is cut is one whose load is given up"
                );
                let told = self.arrives[truck.at()].take();
                assert!(told.is_none_or(|told| told >= at), "as told when it left");
                self.cut[truck.at()] = told.is_some_and(|told| told > at);
            }
            Event::BrokeDown {
                truck,
                load,
                driven,
            } => {
                assert!(driven >= Millis::ZERO);
                assert_eq!(load.is_some(), self.trucks[truck.at()].0 == Stage::Out);
                assert_eq!(
                    self.stands[truck.at()].replace(at),
                    None,
                    "it stands already"
                );
            }
            Event::Repaired { truck, stood } => {
                assert_eq!(self.stands[truck.at()].take(), Some(at - stood));
            }
            Event::GivenUp {
                order,
                truck,
                volume,
                ..
            } => {
                self.step(truck.at(), Stage::Out, Stage::Free);
                assert!(
                    self.stands[truck.at()].is_some(),
                    "only who stands gives up"
                );
                self.cut[truck.at()] = false;
                assert_eq!(volume, self.trucks[truck.at()].2);
                self.trucks[truck.at()].1 = false;
                self.dumped += volume;
                self.orders[order.at()].again += volume;
            }
            Event::BrokenDrum { truck, how } => {
                if how == BrokenDrum::Set {
                    self.stands[truck.at()] = None; // towed as it is
                }
            }
            Event::TowedHome { truck, until, .. } => {
                assert_eq!(self.trucks[truck.at()].0, Stage::Free);
                self.out_until[truck.at()] = until;
            }
            Event::TruckOut { truck, .. } => assert!(at < self.out_until[truck.at()]),
            Event::SiteReached {
                truck,
                spot,
                ready,
                due,
                ..
            } => {
                assert!(ready >= due);
                self.step(truck.at(), Stage::Out, Stage::SiteQueue);
                self.queues[spot.at()].push(truck.at());
            }
            Event::PlaceTaken { truck, spot, .. } => {
                self.step(truck.at(), Stage::SiteQueue, Stage::AtOutlet);
                assert_eq!(
                    self.queues[spot.at()].remove(0),
                    truck.at(),
                    "in order of arrival"
                );
                self.places[spot.at()].0 += 1;
                assert!(self.places[spot.at()].0 <= self.plan.spots[spot.at()].places);
            }
            Event::Taken { truck, came, .. } => {
                assert!(came <= at, "{truck:?} came before its load is taken");
                assert_eq!(self.trucks[truck.at()].0, Stage::AtOutlet);
            }
            Event::DischargeBegun { truck, spot, .. } => {
                self.step(truck.at(), Stage::AtOutlet, Stage::Discharging);
                self.places[spot.at()].1 += 1;
                assert!(
                    self.places[spot.at()].1 as usize
                        <= self.plan.spots[spot.at()].outlet_places.len()
                );
            }
            Event::DischargeEnded {
                order,
                truck,
                spot,
                volume,
                returned,
                complete,
                ..
            } => {
                self.step(truck.at(), Stage::Discharging, Stage::Washing);
                self.places[spot.at()].0 -= 1;
                self.places[spot.at()].1 -= 1;
                self.trucks[truck.at()].1 = false;
                self.placed += volume;
                self.returned += returned;
                if self.scenario.concrete.reuse.is_some() {
                    assert_eq!(self.came_back[truck.at()].0, Volume::ZERO);
                    self.came_back[truck.at()].0 = returned;
                }
                let balance = &mut self.orders[order.at()];
                balance.placed += volume + returned;
                assert_eq!(
                    complete,
                    balance.placed
                        == self.plan.orders[order.at()].volume + balance.more - balance.less
                );
            }
            Event::SiteLeft { truck, .. } => self.step(truck.at(), Stage::Washing, Stage::Free),
            Event::WashedOut { truck, .. } => assert_eq!(self.trucks[truck.at()].0, Stage::Free),
            Event::Stranded { driver, truck, .. } => {
                assert_eq!(self.trucks[truck.at()].0, Stage::Free);
                assert!(
                    self.drivers[driver.at()].0.is_some(),
                    "only who is on duty is stranded"
                );
                assert!(self.scenario.drivers[driver.at()].rule_book.limits());
                self.stranded += 1;
            }
            Event::Undelivered { late, volume, .. } => {
                assert!(late >= Millis::ZERO && volume > Volume::ZERO)
            }
            Event::LeftOver { order, volume } => self.orders[order.at()].left += volume,
            Event::KeptOpen { plant, time } => {
                assert!(time > Millis::ZERO);
                self.kept[plant.at()] = at + time;
            }
            Event::CrewStayed { time, .. } => assert!(time > Millis::ZERO),
            Event::SiteWaits { order } => {
                assert!(!std::mem::replace(&mut self.orders[order.at()].waits, true));
            }
            Event::SiteGoesOn { order } => {
                assert!(std::mem::take(&mut self.orders[order.at()].waits));
            }
        }
    }
}
