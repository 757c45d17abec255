//! Which spread a sample comes from: the likeliest of each family, the family by a criterion, and how far the sample lies from it.
//!
//! The likeliest parameters are found by formula or Newton's method where the equations of the maximum are known, by a search where
//! they are not (triangular). Families are compared by Akaike's criterion with the correction for small samples (Hurvich and Tsai,
//! Biometrika 76, 1989): 2k − 2 ln L + 2k(k + 1)/(n − k − 1), the smallest first.

mod digamma;
mod families;
mod search;

pub use families::Family;

use super::Spread;

/// The likeliest spread of a family.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The family.
    pub family: Family,
    /// The spread.
    pub spread: Spread,
    /// ln of the likelihood.
    pub ln_likelihood: f64,
    /// The criterion: the smaller, the better.
    pub criterion: f64,
}

/// The likeliest spread of each family that can have these values, ascending and none below zero, the best by the criterion first.
/// Values that are all the same are a constant, and no fit.
pub fn fits(sorted: &[f64]) -> Vec<Fit> {
    let families = Family::ALL.into_iter();
    let mut all: Vec<Fit> = families
        .filter_map(|family| fit_of(family, sorted))
        .collect();
    all.sort_by(|a, b| a.criterion.total_cmp(&b.criterion));
    all
}

/// The likeliest spread of one family, if the family can have these values.
pub fn fit_of(family: Family, sorted: &[f64]) -> Option<Fit> {
    let spread = family.likeliest(sorted)?;
    if spread.problem().is_some() {
        return None;
    }
    let ln_likelihood: f64 = sorted
        .iter()
        .map(|x| spread.ln_density(*x))
        .sum::<Option<f64>>()?;
    let (k, n) = (family.parameters() as f64, sorted.len() as f64);
    let small = 2.0 * k * (k + 1.0) / (n - k - 1.0);
    let right = ln_likelihood.is_finite() && n > k + 1.0;
    right.then_some(Fit {
        family,
        spread,
        ln_likelihood,
        criterion: 2.0 * k - 2.0 * ln_likelihood + small,
    })
}

/// The largest difference between the share of the values up to any point and the spread's (Kolmogorov and Smirnov); values ascending.
pub fn largest_gap(spread: &Spread, sorted: &[f64]) -> f64 {
    let n = sorted.len() as f64;
    let gaps = sorted.iter().enumerate().map(|(i, x)| {
        let share = spread.cdf(*x);
        (share - i as f64 / n).max((i + 1) as f64 / n - share)
    });
    gaps.fold(0.0, f64::max)
}

/// The distance of Anderson and Darling (Annals of Mathematical Statistics 23, 1952), which counts the tails more; values ascending.
pub fn anderson_darling(spread: &Spread, sorted: &[f64]) -> f64 {
    let n = sorted.len();
    let share: Vec<f64> = sorted.iter().map(|x| spread.cdf(*x)).collect();
    let ln = |p: f64| libm::log(p.max(1e-300));
    let terms = (0..n).map(|i| (2 * i + 1) as f64 * (ln(share[i]) + ln(1.0 - share[n - 1 - i])));
    -(n as f64) - terms.sum::<f64>() / n as f64
}

#[cfg(test)]
mod tests;
