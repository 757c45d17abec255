//! What belongs to whom: the lines of each table, and the line of each order, plant and driver.

use crate::observe::{Figures, WhomFigures};
use crate::scenario::Scenario;
use std::collections::HashMap;

/// Whom figures are told by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Who {
    /// Each order; those of a list that is drawn each day together.
    Order,
    /// Each customer; the last of orders without one.
    Customer,
    /// Each plant; the last of loads that no plant was to make.
    Plant,
    /// The weekday on which the order's first load is due; the last of loads made on demand.
    Weekday,
    /// Each driver.
    Driver,
}

impl Who {
    /// All.
    pub const ALL: [Self; 5] = [
        Self::Order,
        Self::Customer,
        Self::Plant,
        Self::Weekday,
        Self::Driver,
    ];

    pub(super) fn is_driver(self) -> bool {
        self == Self::Driver
    }
}

/// Figures of each, by position in the columns.
pub(super) const FIGURES: usize = 5;

/// The lines of one table.
#[derive(Clone, Debug)]
pub(super) struct Lines {
    pub(super) names: Vec<String>,
    /// By order, plant or driver: its line.
    pub(super) of: Vec<usize>,
    /// Position of its first figure among all.
    pub(super) first: usize,
}

/// Lines as they are named.
#[derive(Default)]
struct Naming {
    names: Vec<String>,
    by_name: HashMap<String, usize>,
    of: Vec<usize>,
}

impl Naming {
    fn add(&mut self, name: &str) {
        let line = *self.by_name.entry(name.to_owned()).or_insert_with(|| {
            self.names.push(name.to_owned());
            self.names.len() - 1
        });
        self.of.push(line);
    }
}

/// What belongs to whom, one for each of [`Who::ALL`].
#[derive(Clone, Debug)]
pub(in crate::studies) struct Belongs {
    pub(super) tables: [Lines; 5],
    /// Figures of all lines together.
    pub(super) figures: usize,
}

impl Belongs {
    pub(in crate::studies) fn of(scenario: &Scenario) -> Self {
        let mut figures = 0;
        let tables = Who::ALL.map(|who| {
            let naming = lines(scenario, who);
            let first = figures;
            figures += naming.names.len() * FIGURES;
            Lines {
                names: naming.names,
                of: naming.of,
                first,
            }
        });
        Self { tables, figures }
    }

    /// The figures of one replication, line by line.
    pub(super) fn add(&self, whom: &Figures<'_>, sums: &mut [i64]) {
        let whom = whom.whom();
        for (who, lines) in Who::ALL.into_iter().zip(&self.tables) {
            let each: &[WhomFigures] = match who {
                Who::Order | Who::Customer | Who::Weekday => &whom.orders,
                Who::Plant => &whom.plants,
                Who::Driver => &whom.drivers,
            };
            for (figures, line) in each.iter().zip(&lines.of) {
                let at = lines.first + line * FIGURES;
                for (sum, value) in sums[at..at + FIGURES].iter_mut().zip(figures) {
                    *sum += value;
                }
            }
        }
    }
}

fn lines(scenario: &Scenario, who: Who) -> Naming {
    let mut lines = Naming::default();
    match who {
        Who::Order => {
            for order in &scenario.orders {
                match order.slot {
                    None => lines.add(&order.name),
                    Some(slot) => {
                        let list = &scenario.drawn[slot.group].name;
                        lines.add(&format!("{list}, drawn each day"));
                    }
                }
            }
            for endless in &scenario.endless {
                lines.add(&endless.name);
            }
        }
        Who::Customer => {
            // Those without a name come last.
            let named = scenario.orders.iter().filter_map(|o| o.customer.as_deref());
            named.for_each(|customer| lines.add(customer));
            lines.of.clear();
            for order in &scenario.orders {
                lines.add(order.customer.as_deref().unwrap_or(NO_CUSTOMER));
            }
            scenario.endless.iter().for_each(|_| lines.add(NO_CUSTOMER));
        }
        Who::Plant => {
            let plants = scenario.plants.iter().map(|plant| plant.name.as_str());
            plants.chain([NO_PLANT]).for_each(|name| lines.add(name));
        }
        Who::Weekday => {
            let period = &scenario.period;
            let day = |day: i64| format!("{:?}", period.first_day.after(day));
            (0..i64::from(period.days)).for_each(|nth| lines.add(&day(nth)));
            lines.of.clear();
            for order in &scenario.orders {
                lines.add(&day(order.first.day()));
            }
            scenario.endless.iter().for_each(|_| lines.add(ON_DEMAND));
        }
        Who::Driver => {
            let drivers = scenario.drivers.iter();
            drivers.for_each(|driver| lines.add(&driver.name));
        }
    }
    lines
}

/// Orders of nobody.
const NO_CUSTOMER: &str = "no customer named";
/// Loads that did not come and were promised from nowhere.
const NO_PLANT: &str = "no truck was promised";
/// Loads that belong to no day.
const ON_DEMAND: &str = "made on demand";
