//! A fleet size beside the one with a truck less, on the same days: what is luck in a curve over sizes is not taken for their doing.

use crate::statistics::{Estimate, Interval, chance_difference};

/// What each replication gave with one size.
#[derive(Clone, Debug, Default)]
pub(super) struct PerRun {
    /// Its cost, $ per yd³ ordered; blank where the pour was cancelled.
    pub(super) cost: Vec<f64>,
    /// 1 if there was a gap, else 0; blank where the pour was cancelled.
    pub(super) gap: Vec<f64>,
}

/// What one truck more changes, in the same runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TruckMore {
    /// How much more often there is a gap, a share of runs; below zero: less often.
    pub gap: Estimate,
    /// What it costs more, $ per yd³ ordered.
    pub cost: Estimate,
}

impl TruckMore {
    /// A size against the one with a truck less.
    pub(super) fn of(size: &PerRun, fewer: &PerRun, level: f64) -> Self {
        let pairs = || {
            size.gap
                .iter()
                .zip(&fewer.gap)
                .filter(|(one, other)| !(one.is_nan() || other.is_nan()))
        };
        let more = pairs().filter(|(one, other)| one > other).count() as u64;
        let less = pairs().filter(|(one, other)| one < other).count() as u64;
        let of = pairs().count() as u64;
        let costs: Vec<f64> = size
            .cost
            .iter()
            .zip(&fewer.cost)
            .map(|(one, other)| one - other)
            .collect();
        Self {
            gap: Estimate {
                mean: (of > 0).then(|| (more as f64 - less as f64) / of as f64),
                interval: match of {
                    0 => Interval {
                        low: -1.0,
                        high: 1.0,
                    },
                    _ => chance_difference(more, less, of, level),
                },
            },
            cost: Estimate::of_values(&costs, level),
        }
    }

    /// Whether the chance of a gap cannot be told from that with a truck less.
    pub fn gap_is_the_same_within_luck(&self) -> bool {
        !self.gap.interval.excludes_zero()
    }
}
