//! Plants without trucks, trucks without drivers, rules that miss what they need.

use super::Tours;
use crate::dispatch::{Lend, Retrieval};
use crate::report::summary::words::counted;
use crate::roads::Belief;
use crate::scenario::Scenario;

/// Trucks that one doubt names.
const MOST_NAMED: usize = 10;

pub(super) fn rules(scenario: &Scenario, doubts: &mut Vec<String>) {
    let plants = scenario.plants.iter().map(|plant| plant.at);
    let places: Vec<(f64, f64)> = plants
        .chain(scenario.sites.iter().map(|site| site.at))
        .collect();
    let unplaced = places.iter().filter(|at| **at == (0.0, 0.0)).count();
    for rule in &scenario.rules {
        if rule.belief == Belief::StraightLine && unplaced > 1 {
            doubts.push(format!(
                "{} measures on the map, and {} of {} places stand at (0, 0) on it",
                rule.name,
                unplaced,
                places.len()
            ));
        }
        if matches!(&rule.retrieval, Retrieval::Fetch(fetch) | Retrieval::FetchDriver(fetch) if !fetch.own_drivers)
            && scenario.helpers.is_empty()
            && scenario
                .drivers
                .iter()
                .any(|driver| driver.rule_book.limits())
        {
            doubts.push(format!(
                "{} has helpers pick up stranded drivers, and there is no helper",
                rule.name
            ));
        }
        if rule.yard.warns() && scenario.concrete.rack.is_none() {
            doubts.push(format!(
                "{} warns on the ticket, and no load is misread without `rack` in `concrete`",
                rule.name
            ));
        }
    }
    if !scenario.helpers.is_empty()
        && scenario
            .rules
            .iter()
            .all(|rule| rule.retrieval.fetch().is_none())
    {
        doubts.push(format!(
            "{} on call, and no rule picks up stranded drivers",
            counted(scenario.helpers.len(), "helper is", "helpers are")
        ));
    }
}

pub(super) fn plants(scenario: &Scenario, doubts: &mut Vec<String>) {
    let lending = scenario
        .rules
        .iter()
        .filter(|rule| rule.lend != Lend::Never)
        .count();
    for (at, plant) in scenario.plants.iter().enumerate() {
        if scenario.trucks.iter().all(|truck| truck.home.at() != at) {
            let lent = match lending {
                0 => "no rule loans it any".into(),
                some => format!(
                    "trucks are loaned by {some} of {}",
                    counted(scenario.rules.len(), "rule", "rules")
                ),
            };
            doubts.push(format!("{} has no trucks of its own; {lent}", plant.name));
        }
    }
}

pub(super) fn trucks(scenario: &Scenario, tours: &Tours, doubts: &mut Vec<String>) {
    let mut driven = vec![false; scenario.trucks.len()];
    for tour in &tours.all {
        driven[tour.truck.at()] = true;
    }
    let idle: Vec<&str> = scenario
        .trucks
        .iter()
        .zip(&driven)
        .filter(|(_, driven)| !**driven)
        .map(|(truck, _)| truck.name.as_str())
        .collect();
    if !idle.is_empty() {
        let named = &idle[..idle.len().min(MOST_NAMED)];
        let more = if named.len() < idle.len() {
            ", …"
        } else {
            ""
        };
        doubts.push(format!(
            "{} without a driver in the period: {}{more}",
            counted(idle.len(), "truck is", "trucks are"),
            named.join(", ")
        ));
    }
}
