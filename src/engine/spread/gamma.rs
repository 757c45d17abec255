//! The gamma distribution: its quantiles by Newton's method on the logarithm of the incomplete gamma function.
//!
//! Written here on `libm` instead of taken from a library, because the values feed event times and libraries call the
//! system's logarithm, which differs between platforms in the last digit. For set-up, not for the event loop.

use super::curve::{Point, Tail};
use super::normal;

/// A gamma distribution of mean `shape × scale`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Gamma {
    shape: f64,
    scale: f64,
    /// ln Γ(shape)
    ln_gamma: f64,
}

/// From this shape on (cv below 0.0032) the approximation of Wilson and Hilferty is right to 1e-7 of the value.
const NEARLY_NORMAL: f64 = 1e5;

/// The shape and the scale of a gamma distribution of this mean and coefficient of variation.
pub(super) fn shape_and_scale(mean: f64, cv: f64) -> (f64, f64) {
    (1.0 / (cv * cv), mean * cv * cv)
}

impl Gamma {
    /// `mean` > 0 and coefficient of variation `cv` > 0.
    pub(super) fn new(mean: f64, cv: f64) -> Self {
        let (shape, scale) = shape_and_scale(mean, cv);
        Self {
            shape,
            scale,
            ln_gamma: libm::lgamma(shape),
        }
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        if x <= 0.0 {
            0.0
        } else if x == f64::INFINITY {
            1.0
        } else {
            self.tails(x / self.scale).0
        }
    }

    pub(super) fn point(&self, tail: Tail) -> Point {
        let (probability, lower) = match tail {
            Tail::Lower(p) => (p, true),
            Tail::Upper(p) => (p, false),
        };
        if probability <= 0.0 {
            let value = if lower { 0.0 } else { f64::INFINITY };
            return Point {
                value,
                slope: f64::INFINITY,
            };
        }
        let goal = libm::log(probability);
        // P(x) = x^shape / Γ(shape + 1) × (1 − x shape/(shape + 1) + …)
        let below = if lower {
            goal
        } else {
            libm::log1p(-probability)
        };
        let smallest = (below + self.ln_gamma + libm::log(self.shape)) / self.shape;
        if smallest < -40.0 {
            let value = self.scale * libm::exp(smallest);
            let slope = value / self.shape / libm::exp(below);
            return Point { value, slope };
        }
        let mut ln_x = self.first_guess(tail, goal, smallest);
        if self.shape < NEARLY_NORMAL {
            // Both tails are log-concave in ln x, so Newton's steps cannot run away.
            let enough = 1e-14 + 1e-16 * self.shape;
            for _ in 0..60 {
                let x = libm::exp(ln_x);
                let (p, q) = self.tails(x);
                let (reached, sign) = if lower { (p, 1.0) } else { (q, -1.0) };
                let slope = sign * x * self.density(x) / reached;
                let step = (goal - libm::log(reached)) / slope;
                ln_x += step.clamp(-5.0, 5.0);
                if step.abs() <= enough {
                    break;
                }
            }
        }
        let x = libm::exp(ln_x);
        Point {
            value: self.scale * x,
            slope: self.scale / self.density(x),
        }
    }

    /// ln x to start from: Wilson and Hilferty in the body, the leading terms of the series in the tails.
    fn first_guess(&self, tail: Tail, goal: f64, smallest: f64) -> f64 {
        let ninth = 1.0 / (9.0 * self.shape);
        let root = 1.0 - ninth + normal::quantile(tail) * ninth.sqrt();
        if self.shape >= 0.5 && root > 0.3 {
            return libm::log(self.shape) + 3.0 * libm::log(root);
        }
        match tail {
            Tail::Upper(_) if smallest > -3.0 => {
                libm::log((-(goal + self.ln_gamma)).max(libm::exp(smallest)))
            }
            _ => smallest,
        }
    }

    /// The density at `x` in units of the scale.
    fn density(&self, x: f64) -> f64 {
        libm::exp((self.shape - 1.0) * libm::log(x) - x - self.ln_gamma)
    }

    /// The probabilities below and above `x` > 0, in units of the scale: series for the one, continued fraction for
    /// the other, whichever is small (Abramowitz and Stegun 6.5.29 and 6.5.31).
    fn tails(&self, x: f64) -> (f64, f64) {
        let shape = self.shape;
        let front = libm::exp(shape * libm::log(x) - x - self.ln_gamma);
        if x < shape + 1.0 {
            let (mut term, mut sum, mut divisor) = (1.0 / shape, 1.0 / shape, shape);
            while term > 1e-17 * sum {
                divisor += 1.0;
                term *= x / divisor;
                sum += term;
            }
            let below = front * sum;
            (below, 1.0 - below)
        } else {
            // Modified Lentz.
            let tiny = 1e-300;
            let mut b = x + 1.0 - shape;
            let mut c = 1.0 / tiny;
            let mut d = 1.0 / b;
            let mut fraction = d;
            for i in 1..1_000_000 {
                let i = f64::from(i);
                let a = i * (shape - i);
                b += 2.0;
                let nonzero = |v: f64| if v.abs() < tiny { tiny } else { v };
                d = 1.0 / nonzero(a * d + b);
                c = nonzero(b + a / c);
                fraction *= c * d;
                if (c * d - 1.0).abs() < 3e-16 {
                    break;
                }
            }
            let above = front * fraction;
            (1.0 - above, above)
        }
    }
}
