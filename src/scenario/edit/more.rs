//! One more of what a plant has.

use crate::scenario::{Driver, Scenario, Truck};
use crate::units::{PlantId, TruckId};

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

fn free_name(wanted: &str, taken: &[&str]) -> String {
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
