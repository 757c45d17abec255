//! The quantile functions that are too slow for the event loop, evaluated exactly.

use super::beta::Beta;
use super::gamma::Gamma;
use super::normal::{self, CutNormal};
use super::weibull::Weibull;

/// A place in a distribution, given by the probability on its nearer side so that far tails keep all digits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Tail {
    /// So much lies below.
    Lower(f64),
    /// So much lies above.
    Upper(f64),
}

impl Tail {
    pub(super) fn from_below(u: f64) -> Self {
        if u <= 0.5 {
            Self::Lower(u)
        } else {
            Self::Upper(1.0 - u)
        }
    }
}

/// A value of a quantile function and its slope |dx/dp|.
#[derive(Clone, Copy, Debug)]
pub(super) struct Point {
    pub(super) value: f64,
    pub(super) slope: f64,
}

/// A lognormal distribution by the parameters of its logarithm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lognormal {
    pub(super) mu: f64,
    pub(super) sigma: f64,
}

impl Lognormal {
    /// `mean` > 0 and coefficient of variation `cv` > 0 of the values themselves.
    pub(super) fn new(mean: f64, cv: f64) -> Self {
        let variance = libm::log1p(cv * cv);
        Self {
            mu: libm::log(mean) - variance / 2.0,
            sigma: variance.sqrt(),
        }
    }

    fn point(&self, tail: Tail) -> Point {
        let z = normal::quantile(tail);
        let value = libm::exp(self.mu + self.sigma * z);
        Point {
            value,
            slope: value * self.sigma / normal::density(z),
        }
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        if x <= 0.0 {
            0.0
        } else {
            normal::below((libm::log(x) - self.mu) / self.sigma)
        }
    }
}

/// A distribution whose quantiles cost tens to hundreds of nanoseconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Curve {
    Normal(CutNormal),
    Lognormal(Lognormal),
    Gamma(Gamma),
    Beta(Beta),
    Weibull(Weibull),
}

impl Curve {
    pub(super) fn point(&self, tail: Tail) -> Point {
        match self {
            Self::Normal(normal) => normal.point(tail),
            Self::Lognormal(lognormal) => lognormal.point(tail),
            Self::Gamma(gamma) => gamma.point(tail),
            Self::Beta(beta) => beta.point(tail),
            Self::Weibull(weibull) => weibull.point(tail),
        }
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        match self {
            Self::Normal(normal) => normal.cdf(x),
            Self::Lognormal(lognormal) => lognormal.cdf(x),
            Self::Gamma(gamma) => gamma.cdf(x),
            Self::Beta(beta) => beta.cdf(x),
            Self::Weibull(weibull) => weibull.cdf(x),
        }
    }
}
