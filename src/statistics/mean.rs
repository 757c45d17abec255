//! The interval of a mean, as every statement on a mean has it.

use super::interval::Interval;
use super::summary::Summary;

/// The two-sided interval of the mean at confidence `level`; unbounded with fewer than two values. Blanks are left out.
pub fn mean_interval(values: &[f64], level: f64) -> Interval {
    Summary::of(values.iter().copied()).interval(level)
}
