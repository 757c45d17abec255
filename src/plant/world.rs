//! The world: state of one replication, the loop over its calendar, and the one place where commands find their handlers.

use super::command::Command;
use super::drum::InDrum;
use super::event::{Event, Observer};
use super::force::Forced;
use super::leg::Leg;
use super::plan::Plan;
use super::rescue::Rescue;
use super::state::{
    AfterBreak, Driver, Load, NOT_OFFERED, Order, Outlet, Phase, Plant, Spot, Truck,
};
use crate::dispatch::{Candidate, Needs, PlantView, Policy, Rank, TruckView};
use crate::engine::{Calendar, Luck, Purpose};
use crate::hours::{Clocks, Drivable, TourRecord};
use crate::roads::{Haul, RoadState};
use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId, SpotId, TruckId, Volume};
use std::collections::VecDeque;

/// Draws that belong to an attempt at a load.
pub(super) const LOAD: Purpose = Purpose(1);
/// Draws that belong to the reading at the rack of an attempt at a load.
pub(super) const READING: Purpose = Purpose(5);
/// Draws that belong to an order: whether it takes place, whether its site is ready.
pub(super) const ORDER: Purpose = Purpose(6);
/// Draws that belong to a day: its weather.
pub(super) const DAY: Purpose = Purpose(7);
/// Draws on whether the rule's gates are overridden for an attempt at a load.
pub(super) const OVERRIDE: Purpose = Purpose(30);
/// Draws that belong to the way of a load from a site to another.
pub(super) const REDIRECT: Purpose = Purpose(31);
/// Draws that belong to an outage of a plant.
pub(super) const OUTAGE: Purpose = Purpose(8);
/// Draws that belong to a driver's day.
pub(super) const DRIVER_DAY: Purpose = Purpose(2);
/// Draws that belong to the arrival of a load of a stream.
pub(super) const ARRIVAL: Purpose = Purpose(4);
/// Draws that belong to the car that fetches a driver or drives one out.
pub(super) const CAR: Purpose = Purpose(60);
/// Draws that belong to an empty trip of a truck.
pub(super) const MOVE: Purpose = Purpose(3);

/// Lanes of the block of draws that belongs to an attempt at a load.
pub(super) mod lane {
    pub(crate) const LOADING: usize = 0;
    pub(crate) const RACK: usize = 1;
    pub(crate) const OUT: usize = 2;
    pub(crate) const POSITION: usize = 3;
    pub(crate) const DISCHARGE: usize = 4;
    pub(crate) const CHUTE_WASH: usize = 5;
    pub(crate) const BACK: usize = 6;
    pub(crate) const DESTINATION: usize = 7;
}

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

    /// Everything back to midnight before the first day.
    pub(super) fn begin<O: Observer>(&mut self, rule: usize, luck: Luck, observer: &mut O) {
        self.policy = &self.plan.policies[rule];
        self.rule = rule;
        self.calendar.clear();
        self.now = Millis::ZERO;
        self.luck = luck;
        self.past = luck;
        self.known_until = BEFORE_ALL;
        self.forced = None;
        self.told_rain = None;
        self.plan
            .roads
            .refresh(&mut self.road_state, luck, self.plan.days as usize + 2);
        self.period_over = false;
        self.less_work = false;
        self.offered.clear();
        self.waiting.clear();
        self.helpers.fill(Millis::ZERO);
        self.trucks.fill(fresh_truck(&luck));
        self.drivers.fill(FRESH_DRIVER);
        self.begin_clocks();
        self.ideal_places.fill(Millis::ZERO);
        self.begin_legs();
        for (view, truck) in self.truck_views.iter_mut().zip(&self.plan.trucks) {
            *view = truck.view;
        }
        for outlet in &mut self.outlets {
            outlet.occupied = 0;
            outlet.flowing = false;
            outlet.positioned.clear();
            outlet.ideal_flow = Millis::ZERO;
        }
        for spot in &mut self.spots {
            spot.queue.clear();
        }
        for id in 0..self.plants.len() {
            self.begin_plant(PlantId::new(id));
        }
        for id in 0..self.drivers.len() {
            self.plan_report(DriverId::new(id), 0);
        }
        for id in 0..self.orders.len() {
            self.begin_order(OrderId::new(id), observer);
        }
        self.plan_calls(observer);
        self.plan_end_of_hold();
        self.schedule(self.plan.end, Command::PeriodOver);
    }

    fn begin_plant(&mut self, id: PlantId) {
        let plant = &mut self.plants[id.at()];
        plant.span = 0;
        plant.stayed_until = Millis::ZERO;
        plant.kept_until = Millis::ZERO;
        plant.queue.clear();
        plant.bays_busy = 0;
        plant.batcher_busy = false;
        plant.batcher_queue.clear();
        plant.rack_busy = 0;
        plant.rack_queue.clear();
        plant.down = 0;
        plant.outages = 0;
        for (open, _) in &self.plan.plants[id.at()].open {
            if *open > Millis::ZERO {
                self.calendar
                    .schedule(*open, Command::Open(id).class(), Command::Open(id));
            }
        }
        self.look_at_plant(id);
        self.plan_outages(id);
        self.plan_closings(id);
    }

    fn begin_order<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        let plan = &self.plan.orders[id.at()];
        let order = &mut self.orders[id.at()];
        order.volume = plan.volume;
        order.booked = plan.volume;
        order.reached = Volume::ZERO;
        order.balance_called = false;
        order.promised = Volume::ZERO;
        order.placed = Volume::ZERO;
        order.spared = Volume::ZERO;
        order.pace = 1.0;
        order.hold_drawn = None;
        order.hold_over = false;
        (order.held_from, order.held_until) = (Millis::ZERO, Millis::ZERO);
        order.ideal_hold = None;
        order.next_number = 0;
        order.ahead = 0;
        order.waiting = false;
        order.ask_at = Millis::NEVER;
        order.look_again = Millis::ZERO;
        order.again.clear();
        order.begun = false;
        order.closed = false;
        order.arrived.clear();
        order.arrivals = 0;
        order.came = Millis::ZERO;
        order.known_loads = 0;
        order.turn = 0;
        order.moved = Millis::ZERO;
        order.ideal_done = 0;
        order.opens = plan.opens;
        if !plan.endless && !self.takes_place(id, observer) {
            return;
        }
        if plan.day_over < Millis::NEVER {
            self.schedule(plan.day_over, Command::DayOver(id));
        }
        let opens = self.orders[id.at()].opens;
        if opens > Millis::ZERO {
            self.schedule(opens, Command::SiteReady(id));
        }
        if plan.arrivals.is_some() {
            self.plan_arrival(id);
        } else if self.is_decided_on(id) {
            self.plan_decision(id);
        } else {
            self.plan_ask(id);
        }
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

