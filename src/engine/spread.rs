//! Distributions of non-negative quantities: as written down, exactly evaluated, and compiled for the event loop.
//!
//! Every draw is the inverse of the distribution function at one uniform number, so the same luck under another spread
//! gives a longer value for a longer spread, and a draw costs the same number of random bits whatever its spread.

mod curve;
mod gamma;
mod normal;
mod sampler;
mod table;

use curve::{Curve, Lognormal, Tail};
use gamma::Gamma;
use normal::CutNormal;

/// The standard normal value that a share `p` in (0, 1) lies below.
pub fn normal_quantile(p: f64) -> f64 {
    normal::quantile(Tail::from_below(p))
}
pub use sampler::Sampler;

/// A distribution of a quantity that is never negative, in whatever unit its owner has (minutes, yd³).
///
/// `cv` is the coefficient of variation, standard deviation ÷ mean; at 0 the spread is a constant.
#[derive(Clone, Debug, PartialEq)]
pub enum Spread {
    /// Always this value.
    Constant(f64),
    /// Any value between two equally likely.
    Uniform {
        /// Smallest value.
        low: f64,
        /// Largest value.
        high: f64,
    },
    /// A density that rises straight to the mode and falls straight from it.
    Triangular {
        /// Smallest value.
        low: f64,
        /// Most likely value.
        mode: f64,
        /// Largest value.
        high: f64,
    },
    /// Normal, with what lies below zero cut off and the rest made whole again; [`Spread::mean`] is then above `mean`.
    Normal {
        /// Mean before the cut.
        mean: f64,
        /// Standard deviation before the cut.
        sd: f64,
    },
    /// Lognormal, by the mean and cv of the values (not of their logarithms).
    Lognormal {
        /// Mean.
        mean: f64,
        /// Coefficient of variation.
        cv: f64,
    },
    /// Gamma: shape 1/cv², scale mean × cv².
    Gamma {
        /// Mean.
        mean: f64,
        /// Coefficient of variation.
        cv: f64,
    },
    /// Exponential.
    Exponential {
        /// Mean.
        mean: f64,
    },
    /// Each of the listed values equally likely.
    Empirical(Vec<f64>),
}

/// Beyond this a gamma's smallest values cannot be told from zero, and nothing measured spreads so widely.
const LARGEST_CV: f64 = 10.0;

impl Spread {
    /// What is wrong with the parameters, if anything. The other methods expect a spread without a problem.
    pub fn problem(&self) -> Option<String> {
        let negative = |name: &str, value: f64| {
            (!value.is_finite() || value < 0.0)
                .then(|| format!("{name} is {value}, expected a number of at least 0"))
        };
        let out_of_order = |first: &str, a: f64, second: &str, b: f64| {
            (a > b).then(|| format!("{first} {a} is above {second} {b}"))
        };
        let too_wide = |cv: f64| {
            (cv > LARGEST_CV).then(|| format!("cv is {cv}, expected at most {LARGEST_CV}"))
        };
        match *self {
            Self::Constant(value) => negative("value", value),
            Self::Uniform { low, high } => negative("low", low)
                .or_else(|| negative("high", high))
                .or_else(|| out_of_order("low", low, "high", high)),
            Self::Triangular { low, mode, high } => negative("low", low)
                .or_else(|| negative("mode", mode))
                .or_else(|| negative("high", high))
                .or_else(|| out_of_order("low", low, "mode", mode))
                .or_else(|| out_of_order("mode", mode, "high", high)),
            Self::Normal { mean, sd } => negative("mean", mean).or_else(|| negative("sd", sd)),
            Self::Lognormal { mean, cv } | Self::Gamma { mean, cv } => negative("mean", mean)
                .or_else(|| negative("cv", cv))
                .or_else(|| too_wide(cv)),
            Self::Exponential { mean } => negative("mean", mean),
            Self::Empirical(ref values) if values.is_empty() => {
                Some("the list is empty, expected at least one value".to_owned())
            }
            Self::Empirical(ref values) => (1..)
                .zip(values)
                .find_map(|(place, &value)| negative(&format!("value {place}"), value)),
        }
    }

