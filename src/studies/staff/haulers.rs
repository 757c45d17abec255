//! Hired haulers, by the hour and with their own trucks, held against hires and overtime.

use super::{OneMore, StaffAnswer, StaffResult, Staffing, Study};
use crate::scenario::Hauler;
use crate::statistics::{Interval, Paired};
use std::ops::Range;

/// Haulers of a staffing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Hired {
    /// How many.
    pub haulers: u32,
    /// At which price those are hired whom the scenario does not have; none where it has them all.
    pub terms: Option<Hauler>,
}

/// One hauler more than the answer's staffing, against one driver more, on the same days.
#[derive(Clone, Debug)]
pub struct HaulerCase {
    /// The price.
    pub terms: Hauler,
    /// The staffing with one more, and what it costs more, per period.
    pub more: OneMore,
    /// What one driver more costs less than one hauler more, per period, without what is asked for a hire; below zero more.
    pub hire_saves: (f64, Interval),
    /// For how many days, and hours, a week the hauler is paid.
    pub days: f64,
    /// See `days`.
    pub hours: f64,
}

impl HaulerCase {
    /// From how many days a week on a hire pays that costs so much a week beyond the hours; none if it never does. Every day like the
    /// average one on which the hauler is called: on each a hire saves the same.
    pub fn even_days(&self, weeks: f64, hire_per_week: f64) -> Option<f64> {
        let a_day = self.hire_saves.0 / weeks / self.days;
        (a_day > 0.0 && a_day.is_finite()).then(|| hire_per_week / a_day)
    }

    /// Hours of such a day.
    pub fn hours_a_day(&self) -> f64 {
        self.hours / self.days
    }
}

impl StaffAnswer {
    /// From how many days a week on a hire pays against a hauler, at what is asked for a hire; none if it never does.
    pub fn hire_pays_from(&self) -> Option<f64> {
        let asked = self.question.hire_per_week?;
        self.haulers.as_ref()?.even_days(self.weeks(), asked)
    }
}

impl Study<'_> {
    /// A staffing with so many haulers.
    pub(super) fn hired(&self, staffing: Staffing, haulers: u32) -> Staffing {
        let more = haulers > self.today_hired();
        let terms = self.question.hauler.filter(|_| more);
        Staffing {
            hired: Hired { haulers, terms },
            ..staffing
        }
    }

    /// One hauler more than `chosen` has, against `hire`, which has one driver more.
    pub(super) fn hauler_case(
        &self,
        chosen: &StaffResult,
        hire: &StaffResult,
        replications: Range<u64>,
    ) -> Option<HaulerCase> {
        let terms = self.question.hauler?;
        let staffing = self.hired(chosen.staffing, chosen.staffing.hired.haulers + 1);
        let more = self
            .run(self.scenario, &[staffing], replications, true)?
            .into_iter()
            .next()?;
        let level = self.question.level;
        let n = more.costs.len().min(hire.costs.len());
        let asked = hire.hire - chosen.hire;
        let saves = Paired::of(&more.costs[..n], &hire.costs[..n]);
        let interval = saves.interval(level);
        let weeks = super::weeks(self.scenario.period.days);
        let hire_saves = (
            saves.difference.mean().unwrap_or(0.0) + asked,
            Interval {
                low: interval.low + asked,
                high: interval.high + asked,
            },
        );
        Some(HaulerCase {
            terms,
            hire_saves,
            days: (more.hired_days - chosen.hired_days) / weeks,
            hours: (more.hired_h - chosen.hired_h) / weeks,
            more: self.one_more(more, chosen),
        })
    }
}
