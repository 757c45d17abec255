//! One more, or one less, of what a plant has.

use super::fleet::moved_along;
use crate::scenario::{Driver, Scenario, Truck};
use crate::units::{Millis, PlantId, TruckId};

/// As many bays as a plant may have: see [`Plant`](crate::scenario::Plant).
const MOST_BAYS: u32 = 20;
/// As many trucks as a scenario may have.
const MOST_TRUCKS: usize = 5_000;

pub(super) fn bay(scenario: &Scenario) -> Result<Scenario, &'static str> {
    let mut edited = scenario.clone();
    for plant in &mut edited.plants {
        plant.bays = (plant.bays + 1).min(MOST_BAYS);
    }
    (edited.plants != scenario.plants)
        .then_some(edited)
        .ok_or("the plants have as many as can be")
}

/// The new ones stand last in their lists, so that the ids of the others stay.
pub(super) fn truck(scenario: &Scenario) -> Result<Scenario, &'static str> {
    let mut edited = scenario.clone();
    for (place, plant) in scenario.plants.iter().enumerate() {
        let home = PlantId::new(place);
        let driven = |driver: &&Driver| scenario.trucks[driver.truck.at()].home == home;
        let Some(like) = scenario.drivers.iter().find(driven) else {
            continue;
        };
        if edited.trucks.len() == MOST_TRUCKS {
            break;
        }
        let truck = TruckId::new(edited.trucks.len());
        let taken: Vec<&str> = edited.trucks.iter().map(|t| t.name.as_str()).collect();
        let name = free_name(&format!("One more at {}", plant.name), &taken);
        edited.trucks.push(Truck {
            name,
            ..scenario.trucks[like.truck.at()].clone()
        });
        let taken: Vec<&str> = edited.drivers.iter().map(|d| d.name.as_str()).collect();
        let name = free_name(&format!("Driver of one more at {}", plant.name), &taken);
        edited.drivers.push(Driver {
            name,
            truck,
            ..like.clone()
        });
    }
    (edited.trucks.len() > scenario.trucks.len())
        .then_some(edited)
        .ok_or("there are as many as can be")
}

/// The last truck of each plant that has two or more, with its drivers.
pub(super) fn truck_less(scenario: &Scenario) -> Result<Scenario, &'static str> {
    trucks_less(scenario, None, 1)
}

/// The last trucks of one plant or of each, so many of each but never all, with their drivers.
pub(super) fn trucks_less(
    scenario: &Scenario,
    plant: Option<PlantId>,
    count: u32,
) -> Result<Scenario, &'static str> {
    let trucks = &scenario.trucks;
    let gone = last_of_each(scenario, plant, count, trucks.len(), |at| trucks[at].home);
    let kept: Vec<usize> = (0..trucks.len()).filter(|at| !gone.contains(at)).collect();
    let drivers = moved_along(&scenario.drivers, &kept);
    if gone.is_empty() || drivers.is_empty() {
        return Err(match plant {
            None => "no plant has two trucks",
            Some(_) => "the plant has no truck to spare",
        });
    }
    Ok(Scenario {
        trucks: kept.iter().map(|at| trucks[*at].clone()).collect(),
        drivers,
        ..scenario.clone()
    })
}

/// The last drivers of one plant or of each, so many of each but never all.
pub(super) fn drivers_less(
    scenario: &Scenario,
    plant: Option<PlantId>,
    count: u32,
) -> Result<Scenario, &'static str> {
    let drivers = &scenario.drivers;
    let home = |at: usize| scenario.trucks[drivers[at].truck.at()].home;
    let gone = last_of_each(scenario, plant, count, drivers.len(), home);
    if gone.is_empty() {
        return Err(match plant {
            None => "no plant has two drivers",
            Some(_) => "the plant has no driver to spare",
        });
    }
    let kept = (0..drivers.len()).filter(|at| !gone.contains(at));
    Ok(Scenario {
        drivers: kept.map(|at| drivers[at].clone()).collect(),
        ..scenario.clone()
    })
}

/// Of so many things with a home each, the last `count` of one plant or of every plant; one of each plant stays.
fn last_of_each(
    scenario: &Scenario,
    plant: Option<PlantId>,
    count: u32,
    things: usize,
    home: impl Fn(usize) -> PlantId,
) -> Vec<usize> {
    let plants = (0..scenario.plants.len()).map(PlantId::new);
    let mut gone = Vec::new();
    for plant in plants.filter(|other| plant.is_none_or(|plant| plant == *other)) {
        let here: Vec<usize> = (0..things).filter(|at| home(*at) == plant).collect();
        let goes = (count as usize).min(here.len().saturating_sub(1));
        gone.extend(&here[here.len() - goes..]);
    }
    gone
}

pub(super) fn bay_less(scenario: &Scenario) -> Result<Scenario, &'static str> {
    let mut edited = scenario.clone();
    for plant in &mut edited.plants {
        plant.bays = (plant.bays - 1).max(1);
    }
    (edited.plants != scenario.plants)
        .then_some(edited)
        .ok_or("no plant has two bays")
}

/// How much older customers agree to take concrete.
const AGREED: Millis = Millis(Millis::HOUR.0 / 2);

pub(super) fn age_agreed(scenario: &Scenario) -> Result<Scenario, &'static str> {
    if scenario.concrete.age_limit.is_none() {
        return Err("concrete has no single age limit here");
    }
    let mut edited = scenario.clone();
    let orders = edited.orders.iter_mut().map(|order| &mut order.age.limit);
    for limit in orders.chain([&mut edited.concrete.age_limit]) {
        *limit = limit.map(|limit| limit + AGREED);
    }
    Ok(edited)
}

pub(super) fn free_name(wanted: &str, taken: &[&str]) -> String {
    let mut name = wanted.to_owned();
    while taken.contains(&name.as_str()) {
        name.push('+');
    }
    name
}

/// A truck scale at each plant: its loads are legal when they leave.
pub(super) fn truck_scales(scenario: &Scenario) -> Result<Scenario, &'static str> {
    if scenario.weighing.is_none() {
        return Err("no load is found heavy");
    }
    if scenario.plants.iter().all(|plant| plant.truck_scale) {
        return Err("every plant has one");
    }
    let mut edited = scenario.clone();
    for plant in &mut edited.plants {
        plant.truck_scale = true;
    }
    Ok(edited)
}
