//! One pour and the trucks that serve it.
//!
//! The pour's own days are simulated, from five hours before its first load: hours carried over from the day before are not
//! known there. Among the day's other work the trucks of the pour's plant are counted, since any order may get any of them.

use crate::dispatch::{Lend, Shift};
use crate::scenario::{Driver, History, OpenHours, Order, Scenario, Truck};
use crate::units::{DriverId, Millis, OrderId, PlantId, TruckId, Volume, Weekday};

/// What `--backup` lets a desk do that never lends: as soon as it saves this much.
const BACKUP_SAVES_MIN: f64 = 10.0;
/// A planned tour where no driver of the plant shows what is usual.
const USUAL_SHIFT: Millis = Millis(12 * Millis::HOUR.0);

/// The days `first..=last` of the period (0 is the first day) as a period of their own: orders whose first load is due on
/// them, and what happens on them. Nobody carries hours over from the day before.
pub fn days(scenario: &Scenario, first: i64, last: i64) -> Scenario {
    let mut cut = scenario.clone();
    let back = Millis::midnight(first);
    let end = Millis::midnight(last + 1);
    cut.period.first_day = scenario.period.first_day.after(first);
    cut.period.days =
        u32::try_from(last + 1 - first).expect("the last day is not before the first");
    let length = end - back;
    cut.period.measure = scenario
        .period
        .measure
        .map(|(from, to)| ((from - back).max(Millis::ZERO), (to - back).min(length)))
        .filter(|(from, to)| from < to);
    cut.orders
        .retain(|order| order.first >= back && order.first < end);
    for order in &mut cut.orders {
        order.first -= back;
        order.called = (order.called - back).max(Millis::ZERO);
        order.finish_by = order.finish_by.map(|by| by - back);
    }
    for plant in &mut cut.plants {
        for outage in &mut plant.planned_outages {
            *outage = ((outage.0 - back).max(Millis::ZERO), outage.1 - back);
        }
        plant
            .planned_outages
            .retain(|outage| outage.1 > outage.0 && outage.0 < length);
    }
    cut
}

/// The pour alone: no other order, and it is certain to take place. Plants that may not make it stay shut.
pub fn alone(scenario: &Scenario, pour: OrderId) -> Scenario {
    let mut edited = scenario.clone();
    let mut order = scenario.orders[pour.at()].clone();
    order.chance = 1.0;
    order.slot = None;
    order.outdoor = false;
    edited.changes.cancelled = 0.0;
    for (at, plant) in edited.plants.iter_mut().enumerate() {
        if !order.plants.is_empty() && !order.plants.contains(&PlantId::new(at)) {
            plant.hours = vec![OpenHours {
                days: Vec::new(),
                open: Millis::ZERO,
                close: Millis::DAY,
            }];
        }
    }
    edited.orders = vec![order];
    edited.endless.clear();
    edited
}

/// The same days without the pour.
pub fn without(scenario: &Scenario, pour: OrderId) -> Scenario {
    let mut edited = scenario.clone();
    edited.orders.remove(pour.at());
    edited
}

/// The pour made by these plants only. With more than one, trucks of the first may load at the others whatever the rules say
/// of lending: a rule that never lends then lends where that saves ten minutes. Which of them saves time depends on who is to load
/// there, so the desk counts that.
pub fn made_by(scenario: &Scenario, pour: OrderId, plants: &[PlantId]) -> Scenario {
    let mut edited = scenario.clone();
    edited.orders[pour.at()].plants = plants.to_vec();
    if plants.len() > 1 {
        for rule in &mut edited.rules {
            rule.bay_queue_seen = true;
            if rule.lend == Lend::Never {
                rule.lend = Lend::IfSaves {
                    minutes: BACKUP_SAVES_MIN,
                };
            }
        }
    }
    edited
}

/// Shifts that drivers called in are told apart by: the first on their truck, and later ones.
pub const SHIFTS: usize = 2;

/// What a driver is to a pour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Duty {
    /// How many drivers hand the truck over before the driver who is called in has it; none who is rostered.
    pub called_in: Option<usize>,
    /// Whether somebody takes the truck over from the driver.
    pub relieved: bool,
}