const NO_RANK: Rank = (0, 0);

const FRESH_DRIVER: Driver = Driver {
    on_duty: false,
    away: false,
    reported: Millis::ZERO,
    barred_from: Millis::NEVER,
    shift_over: Millis::ZERO,
    day: 0,
    rested: Millis::ZERO,
    released: Millis::ZERO,
    stranded: Millis::ZERO,
    tours: TourRecord::SETTLED,
    beyond: Millis::ZERO,
    short: false,
    restart: None,
    in_row: 0,
    last_day: i64::MIN,
};

fn fresh_truck(luck: &Luck) -> Truck {
    let nothing = Load {
        order: OrderId(0),
        spot: SpotId(0),
        plant: PlantId(0),
        number: 0,
        attempt: 0,
        volume: Volume::ZERO,
        before: Volume::ZERO,
        due: Millis::ZERO,
        ready: Millis::ZERO,
        send: Millis::ZERO,
        outlet: 0,
        batched: Millis::ZERO,
        reused: Volume::ZERO,
        dry_up: false,
        wet: false,
        spare: Volume::ZERO,
        given_up: false,
        overridden: false,
        redirected: false,
        luck: luck.block(LOAD, crate::engine::Entity(0), 0, 0),
    };
    Truck {
        phase: Phase::Off,
        driver: None,
        next_driver: None,
        slot: NOT_OFFERED,
        load: nothing,
        promised: false,
        full: false,
        returned: None,
        since: Millis::ZERO,
        begun: Millis::ZERO,
        drive: (PlaceId(0), Haul::Empty),
        rank: NO_RANK,
        moves: 0,
        near_at: Millis::NEVER,
        limit: Drivable {
            until: Millis::NEVER,
            by: None,
        },
        after_break: AfterBreak::Nothing,
        fetch: None,
        home_fitted: true,
        out_excess: Millis::ZERO,
        load_set: false,
        fetches: 0,
    }
}

fn fresh_plant() -> Plant {
    Plant {
        span: 0,
        stayed_until: Millis::ZERO,
        kept_until: Millis::ZERO,
        queue: VecDeque::new(),
        bays_busy: 0,
        batcher_busy: false,
        batcher_queue: VecDeque::new(),
        rack_busy: 0,
        rack_queue: VecDeque::new(),
        down: 0,
        back_at: Millis::ZERO,
        outages: 0,
    }
}

fn fresh_order() -> Order {
    Order {
        volume: Volume::ZERO,
        booked: Volume::ZERO,
        reached: Volume::ZERO,
        balance_called: false,
        promised: Volume::ZERO,
        placed: Volume::ZERO,
        spared: Volume::ZERO,
        pace: 1.0,
        hold_drawn: None,
        hold_over: false,
        held_until: Millis::ZERO,
        held_from: Millis::ZERO,
        ideal_hold: None,
        next_number: 0,
        ahead: 0,
        waiting: false,
        ask_at: Millis::NEVER,
        look_again: Millis::ZERO,
        rank: NO_RANK,
        again: Vec::new(),
        arrived: VecDeque::new(),
        arrivals: 0,
        came: Millis::ZERO,
        known_loads: 0,
        begun: false,
        closed: false,
        opens: Millis::ZERO,
        turn: 0,
        moved: Millis::ZERO,
        ideal_done: 0,
    }
}
