//! What drivers earn: every hour of a tour once, at the highest factor that applies to it.

mod haulers;
mod unworked;

use self::haulers::Haulers;
use self::unworked::Unworked;
use crate::plant::Plan;
use crate::scenario::{Money, Night};
use crate::units::{Cents, Millis, Weekday};

/// The hours of one driver in the day and the week of the last tour.
#[derive(Clone, Copy, Debug)]
struct Clock {
    day: i64,
    in_day: Millis,
    week: i64,
    /// Hours of the week that are not overtime by the day, those before the period included.
    in_week: Millis,
}

const FRESH: Clock = Clock {
    day: i64::MIN,
    in_day: Millis::ZERO,
    week: i64::MIN,
    in_week: Millis::ZERO,
};

/// The day on which the workweek of a day begins; both count from the first day of the period.
fn week_of(first_day: Weekday, workweek: Weekday, day: i64) -> i64 {
    day - (first_day.after(day) as i64 - workweek as i64).rem_euclid(7)
}

/// The steps of an hour: plain, overtime by day or week, the second step by day.
const STEPS: usize = 3;

/// Hours of all drivers by what they earn.
#[derive(Clone, Debug)]
pub(super) struct Wages {
    first_day: Weekday,
    /// At the first midnight, and now.
    fresh: Vec<Clock>,
    drivers: Vec<Clock>,
    /// What an hour of a driver earns: each rate once, and which of them is each driver's.
    rates: Vec<Cents>,
    rate_of: Vec<usize>,
    /// By rate: worked, by step; of tours that began on other days, and on days of the weekend premium.
    worked: Vec<[[Millis; STEPS]; 2]>,
    unworked: Unworked,
    night: Millis,
    haulers: Haulers,
}

impl Wages {
    pub(super) fn new(plan: &Plan, money: &Money) -> Self {
        let week = week_of(plan.first_day, money.workweek, 0);
        // Of the days before the period those count that lie in the workweek of its first day.
        let fresh = plan.pay_basis().map(|basis| {
            let days = basis.before.iter().take(-week as usize);
            Clock {
                week,
                in_week: days.map(|worked| (*worked).min(money.overtime_after)).sum(),
                ..FRESH
            }
        });
        let fresh: Vec<Clock> = fresh.collect();
        let mut rates: Vec<Cents> = Vec::new();
        let rate_of = plan.pay_basis().map(|basis| {
            let rate = basis.pay_per_h.unwrap_or(money.pay_per_h);
            rates
                .iter()
                .position(|known| *known == rate)
                .unwrap_or_else(|| {
                    rates.push(rate);
                    rates.len() - 1
                })
        });
        let rate_of: Vec<usize> = rate_of.collect();
        Self {
            first_day: plan.first_day,
            drivers: fresh.clone(),
            fresh,
            worked: vec![Default::default(); rates.len()],
            unworked: Unworked::new(plan, money, &rate_of, rates.len()),
            rates,
            rate_of,
            night: Millis::ZERO,
            haulers: Haulers::new(plan),
        }
    }

    pub(super) fn begin(&mut self) {
        self.drivers.copy_from_slice(&self.fresh);
        self.worked.fill(Default::default());
        self.unworked.begin();
        self.haulers.begin();
        self.night = Millis::ZERO;
    }

    /// A tour of a driver has ended; gives how much of it is overtime. Tours of one driver come in the order of time.
    pub(super) fn tour(
        &mut self,
        money: &Money,
        driver: usize,
        end: Millis,
        tour: Millis,
    ) -> Millis {
        let report = end - tour;
        let day = report.day();
        if self.haulers.tour(driver, day, tour) {
            return Millis::ZERO;
        }
        let weekday = self.first_day.after(day);
        let week = week_of(self.first_day, money.workweek, day);
        let clock = &mut self.drivers[driver];
        if clock.day != day {
            (clock.day, clock.in_day) = (day, Millis::ZERO);
        }
        if clock.week != week {
            (clock.week, clock.in_week) = (week, Millis::ZERO);
        }
        let beyond =
            |from: Millis, to: Millis, limit: Millis| (to - from.max(limit)).max(Millis::ZERO);
        let (from, to) = (clock.in_day, clock.in_day + tour);
        clock.in_day = to;
        let by_day = beyond(from, to, money.overtime_after);
        let second = money
            .second_overtime
            .map_or(Millis::ZERO, |(after, _)| beyond(from, to, after));
        let (from, to) = (clock.in_week, clock.in_week + (tour - by_day));
        clock.in_week = to;
        let by_week = money
            .overtime_after_week
            .map_or(Millis::ZERO, |limit| beyond(from, to, limit));
        let weekend = money
            .weekend
            .as_ref()
            .is_some_and(|weekend| weekend.days.contains(&weekday));
        let worked = &mut self.worked[self.rate_of[driver]][usize::from(weekend)];
        worked[0] += tour - by_day - by_week;
        worked[1] += by_day - second + by_week;
        worked[2] += second;
        self.unworked.tour(driver, day, tour);
        if let Some(night) = &money.night {
            self.night += within(night, report, end);
        }
        by_day + by_week
    }