/// What each driver is to the pour that others were called in for.
pub fn duties(scenario: &Scenario) -> Vec<Duty> {
    let hand_over = |at: usize, driver: &Driver| {
        let before = scenario.drivers[..at].iter();
        let on_truck = before.filter(|other| other.truck == driver.truck);
        on_truck.filter(|other| other.relieved.is_some()).count()
    };
    let duty = |(at, driver): (usize, &Driver)| Duty {
        called_in: driver.calls.as_ref().map(|_| hand_over(at, driver)),
        relieved: driver.relieved.is_some(),
    };
    scenario.drivers.iter().enumerate().map(duty).collect()
}

/// Drivers called in to a truck whose rostered driver's day ends before the pour does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Relief {
    /// The truck.
    pub truck: TruckId,
    /// Who drives it until then, if anybody does: starts no load later than the call, and hands the truck over.
    pub relieved: Option<DriverId>,
    /// When the first of them is called in, since midnight before the first day.
    pub call: Millis,
    /// How many one after the other, at least 1.
    pub tours: u32,
    /// How long each works, as planned.
    pub tour: Millis,
    /// So long before the end of a tour that somebody takes over no load is started any more.
    pub last_load: Millis,
}

/// The order as trucks of a plant carry it: a truck that holds less than the load ordered, room kept free under a rule included, takes
/// more loads, which are due sooner one after the other.
pub fn carried(scenario: &Scenario, order: &Order, plant: PlantId, rule: usize) -> Order {
    let room_kept = Volume::from_yd3(scenario.rules[rule].room_kept_yd3);
    // Trucks that are added are like the first one.
    let first = scenario.trucks.iter().find(|truck| truck.home == plant);
    let holds = first.map_or(order.load, |truck| truck.capacity - room_kept);
    let load = order.load.min(holds).max(Volume(1));
    Order {
        load,
        spacing: Millis(order.spacing.0 * load.0 / order.load.0),
        ..order.clone()
    }
}

/// Which trucks a plant has, and when drivers are called in to those that the roster does not man.
#[derive(Clone, Debug)]
pub struct Fleet {
    /// The plant.
    pub plant: PlantId,
    /// How many trucks, at least 1.
    pub trucks: u32,
    /// Whether these are all trucks there are, each with a driver called in for the pour. Else the first ones that the
    /// roster mans keep their drivers, and the trucks of other plants stay.
    pub only: bool,
    /// When the first driver is called in, since midnight before the first day.
    pub call: Millis,
    /// How much later each of the next is called in.
    pub apart: Millis,
    /// How many drivers one after the other those who are called in have on each truck, at least 1.
    pub tours: u32,
    /// How long each of them works, as planned.
    pub tour: Millis,
    /// So long before the end of a tour that somebody takes over no load is started any more.
    pub last_load: Millis,
}

