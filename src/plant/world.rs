//! The world: state of one replication, the loop over its calendar, and the one place where commands find their handlers.

mod begin;
mod fresh;
pub(super) mod lane;

use fresh::{FRESH_DRIVER, fresh_order, fresh_plant, fresh_truck};

use super::command::Command;
use super::event::{Event, Observer};
use super::plan::Plan;
use super::state::{Driver, Forced, InDrum, Leg, Order, Outlet, Plant, Rescue, Spot, Truck};
use crate::dispatch::{Candidate, Needs, PlantView, Policy, TruckView};
use crate::engine::{Calendar, Luck};
use crate::hours::Clocks;
use crate::roads::RoadState;
use crate::units::{DriverId, Millis, OrderId, TruckId};
use std::collections::VecDeque;

/// When nothing is known yet.
pub(super) const BEFORE_ALL: Millis = Millis(-1);

/// After the end of the period everyone is run home, for at most this long.
const RUN_HOME: Millis = Millis::DAY;

/// The state of one replication. Kept warm: the second run allocates nothing that the first did not.
#[derive(Clone, Debug)]
pub struct World<'p> {
    pub(super) plan: &'p Plan,
    pub(super) policy: &'p Policy,
    /// Position of the rule.
    pub(super) rule: usize,
    pub(super) calendar: Calendar<Command>,
    pub(super) now: Millis,
    pub(super) luck: Luck,
    /// In a fork: the luck of what had been revealed when it was made.
    pub(super) past: Luck,
    /// In a fork: when it was made. Before all time elsewhere.
    pub(super) known_until: Millis,
    /// A choice that the desk does not make itself, for a look ahead.
    pub(super) forced: Option<Forced>,
    /// In a world made from a file: whether it rains today. Today's roads are not known there.
    pub(super) told_rain: Option<bool>,
    /// The same for who fetches a stranded driver, while that is decided.
    pub(super) rescue: Option<Rescue>,
    pub(super) period_over: bool,
    pub(super) trucks: Vec<Truck>,
    pub(super) truck_views: Vec<TruckView>,
    pub(super) drivers: Vec<Driver>,
    pub(super) plants: Vec<Plant>,
    pub(super) plant_views: Vec<PlantView>,
    pub(super) orders: Vec<Order>,
    pub(super) spots: Vec<Spot>,
    pub(super) outlets: Vec<Outlet>,
    /// The ideal timeline: when each place of each spot is free.
    pub(super) ideal_places: Vec<Millis>,
    /// Trucks that can be promised.
    pub(super) offered: Vec<TruckId>,
    /// Orders whose next load waits for a truck.
    pub(super) waiting: Vec<OrderId>,
    pub(super) candidates: Vec<Candidate>,
    /// By helper: until when out.
    pub(super) helpers: Vec<Millis>,
    /// By driver; kept only where the rule book needs it.
    pub(super) clocks: Vec<Clocks>,
    /// By helper; the same.
    pub(super) helper_clocks: Vec<Clocks>,
    /// Whether an order has been promised completely since idle drivers were last looked at.
    pub(super) less_work: bool,
    pub(super) road_state: RoadState,
    /// By truck: its present drive; empty where nothing but traffic happens on one.
    pub(super) legs: Vec<Leg>,
    /// What is in each truck's drum; empty where it is not computed.
    pub(super) drums: Vec<InDrum>,
    /// The same before the check at the rack that is under way or was the last.
    pub(super) unchecked: Vec<InDrum>,
    /// By driver and report: the times for which drivers are called, under a rule that calls them.
    pub(super) calls: Vec<Vec<Millis>>,
    /// Room for the calls of one plant.
    pub(super) call_times: Vec<Millis>,
    /// Room for what loads need.
    pub(super) needs: Needs,
}

impl<'p> World<'p> {
    /// An empty world for a plan.
    pub fn new(plan: &'p Plan) -> Self {
        let luck = Luck::new(0, 0);
        let mut outlets = Vec::new();
        let mut places = 0;
        let mut spots = Vec::new();
        for spot in &plan.spots {
            spots.push(Spot {
                queue: VecDeque::new(),
                first_outlet: outlets.len() as u32,
                first_place: places,
            });
            places += spot.places;
            for outlet in &spot.outlet_places {
                outlets.push(Outlet {
                    places: *outlet,
                    occupied: 0,
                    flowing: false,
                    positioned: VecDeque::new(),
                    ideal_flow: Millis::ZERO,
                });
            }
        }
        Self {
            plan,
            policy: &plan.policies[0],
            rule: 0,
            calls: Vec::new(),
            call_times: Vec::new(),
            needs: Needs::default(),
            calendar: Calendar::with_capacity(4 * plan.trucks.len() + 2 * plan.orders.len() + 64),
            now: Millis::ZERO,
            luck,
            past: luck,
            known_until: BEFORE_ALL,
            forced: None,
            told_rain: None,
            rescue: None,
            road_state: RoadState::default(),
            period_over: false,
            trucks: vec![fresh_truck(&luck); plan.trucks.len()],
            truck_views: plan.trucks.iter().map(|truck| truck.view).collect(),
            drivers: vec![FRESH_DRIVER; plan.drivers.len()],
            plants: plan.plants.iter().map(|_| fresh_plant()).collect(),
            plant_views: plan.plants.iter().map(|plant| plant.view).collect(),
            orders: plan.orders.iter().map(|_| fresh_order()).collect(),
            spots,
            outlets,
            ideal_places: vec![Millis::ZERO; places as usize],
            offered: Vec::with_capacity(plan.trucks.len()),
            waiting: Vec::with_capacity(plan.orders.len()),
            candidates: Vec::new(),
            helpers: vec![Millis::ZERO; plan.helpers.len()],
            clocks: plan.drivers.iter().map(|driver| driver.clocks).collect(),
            helper_clocks: plan.helpers.iter().map(|helper| helper.clocks).collect(),
            less_work: false,
            legs: if plan.watches_legs() {
                vec![Leg::default(); plan.trucks.len()]
            } else {
                Vec::new()
            },
            drums: Self::empty_drums(plan),
            unchecked: Self::empty_drums(plan),
        }
    }