    /// A driver who was called for a day is told not to come.
    pub(super) fn called_off(&mut self, driver: usize, day: i64) {
        if !self.haulers.called_off(driver) {
            self.unworked.called_off(driver, day);
        }
    }

    /// A driver does not come on a day.
    pub(super) fn no_show(&mut self, driver: usize, day: i64) {
        self.unworked.no_show(driver, day);
    }

    /// Whether the driver is a hired hauler.
    pub(super) fn hires(&self, driver: usize) -> bool {
        self.haulers.hires(driver)
    }

    /// What hired haulers are paid, the hours paid for, and the days on which they are.
    pub(super) fn hired(&self) -> (Cents, Millis, u32) {
        (
            self.haulers.bill(),
            self.haulers.paid(),
            self.haulers.days(),
        )
    }

    /// Hours on duty of own drivers.
    pub(super) fn duty(&self) -> Millis {
        self.worked.iter().flatten().flatten().copied().sum()
    }

    /// Hours paid, worked or not.
    pub(super) fn paid(&self) -> Millis {
        self.duty() + self.unworked.sum() + self.haulers.paid()
    }

    /// Hours paid and not worked.
    pub(super) fn unworked(&self) -> Millis {
        self.unworked.sum() + self.haulers.unworked()
    }

    /// What own drivers earn for them.
    pub(super) fn unworked_pay(&self) -> Cents {
        let rates = self.rates.iter().enumerate();
        rates
            .map(|(at, rate)| rate.times(self.unworked.of_rate(at).hours()))
            .sum()
    }

    /// Hours that are overtime by the day or by the week.
    pub(super) fn overtime(&self) -> Millis {
        let steps = self.worked.iter().flatten();
        steps.map(|step| step[1] + step[2]).sum()
    }

    /// What all hours worked but overtime earn, night premiums included.
    pub(super) fn regular_pay(&self, money: &Money) -> Cents {
        let night = money.night.map_or(Cents::ZERO, |night| night.per_h);
        self.step(money, 0, 1.0) + night.times(self.night.hours())
    }

    /// What overtime earns.
    pub(super) fn overtime_pay(&self, money: &Money) -> Cents {
        let second = money.second_overtime.map_or(1.0, |(_, factor)| factor);
        // An hour beyond the second step is beyond the first as well.
        self.step(money, 1, money.overtime_factor)
            + self.step(money, 2, second.max(money.overtime_factor))
    }

    fn step(&self, money: &Money, step: usize, factor: f64) -> Cents {
        let weekend = money.weekend.as_ref().map_or(1.0, |weekend| weekend.factor);
        let rates = self.rates.iter().zip(&self.worked);
        rates
            .map(|(rate, worked)| {
                let pay = |hours: Millis, factor: f64| rate.times(hours.hours() * factor);
                pay(worked[0][step], factor) + pay(worked[1][step], factor.max(weekend))
            })
            .sum()
    }
}

/// How much of a tour lies in the night.
fn within(night: &Night, from: Millis, to: Millis) -> Millis {
    let length = (night.to - night.from).0.rem_euclid(Millis::DAY.0);
    let nights = from.day() - 1..=to.day();
    nights
        .map(|day| {
            let begins = Millis::midnight(day) + night.from;
            let ends = begins + Millis(length);
            (to.min(ends) - from.max(begins)).max(Millis::ZERO)
        })
        .sum()
}
