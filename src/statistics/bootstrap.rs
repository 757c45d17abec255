//! Bootstrap over whole replications, for figures that are no mean (quantiles of all loads, ratios of sums).

use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};

use super::interval::Interval;
use super::quantile::quantile_of_sorted;

/// The resampling has its own fixed seed: it must not share luck with the simulation, and the same rows must always give
/// the same interval.
const SEED: u64 = 0x5EED_0B00;

/// The percentile bootstrap interval (Efron & Tibshirani 1993, ch. 13) of `statistic` at confidence `level`.
///
/// Whole replications are drawn with replacement, so that loads which shared a day stay together. `statistic` sees the
/// drawn replications and returns their figure, or something that is not a number if they have none (left out).
/// Unbounded with fewer than two replications or without any figure.
///
/// # Panics
/// With 2³² or more replications.
pub fn bootstrap_interval<T>(
    replications: &[T],
    resamples: u32,
    level: f64,
    mut statistic: impl FnMut(&[&T]) -> f64,
) -> Interval {
    if replications.len() < 2 {
        return Interval::UNBOUNDED;
    }
    // A 32-bit range draws the same numbers on every platform; `usize` would not.
    let count = u32::try_from(replications.len()).expect("fewer than 2^32 replications");
    let mut luck = ChaCha8Rng::seed_from_u64(SEED);
    let mut drawn = Vec::with_capacity(replications.len());
    let mut figures = Vec::with_capacity(resamples as usize);
    for _ in 0..resamples {
        drawn.clear();
        drawn.extend((0..count).map(|_| &replications[luck.random_range(0..count) as usize]));
        let figure = statistic(&drawn);
        if !figure.is_nan() {
            figures.push(figure);
        }
    }
    figures.sort_unstable_by(f64::total_cmp);
    let end = |p| quantile_of_sorted(&figures, p);
    match (end((1.0 - level) / 2.0), end((1.0 + level) / 2.0)) {
        (Some(low), Some(high)) => Interval { low, high },
        _ => Interval::UNBOUNDED,
    }
}
