//! How many: counts drawn by their inverse distribution function from one uniform number.

use super::{Sampler, Spread};

/// A share of draws so small that a cap there changes no answer.
const BEYOND: f64 = 1e-6;

/// The distribution of a count.
#[derive(Clone, Debug, PartialEq)]
pub enum Count {
    /// Events at random, so many on average; at most 500.
    Poisson {
        /// Mean.
        mean: f64,
    },
    /// A spread, rounded to whole numbers.
    Rounded(Spread),
}

impl Count {
    /// The mean, before rounding.
    pub fn mean(&self) -> f64 {
        match self {
            Self::Poisson { mean } => *mean,
            Self::Rounded(spread) => spread.mean(),
        }
    }

    /// So many times as many on average; at most 500.
    pub fn times(&self, factor: f64) -> Self {
        match self {
            Self::Poisson { mean } => Self::Poisson {
                mean: (mean * factor).min(500.0),
            },
            Self::Rounded(spread) => Self::Rounded(spread.times(factor)),
        }
    }

    /// Ready for the event loop.
    pub fn counter(&self) -> Counter {
        match self {
            Self::Poisson { mean } => Counter::Table(poisson(*mean)),
            Self::Rounded(spread) => Counter::Rounded(spread.sampler()),
        }
    }

    /// What all but a share of 0.000001 of the draws stay within.
    pub fn most(&self) -> u32 {
        self.counter().at(1.0 - BEYOND)
    }
}

/// A [`Count`] made ready.
#[derive(Clone, Debug)]
pub enum Counter {
    /// Chance of at most 0, at most 1 …
    Table(Vec<f64>),
    /// To be rounded.
    Rounded(Sampler),
}

impl Counter {
    /// The count at `u` in (0, 1).
    #[inline]
    pub fn at(&self, u: f64) -> u32 {
        match self {
            Self::Table(up_to) => up_to.partition_point(|chance| *chance < u) as u32,
            Self::Rounded(sampler) => (sampler.at(u) + 0.5) as u32,
        }
    }
}

fn poisson(mean: f64) -> Vec<f64> {
    let mut chance = libm::exp(-mean);
    let mut sum = chance;
    let mut up_to = vec![sum];
    while sum < 1.0 - BEYOND / 2.0 {
        chance *= mean / up_to.len() as f64;
        sum += chance;
        up_to.push(sum);
    }
    up_to
}
