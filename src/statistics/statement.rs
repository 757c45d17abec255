//! Which statement a figure gets: its mean, or where it is seldom other than zero the chance that a replication has any.
//!
//! What happens in a few replications of many (a driver stranded, a load undelivered) comes in clusters, and its mean rests on those
//! few: an interval by Student's t is then far too narrow, and of no event at all it is [0, 0]. Whether a replication has any is
//! one yes or no for each, whose chance has an exact interval. What is said is decided here and nowhere else.

use super::interval::Interval;
use super::mean::mean_interval;
use super::proportion::{chance_difference, share_at_most, share_between};
use super::summary::Summary;
use std::cmp::Ordering;

/// From so many replications that are affected on, a mean is said. Counted, not tested: what is said must not depend on what
/// would be found.
pub const AFFECTED_FOR_A_MEAN: u64 = 10;

/// What is said of one figure of one system.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Statement {
    /// Nothing: what is simulated cannot have it.
    NotLookedAt,
    /// Nothing: no replication has a value.
    Blank,
    /// Its mean.
    Mean {
        /// The mean, in the figure's unit.
        mean: f64,
        /// Its interval; unbounded with one replication.
        interval: Interval,
    },
    /// How often a replication has any of it.
    Chance {
        /// Replications in which it is not zero.
        times: u64,
        /// Replications with a value.
        of: u64,
        /// Exact interval of the share, 0 to 1; if none was seen, its upper end is the one-sided bound.
        interval: Interval,
    },
}

/// What is said of the difference of two systems in the same replications, the first less the second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Contrast {
    /// Nothing: what is simulated cannot have it.
    NotLookedAt,
    /// Nothing: no replication has both values.
    Blank,
    /// Its mean.
    Mean {
        /// Mean of the differences, in the figure's unit.
        mean: f64,
        /// Its interval; unbounded with one replication.
        interval: Interval,
    },
    /// How often it has which sign.
    Chance {
        /// Replications in which the first has more.
        more: u64,
        /// Replications in which the first has less.
        less: u64,
        /// Replications with both values.
        of: u64,
        /// Whether more is any against none, for what most replications have none of; else any more.
        any: bool,
        /// Exact interval of the first chance less the second, −1 to 1.
        interval: Interval,
    },
}

/// In how many replications there is any, of those that have a value.
#[derive(Clone, Copy, Debug)]
pub(super) struct Affected {
    pub(super) times: u64,
    pub(super) of: u64,
}

/// How the pairs of values stand to each other, in numbers of replications.
#[derive(Clone, Copy, Debug)]
pub(super) struct Signs {
    /// All.
    pub(super) of: u64,
    pub(super) more: u64,
    pub(super) less: u64,
    /// The first has some, the second none.
    pub(super) only_first: u64,
    pub(super) only_second: u64,
    pub(super) neither: u64,
}

/// Whether so many replications of all are enough to speak of a mean: ten, or all of them.
fn enough(affected: u64, of: u64) -> bool {
    affected >= AFFECTED_FOR_A_MEAN || affected == of
}

impl Statement {
    /// What is said of these values, one for each replication, at confidence `level`. Blanks are left out.
    pub fn of(values: &[f64], level: f64) -> Self {
        let (mut times, mut of) = (0, 0);
        for value in values.iter().filter(|value| !value.is_nan()) {
            of += 1;
            times += u64::from(*value != 0.0);
        }
        Self::said(Affected { times, of }, level, || {
            let mean = Summary::of(values.iter().copied()).mean();
            (mean.unwrap_or(f64::NAN), mean_interval(values, level))
        })
    }

    /// What is said where so many are affected; `mean` gives the mean with its interval.
    pub(super) fn said(
        Affected { times, of }: Affected,
        level: f64,
        mean: impl FnOnce() -> (f64, Interval),
    ) -> Self {
        if of == 0 {
            return Self::Blank;
        }
        if enough(times, of) {
            let (mean, interval) = mean();
            return Self::Mean { mean, interval };
        }
        let interval = match times {
            0 => Interval {
                low: 0.0,
                high: share_at_most(0, of, level),
            },
            _ => share_between(times, of, level),
        };
        Self::Chance {
            times,
            of,
            interval,
        }
    }

    /// Where no replication has any: the largest share that may have some.
    pub fn at_most_if_never(self) -> Option<f64> {
        match self {
            Self::Chance {
                times: 0, interval, ..
            } => Some(interval.high),
            _ => None,
        }
    }

    /// The mean with its interval, where that is what is said.
    pub fn mean(self) -> Option<(f64, Interval)> {
        match self {
            Self::Mean { mean, interval } => Some((mean, interval)),
            _ => None,
        }
    }

    /// How much there is of it, to put several in order: the mean, or the share seen; 0 where nothing is said.
    pub fn size(self) -> f64 {
        match self {
            Self::Mean { mean, .. } => mean,
            Self::Chance { times, of, .. } => times as f64 / of as f64,
            Self::NotLookedAt | Self::Blank => 0.0,
        }
    }
}