/// The scenario with this fleet. Trucks that nobody drives in the period are left out at this plant; trucks beyond those
/// there are become copies of its first one.
pub fn with_fleet(scenario: &Scenario, fleet: &Fleet) -> Scenario {
    let mut edited = scenario.clone();
    let manned = |truck: usize| {
        scenario.drivers.iter().any(|driver| {
            driver.truck.at() == truck && !driver.reports(&scenario.period).is_empty()
        })
    };
    let at_plant: Vec<usize> = (0..scenario.trucks.len())
        .filter(|truck| scenario.trucks[*truck].home == fleet.plant)
        .filter(|truck| fleet.only || manned(*truck))
        .take(fleet.trucks as usize)
        .collect();
    let kept: Vec<usize> = (0..scenario.trucks.len())
        .filter(|truck| {
            at_plant.contains(truck) || !fleet.only && scenario.trucks[*truck].home != fleet.plant
        })
        .collect();
    edited.trucks = kept.iter().map(|at| scenario.trucks[*at].clone()).collect();
    edited.drivers = if fleet.only {
        for rule in &mut edited.rules {
            rule.shift = Shift::Rostered; // called in for the pour
        }
        Vec::new()
    } else {
        moved_along(&scenario.drivers, &kept)
    };
    let model = scenario
        .trucks
        .iter()
        .find(|truck| truck.home == fleet.plant)
        .unwrap_or(&scenario.trucks[0]);
    let added = (at_plant.len()..fleet.trucks as usize).map(|n| Truck {
        name: unused(
            &format!("{} {}", scenario.plants[fleet.plant.at()].name, n + 1),
            scenario.trucks.iter().map(|truck| truck.name.as_str()),
        ),
        home: fleet.plant,
        ..model.clone()
    });
    let first_added = edited.trucks.len();
    edited.trucks.extend(added);
    let first_called = if fleet.only { 0 } else { first_added };
    let added = (first_called..edited.trucks.len()).enumerate();
    let called =
        (0..i64::from(fleet.tours)).flat_map(|tour| added.clone().map(move |of| (tour, of)));
    for (number, (tour, (nth, truck))) in called.enumerate() {
        let call = fleet.call + fleet.apart * nth as i64 + fleet.tour * tour;
        let relieved =
            (tour + 1 < i64::from(fleet.tours)).then(|| call + fleet.tour - fleet.last_load);
        let at = (TruckId::new(truck), call, fleet.tour);
        edited
            .drivers
            .push(called_in(scenario, number + 1, at, relieved));
    }
    edited
}

/// The scenario with these drivers called in too.
pub fn with_relief(scenario: &Scenario, reliefs: &[Relief]) -> Scenario {
    let mut edited = scenario.clone();
    let called = scenario
        .drivers
        .iter()
        .filter(|driver| driver.calls.is_some());
    let mut number = called.count();
    for relief in reliefs {
        if let Some(driver) = relief.relieved {
            edited.drivers[driver.at()].relieved = Some(relief.call);
        }
        for tour in 0..i64::from(relief.tours) {
            number += 1;
            let call = relief.call + relief.tour * tour;
            let over = call + relief.tour - relief.last_load;
            let relieved = (tour + 1 < i64::from(relief.tours)).then_some(over);
            let at = (relief.truck, call, relief.tour);
            edited
                .drivers
                .push(called_in(scenario, number, at, relieved));
        }
    }
    edited
}

/// The driver called in with this number, to a truck, at a time, for so long; and from when on somebody else takes over.
fn called_in(
    scenario: &Scenario,
    number: usize,
    (truck, call, tour): (TruckId, Millis, Millis),
    relieved: Option<Millis>,
) -> Driver {
    let taken = scenario.drivers.iter().map(|driver| driver.name.as_str());
    Driver {
        name: unused(&format!("Called in {number}"), taken),
        relieved,
        truck,
        report: call,
        shift: tour,
        days: Weekday::ALL.to_vec(),
        calls: Some(vec![call]),
        seniority: None,
        pay_per_h: None,
        guaranteed_day: None,
        hauler: None,
        care: 1.0,
        rule_book: scenario.rule_book,
        licence: None,
        history: History::default(),
    }
}

/// The drivers of the trucks kept, with the trucks' new positions.
pub(super) fn moved_along(drivers: &[Driver], kept: &[usize]) -> Vec<Driver> {
    let position = |truck: TruckId| kept.iter().position(|at| *at == truck.at());
    drivers
        .iter()
        .filter_map(|driver| {
            position(driver.truck).map(|at| Driver {
                truck: TruckId::new(at),
                ..driver.clone()
            })
        })
        .collect()
}

/// The longest planned tour at a plant.
pub fn usual_shift(scenario: &Scenario, plant: PlantId) -> Millis {
    scenario
        .drivers
        .iter()
        .filter(|driver| scenario.trucks[driver.truck.at()].home == plant)
        .map(|driver| driver.shift)
        .max()
        .unwrap_or(USUAL_SHIFT)
}

/// The name, with an apostrophe for each time that it is taken already.
fn unused<'a>(name: &str, taken: impl Iterator<Item = &'a str> + Clone) -> String {
    let mut name = name.to_owned();
    while taken.clone().any(|other| other == name) {
        name.push('\'');
    }
    name
}
