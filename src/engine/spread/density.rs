//! The logarithm of a spread's density: what a likelihood is made of.

use super::curve::Lognormal;
use super::{Spread, gamma, normal, weibull};

const LN_SQRT_2PI: f64 = 0.918_938_533_204_672_8;

impl Spread {
    /// ln of the density at `x`, −∞ where there is none; nothing of spreads that have no density.
    pub fn ln_density(&self, x: f64) -> Option<f64> {
        let none = f64::NEG_INFINITY;
        let positive = |value: f64| if x > 0.0 { value } else { none };
        Some(match *self {
            Self::Uniform { low, high } if high > low => match (low..=high).contains(&x) {
                true => -libm::log(high - low),
                false => none,
            },
            Self::Triangular { low, mode, high } if high > low => {
                let side = if x < mode {
                    (x - low) / (mode - low)
                } else if high > mode {
                    (high - x) / (high - mode)
                } else {
                    1.0
                };
                match (low..=high).contains(&x) {
                    true => libm::log(2.0 * side / (high - low)),
                    false => none,
                }
            }
            Self::Normal { mean, sd } if sd > 0.0 => {
                let z = (x - mean) / sd;
                let kept = libm::log(normal::below(mean / sd));
                match x >= 0.0 {
                    true => -0.5 * z * z - LN_SQRT_2PI - libm::log(sd) - kept,
                    false => none,
                }
            }
            Self::Lognormal { mean, cv } if mean > 0.0 && cv > 0.0 => {
                let Lognormal { mu, sigma } = Lognormal::new(mean, cv);
                let z = (libm::log(x) - mu) / sigma;
                positive(-0.5 * z * z - LN_SQRT_2PI - libm::log(sigma * x))
            }
            Self::Gamma { mean, cv } if mean > 0.0 && cv > 0.0 => {
                let (shape, scale) = gamma::shape_and_scale(mean, cv);
                let t = x / scale;
                positive((shape - 1.0) * libm::log(t) - t - libm::lgamma(shape) - libm::log(scale))
            }
            Self::Weibull { mean, shape } if mean > 0.0 => {
                let t = x / weibull::scale(mean, shape);
                positive(
                    libm::log(shape) + shape * libm::log(t) - libm::pow(t, shape) - libm::log(x),
                )
            }
            Self::Exponential { mean } if mean > 0.0 => match x >= 0.0 {
                true => -x / mean - libm::log(mean),
                false => none,
            },
            _ => return None,
        })
    }
}
