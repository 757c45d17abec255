//! What becomes of one load and one driver, summed up over trials.

use super::super::{Chance, Estimate};
use crate::dispatch::Refusal;
use crate::hours::Clock;
use crate::montecarlo::Rows;
use crate::observe::TripSeen;
use crate::statistics::{Summary, quantile};
use crate::units::Millis;

/// Positions in a row.
pub(super) mod column {
    pub(crate) const TAKEN: usize = 0;
    pub(crate) const REFUSED: usize = 1;
    pub(crate) const LOADING: usize = 2;
    pub(crate) const ON_SITE: usize = 3;
    pub(crate) const LATE: usize = 4;
    pub(crate) const IN_TIME: usize = 5;
    pub(crate) const AGE: usize = 6;
    pub(crate) const WITHIN_AGE: usize = 7;
    pub(crate) const BACK: usize = 8;
    pub(crate) const BACK_LEGAL: usize = 9;
    pub(crate) const MARGIN: usize = 10;
    pub(crate) const BINDS: usize = 11;
    pub(crate) const STRANDED: usize = 12;
    pub(crate) const HOME: usize = 13;
    pub(crate) const ALL: usize = 14;
    pub(crate) const DELIVERED_IN_TIME: usize = 15;
    pub(crate) const TAKER: usize = 16;
    pub(crate) const COST: usize = 17;
    pub(crate) const GOOD: usize = 18;
    pub(crate) const COUNT: usize = 19;
}

/// Writes what was seen into a row. Times are minutes since midnight before the first day; what does not exist is not a number.
pub(super) fn write(seen: &TripSeen, age_limit: Millis, row: &mut [f32]) {
    let minutes = |at: Option<Millis>| at.map_or(f32::NAN, |at| at.minutes() as f32);
    let yes = |yes: bool| f32::from(u8::from(yes));
    // What never comes of a load that is taken comes after any time, and leaves no hours.
    let never = |at: f32| match seen.taken.is_some() && at.is_nan() {
        true => f32::INFINITY,
        false => at,
    };
    let within_age = seen.age.is_some_and(|age| age <= age_limit);
    let back = seen.back.is_some() && !seen.overrun && !seen.stranded;
    row[column::TAKEN] = yes(seen.taken.is_some());
    row[column::REFUSED] = seen.refused.map_or(0.0, |why| 1.0 + why.position() as f32);
    row[column::LOADING] = minutes(seen.loading);
    row[column::ON_SITE] = never(minutes(seen.on_site));
    row[column::LATE] = minutes(seen.late);
    row[column::IN_TIME] = yes(seen.in_time);
    row[column::AGE] = minutes(seen.age);
    row[column::WITHIN_AGE] = yes(within_age);
    let margin = match (seen.back, seen.binds) {
        (None, Some(_)) => f32::NEG_INFINITY,
        _ => minutes(seen.margin),
    };
    row[column::BACK] = never(minutes(seen.back));
    row[column::BACK_LEGAL] = yes(back);
    row[column::MARGIN] = margin;
    row[column::BINDS] = seen.binds.map_or(0.0, |rule| 1.0 + rule as u8 as f32);
    row[column::STRANDED] = yes(seen.stranded);
    row[column::HOME] = minutes(seen.home);
    row[column::ALL] = yes(seen.in_time && within_age && back);
    row[column::GOOD] = yes(seen.in_time && within_age);
    row[column::DELIVERED_IN_TIME] = yes(seen.delivered_in_time);
    row[column::TAKER] = seen.first_taker.map_or(-1.0, |driver| driver.0 as f32);
}

/// A few quantiles of something that differs from trial to trial, in minutes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spanning {
    /// What 1 trial in 20 stays below.
    pub low: f64,
    /// The median.
    pub middle: f64,
    /// What 19 trials in 20 stay below.
    pub high: f64,
}

