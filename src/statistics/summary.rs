//! Count, mean, spread and confidence interval of one column of per-replication values.

use super::interval::Interval;
use super::student::{t_critical, t_quantile};

/// What a sample says about its mean.
///
/// Built in one pass by Welford's updating (Technometrics 4, 1962), in the order given, so the same values give the same
/// bits. No large sums of squares are subtracted: a spread of a few cents around a million dollars survives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Summary {
    n: u64,
    blanks: u64,
    mean: f64,
    squares: f64,
    min: f64,
    max: f64,
}

impl Summary {
    /// Summarises the values in their order. Values that are not a number are counted as blanks and left out.
    pub fn of(values: impl IntoIterator<Item = f64>) -> Self {
        let mut all = Self {
            n: 0,
            blanks: 0,
            mean: 0.0,
            squares: 0.0,
            min: f64::INFINITY,
            max: f64::NEG_INFINITY,
        };
        for value in values {
            all.add(value);
        }
        all
    }

    /// Of `n` values without blanks: their mean, the sum of their squares about it, the smallest and the largest.
    pub(super) fn from_sums(n: u64, mean: f64, squares: f64, (min, max): (f64, f64)) -> Self {
        Self {
            n,
            blanks: 0,
            mean,
            squares,
            min,
            max,
        }
    }

    fn add(&mut self, value: f64) {
        if value.is_nan() {
            self.blanks += 1;
            return;
        }
        self.n += 1;
        let before = value - self.mean;
        self.mean += before / self.n as f64;
        self.squares += before * (value - self.mean);
        self.min = self.min.min(value);
        self.max = self.max.max(value);
    }

    /// How many values there are, blanks not counted.
    pub fn n(&self) -> u64 {
        self.n
    }

    /// How many blanks were left out.
    pub fn blanks(&self) -> u64 {
        self.blanks
    }

    /// The mean, `None` without a value.
    pub fn mean(&self) -> Option<f64> {
        (self.n > 0).then_some(self.mean)
    }

    /// The smallest value, `None` without one.
    pub fn min(&self) -> Option<f64> {
        (self.n > 0).then_some(self.min)
    }

    /// The largest value, `None` without one.
    pub fn max(&self) -> Option<f64> {
        (self.n > 0).then_some(self.max)
    }

    /// The unbiased sample variance (divisor n − 1), `None` with fewer than two values.
    pub fn variance(&self) -> Option<f64> {
        (self.n > 1).then(|| self.squares / (self.n - 1) as f64)
    }

    /// The sample standard deviation, `None` with fewer than two values.
    pub fn sd(&self) -> Option<f64> {
        self.variance().map(f64::sqrt)
    }

    /// The standard error of the mean, +∞ with fewer than two values.
    pub fn standard_error(&self) -> f64 {
        self.variance()
            .map_or(f64::INFINITY, |variance| (variance / self.n as f64).sqrt())
    }

    /// Half the width of the two-sided Student t interval of the mean at confidence `level` (0 < level < 1),
    /// +∞ with fewer than two values.
    pub fn half_width(&self, level: f64) -> f64 {
        if self.n < 2 {
            return f64::INFINITY;
        }
        t_critical(level, (self.n - 1) as f64) * self.standard_error()
    }

    /// The two-sided Student t interval of the mean at confidence `level` (0 < level < 1); unbounded with fewer than two values.
    pub fn interval(&self, level: f64) -> Interval {
        Interval::around(self.mean, self.half_width(level))
    }

    /// The one-sided bound that the mean stays below with confidence `level`, +∞ with fewer than two values.
    pub fn at_most(&self, level: f64) -> f64 {
        self.mean + self.one_sided(level)
    }

    /// The one-sided bound that the mean stays above with confidence `level`, −∞ with fewer than two values.
    pub fn at_least(&self, level: f64) -> f64 {
        self.mean - self.one_sided(level)
    }

    fn one_sided(&self, level: f64) -> f64 {
        if self.n < 2 {
            return f64::INFINITY;
        }
        t_quantile(level, (self.n - 1) as f64) * self.standard_error()
    }
}

/// A mean with its two-sided interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// None without a value.
    pub mean: Option<f64>,
    /// Interval of the mean.
    pub interval: Interval,
}

impl Estimate {
    /// The mean of a summary.
    pub fn of(summary: &Summary, level: f64) -> Self {
        Self {
            mean: summary.mean(),
            interval: summary.interval(level),
        }
    }
}
