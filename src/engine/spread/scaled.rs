//! The same distribution, longer or wider.

use super::Spread;

impl Spread {
    /// Every value times a factor, more than 0.
    pub fn times(&self, factor: f64) -> Self {
        self.mapped(|value| value * factor, factor)
    }

    /// Every distance from the mean times a factor, 0 or more, the mean as it is; values below zero are cut off. Where the width cannot
    /// be changed by itself (exponential, Weibull) or there is none, the same again.
    pub fn wider(&self, factor: f64) -> Self {
        let mean = self.mean();
        match *self {
            Self::Lognormal { mean, cv } => Self::Lognormal {
                mean,
                cv: cv * factor,
            },
            Self::Gamma { mean, cv } => Self::Gamma {
                mean,
                cv: cv * factor,
            },
            Self::Normal { mean, sd } => Self::Normal {
                mean,
                sd: sd * factor,
            },
            Self::Exponential { .. } | Self::Weibull { .. } => self.clone(),
            _ => self.mapped(|value| (mean + (value - mean) * factor).max(0.0), 1.0),
        }
    }

    /// Ends, modes and listed values through a rising function; means times a factor.
    fn mapped(&self, value: impl Fn(f64) -> f64, factor: f64) -> Self {
        match *self {
            Self::Constant(constant) => Self::Constant(value(constant)),
            Self::Uniform { low, high } => Self::Uniform {
                low: value(low),
                high: value(high),
            },
            Self::Triangular { low, mode, high } => Self::Triangular {
                low: value(low),
                mode: value(mode),
                high: value(high),
            },
            Self::Pert { low, mode, high } => Self::Pert {
                low: value(low),
                mode: value(mode),
                high: value(high),
            },
            Self::Beta {
                low,
                high,
                alpha,
                beta,
            } => Self::Beta {
                low: value(low),
                high: value(high),
                alpha,
                beta,
            },
            Self::Normal { mean, sd } => Self::Normal {
                mean: mean * factor,
                sd: sd * factor,
            },
            Self::Lognormal { mean, cv } => Self::Lognormal {
                mean: mean * factor,
                cv,
            },
            Self::Gamma { mean, cv } => Self::Gamma {
                mean: mean * factor,
                cv,
            },
            Self::Exponential { mean } => Self::Exponential {
                mean: mean * factor,
            },
            Self::Weibull { mean, shape } => Self::Weibull {
                mean: mean * factor,
                shape,
            },
            Self::Empirical(ref values) => {
                Self::Empirical(values.iter().map(|listed| value(*listed)).collect())
            }
        }
    }
}
