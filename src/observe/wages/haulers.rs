//! What hired haulers are paid: the hours of each day on duty at one price, and no fewer than the least.

use crate::plant::Plan;
use crate::scenario::Hauler;
use crate::units::{Cents, Millis};

/// A hauler's last day on duty.
#[derive(Clone, Copy, Debug)]
struct Day {
    day: i64,
    worked: Millis,
}

const NO_DAY: Day = Day {
    day: i64::MIN,
    worked: Millis::ZERO,
};

/// Hours and days of hired haulers.
#[derive(Clone, Debug)]
pub(super) struct Haulers {
    /// By driver; empty where none is hired.
    terms: Vec<Option<Hauler>>,
    days: Vec<Day>,
    /// By driver: hours paid for.
    paid: Vec<Millis>,
    unworked: Millis,
    called: u32,
}

impl Haulers {
    pub(super) fn new(plan: &Plan) -> Self {
        let terms: Vec<Option<Hauler>> = plan.pay_basis().map(|basis| basis.hauler).collect();
        let terms = match terms.iter().any(Option::is_some) {
            true => terms,
            false => Vec::new(),
        };
        Self {
            days: vec![NO_DAY; terms.len()],
            paid: vec![Millis::ZERO; terms.len()],
            terms,
            unworked: Millis::ZERO,
            called: 0,
        }
    }

    pub(super) fn begin(&mut self) {
        self.days.fill(NO_DAY);
        self.paid.fill(Millis::ZERO);
        self.unworked = Millis::ZERO;
        self.called = 0;
    }

    pub(super) fn hires(&self, driver: usize) -> bool {
        self.terms.get(driver).is_some_and(Option::is_some)
    }

    /// A tour that began on a day of the period has ended; whether a hauler's. Tours of one driver come in the order of time.
    pub(super) fn tour(&mut self, driver: usize, day: i64, tour: Millis) -> bool {
        let Some(Some(hauler)) = self.terms.get(driver) else {
            return false;
        };
        let of_day = &mut self.days[driver];
        let mut before = Millis::ZERO;
        if of_day.day == day {
            before = of_day.worked.max(hauler.least);
        } else {
            *of_day = Day { day, ..NO_DAY };
            self.called += 1;
        }
        of_day.worked += tour;
        let more = of_day.worked.max(hauler.least) - before;
        self.paid[driver] += more;
        self.unworked += more - tour;
        true
    }

    /// A call is taken back on the day; whether a hauler's.
    pub(super) fn called_off(&mut self, driver: usize) -> bool {
        let Some(Some(hauler)) = self.terms.get(driver) else {
            return false;
        };
        self.paid[driver] += hauler.least;
        self.unworked += hauler.least;
        self.called += 1;
        true
    }

    pub(super) fn bill(&self) -> Cents {
        let hired = self.terms.iter().zip(&self.paid);
        hired
            .filter_map(|(hauler, paid)| hauler.map(|hauler| hauler.per_h.times(paid.hours())))
            .sum()
    }

    /// Hours paid, worked or not.
    pub(super) fn paid(&self) -> Millis {
        self.paid.iter().copied().sum()
    }

    /// Of them those that make up for the least of a day.
    pub(super) fn unworked(&self) -> Millis {
        self.unworked
    }

    /// Days of haulers that are paid for.
    pub(super) fn days(&self) -> u32 {
        self.called
    }
}
