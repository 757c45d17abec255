//! The Weibull distribution, whose quantile is a formula.

use super::curve::{Point, Tail};

/// Shapes that the table keeps its promise for: coefficients of variation from 5.5 down to 0.013.
pub(super) const SHAPES: (f64, f64) = (0.3, 100.0);

/// The scale of a Weibull distribution: mean ÷ Γ(1 + 1/shape).
pub(super) fn scale(mean: f64, shape: f64) -> f64 {
    mean / libm::tgamma(1.0 + 1.0 / shape)
}

/// A Weibull distribution: all but exp(−(x ÷ scale)^shape) lies below x.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Weibull {
    shape: f64,
    scale: f64,
}

impl Weibull {
    /// `mean` > 0 and `shape` > 0.
    pub(super) fn new(mean: f64, shape: f64) -> Self {
        Self {
            shape,
            scale: scale(mean, shape),
        }
    }

    /// Scale² × (Γ(1 + 2/shape) − Γ(1 + 1/shape)²).
    pub(super) fn variance(&self) -> f64 {
        let first = libm::tgamma(1.0 + 1.0 / self.shape);
        let second = libm::tgamma(1.0 + 2.0 / self.shape);
        self.scale * self.scale * (second - first * first)
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        if x <= 0.0 {
            0.0
        } else {
            -libm::expm1(-libm::pow(x / self.scale, self.shape))
        }
    }

    pub(super) fn point(&self, tail: Tail) -> Point {
        // The cumulative hazard (x ÷ scale)^shape, and what lies above x.
        let (hazard, above) = match tail {
            Tail::Lower(p) => (-libm::log1p(-p), 1.0 - p),
            Tail::Upper(p) => (-libm::log(p), p),
        };
        let value = self.scale * libm::pow(hazard, 1.0 / self.shape);
        Point {
            value,
            slope: value / (self.shape * hazard * above),
        }
    }
}
