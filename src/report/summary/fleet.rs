//! Trucks and drivers by group.

use super::Page;
use super::words::{counted, hours, much, plain, plain_1, range, share, weekdays};
use crate::hours::RuleBook;
use crate::scenario::{Driver, Scenario, Truck};
use crate::units::measure::Quantity;

pub(super) fn fleet(scenario: &Scenario, page: &mut Page) {
    for group in truck_groups(scenario) {
        let truck = &group[0];
        let weight = truck
            .legal_gross_lb
            .map_or("weight not looked at".into(), |lb| {
                format!(
                    "{} empty, legal gross {}",
                    much(Quantity::Weight, truck.empty_lb),
                    much(Quantity::Weight, lb)
                )
            });
        let breaks = truck
            .breakdowns
            .as_ref()
            .map_or(String::new(), |breakdowns| {
                format!(
                    ", breaks down once in {} h driven for about {} min (the drum still turns in {}; out for {} \
                     if a load sets)",
                    plain(breakdowns.mean_h_between),
                    plain_1(breakdowns.minutes.mean()),
                    share(breakdowns.drum_turns),
                    counted(breakdowns.out_days as usize, "day", "days"),
                )
            });
        let axles = match &truck.axles {
            Some(axles) => format!(
                ", {} axles that bear {} of concrete",
                axles.axles().len(),
                much(Quantity::Weight, truck.payload_lb().floor())
            ),
            None => String::new(),
        };
        page.line(&format!(
            "{}: {} of {}, {}, {weight}{axles}{breaks}{}",
            truck_names(group),
            counted(group.len(), "truck", "trucks"),
            scenario.plants[truck.home.at()].name,
            much(Quantity::Volume, truck.capacity.yd3()),
            needs(truck),
        ));
    }
    for group in driver_groups(scenario) {
        let (first, last) = (&group[0], &group[group.len() - 1]);
        page.line(&format!(
            "{}: {}, report {}, shift {}, {}, trucks {}{}",
            driver_names(group),
            counted(group.len(), "driver", "drivers"),
            range(&first.report.to_string(), &last.report.to_string()),
            hours(first.shift),
            weekdays(&first.days),
            range(
                &scenario.trucks[first.truck.at()].name,
                &scenario.trucks[last.truck.at()].name
            ),
            person(scenario, first),
        ));
    }
}

fn needs(truck: &Truck) -> String {
    let Some(need) = &truck.needs else {
        return String::new();
    };
    let mut text = format!(", class {:?}", need.class);
    for name in &need.endorsements {
        text += &format!(" with {name}");
    }
    for name in &need.bars {
        text += &format!(", not with {name}");
    }
    text
}

/// What sets a driver apart: a rule book of their own, licence, hours before the period.
fn person(scenario: &Scenario, driver: &Driver) -> String {
    let mut text = String::new();
    if driver.rule_book != scenario.rule_book {
        text += &match driver.rule_book {
            RuleBook::Unlimited => ", no limit".to_owned(),
            RuleBook::Set(at) => format!(", {}", scenario.rule_sets[at as usize].name),
        };
    }
    if let Some(licence) = &driver.licence {
        text += &format!(", class {:?}", licence.class);
    }
    if let Some(guaranteed) = driver.guaranteed_day {
        text += &format!(", paid for {} h a day at least", plain(guaranteed.hours()));
    }
    if let Some(hauler) = driver.hauler {
        text += &format!(
            ", hired by the hour, {} h a day at least",
            plain(hauler.least.hours())
        );
    }
    let before: f64 = driver.history.hours.iter().sum();
    if before > 0.0 {
        text += &format!(", {} h on duty before", plain(before));
    }
    text
}

/// Neighbours in the list that were probably written as one group: the same but for a number behind the name.
pub(super) fn truck_groups(scenario: &Scenario) -> Vec<&[Truck]> {
    let alike = |a: &Truck, b: &Truck| {
        stem(&a.name) == stem(&b.name)
            && (a.home, a.capacity) == (b.home, b.capacity)
            && (a.empty_lb, a.legal_gross_lb, a.axles) == (b.empty_lb, b.legal_gross_lb, b.axles)
            && a.needs == b.needs
    };
    scenario.trucks.chunk_by(alike).collect()
}

/// The same of drivers; their trucks are of one plant.
pub(super) fn driver_groups(scenario: &Scenario) -> Vec<&[Driver]> {
    let home = |driver: &Driver| scenario.trucks[driver.truck.at()].home;
    let alike = |a: &Driver, b: &Driver| {
        stem(&a.name) == stem(&b.name)
            && (a.shift, &a.days, home(a), a.care) == (b.shift, &b.days, home(b), b.care)
            && (a.rule_book, &a.licence, a.seniority) == (b.rule_book, &b.licence, b.seniority)
            && (a.pay_per_h, a.guaranteed_day, a.hauler)
                == (b.pay_per_h, b.guaranteed_day, b.hauler)
            && a.history == b.history
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
