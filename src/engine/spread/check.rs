//! Whether a spread can be drawn from: the library's constructors judge the parameters, and limits of plantday's own follow from
//! quantities that are never negative and tables that hold what they promise.

use super::{Spread, beta, gamma, weibull};
use rand_distr::uniform::Error as UniformError;
use rand_distr::{
    Beta, Exp, Gamma, LogNormal, Normal, Pert, PertError, Triangular, Uniform, Weibull,
};

/// Beyond this a gamma's smallest values cannot be told from zero, and nothing measured spreads so widely.
const LARGEST_CV: f64 = 10.0;

impl Spread {
    /// What is wrong with the parameters, if anything. The other methods expect a spread without a problem.
    pub fn problem(&self) -> Option<String> {
        self.out_of_range().or_else(|| self.refused())
    }

    /// A number that no quantity has, or that no table reaches.
    fn out_of_range(&self) -> Option<String> {
        let all = |values: &[(&str, f64)]| {
            values.iter().find_map(|(name, value)| {
                (!value.is_finite() || *value < 0.0)
                    .then(|| format!("{name} is {value}, expected a number of at least 0"))
            })
        };
        let within = |name: &str, value: f64, (low, high): (f64, f64)| {
            (!(low..=high).contains(&value))
                .then(|| format!("{name} is {value}, expected {low} to {high}"))
        };
        match *self {
            Self::Constant(value) => all(&[("value", value)]),
            Self::Uniform { low, high } => all(&[("low", low), ("high", high)]),
            Self::Triangular { low, mode, high } | Self::Pert { low, mode, high } => {
                all(&[("low", low), ("mode", mode), ("high", high)])
            }
            Self::Beta {
                low,
                high,
                alpha,
                beta,
            } => all(&[("low", low), ("high", high)])
                .or_else(|| within("alpha", alpha, beta::SHAPES))
                .or_else(|| within("beta", beta, beta::SHAPES)),
            Self::Weibull { mean, shape } => {
                all(&[("mean", mean)]).or_else(|| within("shape", shape, weibull::SHAPES))
            }
            Self::Normal { mean, sd } => all(&[("mean", mean), ("sd", sd)]),
            Self::Lognormal { mean, cv } | Self::Gamma { mean, cv } => {
                all(&[("mean", mean), ("cv", cv)]).or_else(|| {
                    (cv > LARGEST_CV).then(|| format!("cv is {cv}, expected at most {LARGEST_CV}"))
                })
            }
            Self::Exponential { mean } => all(&[("mean", mean)]),
            Self::Empirical(ref values) if values.is_empty() => {
                Some("the list is empty, expected at least one value".to_owned())
            }
            Self::Empirical(ref values) => (1..)
                .zip(values)
                .find_map(|(place, &value)| all(&[(&format!("value {place}"), value)])),
        }
    }

    /// What the library's constructor of the distribution refuses. A spread without width is none: it is a constant.
    fn refused(&self) -> Option<String> {
        let falls = |low: f64, high: f64| format!("low {low} is above high {high}");
        let off = |low: f64, mode: f64, high: f64| {
            if mode < low {
                format!("low {low} is above mode {mode}")
            } else {
                format!("mode {mode} is above high {high}")
            }
        };
        match *self {
            Self::Uniform { low, high } => match Uniform::new_inclusive(low, high).err()? {
                UniformError::EmptyRange => Some(falls(low, high)),
                UniformError::NonFinite => Some(format!("{low} to {high} is too wide")),
            },
            Self::Triangular { low, mode, high } => {
                let refused = Triangular::new(low, high, mode).is_err();
                refused.then(|| off(low, mode, high))
            }
            Self::Pert { low, mode, high } if low == high && mode == low => None,
            Self::Pert { low, mode, high } => match Pert::new(low, high).with_mode(mode).err()? {
                PertError::RangeTooSmall if low > high => Some(falls(low, high)),
                _ => Some(off(low, mode, high)),
            },
            Self::Beta { low, high, .. } if low > high => Some(falls(low, high)),
            Self::Beta { alpha, beta, .. } => Some(Beta::new(alpha, beta).err()?.to_string()),
            Self::Weibull { mean, shape } if mean > 0.0 => {
                let scale = weibull::scale(mean, shape);
                Some(Weibull::new(scale, shape).err()?.to_string())
            }
            Self::Normal { mean, sd } => Some(Normal::new(mean, sd).err()?.to_string()),
            Self::Lognormal { mean, cv } if mean > 0.0 => {
                Some(LogNormal::from_mean_cv(mean, cv).err()?.to_string())
            }
            Self::Gamma { mean, cv } if mean > 0.0 && cv > 0.0 => {
                let (shape, scale) = gamma::shape_and_scale(mean, cv);
                Some(Gamma::new(shape, scale).err()?.to_string())
            }
            Self::Exponential { mean } if mean > 0.0 => {
                Some(Exp::new(1.0 / mean).err()?.to_string())
            }
            _ => None,
        }
    }
}