impl Spanning {
    pub(super) fn of(values: impl Iterator<Item = f64> + Clone) -> Option<Self> {
        let at = |p| quantile(values.clone(), p);
        Some(Self {
            low: at(0.05)?,
            middle: at(0.5)?,
            high: at(0.95)?,
        })
    }
}

/// What becomes of a load that one driver takes, or does not.
#[derive(Clone, Debug, PartialEq)]
pub struct Fate {
    /// Trials.
    pub trials: u64,
    /// The driver takes the load.
    pub taken: Chance,
    /// Why not, and in how many trials; most frequent first.
    pub refused: Vec<(Refusal, u64)>,
    /// On site no later than the order tolerates.
    pub in_time: Chance,
    /// Discharged within its age.
    pub within_age: Chance,
    /// The driver is back at a plant within every clock.
    pub back: Chance,
    /// The first two: what the customer gets.
    pub good: Chance,
    /// All three.
    pub all: Chance,
    /// The driver is stranded before that.
    pub stranded: Chance,
    /// Whoever brings it, the load is on site in time.
    pub delivered_in_time: Chance,
    /// When loading begins, minutes since midnight before the first day.
    pub loading: Option<Spanning>,
    /// When it comes on site, the same.
    pub on_site: Option<Spanning>,
    /// Minutes late.
    pub late: Option<Spanning>,
    /// Age at the end of discharge, minutes.
    pub age: Option<Spanning>,
    /// Minutes left on the clock that binds when the driver is back.
    pub margin: Option<Spanning>,
    /// The clock that binds, and in how many trials; most frequent first.
    pub binds: Vec<(Clock, u64)>,
    /// When the driver is back after the load.
    pub back_at: Option<Spanning>,
    /// When the driver is released at home.
    pub home: Option<Spanning>,
    /// Costs of all plants from the moment to the hour of account.
    pub cost: Estimate,
}

impl Fate {
    pub(super) fn of(rows: &Rows, case: usize, level: f64) -> Self {
        let trials = rows.len() as u64;
        let values = |column| rows.values(case, column);
        let chance = |column| {
            let times = values(column).filter(|value| *value > 0.5).count() as u64;
            Chance::of(times, trials, level)
        };
        let span = |column| Spanning::of(rows.values(case, column).collect::<Vec<_>>().into_iter());
        let counted = |column: usize, most: usize| {
            let mut counts: Vec<(usize, u64)> = (0..most).map(|at| (at, 0)).collect();
            let codes = values(column).zip(values(column::TAKEN));
            for (code, taken) in codes {
                let counts_here = column != column::REFUSED || taken < 0.5;
                if code > 0.5 && counts_here {
                    counts[code as usize - 1].1 += 1;
                }
            }
            counts.retain(|(_, times)| *times > 0);
            counts.sort_by_key(|(at, times)| (std::cmp::Reverse(*times), *at));
            counts
        };
        let refused = counted(column::REFUSED, Refusal::ALL.len());
        let binds = counted(column::BINDS, Clock::ALL.len());
        Self {
            trials,
            taken: chance(column::TAKEN),
            refused: refused
                .into_iter()
                .map(|(at, times)| (Refusal::ALL[at], times))
                .collect(),
            in_time: chance(column::IN_TIME),
            within_age: chance(column::WITHIN_AGE),
            back: chance(column::BACK_LEGAL),
            good: chance(column::GOOD),
            all: chance(column::ALL),
            stranded: chance(column::STRANDED),
            delivered_in_time: chance(column::DELIVERED_IN_TIME),
            loading: span(column::LOADING),
            on_site: span(column::ON_SITE),
            late: span(column::LATE),
            age: span(column::AGE),
            margin: span(column::MARGIN),
            binds: binds
                .into_iter()
                .map(|(at, times)| (Clock::ALL[at], times))
                .collect(),
            back_at: span(column::BACK),
            home: span(column::HOME),
            cost: Estimate::of(&Summary::of(values(column::COST)), level),
        }
    }
}
