//! Drivers made ready: reports, clocks and place by seniority.

use crate::engine::Entity;
use crate::hours::{Clocks, RuleBook, RuleSet, TourRecord};
use crate::scenario::{Hauler, History, Licence, Scenario};
use crate::units::{Cents, Millis, TruckId, Weekday};

/// A driver made ready.
#[derive(Clone, Debug)]
pub(in crate::plant) struct DriverPlan {
    /// Place among all by seniority, 0 first.
    pub(in crate::plant) seniority: u32,
    pub(in crate::plant) truck: TruckId,
    pub(in crate::plant) shift: Millis,
    pub(in crate::plant) entity: Entity,
    /// Planned report times over the period.
    pub(in crate::plant) reports: Vec<Millis>,
    /// The day that each belongs to.
    pub(in crate::plant) report_days: Vec<u16>,
    pub(in crate::plant) rule_book: RuleBook,
    /// The clocks at the first midnight, and what else is known of the days before.
    pub(in crate::plant) clocks: Clocks,
    pub(in crate::plant) tours: TourRecord,
    pub(in crate::plant) rested: Millis,
    pub(in crate::plant) released: Millis,
    pub(in crate::plant) in_row: u32,
    pub(in crate::plant) licence: Option<Licence>,
    /// From when on no load is started because somebody takes the truck over; [`Millis::NEVER`] if nobody does.
    pub(in crate::plant) relieved: Millis,
    pub(in crate::plant) pay: PayBasis,
}

/// What pay looks at besides the hours of the period.
#[derive(Clone, Debug)]
pub struct PayBasis {
    /// Planned length of a tour.
    pub shift: Millis,
    /// Weekdays that are rostered.
    pub days: Vec<Weekday>,
    /// Hours on duty on each day before the period, yesterday first.
    pub before: Vec<Millis>,
    /// What an hour is paid, where that is not what all are paid.
    pub pay_per_h: Option<Cents>,
    /// The least that a day is paid for, where that is not what all have.
    pub guaranteed_day: Option<Millis>,
    /// The price of a hired hauler; none of an own driver.
    pub hauler: Option<Hauler>,
}

pub(super) fn drivers(scenario: &Scenario) -> Vec<DriverPlan> {
    scenario
        .drivers
        .iter()
        .zip(by_seniority(scenario))
        .map(|(driver, seniority)| DriverPlan {
            seniority,
            truck: driver.truck,
            shift: driver.shift,
            entity: Entity::named(&driver.name),
            reports: driver.reports(&scenario.period),
            report_days: driver
                .reports_by_day(&scenario.period)
                .iter()
                .map(|(day, _)| *day as u16)
                .collect(),
            rule_book: driver.rule_book,
            clocks: clocks(scenario, driver.rule_book, &driver.history),
            tours: driver.history.tours(),
            rested: rest(scenario, driver.rule_book) - driver.history.released_before,
            released: -driver.history.released_before,
            in_row: driver.history.days_in_row(),
            licence: driver.licence.clone(),
            relieved: driver.relieved.unwrap_or(Millis::NEVER),
            pay: PayBasis {
                shift: driver.shift,
                days: driver.days.clone(),
                before: (driver.history.hours.iter())
                    .map(|hours| Millis::from_hours(*hours))
                    .collect(),
                pay_per_h: driver.pay_per_h,
                guaranteed_day: driver.guaranteed_day,
                hauler: driver.hauler,
            },
        })
        .collect()
}

pub(super) fn clocks(scenario: &Scenario, book: RuleBook, history: &History) -> Clocks {
    match book.of(&scenario.rule_sets) {
        Some(rules) => history.clocks(rules),
        None => history.clocks(&RuleSet::unlimited()),
    }
}

/// The rest before a report.
fn rest(scenario: &Scenario, book: RuleBook) -> Millis {
    let rules = book.of(&scenario.rule_sets);
    rules.map_or(Millis::ZERO, |rules| rules.reset_rest)
}

/// Each driver's place among all by seniority; those without one come last, equals in the order written.
fn by_seniority(scenario: &Scenario) -> Vec<u32> {
    let mut order: Vec<usize> = (0..scenario.drivers.len()).collect();
    order.sort_by_key(|at| scenario.drivers[*at].seniority.unwrap_or(u32::MAX));
    let mut places = vec![0; order.len()];
    for (place, driver) in order.into_iter().enumerate() {
        places[driver] = place as u32;
    }
    places
}
