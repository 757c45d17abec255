//! The families, and the likeliest spread of each.

use super::digamma::{digamma, trigamma};
use super::search::lowest;
use crate::engine::Spread;

/// A family of spreads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Family {
    /// Lognormal.
    Lognormal,
    /// Gamma.
    Gamma,
    /// Weibull.
    Weibull,
    /// Normal, cut at zero.
    Normal,
    /// Triangular.
    Triangular,
    /// Uniform.
    Uniform,
    /// Exponential.
    Exponential,
}

impl Family {
    /// All that are tried.
    pub const ALL: [Self; 7] = [
        Self::Lognormal,
        Self::Gamma,
        Self::Weibull,
        Self::Normal,
        Self::Triangular,
        Self::Uniform,
        Self::Exponential,
    ];

    /// Its name, as a scenario writes it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Lognormal => "Lognormal",
            Self::Gamma => "Gamma",
            Self::Weibull => "Weibull",
            Self::Normal => "Normal",
            Self::Triangular => "Triangular",
            Self::Uniform => "Uniform",
            Self::Exponential => "Exponential",
        }
    }

    /// How many parameters it has.
    pub fn parameters(self) -> usize {
        match self {
            Self::Exponential => 1,
            Self::Triangular => 3,
            _ => 2,
        }
    }

    /// The likeliest spread; none if the family cannot have these values, which ascend.
    pub(super) fn likeliest(self, sorted: &[f64]) -> Option<Spread> {
        let (&least, &most) = (sorted.first()?, sorted.last()?);
        let right = least >= 0.0 && most > least && most.is_finite();
        if !right {
            return None;
        }
        let values = || sorted.iter().copied();
        let n = sorted.len() as f64;
        let mean = values().sum::<f64>() / n;
        match self {
            Self::Uniform => Some(Spread::Uniform {
                low: least,
                high: most,
            }),
            Self::Exponential => Some(Spread::Exponential { mean }),
            Self::Normal => {
                let squares = values().map(|x| (x - mean) * (x - mean)).sum::<f64>();
                cut_normal(mean, squares / n)
            }
            Self::Triangular => triangular(sorted),
            // What follows has logarithms of values.
            _ if least <= 0.0 => None,
            Self::Lognormal => {
                let mu = values().map(libm::log).sum::<f64>() / n;
                let squares = values().map(|x| {
                    let off = libm::log(x) - mu;
                    off * off
                });
                let variance = squares.sum::<f64>() / n;
                Some(Spread::Lognormal {
                    mean: libm::exp(mu + variance / 2.0),
                    cv: libm::expm1(variance).sqrt(),
                })
            }
            Self::Gamma => {
                let mean_ln = values().map(libm::log).sum::<f64>() / n;
                let shape = gamma_shape(libm::log(mean) - mean_ln)?;
                Some(Spread::Gamma {
                    mean,
                    cv: 1.0 / shape.sqrt(),
                })
            }
            Self::Weibull => weibull(sorted, most),
        }
    }
}

/// The shape at which ln k − ψ(k) is this, more than 0: Newton's method on 1/k, which hardly bends (Minka, "Estimating a gamma
/// distribution", 2002).
fn gamma_shape(s: f64) -> Option<f64> {
    if s.is_nan() || s <= 0.0 {
        return None;
    }
    let mut k = (3.0 - s + ((s - 3.0) * (s - 3.0) + 24.0 * s).sqrt()) / (12.0 * s);
    for _ in 0..50 {
        let slope = k * k * (1.0 / k - trigamma(k));
        let next = 1.0 / (1.0 / k + (libm::log(k) - digamma(k) - s) / slope);
        let done = (next - k).abs() <= 1e-12 * k;
        k = next;
        if done {
            break;
        }
    }
    (k.is_finite() && k > 0.0).then_some(k)
}

