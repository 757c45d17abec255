//! The call-in sheet of a day: whom, from when, and from when each driver may legally report.

use super::{Staffing, staffed};
use crate::engine::Luck;
use crate::montecarlo::{self, Trial};
use crate::plant::{Event, Observer, Plan, World};
use crate::scenario::Scenario;
use crate::statistics::quantile;
use crate::units::Millis;
use std::num::NonZeroUsize;
use std::sync::atomic::AtomicBool;

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
    /// When to report, since midnight before the first day.
    pub report: Millis,
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
    /// Regular drivers rostered on that day who need not come.
    pub not_called: Vec<String>,
}

struct Releases {
    plan: Plan,
    before: Millis,
    rule: usize,
    seed: u64,
}

struct Last<'a>(&'a mut [f32], Millis);

impl Observer for Last<'_> {
    fn event(&mut self, at: Millis, event: &Event) {
        if let Event::Released { driver, tour, .. } = *event
            && at - tour < self.1
        {
            self.0[driver.at()] = at.minutes() as f32;
        }
    }
}

impl<'t> Trial for &'t Releases {
    type Worker = World<'t>;

    fn worker(&self) -> World<'t> {
        World::new(&self.plan)
    }

    fn cases(&self) -> usize {
        1
    }

    fn width(&self) -> usize {
        self.plan.driver_count()
    }

    fn run(&self, world: &mut World<'t>, _: usize, replication: u64, row: &mut [f32]) {
        row.fill(f32::NAN);
        let luck = Luck::new(self.seed, replication);
        world.run(self.rule, luck, &mut Last(row, self.before));
    }
}

/// The sheet of a day (0 is the first) under a staffing; rest is reckoned from the releases of simulated days before.
pub fn call_sheet(
    scenario: &Scenario,
    staffing: Staffing,
    day: i64,
    (rule, seed, replications): (usize, u64, u64),
    threads: Option<NonZeroUsize>,
) -> CallSheet {
    let staffed = staffed(scenario, staffing);
    let trial = Releases {
        plan: Plan::new(&staffed),
        before: Millis::midnight(day),
        rule,
        seed,
    };
    let rows = montecarlo::run(
        &&trial,
        0..replications,
        threads,
        &|_| {},
        &AtomicBool::new(false),
    );
    let rules = staffed.rule_book.of(&staffed.rule_sets);
    let rest = rules.map_or(Millis::ZERO, |rules| rules.reset_rest);
    let mut called = Vec::new();
    let mut not_called = Vec::new();
    let weekday = staffed.period.first_day.after(day);
    for (at, driver) in staffed.drivers.iter().enumerate() {
        let reports = driver.reports(&staffed.period);
        let Some(report) = reports.into_iter().find(|report| report.day() == day) else {
            if driver.days.contains(&weekday) {
                not_called.push(driver.name.clone());
            }
            continue;
        };
        let released = quantile(rows.values(0, at), CAUTION).map(Millis::from_minutes);
        let truck = &staffed.trucks[driver.truck.at()];
        called.push(CallIn {
            driver: driver.name.clone(),
            truck: truck.name.clone(),
            plant: staffed.plants[truck.home.at()].name.clone(),
            report,
            earliest: released.map(|released| released + rest),
        });
    }
    called.sort_by_key(|call| (call.plant.clone(), call.report));
    CallSheet {
        day,
        called,
        not_called,
    }
}
