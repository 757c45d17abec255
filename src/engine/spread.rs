//! Distributions of non-negative quantities: as written down, exactly evaluated, and compiled for the event loop.
//!
//! Every draw is the inverse of the distribution function at one uniform number, so the same luck under another spread
//! gives a longer value for a longer spread, and a draw costs the same number of random bits whatever its spread.

mod beta;
mod check;
mod curve;
mod density;
mod gamma;
mod mean_beyond;
mod normal;
mod sampler;
mod scaled;
mod table;
mod weibull;

use beta::Beta;
use curve::{Curve, Lognormal, Tail};
use gamma::Gamma;
use normal::CutNormal;
use weibull::Weibull;

/// The standard normal value that a share `p` in (0, 1) lies below.
pub fn normal_quantile(p: f64) -> f64 {
    normal::quantile(Tail::from_below(p))
}
pub use mean_beyond::MeanBeyond;
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
    /// The usual three-point estimate, PERT: a beta distribution of mean (low + 4 mode + high) ÷ 6, smooth at its mode.
    Pert {
        /// Smallest value.
        low: f64,
        /// Most likely value.
        mode: f64,
        /// Largest value.
        high: f64,
    },
    /// Beta from `low` to `high`, with shapes of 0.1 to 1,000.
    Beta {
        /// Smallest value.
        low: f64,
        /// Largest value.
        high: f64,
        /// Shape at the low end: the density grows with (x − low)^(alpha − 1).
        alpha: f64,
        /// Shape at the high end.
        beta: f64,
    },
    /// Weibull: the time to something whose hazard grows (shape above 1) or falls (below 1); scale mean ÷ Γ(1 + 1/shape).
    Weibull {
        /// Mean.
        mean: f64,
        /// Shape, 0.3 to 100.
        shape: f64,
    },
    /// Each of the listed values equally likely.
    Empirical(Vec<f64>),
}

impl Spread {
    /// The mean.
    pub fn mean(&self) -> f64 {
        match *self {
            Self::Constant(value) => value,
            Self::Uniform { low, high } => (low + high) / 2.0,
            Self::Triangular { low, mode, high } => (low + mode + high) / 3.0,
            Self::Normal { mean, sd } if sd > 0.0 => CutNormal::new(mean, sd).mean(),
            Self::Pert { low, mode, high } => (low + 4.0 * mode + high) / 6.0,
            Self::Beta {
                low,
                high,
                alpha,
                beta,
            } => Beta::new(low, high, alpha, beta).mean(),
            Self::Normal { mean, .. }
            | Self::Weibull { mean, .. }
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
            Self::Pert { low, mode, high } if high > low => Beta::pert(low, mode, high).variance(),
            Self::Pert { .. } => 0.0,
            Self::Beta {
                low,
                high,
                alpha,
                beta,
            } => Beta::new(low, high, alpha, beta).variance(),
            Self::Weibull { mean, shape } => Weibull::new(mean, shape).variance(),
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
            Self::Pert { low, mode, high } if high > low => {
                Some(Curve::Beta(Beta::pert(low, mode, high)))
            }
            Self::Beta {
                low,
                high,
                alpha,
                beta,
            } if high > low => Some(Curve::Beta(Beta::new(low, high, alpha, beta))),
            Self::Weibull { mean, shape } if mean > 0.0 => {
                Some(Curve::Weibull(Weibull::new(mean, shape)))
            }
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests;
