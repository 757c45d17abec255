//! How a leg's minutes come about, as the simulated world has it: a usual length, and luck of mean 1 on it. The usual lengths are those at
//! which the luck is 1 on the mean (of each group, each hour, and by volume): they hold whatever family the luck is of.
//!
//! Travel is driven through the hours as `roads::Traffic` does: what a trip takes on the empty road is what is left when each part of it
//! is divided by the factor of its hour.

use crate::roads::Traffic;
use crate::units::{Millis, Weekday};

/// What the minutes of a leg depend on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// On nothing: a spread of minutes.
    Plain,
    /// (fixed + per yd³ × volume) × luck.
    PerYard,
    /// Volume ÷ rate of the group × luck.
    Rate,
    /// Minutes of the pair of places × factor of the hour × luck.
    Travel,
}

/// One value that a ticket tells.
#[derive(Clone, Copy, Debug)]
pub(super) struct Observation {
    pub(super) group: usize,
    pub(super) yd3: f64,
    pub(super) depart: Millis,
    pub(super) minutes: f64,
}

/// The usual lengths.
#[derive(Clone, Debug)]
pub(super) struct Usual {
    shape: Shape,
    /// Fixed and per yd³; or minutes per yd³ of each group; or minutes of each pair on the empty road.
    pub(super) values: Vec<f64>,
    /// Factors of the hours, from when since midnight.
    pub(super) factors: Vec<(Millis, f64)>,
    traffic: Traffic,
}

/// Rounds that are made at most; fewer are needed.
const ROUNDS: usize = 60;

impl Usual {
    /// Of these observations, of so many groups; `hours` are the beginnings of the pieces of the day that have a factor of their own.
    pub(super) fn of(shape: Shape, told: &[Observation], groups: usize, hours: &[Millis]) -> Self {
        let mut usual = Self::with(
            shape,
            Vec::new(),
            hours.iter().map(|at| (*at, 1.0)).collect(),
        );
        match shape {
            Shape::Plain => {}
            Shape::PerYard => usual.values = per_yard(told),
            Shape::Rate | Shape::Travel => {
                usual.values = vec![1.0; groups];
                for _ in 0..ROUNDS {
                    let moved = usual.level_groups(told);
                    let moved = moved.max(usual.level_hours(told));
                    if moved < 1e-7 || usual.factors.len() < 2 {
                        break;
                    }
                }
            }
        }
        usual
    }

    /// With these values.
    pub(super) fn with(shape: Shape, values: Vec<f64>, factors: Vec<(Millis, f64)>) -> Self {
        let traffic = Traffic::new(
            Weekday::Monday,
            [(&Weekday::ALL[..], &factors[..])].into_iter(),
        );
        Self {
            shape,
            values,
            factors,
            traffic,
        }
    }

    /// What an observation took, in parts of what is usual.
    pub(super) fn luck(&self, told: &Observation) -> f64 {
        match self.shape {
            Shape::Plain => told.minutes,
            Shape::PerYard => told.minutes / (self.values[0] + self.values[1] * told.yd3),
            Shape::Rate => told.minutes / (self.values[told.group] * told.yd3),
            Shape::Travel => self.free(told) / self.values[told.group],
        }
    }

    /// The minutes of an observation with other luck.
    pub(super) fn minutes(&self, told: &Observation, luck: f64) -> f64 {
        match self.shape {
            Shape::Plain => luck,
            Shape::PerYard => (self.values[0] + self.values[1] * told.yd3) * luck,
            Shape::Rate => self.values[told.group] * told.yd3 * luck,
            Shape::Travel => {
                let free = Millis::from_minutes(self.values[told.group] * luck);
                self.traffic.drive(told.depart, free).minutes()
            }
        }
    }

    /// ln of how much longer an observation gets with its luck, for the likelihood of what was seen.
    pub(super) fn ln_stretch(&self, told: &Observation) -> f64 {
        let arrive = told.depart + Millis::from_minutes(told.minutes);
        libm::log(self.values[told.group] * self.traffic.piece(arrive).0)
    }

    /// Every length times this.
    pub(super) fn times(&self, factor: f64) -> Self {
        let values = self.values.iter().map(|value| value * factor).collect();
        Self::with(self.shape, values, self.factors.clone())
    }

