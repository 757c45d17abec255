//! When drivers report: as rostered, staggered, or called the day before for the orders that are known by then.

use super::command::Command;
use super::event::{Event, Observer};
use super::plan::{Plan, Rostered};
use super::world::{Scratch, World};
use crate::dispatch::{HALF_HOURS, SendHome, Shift, matched};
use crate::units::{DriverId, Millis, OrderId, PlantId, Volume};

impl Plan {
    /// When the drivers of a day are called.
    pub(super) fn call_time(&self, day: u16) -> Millis {
        Millis::midnight(i64::from(day) - 1) + self.company.call_time
    }
}

impl World<'_> {
    /// The report times of a driver under the present rule.
    pub(super) fn report_time(&self, id: DriverId, nth: u16) -> Option<Millis> {
        if self.is_off(id, nth) {
            return Some(Millis::NEVER);
        }
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
        self.call_off(0, observer);
        for day in 1..self.plan.days as u16 {
            self.schedule(self.plan.call_time(day), Command::CallIn(day));
            if self.plan.company.call_off {
                let midnight = Millis::midnight(i64::from(day));
                self.schedule(midnight, Command::CallOff(day));
            }
        }
    }

    /// Calls the drivers of a day, for the orders that are on the book: what is called in later, or canceled, nobody knows.
    pub(super) fn call_in<O: Observer>(&mut self, day: u16, observer: &mut O) {
        let Some(spare) = self.day.policy.shift.spare() else {
            return;
        };
        let plan = self.plan;
        for plant in (0..plan.plants.len()).map(PlantId::new) {
            self.match_calls(day, plant, spare, |_, _| true);
            for place in 0..self.scratch.callable.len() {
                let entry = self.scratch.callable[place];
                let at = self.scratch.call_times.get(place).copied();
                let at = at.map(|at| at.max(self.day.now));
                self.call(entry.driver, entry.nth, at, observer);
            }
            let roster = plan.roster.of(day as usize, plant);
            for entry in roster.iter().filter(|entry| entry.takes_over) {
                if !self.is_off(entry.driver, entry.nth) {
                    self.call(entry.driver, entry.nth, Some(entry.report), observer);
                }
            }
        }
    }

    /// The day begins, and its cancellations are known: whoever was called last and is needed no more is called off, unless the
    /// report time is there.
    pub(super) fn call_off<O: Observer>(&mut self, day: u16, observer: &mut O) {
        let Some(spare) = self.day.policy.shift.spare() else {
            return;
        };
        if !self.plan.company.call_off {
            return;
        }
        for plant in (0..self.plan.plants.len()).map(PlantId::new) {
            self.match_calls(day, plant, spare, |world, id| {
                !world.day.orders[id.at()].closed
            });
            for place in self.scratch.call_times.len()..self.scratch.callable.len() {
                let Rostered { driver, nth, .. } = self.scratch.callable[place];
                let at = &mut self.day.calls[driver.at()][nth as usize];
                if *at > self.day.now && *at < Millis::NEVER {
                    *at = Millis::NEVER;
                    self.tell(observer, Event::CalledOff { driver });
                    self.keeps_nothing_for(driver);
                }
            }
        }
    }

    /// Who can be called at a plant for a day, in the order of calling, and the times of as many as the orders on the book need that
    /// `count`. The order is that of the roster; where the rule sends home by seniority, the most senior are called first.
    fn match_calls(
        &mut self,
        day: u16,
        plant: PlantId,
        spare: u32,
        count: impl Fn(&Self, OrderId) -> bool,
    ) {
        let plan = self.plan;
        let mut needs = std::mem::take(&mut self.scratch.needs);
        let midnight = Millis::midnight(i64::from(day));
        needs.begin(midnight, HALF_HOURS);
        let latest = needs.end() + plan.book.longest_lead;
        let here = plan.book.of(Some(plant));
        for id in here.between(self.day.now, latest).iter().copied() {
            let known = plan.orders[id.at()].called <= self.day.now && self.is_ordered(id);
            if known && count(self, id) {
                let there = (&plan.ahead[id.at()][..], Some(plant));
                self.add_loads(&mut needs, id, there, Volume::ZERO, Millis::ZERO);
            }
        }
        let Scratch {
            callable,
            call_times,
            ..
        } = &mut self.scratch;
        let (roster, drivers) = (
            plan.roster.of(day as usize, plant).iter(),
            &self.day.drivers,
        );
        callable.clear();
        callable
            .extend(roster.filter(|entry| {
                !entry.takes_over && !drivers[entry.driver.at()].is_off(entry.nth)
            }));
        // Whoever is hired by the hour is called last.
        let hired = |entry: &Rostered| plan.drivers[entry.driver.at()].pay.hauler.is_some();
        if let SendHome::Seniority { .. } = self.day.policy.send_home {
            let seniority = |entry: &Rostered| plan.drivers[entry.driver.at()].seniority;
            callable.sort_unstable_by_key(|entry| (hired(entry), seniority(entry)));
        } else if callable.iter().any(hired) {
            callable.sort_unstable_by_key(|entry| (hired(entry), *entry));
        }
        let shifts = callable
            .iter()
            .map(|entry| plan.drivers[entry.driver.at()].shift);
        matched(&needs, spare, plan.pre_trip_mean, shifts, call_times);
        self.scratch.needs = needs;
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
