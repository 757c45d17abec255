//! Luck and assumptions apart: the same replications in several drawn worlds.
//!
//! Value of world i and replication j: mean + a_i + b_j + e_ij, all random. As every world meets the same luck, worlds and replications are
//! crossed: b_j is the same in all worlds and says nothing of how worlds differ. What is inside one world is then not the noise of its
//! mean beside another's, as it would be where worlds have luck of their own (nested simulation: Sun, Apley & Staum, Operations
//! Research 59, 2011); that noise is the rest e_ij alone. Mean squares of the two-way table with one value in a cell, random effects
//! (Searle, Casella & McCulloch, Variance Components, 1992; both from memory), K worlds and n replications:
//!
//! ```text
//! E(MS of worlds)        = var e + n var a
//! E(MS of replications)  = var e + K var b
//! E(MS of the rest)      = var e
//! ```
//!
//! so that (MS of worlds − MS of the rest) ÷ n estimates var a without bias, whatever the distributions.

use super::interval::Interval;
use super::mean::mean_interval;
use super::student::t_critical;
use super::summary::Summary;

/// A table of values with one row for each world and one column for each replication.
#[derive(Clone, Debug, PartialEq)]
pub struct TwoWay {
    worlds: f64,
    replications: f64,
    by_world: Vec<f64>,
    by_replication: Vec<f64>,
    ms_worlds: f64,
    ms_replications: f64,
    ms_rest: f64,
}

impl TwoWay {
    /// Rows of equal length. A replication that is blank (not a number) in any world is left out. None with fewer than two worlds or
    /// replications.
    ///
    /// # Panics
    /// If the rows differ in length: they are not the same replications then.
    pub fn of(rows: &[Vec<f64>]) -> Option<Self> {
        let columns = rows.first()?.len();
        assert!(
            rows.iter().all(|row| row.len() == columns),
            "every world has the same replications"
        );
        let told = |column: &usize| rows.iter().all(|row| !row[*column].is_nan());
        let kept: Vec<usize> = (0..columns).filter(told).collect();
        if rows.len() < 2 || kept.len() < 2 {
            return None;
        }
        let (worlds, replications) = (rows.len() as f64, kept.len() as f64);
        let mean = |values: &mut dyn Iterator<Item = f64>| {
            let summary = Summary::of(values);
            summary.mean().unwrap_or_default()
        };
        let by_world: Vec<f64> = rows
            .iter()
            .map(|row| mean(&mut kept.iter().map(|at| row[*at])))
            .collect();
        let by_replication: Vec<f64> = kept
            .iter()
            .map(|at| mean(&mut rows.iter().map(|row| row[*at])))
            .collect();
        let all = mean(&mut by_world.iter().copied());
        let mut rest = 0.0;
        for (row, world) in rows.iter().zip(&by_world) {
            for (at, replication) in kept.iter().zip(&by_replication) {
                let left = (row[*at] - world) - (replication - all);
                rest += left * left;
            }
        }
        let variance = |means: &[f64]| {
            let summary = Summary::of(means.iter().copied());
            summary.variance().unwrap_or_default()
        };
        Some(Self {
            ms_worlds: replications * variance(&by_world),
            ms_replications: worlds * variance(&by_replication),
            ms_rest: rest / ((worlds - 1.0) * (replications - 1.0)),
            worlds,
            replications,
            by_world,
            by_replication,
        })
    }

    /// The mean over all.
    pub fn mean(&self) -> f64 {
        Summary::of(self.by_world.iter().copied())
            .mean()
            .unwrap_or_default()
    }

    /// The variance of the worlds' true means, estimated without bias; below zero where the worlds differ by less than the rest explains.
    pub fn var_worlds(&self) -> f64 {
        (self.ms_worlds - self.ms_rest) / self.replications
    }

    /// The variance of what a replication has in all worlds alike, estimated without bias.
    pub fn var_replications(&self) -> f64 {
        (self.ms_replications - self.ms_rest) / self.worlds
    }

    /// The variance of the rest: luck that does something else in every world.
    pub fn var_rest(&self) -> f64 {
        self.ms_rest
    }

    /// The interval of the mean over these worlds: luck alone.
    pub fn luck(&self, level: f64) -> Interval {
        mean_interval(&self.by_replication, level)
    }

    /// The interval of the true mean of one more world drawn as these were: the world that is, if the spreads say what is known of it.
    ///
    /// Variance var a (1 + 1/K) + var b/n + var e/(K n), as a sum of the mean squares; Student's t with Satterthwaite's degrees of
    /// freedom (Biometrics Bulletin 2, 1946). Never narrower than [`luck`](Self::luck) alone.
    pub fn luck_and_worlds(&self, level: f64) -> Interval {
        let luck = self.luck(level);
        let of_worlds = self.var_worlds() * (1.0 + 1.0 / self.worlds);
        if of_worlds <= 0.0 {
            return luck;
        }
        let variance = of_worlds + self.var_of_luck();
        let part = |factor: f64, mean_square: f64, freedom: f64| {
            let part = factor * mean_square;
            part * part / freedom
        };
        let (worlds, replications) = (self.worlds - 1.0, self.replications - 1.0);
        let beside = (1.0 + 1.0 / self.worlds) / self.replications;
        let square = part(beside, self.ms_worlds, worlds)
            + part(beside, self.ms_rest, worlds * replications)
            + part(
                1.0 / (self.worlds * self.replications),
                self.ms_replications,
                replications,
            );
        // Below one the quantile is none that anybody could use.
        let freedom = (variance * variance / square).max(1.0);
        let both = Interval::around(self.mean(), t_critical(level, freedom) * variance.sqrt());
        Interval {
            low: both.low.min(luck.low),
            high: both.high.max(luck.high),
        }
    }

    /// Of the variance behind [`luck_and_worlds`](Self::luck_and_worlds), the share that comes from the worlds, 0 to 1: what more
    /// replications do not take away. None where there is no variance at all.
    pub fn share_of_worlds(&self) -> Option<f64> {
        let of_worlds = (self.var_worlds() * (1.0 + 1.0 / self.worlds)).max(0.0);
        let all = of_worlds + self.var_of_luck();
        (all > 0.0).then(|| of_worlds / all)
    }

    /// Of the variance of a single replication's value, the share that comes from the worlds, 0 to 1. None where there is none.
    pub fn share_of_worlds_in_one(&self) -> Option<f64> {
        let [worlds, luck] =
            [self.var_worlds(), self.var_replications()].map(|variance| variance.max(0.0));
        let all = worlds + luck + self.var_rest();
        (all > 0.0).then(|| worlds / all)
    }

    /// The variance of the mean over these worlds: var b/n + var e/(K n).
    fn var_of_luck(&self) -> f64 {
        self.ms_replications / (self.worlds * self.replications)
    }
}
