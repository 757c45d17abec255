//! The beta distribution between two ends: its quantiles by Newton's method on the logarithm of the incomplete beta function.
//!
//! On `libm` for the reason that the gamma distribution is. For set-up, not for the event loop.

use super::curve::{Point, Tail};

/// Shapes that the table keeps its promise for.
pub(super) const SHAPES: (f64, f64) = (0.1, 1000.0);

/// A beta distribution stretched from `low` over `width`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Beta {
    low: f64,
    width: f64,
    standard: Standard,
}

impl Beta {
    /// `low` < `high`; both shapes within [`SHAPES`].
    pub(super) fn new(low: f64, high: f64, alpha: f64, beta: f64) -> Self {
        let ln_beta = libm::lgamma(alpha) + libm::lgamma(beta) - libm::lgamma(alpha + beta);
        Self {
            low,
            width: high - low,
            standard: Standard {
                alpha,
                beta,
                ln_beta,
            },
        }
    }

    /// With the mode and the mean of the usual PERT estimate, (low + 4 mode + high) ÷ 6.
    pub(super) fn pert(low: f64, mode: f64, high: f64) -> Self {
        let width = high - low;
        let [alpha, beta] = [mode - low, high - mode].map(|side| 1.0 + 4.0 * side / width);
        Self::new(low, high, alpha, beta)
    }

    pub(super) fn mean(&self) -> f64 {
        let Standard { alpha, beta, .. } = self.standard;
        self.low + self.width * alpha / (alpha + beta)
    }

    pub(super) fn variance(&self) -> f64 {
        let Standard { alpha, beta, .. } = self.standard;
        let sum = alpha + beta;
        self.width * self.width * alpha * beta / (sum * sum * (sum + 1.0))
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        let from_low = (x - self.low) / self.width;
        if from_low <= 0.0 {
            0.0
        } else if from_low >= 1.0 {
            1.0
        } else {
            self.standard.below(from_low, libm::log(from_low))
        }
    }

    pub(super) fn point(&self, tail: Tail) -> Point {
        let (value, slope) = match tail {
            Tail::Lower(p) => {
                let (x, slope) = self.standard.lower_quantile(p);
                (self.low + self.width * x, slope)
            }
            // What lies above is what lies below in the mirror, and keeps its digits there.
            Tail::Upper(p) => {
                let (x, slope) = self.standard.mirrored().lower_quantile(p);
                (self.low + self.width * (1.0 - x), slope)
            }
        };
        Point {
            value,
            slope: self.width * slope,
        }
    }
}

/// A beta distribution between 0 and 1.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Standard {
    alpha: f64,
    beta: f64,
    /// ln B(alpha, beta)
    ln_beta: f64,
}

impl Standard {
    fn mirrored(self) -> Self {
        Self {
            alpha: self.beta,
            beta: self.alpha,
            ..self
        }
    }

    /// The value that the share `p` ≤ ½ lies below, and the slope dx/dp there.
    fn lower_quantile(&self, p: f64) -> (f64, f64) {
        if p <= 0.0 {
            return (0.0, f64::INFINITY);
        }
        let goal = libm::log(p);
        // I_x = x^alpha / (alpha B) × (1 + …)
        let smallest = (goal + libm::log(self.alpha) + self.ln_beta) / self.alpha;
        if smallest < -40.0 {
            let x = libm::exp(smallest);
            return (x, x / (self.alpha * p));
        }
        // Newton's steps on ln I as a function of ln x, halving the bracket where one would leave it.
        let (mut left, mut right) = (-41.0, 0.0);
        let mut ln_x = smallest.clamp(-40.0, -1e-3);
        for _ in 0..200 {
            let x = libm::exp(ln_x);
            let below = self.below(x, ln_x);
            let error = libm::log(below) - goal;
            if error < 0.0 {
                left = ln_x;
            } else {
                right = ln_x;
            }
            let newton = ln_x - error * below / (x * self.density(x, ln_x));
            let next = if left < newton && newton < right {
                newton
            } else {
                (left + right) / 2.0
            };
            let step = (next - ln_x).abs();
            ln_x = next;
            if step <= 1e-15 * (1.0 + self.alpha.sqrt()) {
                break;
            }
        }
        let x = libm::exp(ln_x);
        (x, 1.0 / self.density(x, ln_x))
    }

    fn density(&self, x: f64, ln_x: f64) -> f64 {
        libm::exp((self.alpha - 1.0) * ln_x + (self.beta - 1.0) * libm::log1p(-x) - self.ln_beta)
    }

    /// The probability below `x`, 0 < x < 1: the continued fraction of the nearer side (NIST Digital Library of Mathematical
    /// Functions, 8.17.22, and 8.17.4 for the other).
    fn below(&self, x: f64, ln_x: f64) -> f64 {
        let front = libm::exp(self.alpha * ln_x + self.beta * libm::log1p(-x) - self.ln_beta);
        if x < (self.alpha + 1.0) / (self.alpha + self.beta + 2.0) {
            front * self.fraction(x) / self.alpha
        } else {
            1.0 - front * self.mirrored().fraction(-libm::expm1(ln_x)) / self.beta
        }
    }

    /// Modified Lentz.
    fn fraction(&self, x: f64) -> f64 {
        let nonzero = |v: f64| if v.abs() < 1e-300 { 1e-300 } else { v };
        let sum = self.alpha + self.beta;
        let mut c = 1.0;
        let mut d = 1.0 / nonzero(1.0 - sum * x / (self.alpha + 1.0));
        let mut fraction = d;
        for m in 1..10_000 {
            let m = f64::from(m);
            let twice = self.alpha + 2.0 * m;
            let even = m * (self.beta - m) * x / ((twice - 1.0) * twice);
            let odd = -(self.alpha + m) * (sum + m) * x / (twice * (twice + 1.0));
            let mut change = 1.0;
            for numerator in [even, odd] {
                d = 1.0 / nonzero(1.0 + numerator * d);
                c = nonzero(1.0 + numerator / c);
                change = c * d;
                fraction *= change;
            }
            if (change - 1.0).abs() < 3e-16 {
                break;
            }
        }
        fraction
    }
}
