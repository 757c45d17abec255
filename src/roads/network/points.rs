//! Spreads carried as lists of equally likely values.

use crate::engine::Spread;

/// Points of a spread where a distribution is carried as a list.
const POINTS: usize = 200;

/// Equally likely values of a spread, in order: one if it is a constant.
fn quantiles(spread: &Spread) -> Vec<f64> {
    if spread.variance() == 0.0 {
        return vec![spread.mean()];
    }
    let sampler = spread.sampler();
    (0..POINTS)
        .map(|point| sampler.at((point as f64 + 0.5) / POINTS as f64))
        .collect()
}

/// The products of two independent spreads as equally likely values, in order.
pub(super) fn products(one: &Spread, other: &Spread) -> Vec<f64> {
    let other = quantiles(other);
    let mut products: Vec<f64> = quantiles(one)
        .iter()
        .flat_map(|a| other.iter().map(move |b| a * b))
        .collect();
    products.sort_unstable_by(f64::total_cmp);
    products
}