impl Contrast {
    /// What is said of `first` less `second`, values of the same replications, at confidence `level`. A pair with a blank is left
    /// out.
    ///
    /// # Panics
    /// If the slices differ in length: they are not the same replications then.
    pub fn of(first: &[f64], second: &[f64], level: f64) -> Self {
        assert_eq!(
            first.len(),
            second.len(),
            "paired values come from the same replications"
        );
        let pairs: Vec<(f64, f64)> = first
            .iter()
            .copied()
            .zip(second.iter().copied())
            .filter(|(a, b)| !a.is_nan() && !b.is_nan())
            .collect();
        let count = |what: &dyn Fn(f64, f64) -> bool| {
            pairs.iter().filter(|(a, b)| what(*a, *b)).count() as u64
        };
        let signs = Signs {
            of: pairs.len() as u64,
            more: count(&|a, b| a > b),
            less: count(&|a, b| a < b),
            only_first: count(&|a, b| a != 0.0 && b == 0.0),
            only_second: count(&|a, b| a == 0.0 && b != 0.0),
            neither: count(&|a, b| a == 0.0 && b == 0.0),
        };
        Self::said(signs, level, || {
            let differences: Vec<f64> = pairs.iter().map(|(a, b)| a - b).collect();
            let mean = Summary::of(differences.iter().copied()).mean();
            (mean.unwrap_or(f64::NAN), mean_interval(&differences, level))
        })
    }

    /// What is said where the pairs stand so; `mean` gives the mean of the differences with its interval.
    pub(super) fn said(signs: Signs, level: f64, mean: impl FnOnce() -> (f64, Interval)) -> Self {
        let of = signs.of;
        if of == 0 {
            return Self::Blank;
        }
        if enough(signs.more + signs.less, of) {
            let (mean, interval) = mean();
            return Self::Mean { mean, interval };
        }
        // What most replications have none of is had or not; of what all have there is more or less.
        let any = signs.neither * 2 > of;
        let (more, less) = if any {
            (signs.only_first, signs.only_second)
        } else {
            (signs.more, signs.less)
        };
        Self::Chance {
            more,
            less,
            of,
            any,
            interval: chance_difference(more, less, of, level),
        }
    }

    /// The same with confidence `level` for `comparisons` of them at once (Bonferroni: each at 1 − (1 − level)/comparisons).
    ///
    /// # Panics
    /// As [`of`](Self::of).
    pub fn simultaneous(first: &[f64], second: &[f64], level: f64, comparisons: usize) -> Self {
        Self::of(first, second, Self::each_of(level, comparisons))
    }

    /// The confidence of each of so many comparisons where all are to hold at once.
    pub(super) fn each_of(level: f64, comparisons: usize) -> f64 {
        1.0 - (1.0 - level) / comparisons.max(1) as f64
    }

    /// Whether the first is shown to have less or more: in the mean, or in the chance of any. None if it is not told; how often there
    /// is more of what all have says nothing of how much.
    pub fn told(self) -> Option<Ordering> {
        let (Self::Mean { interval, .. }
        | Self::Chance {
            any: true,
            interval,
            ..
        }) = self
        else {
            return None;
        };
        if interval.high < 0.0 {
            Some(Ordering::Less)
        } else if interval.low > 0.0 {
            Some(Ordering::Greater)
        } else {
            None
        }
    }

    /// The mean with its interval, where that is what is said.
    pub fn mean(self) -> Option<(f64, Interval)> {
        match self {
            Self::Mean { mean, interval } => Some((mean, interval)),
            _ => None,
        }
    }

    /// What is known of the mean difference: its interval, or the side of zero where only a chance is told.
    pub fn reach(self) -> Interval {
        match (self, self.told()) {
            (Self::Mean { interval, .. }, _) => interval,
            (_, Some(Ordering::Less)) => Interval {
                high: 0.0,
                ..Interval::UNBOUNDED
            },
            (_, Some(_)) => Interval {
                low: 0.0,
                ..Interval::UNBOUNDED
            },
            (_, None) => Interval::UNBOUNDED,
        }
    }

    /// Whether no replication tells the two apart in this.
    pub fn never(self) -> bool {
        matches!(
            self,
            Self::Chance {
                more: 0,
                less: 0,
                ..
            }
        )
    }

    /// The second less the first.
    pub fn turned(self) -> Self {
        match self {
            Self::Mean { mean, interval } => Self::Mean {
                mean: -mean,
                interval: interval.negated(),
            },
            Self::Chance {
                more,
                less,
                of,
                any,
                interval,
            } => Self::Chance {
                more: less,
                less: more,
                of,
                any,
                interval: interval.negated(),
            },
            nothing => nothing,
        }
    }
}
