//! Head counts, starts, length of tours, and a growing order book.

mod haulers;
mod part_time;

pub use haulers::{haulers, with_haulers};
pub use part_time::with_part_time;

use super::book::so_many_times;
use crate::dispatch::Shift;
use crate::scenario::{Driver, Scenario, Truck};
use crate::units::{Millis, PlantId, TruckId};

/// How long drivers stay.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OvertimeUse {
    /// Sent home when the hours at regular pay are over, once the load in hand is done.
    None,
    /// As the roster says.
    Rostered,
    /// Two hours longer than the roster says. The hours-of-service limits stay as they are.
    Longer,
}

impl OvertimeUse {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::None, Self::Rostered, Self::Longer];

    /// In a word.
    pub fn word(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Rostered => "rostered",
            Self::Longer => "longer",
        }
    }
}

const LONGER: Millis = Millis(2 * Millis::HOUR.0);

/// Positions of the drivers that a head count counts: own drivers who are rostered on at least half as many days as the busiest.
pub fn regulars(scenario: &Scenario) -> Vec<usize> {
    let days = |driver: &Driver| driver.reports(&scenario.period).len();
    let own = |at: &usize| scenario.drivers[*at].hauler.is_none();
    let counted = (0..scenario.drivers.len()).filter(own);
    let most = counted.clone().map(|at| days(&scenario.drivers[at]));
    let most = most.max().unwrap_or(0);
    counted
        .filter(|at| 2 * days(&scenario.drivers[*at]) >= most.max(1))
        .collect()
}

/// The scenario with this many regular drivers, at least 1, shared among the plants as now (Sainte-Laguë). Those left out, and
/// those doubled, lie evenly along the plant's list; who is added brings a truck.
pub fn with_drivers(scenario: &Scenario, total: u32) -> Scenario {
    let regulars = regulars(scenario);
    if regulars.is_empty() {
        return scenario.clone(); // all are hired: there is nobody to leave out or double
    }
    let home = |driver: usize| scenario.trucks[scenario.drivers[driver].truck.at()].home;
    let by_plant: Vec<Vec<usize>> = (0..scenario.plants.len())
        .map(PlantId::new)
        .map(|plant| {
            let here = |at: &&usize| home(**at) == plant;
            regulars.iter().filter(here).copied().collect()
        })
        .collect();
    let mut seats = vec![0_usize; by_plant.len()];
    for _ in 0..total {
        // Largest quotient of drivers ÷ (2 seats + 1), the first of equals: compared without dividing.
        let more = |a: usize, b: usize| {
            by_plant[b].len() * (2 * seats[a] + 1) > by_plant[a].len() * (2 * seats[b] + 1)
        };
        let next =
            (0..seats.len()).fold(0, |best, next| if more(best, next) { next } else { best });
        seats[next] += 1;
    }
    let mut edited = scenario.clone();
    let mut left_out = Vec::new();
    for (drivers, seats) in by_plant.iter().zip(&seats) {
        let along = |nth: usize, of: usize| drivers[(2 * nth + 1) * drivers.len() / (2 * of)];
        if *seats < drivers.len() {
            let fewer = drivers.len() - seats;
            left_out.extend((0..fewer).map(|nth| along(nth, fewer)));
        }
        for nth in drivers.len()..*seats {
            let more = seats - drivers.len();
            let model =
                &scenario.drivers[along((nth - drivers.len()) % drivers.len().max(1), more.max(1))];
            let truck = &scenario.trucks[model.truck.at()];
            let n = edited.trucks.len() + 1;
            edited.trucks.push(Truck {
                name: format!("{} (added {n})", truck.name),
                ..truck.clone()
            });
            edited.drivers.push(Driver {
                name: format!("{} (added {n})", model.name),
                truck: TruckId::new(edited.trucks.len() - 1),
                ..model.clone()
            });
        }
    }
    let mut at = 0;
    edited.drivers.retain(|_| {
        at += 1;
        !left_out.contains(&(at - 1))
    });
    edited
}

/// The scenario with tours of this length. Without overtime none is planned by the day, nor by the week where there is weekly overtime:
/// the week's regular hours are shared evenly among a driver's days.
pub fn with_overtime(scenario: &Scenario, overtime: OvertimeUse) -> Scenario {
    let mut edited = scenario.clone();
    for driver in &mut edited.drivers {
        let of_week = scenario
            .money
            .overtime_after_week
            .map_or(Millis::NEVER, |week| {
                Millis(week.0 / driver.days.len().max(1) as i64)
            });
        driver.shift = match overtime {
            OvertimeUse::None => driver.shift.min(scenario.money.overtime_after).min(of_week),
            OvertimeUse::Rostered => driver.shift,
            OvertimeUse::Longer => driver.shift + LONGER,
        };
    }
    edited
}

/// The scenario with more driver days off, and more empty seats, than it has: shares that are added, up to 1.
pub fn with_absence(scenario: &Scenario, absent: f64, empty_seats: f64) -> Scenario {
    let mut edited = scenario.clone();
    let changes = &mut edited.changes;
    changes.absent = (changes.absent + absent).min(1.0);
    changes.empty_seats = (changes.empty_seats + empty_seats).min(1.0);
    edited
}

/// The scenario in which nobody is off and no seat is empty. Who does not come unforeseen still does not.
pub fn without_absence(scenario: &Scenario) -> Scenario {
    let mut edited = scenario.clone();
    (edited.changes.absent, edited.changes.empty_seats) = (0.0, 0.0);
    edited
}

/// The scenario with so many per cent more orders, or fewer: some of the book's own, spread evenly over it, come once more or not at all.
pub fn with_growth(scenario: &Scenario, per_cent: f64) -> Scenario {
    let mut edited = scenario.clone();
    if per_cent != 0.0 {
        so_many_times(&mut edited, 1.0 + per_cent / 100.0);
    }
    edited
}

/// The scenario with drivers who start this way under a rule.
pub fn with_shift(scenario: &Scenario, rule: usize, shift: Shift) -> Scenario {
    let mut edited = scenario.clone();
    edited.rules[rule].shift = shift;
    edited
}
