//! Head counts, start patterns, length of tours, and a growing order book.

use crate::dispatch::Shift;
use crate::scenario::{Driver, Scenario, Truck};
use crate::units::{Millis, PlantId, TruckId, Volume};

/// When drivers start.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StartPattern {
    /// As the roster says.
    Rostered,
    /// Evenly between the first and the last rostered report of the plant.
    Staggered,
    /// Called in day by day as the order book needs them.
    Matched,
}

impl StartPattern {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Rostered, Self::Staggered, Self::Matched];

    /// In a word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Rostered => "rostered",
            Self::Staggered => "staggered",
            Self::Matched => "matched",
        }
    }
}

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
/// Width of the steps in which the need for trucks is reckoned.
pub const NEED_STEP: Millis = Millis(30 * Millis::MINUTE.0);
/// A called driver reports so long before the truck is needed.
const CALL_AHEAD: Millis = NEED_STEP;
/// Trucks beyond the need at each plant while it has any: for no-shows and slow roads.
const RESERVE: u32 = 1;

/// Positions of the drivers that a head count counts: those who are rostered on at least half as many days as the busiest.
pub fn regulars(scenario: &Scenario) -> Vec<usize> {
    let days = |driver: &Driver| driver.reports(&scenario.period).len();
    let most = scenario.drivers.iter().map(days).max().unwrap_or(0);
    (0..scenario.drivers.len())
        .filter(|at| 2 * days(&scenario.drivers[*at]) >= most.max(1))
        .collect()
}

/// The scenario with this many regular drivers, at least 1, shared among the plants as now (Sainte-Laguë). Those left out, and
/// those doubled, lie evenly along the plant's list; who is added brings a truck.
pub fn with_drivers(scenario: &Scenario, total: u32) -> Scenario {
    let regulars = regulars(scenario);
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

/// The scenario with tours of this length.
pub fn with_overtime(scenario: &Scenario, overtime: OvertimeUse) -> Scenario {
    let mut edited = scenario.clone();
    for driver in &mut edited.drivers {
        driver.shift = match overtime {
            OvertimeUse::None => driver.shift.min(scenario.money.overtime_after),
            OvertimeUse::Rostered => driver.shift,
            OvertimeUse::Longer => driver.shift + LONGER,
        };
    }
    edited
}

/// Every order with so many per cent more volume.
pub fn with_growth(scenario: &Scenario, per_cent: f64) -> Scenario {
    let mut edited = scenario.clone();
    for drawn in &mut edited.drawn {
        drawn.growth *= 1.0 + per_cent / 100.0;
    }
    for order in &mut edited.orders {
        order.volume = Volume::from_yd3(order.volume.yd3() * (1.0 + per_cent / 100.0));
    }
    edited
}

/// The scenario with this start pattern. `need` holds, by plant and step of [`NEED_STEP`] since midnight before the first day,
/// how many trucks the order book needs. Drivers who share a truck with another on a day keep their rostered time that day.
pub fn with_starts(scenario: &Scenario, pattern: StartPattern, need: &[Vec<u32>]) -> Scenario {
    let mut edited = scenario.clone();
    // The pattern takes the place of a rule's own way to call drivers.
    for rule in &mut edited.rules {
        rule.shift = Shift::Rostered;
    }
    if pattern == StartPattern::Rostered {
        return edited;
    }
    let reports: Vec<Vec<Millis>> = scenario
        .drivers
        .iter()
        .map(|driver| driver.reports(&scenario.period))
        .collect();
    let mut calls: Vec<Vec<Millis>> = vec![Vec::new(); scenario.drivers.len()];
    for day in 0..i64::from(scenario.period.days) {
        let on = |driver: usize| reports[driver].iter().copied().find(|at| at.day() == day);
        let plants = (0..scenario.plants.len()).map(PlantId::new);
        for plant in plants {
            let here = |driver: &usize| {
                let truck = scenario.drivers[*driver].truck;
                scenario.trucks[truck.at()].home == plant && on(*driver).is_some()
            };
            let all: Vec<usize> = (0..scenario.drivers.len()).filter(here).collect();
            let truck = |driver: usize| scenario.drivers[driver].truck;
            let (mut free, fixed): (Vec<usize>, Vec<usize>) = all.iter().partition(|driver| {
                all.iter()
                    .filter(|other| truck(**other) == truck(**driver))
                    .count()
                    == 1
            });
            free.sort_by_key(|driver| on(*driver));
            for driver in &fixed {
                calls[*driver].extend(on(*driver));
            }
            let starts = match pattern {
                StartPattern::Matched => {
                    let rostered: Vec<(Millis, Millis)> = fixed
                        .iter()
                        .filter_map(|driver| Some((on(*driver)?, scenario.drivers[*driver].shift)))
                        .collect();
                    let shifts: Vec<Millis> = free
                        .iter()
                        .map(|driver| scenario.drivers[*driver].shift)
                        .collect();
                    matched(&need[plant.at()], day, &rostered, &shifts)
                }
                _ => even(
                    &free
                        .iter()
                        .filter_map(|driver| on(*driver))
                        .collect::<Vec<_>>(),
                ),
            };
            for (driver, start) in free.iter().zip(starts) {
                calls[*driver].push(start);
            }
        }
    }
    for (driver, calls) in edited.drivers.iter_mut().zip(calls) {
        driver.calls = Some(calls);
    }
    edited
}

/// As many times, evenly between the first and the last, to the minute.
fn even(starts: &[Millis]) -> Vec<Millis> {
    let (Some(first), Some(last)) = (starts.first(), starts.last()) else {
        return Vec::new();
    };
    let steps = (starts.len() as i64 - 1).max(1);
    (0..starts.len() as i64)
        .map(|nth| {
            let at = *first + Millis((*last - *first).0 * nth / steps);
            Millis(at.0 / Millis::MINUTE.0 * Millis::MINUTE.0)
        })
        .collect()
}

/// Start times on a day, in order, for as many drivers as are needed: whenever fewer are on duty than trucks are needed, the
/// next is called.
fn matched(
    need: &[u32],
    day: i64,
    rostered: &[(Millis, Millis)],
    shifts: &[Millis],
) -> Vec<Millis> {
    let midnight = Millis::midnight(day);
    let steps = (Millis::DAY.0 / NEED_STEP.0) as usize;
    let mut starts: Vec<Millis> = Vec::new();
    for step in 0..steps {
        let at = midnight + NEED_STEP * step as i64;
        let needed = need
            .get(day as usize * steps + step)
            .map_or(0, |need| if *need > 0 { need + RESERVE } else { 0 });
        loop {
            let called = starts
                .iter()
                .zip(shifts)
                .map(|(start, shift)| (*start, *shift));
            let on = rostered
                .iter()
                .copied()
                .chain(called)
                .filter(|(start, shift)| *start <= at && at < *start + *shift)
                .count();
            if on >= needed as usize || starts.len() == shifts.len() {
                break;
            }
            starts.push((at - CALL_AHEAD).max(midnight));
        }
    }
    starts
}
