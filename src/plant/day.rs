//! What a replication changes: begun anew, copied by forks, made from a file. Each of them takes the day apart field by field, so
//! that one that is forgotten does not compile.

use super::command::Command;
use super::plan::Plan;
use super::state::{
    DriverNow, Forced, InDrum, Leg, OrderNow, OutletNow, PlantNow, SpotNow, TruckNow,
};
use crate::dispatch::{GivenUp, PlantView, Policy, TruckView};
use crate::engine::{Calendar, Luck};
use crate::hours::Clocks;
use crate::roads::RoadState;
use crate::units::{Millis, OrderId, TruckId};
use std::collections::VecDeque;

/// When nothing is known yet.
const BEFORE_ALL: Millis = Millis(-1);

/// The day of a world: all that differs from one moment or replication to another.
#[derive(Clone, Debug)]
pub(super) struct Day<'p> {
    /// The rule, of which this is the position.
    pub(super) policy: &'p Policy,
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
    pub(super) period_over: bool,
    pub(super) trucks: Vec<TruckNow>,
    pub(super) truck_views: Vec<TruckView>,
    pub(super) drivers: Vec<DriverNow>,
    pub(super) plants: Vec<PlantNow>,
    pub(super) plant_views: Vec<PlantView>,
    pub(super) orders: Vec<OrderNow>,
    pub(super) spots: Vec<SpotNow>,
    pub(super) outlets: Vec<OutletNow>,
    /// The ideal timeline: when each place of each spot is free.
    pub(super) ideal_places: Vec<Millis>,
    /// Trucks that can be promised.
    pub(super) offered: Vec<TruckId>,
    /// The same by home plant.
    pub(super) offered_at: Vec<Vec<TruckId>>,
    /// How many of those stand at another plant, or are on their way to one.
    pub(super) elsewhere: Vec<u32>,
    /// What trucks have given up at the moment at which one did last.
    pub(super) given_up: Vec<GivenUp>,
    /// Orders whose next load waits for a truck.
    pub(super) waiting: Vec<OrderId>,
    /// By helper: until when out.
    pub(super) helpers: Vec<Millis>,
    /// By driver; kept only where the rule book needs it.
    pub(super) clocks: Vec<Clocks>,
    /// By helper; the same.
    pub(super) helper_clocks: Vec<Clocks>,
    /// Whether an order has been promised completely since idle drivers were last looked at.
    pub(super) less_work: bool,
    /// How long before its first load is due an order has asked or been to ask at most.
    pub(super) asks_early: Millis,
    pub(super) road_state: RoadState,
    /// By truck: its present drive; empty where nothing but traffic happens on one.
    pub(super) legs: Vec<Leg>,
    /// What is in each truck's drum; empty where it is not computed.
    pub(super) drums: Vec<InDrum>,
    /// The same before the check at the rack that is under way or was the last.
    pub(super) unchecked: Vec<InDrum>,
    /// By driver and report: the times for which drivers are called, under a rule that calls them.
    pub(super) calls: Vec<Vec<Millis>>,
}

impl<'p> Day<'p> {
    /// Before the first replication.
    pub(super) fn new(plan: &'p Plan) -> Self {
        let luck = Luck::new(0, 0);
        let (spots, outlets, places) = sites(plan);
        let drums = empty_drums(plan);
        Self {
            policy: &plan.policies[0],
            rule: 0,
            calendar: Calendar::with_capacity(4 * plan.trucks.len() + 2 * plan.orders.len() + 64),
            now: Millis::ZERO,
            luck,
            past: luck,
            known_until: BEFORE_ALL,
            forced: None,
            told_rain: None,
            period_over: false,
            trucks: vec![TruckNow::fresh(); plan.trucks.len()],
            truck_views: plan.trucks.iter().map(|truck| truck.view).collect(),
            drivers: plan.drivers.iter().map(DriverNow::fresh).collect(),
            plants: plan.plants.iter().map(|_| PlantNow::fresh()).collect(),
            plant_views: plan.plants.iter().map(|plant| plant.view).collect(),
            orders: plan.orders.iter().map(OrderNow::fresh).collect(),
            spots,
            outlets,
            ideal_places: vec![Millis::ZERO; places],
            offered: Vec::with_capacity(plan.trucks.len()),
            offered_at: plan
                .at_home
                .iter()
                .map(|at| Vec::with_capacity(at.len()))
                .collect(),
            elsewhere: vec![0; plan.plants.len()],
            given_up: Vec::with_capacity(8),
            waiting: Vec::with_capacity(plan.orders.len()),
            helpers: vec![Millis::ZERO; plan.helpers.len()],
            clocks: plan.drivers.iter().map(|driver| driver.clocks).collect(),
            helper_clocks: plan.helpers.iter().map(|helper| helper.clocks).collect(),
            less_work: false,
            asks_early: Millis::ZERO,
            road_state: RoadState::default(),
            legs: if plan.watches_legs() {
                vec![Leg::default(); plan.trucks.len()]
            } else {
                Vec::new()
            },
            unchecked: drums.clone(),
            drums,
            calls: Vec::new(),
        }
    }

