//! Hours that drivers are paid for and do not work: short shifts, guaranteed days and weeks, calls that come to nothing.
//!
//! They are no hours worked and make no overtime: 29 CFR 778.218 to 778.220.

use super::week_of;
use crate::plant::Plan;
use crate::scenario::Money;
use crate::units::Millis;

/// The day of a driver's last tour.
#[derive(Clone, Copy, Debug)]
struct Day {
    day: i64,
    worked: Millis,
    /// What the day's tours fell short of the least that a tour is paid for.
    short: Millis,
}

const NO_DAY: Day = Day {
    day: i64::MIN,
    worked: Millis::ZERO,
    short: Millis::ZERO,
};

/// A driver's guaranteed week.
#[derive(Clone, Copy, Debug, Default)]
struct Guaranteed {
    /// What a rostered day of the week stands for.
    of_day: Millis,
    days: i64,
    paid: Millis,
}

/// Hours paid and not worked.
#[derive(Clone, Debug)]
pub(super) struct Unworked {
    call_out: Millis,
    /// By driver: the least of a day with a tour, and what a call that is taken back is paid for.
    least: Vec<(Millis, Millis)>,
    days: Vec<Day>,
    /// By driver: which rate an hour earns.
    rate_of: Vec<usize>,
    /// By rate.
    sums: Vec<Millis>,
    /// How many workweeks the period touches; 0: no week is guaranteed.
    weeks: usize,
    /// By driver and week, at the beginning and now.
    rostered: Vec<Guaranteed>,
    guaranteed: Vec<Guaranteed>,
    /// Day on which the first of these weeks begins, at most 0.
    begins: i64,
}

impl Unworked {
    /// `rate_of` says which of so many rates an hour of each driver earns.
    pub(super) fn new(plan: &Plan, money: &Money, rate_of: &[usize], rates: usize) -> Self {
        let last = i64::from(plan.days) - 1;
        let begins = week_of(plan.first_day, money.workweek, 0);
        let weeks = match money.guaranteed_week {
            Millis::ZERO => 0,
            _ => ((last - begins) / 7 + 1) as usize,
        };
        let mut rostered = Vec::new();
        for basis in plan.pay_basis() {
            // Nobody guarantees a hired hauler a week.
            let guaranteed = match basis.hauler {
                Some(_) => Millis::ZERO,
                None => money.guaranteed_week,
            };
            let days = basis.days.len().max(1) as i64;
            let week = guaranteed.min(basis.shift * days);
            for nth in 0..weeks as i64 {
                let from = begins + 7 * nth;
                let is_rostered = |day: &i64| basis.days.contains(&plan.first_day.after(*day));
                let within = from.max(0)..=(from + 6).min(last);
                rostered.push(Guaranteed {
                    of_day: Millis(week.0 / days),
                    days: within.filter(is_rostered).count() as i64,
                    paid: Millis::ZERO,
                });
            }
        }
        let least = plan.pay_basis().map(|basis| {
            let show_up = money
                .show_up
                .map_or(Millis::ZERO, |pay| pay.of(basis.shift));
            let day = basis.guaranteed_day.unwrap_or(money.guaranteed_day);
            (day.max(show_up), show_up)
        });
        Self {
            call_out: money.call_out,
            least: least.collect(),
            days: vec![NO_DAY; plan.driver_count()],
            rate_of: rate_of.to_vec(),
            sums: vec![Millis::ZERO; rates],
            weeks,
            guaranteed: rostered.clone(),
            rostered,
            begins,
        }
    }

    pub(super) fn begin(&mut self) {
        self.days.fill(NO_DAY);
        self.sums.fill(Millis::ZERO);
        self.guaranteed.copy_from_slice(&self.rostered);
    }

    /// A tour that began on a day of the period has ended.
    pub(super) fn tour(&mut self, driver: usize, day: i64, tour: Millis) {
        let least = self.least[driver].0;
        let lacking = |of: &Day| of.short.max(least - of.worked);
        let of_day = &mut self.days[driver];
        let before = if of_day.day == day {
            lacking(of_day)
        } else {
            *of_day = Day { day, ..NO_DAY };
            Millis::ZERO
        };
        of_day.worked += tour;
        of_day.short += (self.call_out - tour).max(Millis::ZERO);
        let more = lacking(of_day) - before;
        self.sums[self.rate_of[driver]] += more;
        self.paid(driver, day, tour + more);
    }

    /// A driver who was called is told not to come.
    pub(super) fn called_off(&mut self, driver: usize, day: i64) {
        let show_up = self.least[driver].1;
        self.sums[self.rate_of[driver]] += show_up;
        self.paid(driver, day, show_up);
    }

    /// A driver does not come: the week guarantees nothing for that day.
    pub(super) fn no_show(&mut self, driver: usize, day: i64) {
        if let Some(week) = self.week(driver, day) {
            week.days = (week.days - 1).max(0);
        }
    }

    /// What the guaranteed weeks are paid beyond everything else, with all the rest.
    pub(super) fn sum(&self) -> Millis {
        (0..self.sums.len()).map(|rate| self.of_rate(rate)).sum()
    }

    /// The same of the drivers of one rate.
    pub(super) fn of_rate(&self, rate: usize) -> Millis {
        let lacking = |week: &Guaranteed| (week.of_day * week.days - week.paid).max(Millis::ZERO);
        let weeks = self.guaranteed.iter().enumerate();
        let weeks = weeks.filter(|(at, _)| self.rate_of[at / self.weeks.max(1)] == rate);
        self.sums[rate] + weeks.map(|(_, week)| lacking(week)).sum()
    }

    fn paid(&mut self, driver: usize, day: i64, hours: Millis) {
        if let Some(week) = self.week(driver, day) {
            week.paid += hours;
        }
    }

    /// The week of a day, if weeks are guaranteed and the period touches it.
    fn week(&mut self, driver: usize, day: i64) -> Option<&mut Guaranteed> {
        let nth = (day - self.begins).max(0) as usize / 7;
        let at = driver * self.weeks + nth;
        self.guaranteed.get_mut(at).filter(|_| nth < self.weeks)
    }
}
