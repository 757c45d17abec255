//! Hired haulers, who come with their own trucks.

use super::super::more::free_name;
use super::{regulars, with_drivers};
use crate::scenario::{Hauler, History, Scenario};

/// Positions of the drivers who are hired by the hour.
pub fn haulers(scenario: &Scenario) -> Vec<usize> {
    (0..scenario.drivers.len())
        .filter(|at| scenario.drivers[*at].hauler.is_some())
        .collect()
}

/// The scenario with this many hired haulers. Those more than it has are hired on these terms and shared among the plants as own regular
/// drivers are; each has the tours, the licence and the kind of truck of one of them, stands last in the list, and is rested. Those
/// left out lie evenly along the list; their trucks stay away with them.
pub fn with_haulers(scenario: &Scenario, total: u32, terms: Option<Hauler>) -> Scenario {
    let hired = haulers(scenario);
    let total = total as usize;
    if total <= hired.len() {
        let fewer = hired.len() - total;
        let left_out: Vec<usize> = (0..fewer)
            .map(|nth| hired[(2 * nth + 1) * hired.len() / (2 * fewer)])
            .collect();
        let mut edited = scenario.clone();
        let mut at = 0;
        edited.drivers.retain(|_| {
            at += 1;
            !left_out.contains(&(at - 1))
        });
        return edited;
    }
    let known = hired.first().and_then(|at| scenario.drivers[*at].hauler);
    let Some(terms) = terms.or(known) else {
        return scenario.clone();
    };
    let own = regulars(scenario).len();
    let mut edited = with_drivers(scenario, (own + total - hired.len()) as u32);
    for at in scenario.drivers.len()..edited.drivers.len() {
        let number = hired.len() + at - scenario.drivers.len() + 1;
        let wanted = format!("Hauler {number}");
        let taken: Vec<&str> = (scenario.drivers.iter().map(|driver| driver.name.as_str()))
            .chain(scenario.trucks.iter().map(|truck| truck.name.as_str()))
            .collect();
        let name = free_name(&wanted, &taken);
        let driver = &mut edited.drivers[at];
        edited.trucks[driver.truck.at()].name.clone_from(&name);
        driver.name = name;
        driver.hauler = Some(terms);
        (driver.pay_per_h, driver.guaranteed_day, driver.seniority) = (None, None, None);
        driver.history = History::default();
    }
    edited
}
