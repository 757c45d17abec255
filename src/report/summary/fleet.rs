//! Trucks and drivers by group.

use super::Page;
use super::words::{counted, hours, plain, plain_1, range, weekdays};
use crate::scenario::{Driver, Scenario, Truck};

pub(super) fn fleet(scenario: &Scenario, page: &mut Page) {
    for group in truck_groups(scenario) {
        let truck = &group[0];
        let weight = truck
            .legal_gross_lb
            .map_or("weight not looked at".into(), |lb| {
                format!(
                    "{} lb empty, legal gross {} lb",
                    plain(truck.empty_lb),
                    plain(lb)
                )
            });
        let breaks = truck
            .breakdowns
            .as_ref()
            .map_or(String::new(), |breakdowns| {
                format!(
                    ", breaks down once in {} h driven for about {} min",
                    plain(breakdowns.mean_h_between),
                    plain_1(breakdowns.minutes.mean())
                )
            });
        page.line(&format!(
            "{}: {} of {}, {} yd³, {weight}{breaks}",
            truck_names(group),
            counted(group.len(), "truck", "trucks"),
            scenario.plants[truck.home.at()].name,
            plain(truck.capacity.yd3()),
        ));
    }
    for group in driver_groups(scenario) {
        let (first, last) = (&group[0], &group[group.len() - 1]);
        page.line(&format!(
            "{}: {}, report {}, shift {}, {}, trucks {}",
            driver_names(group),
            counted(group.len(), "driver", "drivers"),
            range(&first.report.to_string(), &last.report.to_string()),
            hours(first.shift),
            weekdays(&first.days),
            range(
                &scenario.trucks[first.truck.at()].name,
                &scenario.trucks[last.truck.at()].name
            ),
        ));
    }
}

/// Neighbours in the list that were probably written as one group: the same but for a number behind the name.
pub(super) fn truck_groups(scenario: &Scenario) -> Vec<&[Truck]> {
    let alike = |a: &Truck, b: &Truck| {
        stem(&a.name) == stem(&b.name)
            && (a.home, a.capacity) == (b.home, b.capacity)
            && (a.empty_lb, a.legal_gross_lb) == (b.empty_lb, b.legal_gross_lb)
    };
    scenario.trucks.chunk_by(alike).collect()
}

/// The same of drivers; their trucks are of one plant.
pub(super) fn driver_groups(scenario: &Scenario) -> Vec<&[Driver]> {
    let home = |driver: &Driver| scenario.trucks[driver.truck.at()].home;
    let alike = |a: &Driver, b: &Driver| {
        stem(&a.name) == stem(&b.name)
            && (a.shift, &a.days, home(a), a.seniority) == (b.shift, &b.days, home(b), b.seniority)
            && a.report <= b.report
    };
    scenario.drivers.chunk_by(alike).collect()
}

pub(super) fn truck_names(group: &[Truck]) -> String {
    range(&group[0].name, &group[group.len() - 1].name)
}

pub(super) fn driver_names(group: &[Driver]) -> String {
    range(&group[0].name, &group[group.len() - 1].name)
}

fn stem(name: &str) -> &str {
    name.trim_end_matches(|c: char| c.is_ascii_digit())
}
