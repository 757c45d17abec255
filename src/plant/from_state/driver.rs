//! A driver as the file has them: duty, clocks and the next report.

use super::super::command::Command;
use super::super::event::{Event, Observer};
use super::super::world::World;
use super::SOON;
use crate::hours::{Allowance, Clocks, DutyStatus, RuleSet};
use crate::scenario::day_state::{Doing, DriverState};
use crate::units::{DriverId, Millis};

impl<'p> World<'p> {
    /// The first planned report after now.
    pub(super) fn plan_next_report(&mut self, id: DriverId) {
        let plan = &self.plan.drivers[id.at()];
        // Where drivers are called, those of the next day have been by the evening before.
        let called = self.day.policy.shift.spare().is_some();
        for (nth, day) in (0..).zip(&plan.report_days) {
            let evening = self.plan.call_time(*day);
            let at = self.report_time(id, nth).unwrap_or(Millis::NEVER);
            if at <= self.day.now || at == Millis::NEVER || called && evening > self.day.now {
                continue;
            }
            self.schedule(at, Command::Report(id, nth));
            if !called {
                break;
            }
        }
    }

    /// The clocks of a driver who reported then.
    fn stand_clocks(&mut self, state: &DriverState) {
        let id = state.driver;
        let Some(rules) = self.book(id) else { return };
        let plan = &self.plan.drivers[id.at()];
        let mut clocks = match state.week {
            None => {
                let mut clocks = plan.clocks;
                let midnight = Millis::midnight(state.reported.day());
                for report in plan.reports.iter().take_while(|at| **at < midnight) {
                    clocks.change(rules, *report, DutyStatus::OnDuty);
                    clocks.change(rules, *report + plan.shift, DutyStatus::OffDuty);
                }
                clocks.advance(rules, state.reported);
                clocks
            }
            Some(week) => {
                // Spread over the days that the weekly limit counts beside today.
                let days = rules
                    .cycle
                    .as_ref()
                    .map_or(6, |cycle| i64::from(cycle.days) - 1);
                let today = rules.carrier_day(state.reported);
                let each = Millis(week.0 / days.max(1));
                let prior = (1..=days.max(1)).map(|ago| (today - ago, each));
                let rested = state.reported - rules.reset_rest.max(Millis::HOUR);
                Clocks::new(rules, state.reported, rested, prior)
            }
        };
        clocks.change(rules, state.reported, DutyStatus::OnDuty);
        if self.day.policy.long_day && rules.long_day_window.is_some() {
            let allowance = Allowance {
                long_day: plan
                    .tours
                    .may_use_long_day(rules.carrier_day(state.reported)),
                ..clocks.allowance()
            };
            clocks.allow(rules, state.reported, allowance);
        }
        let status = match state.doing {
            Doing::Off | Doing::OnBreak(_) | Doing::Resting(_) => DutyStatus::OffDuty,
            Doing::Free(_) | Doing::Queueing(_) | Doing::Stranded(_) | Doing::OnSite(_) => {
                DutyStatus::Waiting
            }
            // Standing beside the road is part of the drive.
            Doing::Out(_)
            | Doing::Returning(_)
            | Doing::Repositioning(..)
            | Doing::GoingHome(_)
            | Doing::BrokenDown(_) => DutyStatus::Driving,
            Doing::Checking
            | Doing::Loading(_)
            | Doing::AtRack(_)
            | Doing::Discharging(_)
            | Doing::Washing(_)
            | Doing::WashingOut => DutyStatus::OnDuty,
        };
        // What is driven of the present drive is part of `driven`.
        let begins = match status {
            DutyStatus::Driving => self.day.now,
            _ => state.since.max(state.reported),
        };
        drive(&mut clocks, rules, state, begins);
        clocks.change(rules, begins.max(clocks.now()), status);
        // A rest is reckoned from its beginning.
        if !matches!(state.doing, Doing::Resting(_)) {
            clocks.advance(rules, self.day.now.max(clocks.now()));
        }
        self.day.clocks[id.at()] = clocks;
    }

    pub(super) fn stand_driver<O: Observer>(&mut self, state: &DriverState, observer: &mut O) {
        let id = state.driver;
        let plan = &self.plan.drivers[id.at()];
        self.stand_clocks(state);
        let last_day = state.reported.day();
        let now = self.day.now;
        let nth = plan.reports.iter().filter(|at| **at <= now).count();
        let driver = &mut self.day.drivers[id.at()];
        driver.reported = state.reported;
        driver.in_row = match last_day - driver.last_day {
            0 | 1 => driver.in_row + 1,
            _ => 1,
        };
        driver.last_day = last_day;
        if state.doing == Doing::Off {
            let rested = state.since + self.rest_of(id);
            let driver = &mut self.day.drivers[id.at()];
            (driver.released, driver.rested) = (state.since, rested);
            self.plan_next_report(id);
            return;
        }
        if let Doing::Resting(place) = state.doing {
            self.stand_resting(state, place, observer);
            return;
        }
        let driver = &mut self.day.drivers[id.at()];
        driver.on_duty = true;
        driver.day = nth.saturating_sub(1) as u16;
        let planned = nth
            .checked_sub(1)
            .map_or(state.reported, |nth| plan.reports[nth]);
        let over = planned.max(state.reported - Millis::HOUR * 4) + plan.shift;
        driver.shift_over = over;
        self.schedule(over.max(self.day.now + SOON), Command::ShiftOver(id));
        self.plan_next_report(id);
        let truck = state.truck;
        self.seat(id, truck);
        self.tell(observer, Event::Reported { driver: id, truck });
        self.day.trucks[truck.at()].since = state.since;
        self.stand_truck(state, observer);
        self.tell_gone_through(truck, &state.doing, observer);
    }
}

/// Takes down what a driver has driven until `until`, on the careful side: as late as it can be, after the only break that is
/// known; a break of which it is not known when it was as early as it can have been.
fn drive(clocks: &mut Clocks, rules: &RuleSet, state: &DriverState, until: Millis) {
    let length = rules
        .break_rule
        .as_ref()
        .map_or(Millis::ZERO, |rule| rule.length);
    let room = state
        .break_over
        .map_or(Millis::NEVER, |over| (until - over).max(Millis::ZERO));
    let last = state.since_break.unwrap_or(state.driven).min(state.driven);
    let last = last.min(room);
    let first = state.driven - last;
    if first > Millis::ZERO || state.break_over.is_some() {
        if first > Millis::ZERO {
            clocks.change(rules, state.reported, DutyStatus::Driving);
            clocks.change(rules, state.reported + first, DutyStatus::OnDuty);
        }
        let over = state.break_over.unwrap_or(clocks.now() + length);
        clocks.change(
            rules,
            (over - length).max(clocks.now()),
            DutyStatus::OffDuty,
        );
        clocks.change(rules, over.max(clocks.now()), DutyStatus::OnDuty);
    }
    if last > Millis::ZERO {
        let from = (until - last).max(clocks.now());
        clocks.change(rules, from, DutyStatus::Driving);
        clocks.change(rules, from + last, DutyStatus::OnDuty);
    }
}