    /// The minutes that a trip would have taken on the empty road.
    fn free(&self, told: &Observation) -> f64 {
        let (mut at, mut free) = (told.depart, 0.0);
        let arrive = told.depart + Millis::from_minutes(told.minutes);
        if self.factors.is_empty() {
            return told.minutes;
        }
        while at < arrive {
            let (factor, until) = self.traffic.piece(at);
            let end = until.min(arrive);
            free += (end - at).minutes() / factor;
            at = end;
        }
        free
    }

    /// Makes the mean luck of each group 1; gives the largest change.
    fn level_groups(&mut self, told: &[Observation]) -> f64 {
        let mut sums = vec![(0.0, 0.0); self.values.len()];
        for one in told {
            let sum = &mut sums[one.group];
            *sum = (sum.0 + self.luck(one), sum.1 + 1.0);
        }
        let mut moved: f64 = 0.0;
        for (value, (luck, n)) in self.values.iter_mut().zip(sums) {
            if n > 0.0 {
                *value *= luck / n;
                moved = moved.max((luck / n - 1.0).abs());
            }
        }
        moved
    }

    /// Makes the mean luck of each hour 1, a trip counting for the hours in which it would have been driven with the usual luck: by
    /// how long it took its weight must not be, or long trips would count for the hour in which they ended.
    fn level_hours(&mut self, told: &[Observation]) -> f64 {
        if self.factors.len() < 2 {
            return 0.0;
        }
        let mut sums = vec![(0.0, 0.0); self.factors.len()];
        for one in told {
            let luck = self.luck(one);
            let usual = self.values[one.group];
            let (mut at, mut left) = (one.depart, usual);
            while left > 1e-9 {
                let (factor, until) = self.traffic.piece(at);
                let here = ((until - at).minutes() / factor).min(left);
                let since = Millis(at.0.rem_euclid(Millis::DAY.0));
                let piece = self.factors.partition_point(|(from, _)| *from <= since);
                let sum = &mut sums[piece.saturating_sub(1)];
                let share = here / usual;
                *sum = (sum.0 + share * luck, sum.1 + share);
                left -= here;
                at = until;
            }
        }
        let mut moved: f64 = 0.0;
        let mut factors = self.factors.clone();
        for ((_, factor), (luck, n)) in factors.iter_mut().zip(sums) {
            if n > 0.0 {
                *factor *= luck / n;
                moved = moved.max((luck / n - 1.0).abs());
            }
        }
        // The quietest hour is the empty road: what is driven in it stays as it is.
        let quietest = factors
            .iter()
            .map(|(_, factor)| *factor)
            .fold(f64::INFINITY, f64::min);
        for (_, factor) in &mut factors {
            *factor /= quietest;
        }
        let values = self.values.iter().map(|value| value * quietest).collect();
        *self = Self::with(self.shape, values, factors);
        moved
    }
}

/// Fixed minutes and minutes per yd³ at which the luck is 1 on the mean and does not go with the volume: weighted least squares with the
/// standard deviation going with the mean, repeated until it stands (quasi-likelihood; McCullagh and Nelder, "Generalized Linear Models",
/// chapter 9). Neither is below zero.
fn per_yard(told: &[Observation]) -> Vec<f64> {
    let n = told.len() as f64;
    let mean = |of: &dyn Fn(&Observation) -> f64| told.iter().map(of).sum::<f64>() / n;
    let through_zero = vec![0.0, mean(&|one| one.minutes / one.yd3)];
    let (mut fixed, mut each) = (0.0, through_zero[1]);
    for _ in 0..200 {
        let (mut s0, mut s1, mut s2, mut t0, mut t1) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for one in told {
            let usual = fixed + each * one.yd3;
            let weight = 1.0 / (usual * usual);
            s0 += weight;
            s1 += weight * one.yd3;
            s2 += weight * one.yd3 * one.yd3;
            t0 += weight * one.minutes;
            t1 += weight * one.yd3 * one.minutes;
        }
        let whole = s0 * s2 - s1 * s1;
        let next = ((t0 * s2 - t1 * s1) / whole, (s0 * t1 - s1 * t0) / whole);
        if next.0 < 0.0 || !next.0.is_finite() {
            return through_zero;
        }
        if next.1 < 0.0 {
            return vec![mean(&|one| one.minutes), 0.0];
        }
        let done = (next.0 - fixed).abs() + (next.1 - each).abs() < 1e-12;
        (fixed, each) = next;
        if done {
            break;
        }
    }
    vec![fixed, each]
}