/// Newton's method on the equation of the shape, which rises all the way: Σ x^k ln x / Σ x^k − 1/k = mean of ln x.
fn weibull(sorted: &[f64], most: f64) -> Option<Spread> {
    // In parts of the largest, so that no power grows beyond bounds.
    let ln: Vec<f64> = sorted.iter().map(|x| libm::log(x / most)).collect();
    let n = ln.len() as f64;
    let mean_ln = ln.iter().sum::<f64>() / n;
    let variance = ln
        .iter()
        .map(|l| (l - mean_ln) * (l - mean_ln))
        .sum::<f64>()
        / n;
    let sums = |k: f64| {
        ln.iter().fold((0.0, 0.0, 0.0), |(s0, s1, s2), l| {
            let power = libm::exp(k * l);
            (s0 + power, s1 + power * l, s2 + power * l * l)
        })
    };
    // The logarithm of a Weibull value has the standard deviation π/√6 ÷ shape.
    let mut k = 1.282_549_830_161_864 / variance.sqrt();
    for _ in 0..100 {
        let (s0, s1, s2) = sums(k);
        let off = s1 / s0 - 1.0 / k - mean_ln;
        let slope = s2 / s0 - (s1 / s0) * (s1 / s0) + 1.0 / (k * k);
        let next = (k - off / slope).clamp(k / 4.0, k * 4.0);
        let done = (next - k).abs() <= 1e-12 * k;
        k = next;
        if done {
            break;
        }
    }
    let scale = most * libm::exp(libm::log(sums(k).0 / n) / k);
    let mean = scale * libm::tgamma(1.0 + 1.0 / k);
    (k.is_finite() && mean.is_finite()).then_some(Spread::Weibull { mean, shape: k })
}

/// The likeliest normal that is cut at zero has the mean and the variance of the values (it is of the exponential kind): one equation
/// for where the cut lies, bisected. None if the uncut mean would lie below zero.
fn cut_normal(mean: f64, variance: f64) -> Option<Spread> {
    let goal = variance / (mean * mean);
    let density = |z: f64| libm::exp(-0.5 * z * z) / (2.0 * std::f64::consts::PI).sqrt();
    // At a cut `a` standard deviations from the mean: the mean of what is left beyond the cut, and its variance.
    let moments = |a: f64| {
        let hazard = density(a) / (0.5 * libm::erfc(a / std::f64::consts::SQRT_2));
        (hazard - a, 1.0 + a * hazard - hazard * hazard)
    };
    let share = |a: f64| {
        let (mean, variance) = moments(a);
        variance / (mean * mean)
    };
    if goal > share(0.0) {
        return None;
    }
    if goal < share(-30.0) {
        // Nothing is cut off that could be told.
        let sd = variance.sqrt();
        return Some(Spread::Normal { mean, sd });
    }
    let (mut low, mut high) = (-30.0, 0.0);
    for _ in 0..80 {
        let middle = (low + high) / 2.0;
        if share(middle) < goal {
            low = middle;
        } else {
            high = middle;
        }
    }
    let a = (low + high) / 2.0;
    let sd = mean / moments(a).0;
    Some(Spread::Normal { mean: -a * sd, sd })
}

/// For given ends the likeliest mode is one of the values (Oliver, American Statistician 26, 1972, from memory), so that only the ends
/// are searched.
fn triangular(sorted: &[f64]) -> Option<Spread> {
    let (least, most) = (*sorted.first()?, *sorted.last()?);
    let range = most - least;
    let ends = |[u, v]: [f64; 2]| {
        let far = |t: f64| libm::exp(t.clamp(-20.0, 2.0)) * range;
        (least - far(u).min(least), most + far(v))
    };
    let best = |ends: (f64, f64)| likeliest_mode(sorted, ends);
    let found = lowest(|point| -best(ends(point)).0, [-3.0, -3.0], 1.0);
    let (low, high) = ends(found);
    let (_, mode) = best((low, high));
    Some(Spread::Triangular { low, mode, high })
}

/// ln of the likelihood at the likeliest mode, and the mode.
fn likeliest_mode(sorted: &[f64], (low, high): (f64, f64)) -> (f64, f64) {
    let n = sorted.len();
    let below: Vec<f64> = sorted.iter().map(|x| libm::log(x - low)).collect();
    let above: Vec<f64> = sorted.iter().map(|x| libm::log(high - x)).collect();
    let mut right: f64 = above.iter().sum();
    let mut left = 0.0;
    let mut best = (f64::NEG_INFINITY, sorted[0]);
    let each = sorted.iter().zip(below.iter().zip(&above)).enumerate();
    for (i, (value, (below, above))) in each {
        // The value itself lies at the top: as much of it from the one side as from the other.
        right -= above;
        let l = left - i as f64 * below + right - (n - 1 - i) as f64 * above;
        if l > best.0 {
            best = (l, *value);
        }
        left += below;
    }
    let whole = n as f64 * libm::log(2.0 / (high - low));
    (best.0 + whole, best.1)
}
