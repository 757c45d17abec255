//! Sample quantiles and the order statistics that enclose a quantile.

use super::interval::Interval;
use statrs::distribution::{Binomial, DiscreteCDF};

/// The sample quantile at `p` (0 ≤ p ≤ 1) of values in any order; `None` without a value. Blanks are left out.
///
/// Definition 7 of Hyndman & Fan (American Statistician 50, 1996): straight line between order statistics, the smallest value
/// at p = 0 and the largest at p = 1. It is the one that spreadsheets (`PERCENTILE.INC`), R and NumPy give by default, so a
/// reader who checks a figure in the tables gets the same number.
pub fn quantile(values: impl IntoIterator<Item = f64>, p: f64) -> Option<f64> {
    let mut sorted: Vec<f64> = values.into_iter().filter(|value| !value.is_nan()).collect();
    sorted.sort_unstable_by(f64::total_cmp);
    quantile_of_sorted(&sorted, p)
}

/// As [`quantile`], for values already in ascending order and without blanks.
pub fn quantile_of_sorted(sorted: &[f64], p: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let position = p.clamp(0.0, 1.0) * last as f64;
    let below = (position.floor() as usize).min(last);
    let above = (below + 1).min(last);
    let part = position - below as f64;
    // Equal neighbors may be infinite: what never comes.
    Some(if part == 0.0 || sorted[below] == sorted[above] {
        sorted[below]
    } else {
        sorted[below] + part * (sorted[above] - sorted[below])
    })
}

/// Two ranks (1 = smallest value): the values at these ranks enclose a quantile, whatever the distribution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ranks {
    /// Rank of the lower end.
    pub low: u64,
    /// Rank of the upper end.
    pub high: u64,
}

impl Ranks {
    /// The ranks among `n` independent values that enclose the `p`-quantile with probability at least `level`, at most
    /// (1 − level)/2 outside on each side. `None` if `n` is too small for that.
    pub fn enclosing(n: u64, p: f64, level: f64) -> Option<Self> {
        let below = Binomial::new(p, n).ok()?;
        let each_side = (1.0 - level) / 2.0;
        // Smallest counts k with P(N ≤ k) above one side, and with P(N ≤ k) at least one less the other side.
        let low = first(n, |k| below.cdf(k) > each_side);
        let high = first(n, |k| below.cdf(k) >= 1.0 - each_side) + 1;
        (low >= 1 && high <= n).then_some(Self { low, high })
    }

    /// The probability that the `p`-quantile lies between the values at these ranks among `n`.
    pub fn coverage(self, n: u64, p: f64) -> f64 {
        let Ok(below) = Binomial::new(p, n) else {
            return 0.0;
        };
        let up_to = |count: u64| count.checked_sub(1).map_or(0.0, |k| below.cdf(k));
        up_to(self.high) - up_to(self.low)
    }
}

/// The smallest k in 0..=n for which `holds`, a condition that once true stays true and is true at n.
fn first(n: u64, holds: impl Fn(u64) -> bool) -> u64 {
    let (mut low, mut high) = (0, n);
    while low < high {
        let middle = low + (high - low) / 2;
        if holds(middle) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    low
}

/// The order statistics that enclose the `p`-quantile, for values in ascending order and without blanks: an interval whatever the
/// distribution. `None` with too few values.
pub fn quantile_interval(sorted: &[f64], p: f64, level: f64) -> Option<Interval> {
    let ranks = Ranks::enclosing(sorted.len() as u64, p, level)?;
    let at = |rank: u64| sorted[rank as usize - 1];
    Some(Interval {
        low: at(ranks.low),
        high: at(ranks.high),
    })
}
