//! Days on which one kind of mishap does not happen.

use crate::scenario::Scenario;

pub(super) fn no_incidents(scenario: &Scenario) -> Result<Scenario, &'static str> {
    let mut edited = scenario.clone();
    let links = edited.roads.network.iter_mut().flat_map(|n| &mut n.links);
    let mut some = false;
    for link in links {
        some |= link.incidents.take().is_some_and(|i| i.per_day > 0.0);
    }
    some.then_some(edited).ok_or("the roads have none")
}

pub(super) fn every_ticket_read(
    scenario: &Scenario,
    rule: usize,
) -> Result<Scenario, &'static str> {
    let mut edited = scenario.clone();
    if let Some(material) = &mut edited.concrete.material {
        let drivers = scenario.drivers.iter();
        let unread = material.tickets.read < 1.0 || drivers.clone().any(|d| d.care < 1.0);
        material.tickets.read = 1.0;
        for driver in &mut edited.drivers {
            driver.care = 1.0;
        }
        return unread.then_some(edited).ok_or("every ticket is read");
    }
    let warned = scenario.rules[rule].yard.warns();
    let Some(rack) = &mut edited.concrete.rack else {
        return Err("no load is misread");
    };
    let misread = if warned {
        rack.misread_if_warned
    } else {
        rack.misread
    };
    (rack.misread, rack.misread_if_warned) = (0.0, 0.0);
    (misread > 0.0)
        .then_some(edited)
        .ok_or("no load is misread")
}

pub(super) fn no_outages(scenario: &Scenario) -> Result<Scenario, &'static str> {
    let mut edited = scenario.clone();
    let mut some = false;
    for plant in &mut edited.plants {
        some |= plant.outages.take().is_some() || !plant.planned_outages.is_empty();
        plant.planned_outages.clear();
    }
    some.then_some(edited).ok_or("the plants have none")
}

pub(super) fn no_no_shows(scenario: &Scenario) -> Result<Scenario, &'static str> {
    let mut edited = scenario.clone();
    let changes = &mut edited.changes;
    (changes.no_show, changes.absent, changes.empty_seats) = (0.0, 0.0, 0.0);
    (edited != *scenario)
        .then_some(edited)
        .ok_or("every driver comes")
}

pub(super) fn no_site_late(scenario: &Scenario) -> Result<Scenario, &'static str> {
    let mut edited = scenario.clone();
    edited.changes.not_ready = 0.0;
    (scenario.changes.not_ready > 0.0)
        .then_some(edited)
        .ok_or("every site is ready")
}
