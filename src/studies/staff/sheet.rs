//! The call-in sheet of a day: whom, from when, and from when each driver may legally report.

use super::rest::exchange_starts;
use super::{Staffing, staffed};
use crate::engine::Luck;
use crate::montecarlo::{self, Trial, Watch};
use crate::plant::{Event, Observer, Plan, World};
use crate::scenario::Scenario;
use crate::scenario::edit::roster;
use crate::statistics::quantile;
use crate::units::{DriverId, Millis};
use std::num::NonZeroUsize;

/// Of the evenings before, this share ends no later than the earliest legal report reckons with.
const CAUTION: f64 = 0.95;

/// One driver on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct CallIn {
    /// Name.
    pub driver: String,
    /// Truck.
    pub truck: String,
    /// Plant.
    pub plant: String,
    /// When to report, since midnight before the first day: the middle of the simulated days on which the driver is called, exchanged
    /// among the drivers of a plant where somebody would still be resting.
    pub report: Millis,
    /// When the rule would have called, where that is another time.
    pub planned: Option<Millis>,
    /// Share of the simulated days on which the driver is called; below 1 where it turns on orders that are drawn.
    pub share: f64,
    /// Earliest legal report in all but one evening in twenty; none without a tour before.
    pub earliest: Option<Millis>,
}

/// The sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct CallSheet {
    /// The day, 0 for the first.
    pub day: i64,
    /// Who is called, by time.
    pub called: Vec<CallIn>,
    /// How many of them are counted in head counts; the others are rostered on few days, or hired.
    pub regulars: usize,
    /// How many are hired haulers.
    pub haulers: usize,
    /// Drivers rostered on that day who are called on less than half of the simulated days.
    pub not_called: Vec<String>,
}

/// Rows hold for each driver when the tour before the day ended, minutes since midnight before the first day, and for when the
/// driver is called, minutes since the day's own.
struct Calls {
    plan: Plan,
    day: i64,
    rule: usize,
    seed: u64,
}

struct Last<'a>(&'a mut [f32], Millis);

impl Observer for Last<'_> {
    const EACH_REFUSAL: bool = false;

    fn event(&mut self, at: Millis, event: &Event) {
        if let Event::Released { driver, tour, .. } = *event
            && at - tour < self.1
        {
            self.0[driver.at()] = at.minutes() as f32;
        }
    }
}

impl<'t> Trial for &'t Calls {
    type Worker = World<'t>;

    fn worker(&self) -> World<'t> {
        World::new(&self.plan)
    }

    fn cases(&self) -> usize {
        1
    }

    fn width(&self) -> usize {
        2 * self.plan.driver_count()
    }

    fn run(&self, world: &mut World<'t>, _: usize, replication: u64, row: &mut [f32]) {
        row.fill(f32::NAN);
        let luck = Luck::new(self.seed, replication);
        let before = Millis::midnight(self.day);
        let (released, called) = row.split_at_mut(self.plan.driver_count());
        world.run(self.rule, luck, &mut Last(released, before));
        for (at, cell) in called.iter_mut().enumerate() {
            if let Some(call) = world.called_for(DriverId::new(at), self.day) {
                *cell = (call - before).minutes() as f32;
            }
        }
    }
}

/// The sheet of a day (0 is the first) under a staffing: whom its rule calls, and for when; rest is reckoned from the releases of
/// simulated days before.
pub fn call_sheet(
    scenario: &Scenario,
    staffing: Staffing,
    day: i64,
    (rule, seed, replications): (usize, u64, u64),
    threads: Option<NonZeroUsize>,
) -> CallSheet {
    let staffed = staffed(scenario, rule, staffing);
    let trial = Calls {
        plan: Plan::new(&staffed),
        day,
        rule,
        seed,
    };
    let rows = montecarlo::run(&&trial, 0..replications, threads, Watch::default());
    let mut called = Vec::new();
    let counted = roster::regulars(&staffed);
    let (mut regulars, mut haulers) = (0, 0);
    let mut not_called = Vec::new();
    let drivers = staffed.drivers.len();
    for (at, driver) in staffed.drivers.iter().enumerate() {
        let days = driver.reports_by_day(&staffed.period);
        if !days.iter().any(|(other, _)| *other == day) {
            continue;
        }
        let calls = || rows.values(0, drivers + at);
        let times = calls().filter(|minutes| !minutes.is_nan()).count();
        let share = times as f64 / rows.len().max(1) as f64;
        let Some(report) = quantile(calls(), 0.5).filter(|_| share >= 0.5) else {
            not_called.push(driver.name.clone());
            continue;
        };
        let rules = driver.rule_book.of(&staffed.rule_sets);
        let rest = rules.map_or(Millis::ZERO, |rules| rules.reset_rest);
        let released = quantile(rows.values(0, at), CAUTION).map(Millis::from_minutes);
        let truck = &staffed.trucks[driver.truck.at()];
        regulars += usize::from(counted.contains(&at));
        haulers += usize::from(driver.hauler.is_some());
        called.push(CallIn {
            driver: driver.name.clone(),
            truck: truck.name.clone(),
            plant: staffed.plants[truck.home.at()].name.clone(),
            report: Millis::midnight(day) + Millis::from_minutes(report),
            share,
            planned: None,
            earliest: released.map(|released| released + rest),
        });
    }
    exchange_starts(&mut called);
    called.sort_by_key(|call| (call.plant.clone(), call.report));
    CallSheet {
        day,
        called,
        regulars,
        haulers,
        not_called,
    }
}