    /// Plays one replication under the rule at position `rule`, with this luck, and tells the observer what happens. Returns
    /// the number of commands carried out: the measure of the work done.
    pub fn run<O: Observer>(&mut self, rule: usize, luck: Luck, observer: &mut O) -> u64 {
        self.begin(rule, luck, observer);
        let mut commands = 0;
        let stop = self.plan.end + RUN_HOME;
        while let Some((at, command)) = self.calendar.pop() {
            if at > stop {
                break;
            }
            self.now = at;
            self.carry_out(command, observer);
            commands += 1;
        }
        commands
    }

    /// Plays one replication up to and with the moment `until`, under the rule at position `rule`.
    pub fn run_to<O: Observer>(
        &mut self,
        rule: usize,
        luck: Luck,
        until: Millis,
        observer: &mut O,
    ) {
        self.begin(rule, luck, observer);
        self.go_on_to(until, observer);
    }

    /// Goes on up to and with the moment `until`.
    pub fn go_on_to<O: Observer>(&mut self, until: Millis, observer: &mut O) {
        let until = until.min(self.plan.end + RUN_HOME);
        while self.calendar.peek_time().is_some_and(|at| at <= until) {
            if let Some((at, command)) = self.calendar.pop() {
                self.now = at;
                self.carry_out(command, observer);
            }
        }
        self.now = self.now.max(until);
    }

    fn carry_out<O: Observer>(&mut self, command: Command, observer: &mut O) {
        match command {
            Command::InBay(truck) => self.in_bay(truck, observer),
            Command::LeaveBay(truck) => self.leave_bay(truck, observer),
            Command::LeaveRack(truck) => self.leave_rack(truck, observer),
            Command::ArriveSite(truck) => self.arrive_site(truck, observer),
            Command::Positioned(truck) => self.positioned(truck, observer),
            Command::Turned(truck) => self.turned(truck, observer),
            Command::Discharged(truck) => self.discharged(truck, observer),
            Command::LeaveSite(truck) => self.leave_site(truck, observer),
            Command::ArrivePlace(truck) => self.arrive_place(truck, observer),
            Command::Send(truck) => self.send(truck, observer),
            Command::HomeWhileLegal(truck) => self.home_while_legal(truck, observer),
            Command::Near(truck) => self.near(truck, observer),
            Command::Ask(order) => self.ask(order, observer),
            Command::LookAgain(order) => self.looked_again(order, observer),
            Command::SiteReady(order) => self.site_ready(order, observer),
            Command::DayOver(order) => self.day_over(order, observer),
            Command::Closing(plant) => self.closing(plant, observer),
            Command::Decide(order) => self.decide(order, observer),
            Command::CallIn(day) => self.call_in(day, observer),
            Command::HoldOver(plant) => self.hold_over(plant, observer),
            Command::Open(plant) => self.open(plant, observer),
            Command::Down(plant, planned) => self.plant_down(plant, planned, observer),
            Command::Up(plant) => self.plant_up(plant, observer),
            Command::Fetched(truck) => self.fetched(truck, observer),
            Command::SetOut(truck) => self.set_out(truck, observer),
            Command::DriverHome(truck) => self.driver_home(truck, observer),
            Command::AtTruck(truck) => self.at_truck(truck, observer),
            Command::BreakOver(truck) => self.break_over(truck, observer),
            Command::Arrival(order) => self.arrival(order, observer),
            Command::Report(driver, day) => self.report(driver, day, observer),
            Command::PreTripDone(truck) => self.become_free(truck, observer),
            Command::ShiftOver(driver) => self.shift_over(driver, observer),
            Command::Rested(truck) => self.rested(truck, observer),
            Command::Release(truck) => self.release(truck, observer),
            Command::Emptied(truck) => self.emptied(truck, observer),
            Command::PeriodOver => self.end_period(observer),
        }
    }

    #[inline]
    pub(super) fn schedule(&mut self, at: Millis, command: Command) {
        self.calendar.schedule(at, command.class(), command);
    }

    #[inline]
    pub(super) fn tell<O: Observer>(&self, observer: &mut O, event: Event) {
        observer.event(self.now, &event);
    }

    /// The driver at the wheel of a truck that is in use.
    #[inline]
    pub(super) fn driver_of(&self, truck: TruckId) -> DriverId {
        self.trucks[truck.at()]
            .driver
            .expect("a truck in use has a driver")
    }
}
