//! What a scenario may lawfully say and its writer may not have meant, each with its numbers.

mod age;
mod concrete;
mod crew;
mod demand;
mod mixes;
mod money;
mod no_use;
mod pours;
mod tables;
mod unread;
mod vehicles;
mod weight;

use crate::plant::Plan;
use crate::scenario::{LoadOnPaper, Order, Scenario};
use crate::units::{Millis, TruckId};

/// All doubts, in the order of the summary.
pub(super) fn of(scenario: &Scenario, plan: &Plan) -> Vec<String> {
    let tours = Tours::new(scenario);
    let pours = Pour::all(scenario, plan);
    let mut doubts = Vec::new();
    tables::columns(scenario, &mut doubts);
    vehicles::rules(scenario, &mut doubts);
    vehicles::plants(scenario, &mut doubts);
    vehicles::trucks(scenario, &tours, &mut doubts);
    weight::trucks(scenario, &mut doubts);
    weight::stations(scenario, &mut doubts);
    weight::parallel_roads(scenario, plan, &mut doubts);
    mixes::names(scenario, &mut doubts);
    unread::all(scenario, &mut doubts);
    no_use::fields(scenario, &mut doubts);
    no_use::decisions(scenario, &mut doubts);
    money::prices(scenario, &mut doubts);
    concrete::strength(scenario, &mut doubts);
    concrete::reuse(&pours, scenario, &mut doubts);
    crew::drivers(scenario, plan, &mut doubts);
    for pour in &pours {
        crew::order(pour, scenario, plan, &tours, &mut doubts);
        pours::order(pour, scenario, &mut doubts);
        age::order(pour, scenario, &mut doubts);
    }
    age::drawn(&Pour::drawn(scenario, plan), scenario, &mut doubts);
    demand::fleet(&pours, scenario, &tours, &mut doubts);
    doubts
}

/// A planned tour of a driver in the period.
struct Tour {
    truck: TruckId,
    report: Millis,
    /// When the first load can be begun.
    ready: Millis,
    /// Planned end.
    end: Millis,
    driver: usize,
}

/// All planned tours of the period.
struct Tours {
    /// By report time.
    all: Vec<Tour>,
    longest: Millis,
}

impl Tours {
    fn new(scenario: &Scenario) -> Self {
        let pre_trip = Millis::from_minutes(scenario.yard.pre_trip.mean());
        let mut all = Vec::new();
        for (at, driver) in scenario.drivers.iter().enumerate() {
            for day in 0..i64::from(scenario.period.days) {
                if driver.days.contains(&scenario.period.first_day.after(day)) {
                    let report = Millis::midnight(day) + driver.report;
                    all.push(Tour {
                        truck: driver.truck,
                        report,
                        ready: report + pre_trip,
                        end: report + driver.shift,
                        driver: at,
                    });
                }
            }
        }
        all.sort_by_key(|tour| (tour.report, tour.driver));
        let shifts = scenario.drivers.iter().map(|driver| driver.shift);
        Self {
            all,
            longest: shifts.max().unwrap_or_default(),
        }
    }

    /// The tours that may run at a moment, and all later ones.
    fn from(&self, at: Millis) -> impl Iterator<Item = &Tour> {
        let first = self
            .all
            .partition_point(|tour| tour.report < at - self.longest);
        self.all[first..].iter()
    }
}

/// An order with its load on paper.
struct Pour<'a> {
    order: &'a Order,
    load: LoadOnPaper,
}

impl<'a> Pour<'a> {
    /// The written orders.
    fn all(scenario: &'a Scenario, plan: &Plan) -> Vec<Self> {
        let written = scenario.orders.iter().filter(|order| order.slot.is_none());
        written
            .filter_map(|order| Self::of(order, scenario, plan))
            .collect()
    }

    /// The first of the orders that a day may have, for each list.
    fn drawn(scenario: &'a Scenario, plan: &Plan) -> Vec<Self> {
        let is_first = |order: &&Order| order.slot.is_some_and(|slot| slot.number == 0);
        let first = scenario.orders.iter().filter(is_first);
        first
            .filter_map(|order| Self::of(order, scenario, plan))
            .collect()
    }

    fn of(order: &'a Order, scenario: &Scenario, plan: &Plan) -> Option<Self> {
        Some(Self {
            order,
            load: LoadOnPaper::shortest(scenario, plan.roads(), order)?,
        })
    }

    /// When the last load is due.
    fn last_due(&self) -> Millis {
        self.order.first + self.order.spacing * (self.load.loads - 1)
    }
}
