//! When drivers report: as rostered, staggered, or called each evening for the orders that are known by then.

use super::command::Command;
use super::event::{Event, Observer};
use super::world::World;
use crate::dispatch::{HALF_HOUR, Shift, matched};
use crate::units::{DriverId, Millis, OrderId, PlantId, Volume};

/// Drivers are called this long before the midnight that begins their day.
const EVENING: Millis = Millis(6 * 3_600_000);

impl World<'_> {
    /// The report times of a driver under the present rule.
    pub(super) fn report_time(&self, id: DriverId, nth: u16) -> Option<Millis> {
        let times = match self.day.policy.shift {
            Shift::Rostered => &self.plan.drivers[id.at()].reports,
            Shift::Staggered { .. } => self.plan.roster.staggered(self.day.rule, id),
            Shift::Matched { .. } => &self.day.calls[id.at()][..],
        };
        times.get(nth as usize).copied()
    }

    /// For when a driver was called for a day under the rule, or rostered if it calls nobody; none for who need not come. To be
    /// asked when the day is over.
    pub fn called_for(&self, id: DriverId, day: i64) -> Option<Millis> {
        let days = &self.plan.drivers[id.at()].report_days;
        let nth = days.iter().position(|other| i64::from(*other) == day)?;
        self.report_time(id, nth as u16)
            .filter(|at| *at < Millis::NEVER)
    }

    /// Plans the evenings on which drivers are called, where the rule calls them. The first are called when the period begins.
    pub(super) fn plan_calls<O: Observer>(&mut self, observer: &mut O) {
        if self.day.policy.shift.spare().is_none() {
            return;
        }
        if self.day.calls.is_empty() {
            let drivers = self.plan.drivers.iter();
            self.day.calls = drivers.map(|driver| driver.reports.clone()).collect();
        }
        // Until they are called, drivers are reckoned with as rostered.
        for (calls, driver) in self.day.calls.iter_mut().zip(&self.plan.drivers) {
            calls.copy_from_slice(&driver.reports);
        }
        self.call_in(0, observer);
        for day in 1..self.plan.days as u16 {
            let evening = Millis::midnight(i64::from(day)) - EVENING;
            self.schedule(evening, Command::CallIn(day));
        }
    }

    /// Calls the drivers of a day.
    pub(super) fn call_in<O: Observer>(&mut self, day: u16, observer: &mut O) {
        let Some(spare) = self.day.policy.shift.spare() else {
            return;
        };
        let midnight = Millis::midnight(i64::from(day));
        let plan = self.plan;
        let (mut needs, mut times) = (
            std::mem::take(&mut self.scratch.needs),
            std::mem::take(&mut self.scratch.call_times),
        );
        for plant in (0..plan.plants.len()).map(PlantId::new) {
            needs.begin(midnight, (Millis::DAY.0 / HALF_HOUR.0) as usize);
            for (position, aheads) in plan.ahead.iter().enumerate() {
                let id = OrderId::new(position);
                if plan.orders[position].called <= self.day.now && self.is_ordered(id) {
                    let there = (&aheads[..], Some(plant));
                    self.add_loads(&mut needs, id, there, Volume::ZERO, Millis::ZERO);
                }
            }
            let roster = plan.roster.of(day as usize, plant);
            let callable = roster.iter().filter(|entry| !entry.takes_over);
            let shifts = callable
                .clone()
                .map(|entry| plan.drivers[entry.driver.at()].shift);
            matched(&needs, spare, plan.pre_trip_mean, shifts, &mut times);
            for (place, entry) in callable.enumerate() {
                let at = times.get(place).map(|at| (*at).max(self.day.now));
                self.call(entry.driver, entry.nth, at, observer);
            }
            for entry in roster.iter().filter(|entry| entry.takes_over) {
                self.call(entry.driver, entry.nth, Some(entry.report), observer);
            }
        }
        self.scratch.needs = needs;
        self.scratch.call_times = times;
    }

    fn call<O: Observer>(
        &mut self,
        driver: DriverId,
        nth: u16,
        at: Option<Millis>,
        observer: &mut O,
    ) {
        match at {
            Some(at) => {
                self.day.calls[driver.at()][nth as usize] = at;
                self.schedule(at, Command::Report(driver, nth));
            }
            None => {
                self.day.calls[driver.at()][nth as usize] = Millis::NEVER;
                self.tell(observer, Event::NotCalled { driver });
                self.keeps_nothing_for(driver);
            }
        }
    }
}
