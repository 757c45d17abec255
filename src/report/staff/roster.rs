//! The recommended staffing as tables that a scenario takes back: `drivers: Table("roster.csv")`, and the trucks that came with added
//! drivers.

use crate::report::answer::{Cell, Column, Table};
use crate::scenario::{Driver, Scenario};
use crate::units::measure::{self, Quantity};

/// The drivers.
pub(super) const ROSTER: &str = "roster";
/// The trucks that were added.
pub(super) const ADDED: &str = "added-trucks";

/// The drivers of a staffed scenario, one line each.
pub(super) fn roster(staffed: &Scenario) -> Table {
    let hired = staffed.drivers.iter().any(|driver| driver.hauler.is_some());
    let hauler: &[&str] = match hired {
        true => &["hauler_per_h", "hauler_least_h"],
        false => &[],
    };
    let mut table = Table::new(
        ROSTER,
        [
            "name",
            "trucks",
            "report",
            "shift_h",
            "days",
            "class",
            "endorsements",
            "restrictions",
            "seniority",
            "pay_per_h",
            "guaranteed_h",
            "care",
        ]
        .iter()
        .chain(hauler)
        .map(|field| Column::file(*field).left())
        .collect(),
    );
    table.json = false;
    for driver in &staffed.drivers {
        let terms = driver.hauler.map_or([Cell::Blank, Cell::Blank], |hauler| {
            [hauler.per_h.units().into(), hauler.least.hours().into()]
        });
        let terms = terms.into_iter().take(hauler.len());
        table.row(cells(staffed, driver).into_iter().chain(terms));
    }
    table
}

fn cells(staffed: &Scenario, driver: &Driver) -> Vec<Cell> {
    let list = |names: Vec<String>| Cell::Text(names.join("; "));
    let licence = driver.licence.as_ref();
    let days = driver.days.iter().map(|day| format!("{day:?}")).collect();
    let names = |names: Option<&Vec<String>>| list(names.cloned().unwrap_or_default());
    vec![
        driver.name.as_str().into(),
        staffed.trucks[driver.truck.at()].name.as_str().into(),
        driver.report.to_string().into(),
        driver.shift.hours().into(),
        list(days),
        licence.map_or(Cell::Blank, |licence| format!("{:?}", licence.class).into()),
        names(licence.map(|licence| &licence.endorsements)),
        names(licence.map(|licence| &licence.restrictions)),
        driver
            .seniority
            .map_or(Cell::Blank, |place| f64::from(place).into()),
        driver
            .pay_per_h
            .map_or(Cell::Blank, |pay| pay.units().into()),
        driver
            .guaranteed_day
            .map_or(Cell::Blank, |day| day.hours().into()),
        driver.care.into(),
    ]
}

/// The trucks that the scenario does not have, and at which plant they stand; each is like the first truck of its name.
pub(super) fn added(scenario: &Scenario, staffed: &Scenario) -> Table {
    let mut table = Table::new(
        ADDED,
        ["name", "home", "capacity_yd3"]
            .map(|field| Column::file(field).left())
            .to_vec(),
    );
    table.json = false;
    for truck in &staffed.trucks[scenario.trucks.len()..] {
        table.row([
            truck.name.as_str().into(),
            staffed.plants[truck.home.at()].name.as_str().into(),
            measure::rounded(Quantity::Volume, truck.capacity.yd3(), 6).into(),
        ]);
    }
    table
}