    /// Everything back to midnight before the first day, the calendar empty.
    pub(super) fn begin(&mut self, plan: &'p Plan, rule_at: usize, with: Luck) {
        let Self {
            policy,
            rule,
            calendar,
            now,
            luck,
            past,
            known_until,
            forced,
            told_rain,
            period_over,
            trucks,
            truck_views,
            drivers,
            plants,
            plant_views,
            orders,
            spots,
            outlets,
            ideal_places,
            offered,
            offered_at,
            elsewhere,
            given_up,
            waiting,
            helpers,
            clocks,
            helper_clocks,
            less_work,
            asks_early,
            road_state,
            legs,
            // A drum is filled before anybody looks into it.
            drums: _,
            unchecked: _,
            // Made where the rule calls drivers.
            calls: _,
        } = self;
        (*policy, *rule) = (&plan.policies[rule_at], rule_at);
        calendar.clear();
        *now = Millis::ZERO;
        (*luck, *past, *known_until) = (with, with, BEFORE_ALL);
        (*forced, *told_rain) = (None, None);
        (*period_over, *less_work, *asks_early) = (false, false, Millis::ZERO);
        plan.roads.refresh(road_state, with, plan.days as usize + 2);
        offered.clear();
        offered_at.iter_mut().for_each(Vec::clear);
        elsewhere.fill(0);
        given_up.clear();
        waiting.clear();
        helpers.fill(Millis::ZERO);
        ideal_places.fill(Millis::ZERO);
        trucks.fill(TruckNow::fresh());
        legs.fill(Leg::default());
        for (view, truck) in truck_views.iter_mut().zip(&plan.trucks) {
            *view = truck.view;
        }
        for (driver, plan) in drivers.iter_mut().zip(&plan.drivers) {
            *driver = DriverNow::fresh(plan);
        }
        for (clocks, driver) in clocks.iter_mut().zip(&plan.drivers) {
            *clocks = driver.clocks;
        }
        for (clocks, helper) in helper_clocks.iter_mut().zip(&plan.helpers) {
            *clocks = helper.clocks;
        }
        plants.iter_mut().for_each(PlantNow::begin);
        for (view, plant) in plant_views.iter_mut().zip(&plan.plants) {
            *view = plant.view;
        }
        for (order, plan) in orders.iter_mut().zip(&plan.orders) {
            order.begin(plan);
        }
        spots.iter_mut().for_each(SpotNow::begin);
        outlets.iter_mut().for_each(OutletNow::begin);
    }

    /// Becomes a copy of another day, in the room that is there.
    pub(super) fn copy(&mut self, base: &Self) {
        let Self {
            policy,
            rule,
            calendar,
            now,
            luck,
            past,
            known_until,
            forced,
            told_rain,
            period_over,
            trucks,
            truck_views,
            drivers,
            plants,
            plant_views,
            orders,
            spots,
            outlets,
            ideal_places,
            offered,
            offered_at,
            elsewhere,
            given_up,
            waiting,
            helpers,
            clocks,
            helper_clocks,
            less_work,
            asks_early,
            road_state,
            legs,
            drums,
            unchecked,
            calls,
        } = self;
        (*policy, *rule) = (base.policy, base.rule);
        calendar.clone_from(&base.calendar);
        (*now, *luck, *past) = (base.now, base.luck, base.past);
        *known_until = base.known_until;
        (*forced, *told_rain) = (base.forced, base.told_rain);
        (*period_over, *less_work) = (base.period_over, base.less_work);
        *asks_early = base.asks_early;
        trucks.clone_from(&base.trucks);
        truck_views.clone_from(&base.truck_views);
        drivers.clone_from(&base.drivers);
        plants.clone_from(&base.plants);
        plant_views.clone_from(&base.plant_views);
        orders.clone_from(&base.orders);
        spots.clone_from(&base.spots);
        outlets.clone_from(&base.outlets);
        ideal_places.clone_from(&base.ideal_places);
        offered.clone_from(&base.offered);
        offered_at.clone_from(&base.offered_at);
        elsewhere.clone_from(&base.elsewhere);
        given_up.clone_from(&base.given_up);
        waiting.clone_from(&base.waiting);
        helpers.clone_from(&base.helpers);
        clocks.clone_from(&base.clocks);
        helper_clocks.clone_from(&base.helper_clocks);
        road_state.clone_from(&base.road_state);
        legs.clone_from(&base.legs);
        drums.clone_from(&base.drums);
        unchecked.clone_from(&base.unchecked);
        calls.clone_from(&base.calls);
    }
}

/// Spots and outlets with nobody there, and the number of places.
fn sites(plan: &Plan) -> (Vec<SpotNow>, Vec<OutletNow>, usize) {
    let mut outlets = Vec::new();
    let mut places = 0;
    let mut spots = Vec::new();
    for spot in &plan.spots {
        spots.push(SpotNow {
            queue: VecDeque::new(),
            first_outlet: outlets.len() as u32,
            first_place: places,
        });
        places += spot.places;
        outlets.extend(spot.outlet_places.iter().map(|places| OutletNow {
            places: *places,
            occupied: 0,
            flowing: false,
            positioned: VecDeque::new(),
            ideal_flow: Millis::ZERO,
        }));
    }
    (spots, outlets, places as usize)
}

/// An empty drum for each truck, where they are reckoned.
fn empty_drums(plan: &Plan) -> Vec<InDrum> {
    match &plan.drums {
        Some(drums) => vec![InDrum::empty(drums.material.mixes[0].mix); plan.trucks.len()],
        None => Vec::new(),
    }
}