    /// The mean.
    pub fn mean(&self) -> f64 {
        match *self {
            Self::Constant(value) => value,
            Self::Uniform { low, high } => (low + high) / 2.0,
            Self::Triangular { low, mode, high } => (low + mode + high) / 3.0,
            Self::Normal { mean, sd } if sd > 0.0 => CutNormal::new(mean, sd).mean(),
            Self::Normal { mean, .. }
            | Self::Lognormal { mean, .. }
            | Self::Gamma { mean, .. }
            | Self::Exponential { mean } => mean,
            Self::Empirical(ref values) => values.iter().sum::<f64>() / values.len() as f64,
        }
    }

    /// Standard deviation over mean; 0 where the mean is 0.
    pub fn cv(&self) -> f64 {
        let mean = self.mean();
        if mean > 0.0 {
            self.variance().sqrt() / mean
        } else {
            0.0
        }
    }

    /// The variance, in the unit squared.
    pub fn variance(&self) -> f64 {
        match *self {
            Self::Constant(_) => 0.0,
            Self::Uniform { low, high } => (high - low) * (high - low) / 12.0,
            Self::Triangular { low, mode, high } => {
                let (a, b) = (mode - low, high - mode);
                (a * a + a * b + b * b) / 18.0
            }
            Self::Normal { mean, sd } if sd > 0.0 => CutNormal::new(mean, sd).variance(),
            Self::Normal { .. } => 0.0,
            Self::Lognormal { mean, cv } | Self::Gamma { mean, cv } => (mean * cv) * (mean * cv),
            Self::Exponential { mean } => mean * mean,
            Self::Empirical(ref values) => {
                let mean = self.mean();
                let squares = values.iter().map(|value| (value - mean) * (value - mean));
                squares.sum::<f64>() / values.len() as f64
            }
        }
    }

    /// The value below which the share `u` lies, 0 ≤ `u` ≤ 1; infinite at 1 where there is no largest value.
    ///
    /// Exact but slow; [`sampler`](Self::sampler) is the fast form.
    pub fn quantile(&self, u: f64) -> f64 {
        if let Some(curve) = self.curve() {
            return curve.point(Tail::from_below(u)).value;
        }
        match *self {
            Self::Exponential { mean } if mean > 0.0 => -mean * libm::log1p(-u),
            _ => self.sampler().at(u),
        }
    }

    /// The probability of at most `x`.
    pub fn cdf(&self, x: f64) -> f64 {
        if let Some(curve) = self.curve() {
            return curve.cdf(x);
        }
        match *self {
            Self::Uniform { low, high } if high > low => ((x - low) / (high - low)).clamp(0.0, 1.0),
            Self::Triangular { low, mode, high } if high > low => {
                if x <= low {
                    0.0
                } else if x < mode {
                    (x - low) * (x - low) / ((high - low) * (mode - low))
                } else if x < high {
                    1.0 - (high - x) * (high - x) / ((high - low) * (high - mode))
                } else {
                    1.0
                }
            }
            Self::Exponential { mean } if mean > 0.0 => -libm::expm1(-x.max(0.0) / mean),
            Self::Empirical(ref values) => {
                let count = values.iter().filter(|&&value| value <= x).count();
                count as f64 / values.len() as f64
            }
            _ => f64::from(x >= self.mean()),
        }
    }

    /// Compiles the spread for the event loop: 0.1 to 10 ms once, then a few nanoseconds a draw.
    ///
    /// # Panics
    /// May panic where [`problem`](Self::problem) has something to say.
    pub fn sampler(&self) -> Sampler {
        Sampler::new(self)
    }

    /// The slow quantile function behind a spread that needs one.
    fn curve(&self) -> Option<Curve> {
        match *self {
            Self::Normal { mean, sd } if sd > 0.0 => Some(Curve::Normal(CutNormal::new(mean, sd))),
            Self::Lognormal { mean, cv } if mean > 0.0 && cv > 0.0 => {
                Some(Curve::Lognormal(Lognormal::new(mean, cv)))
            }
            Self::Gamma { mean, cv } if mean > 0.0 && cv > 0.0 => {
                Some(Curve::Gamma(Gamma::new(mean, cv)))
            }
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests;
