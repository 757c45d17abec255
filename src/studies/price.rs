//! What a change costs, and whether it pays.

use super::{Counterfactual, Gone};
use crate::statistics::Interval;

/// How often a price is paid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Every {
    /// Once.
    Once,
    /// Every day.
    Day,
    /// Every week.
    Week,
    /// Every month.
    Month,
    /// Every year.
    Year,
}

/// Weeks in a year of 365.2425 days (the Gregorian calendar).
const WEEKS_IN_YEAR: f64 = 365.2425 / 7.0;

/// What one of a thing costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// Its name, as [`WhatIf::priced`](crate::scenario::WhatIf::priced) has it.
    pub of: String,
    /// The amount, in the scenario's currency, above zero.
    pub amount: f64,
    /// How often it is paid.
    pub every: Every,
}

/// What a whole change costs; below zero it is saved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Payment {
    /// Once.
    Once(f64),
    /// In every replication's period.
    Running(f64),
}

impl Every {
    /// As it stands behind an amount: `/week`; empty: once.
    pub fn word(self) -> &'static str {
        match self {
            Self::Once => "",
            Self::Day => "/day",
            Self::Week => "/week",
            Self::Month => "/month",
            Self::Year => "/year",
        }
    }
}

impl Price {
    /// What so many of it cost where a replication has so many days; one of five to seven days is a week.
    pub fn payment(&self, pieces: f64, days: u32) -> Payment {
        let weeks = match days {
            5..=7 => 1.0,
            days => f64::from(days) / 7.0,
        };
        let amount = pieces * self.amount;
        match self.every {
            Every::Once => Payment::Once(amount),
            Every::Day => Payment::Running(amount * f64::from(days)),
            Every::Week => Payment::Running(amount * weeks),
            Every::Month => Payment::Running(amount * weeks * 12.0 / WEEKS_IN_YEAR),
            Every::Year => Payment::Running(amount * weeks / WEEKS_IN_YEAR),
        }
    }
}

impl Counterfactual {
    /// What is left of the worth after what is paid in every period; none where nothing is.
    pub fn left_over(&self) -> Option<Gone> {
        let Some(Payment::Running(paid)) = self.payment else {
            return None;
        };
        let Gone { mean, interval, .. } = self.worth;
        Some(Gone {
            mean: mean - paid,
            interval: Interval {
                low: interval.low - paid,
                high: interval.high - paid,
            },
            share: None,
            share_interval: Interval::UNBOUNDED,
        })
    }

    /// After how many periods what is paid once has come back, with its interval (without an upper end where it may never); none where
    /// nothing is paid once, or it saves nothing on average.
    pub fn pays_back_after(&self) -> Option<(f64, Interval)> {
        let Some(Payment::Once(paid)) = self.payment else {
            return None;
        };
        let Gone { mean, interval, .. } = self.worth;
        if paid <= 0.0 || mean <= 0.0 {
            return None;
        }
        let after = |worth: f64| {
            if worth > 0.0 {
                paid / worth
            } else {
                f64::INFINITY
            }
        };
        Some((
            after(mean),
            Interval {
                low: after(interval.high),
                high: after(interval.low),
            },
        ))
    }

    /// By what changes are put in order: what is left after a running price, else the worth.
    pub fn ranked_by(&self) -> f64 {
        self.left_over().map_or(self.worth.mean, |left| left.mean)
    }
}
