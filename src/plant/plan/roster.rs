//! Who is rostered when: by day and plant, and report times moved by a rule that staggers them.

use super::driver::DriverPlan;
use super::truck::TruckPlan;
use crate::dispatch::{Policy, Shift, staggered};
use crate::units::{DriverId, Millis, PlantId};

/// A driver's day on the roster.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::plant) struct Rostered {
    pub(in crate::plant) report: Millis,
    pub(in crate::plant) driver: DriverId,
    /// Which of the driver's reports in the period.
    pub(in crate::plant) nth: u16,
    /// Whether the driver takes over the truck from another of the same day.
    pub(in crate::plant) takes_over: bool,
}

/// The roster of the period.
#[derive(Clone, Debug)]
pub(in crate::plant) struct Roster {
    plants: usize,
    /// By day and plant, in the order of reporting.
    days: Vec<Vec<Rostered>>,
    /// By rule, driver and report: staggered times; empty for a rule that does not stagger.
    staggered: Vec<Vec<Vec<Millis>>>,
}

impl Roster {
    pub(in crate::plant) fn new(
        drivers: &[DriverPlan],
        trucks: &[TruckPlan],
        plants: usize,
        days: u32,
        policies: &[Policy],
    ) -> Self {
        let mut roster = Self {
            plants,
            days: vec![Vec::new(); plants * days as usize],
            staggered: Vec::new(),
        };
        for (at, driver) in drivers.iter().enumerate() {
            let home = trucks[driver.truck.at()].home;
            let reports = driver.report_days.iter().zip(&driver.reports);
            for (nth, (day, report)) in reports.enumerate() {
                let day = usize::from(*day);
                roster.days[day * plants + home.at()].push(Rostered {
                    report: *report,
                    driver: DriverId::new(at),
                    nth: nth as u16,
                    takes_over: false,
                });
            }
        }
        for list in &mut roster.days {
            list.sort_unstable();
            for at in 0..list.len() {
                let truck = drivers[list[at].driver.at()].truck;
                let same = |other: &Rostered| drivers[other.driver.at()].truck == truck;
                list[at].takes_over = list[..at].iter().any(same);
            }
        }
        roster.staggered = policies
            .iter()
            .map(|policy| match policy.shift {
                Shift::Staggered { minutes } => roster.stagger(drivers, minutes),
                Shift::Rostered | Shift::Matched { .. } => Vec::new(),
            })
            .collect();
        roster
    }

    fn stagger(&self, drivers: &[DriverPlan], minutes: Option<f64>) -> Vec<Vec<Millis>> {
        let mut reports: Vec<Vec<Millis>> = drivers
            .iter()
            .map(|driver| driver.reports.clone())
            .collect();
        for list in &self.days {
            let moved: Vec<&Rostered> = list.iter().filter(|entry| !entry.takes_over).collect();
            let (Some(first), Some(last)) = (moved.first(), moved.last()) else {
                continue;
            };
            let rostered = (first.report, last.report);
            for (place, entry) in moved.iter().enumerate() {
                let at = staggered(minutes, rostered, (place, moved.len()));
                reports[entry.driver.at()][entry.nth as usize] = at;
            }
        }
        for list in &mut reports {
            list.sort_unstable();
        }
        reports
    }

    /// A day's roster of a plant.
    pub(in crate::plant) fn of(&self, day: usize, plant: PlantId) -> &[Rostered] {
        &self.days[day * self.plants + plant.at()]
    }

    /// Staggered report times of a driver under a rule.
    pub(in crate::plant) fn staggered(&self, rule: usize, driver: DriverId) -> &[Millis] {
        &self.staggered[rule][driver.at()]
    }
}
