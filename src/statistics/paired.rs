//! Differences between two systems that met the same replications, and what pairing them saved.

use super::interval::Interval;
use super::student::t_critical;
use super::summary::Summary;

/// Two systems compared replication by replication; all differences are first − second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paired {
    /// The differences, one per replication in which both systems have a value.
    pub difference: Summary,
    first: Summary,
    second: Summary,
}

impl Paired {
    /// Pairs the values of the same replication. A pair with a blank on either side is a blank.
    ///
    /// # Panics
    /// If the slices differ in length: they are not the same replications then.
    pub fn of(first: &[f64], second: &[f64]) -> Self {
        assert_eq!(
            first.len(),
            second.len(),
            "paired values come from the same replications"
        );
        let pairs = || first.iter().zip(second).map(|(&a, &b)| (a, b, a - b));
        let complete = || pairs().filter(|(_, _, difference)| !difference.is_nan());
        Self {
            difference: Summary::of(pairs().map(|(_, _, difference)| difference)),
            first: Summary::of(complete().map(|(a, _, _)| a)),
            second: Summary::of(complete().map(|(_, b, _)| b)),
        }
    }

    /// The paired t interval of the mean difference at confidence `level`.
    pub fn interval(&self, level: f64) -> Interval {
        self.difference.interval(level)
    }

    /// The interval of this difference when `comparisons` of them shall all hold at once with confidence `level`
    /// (Bonferroni: each is made at 1 − (1 − level)/comparisons).
    pub fn simultaneous(&self, level: f64, comparisons: usize) -> Interval {
        self.interval(1.0 - (1.0 - level) / comparisons.max(1) as f64)
    }

    /// How many times more replications independent luck would have needed for an equally narrow interval:
    /// (var a + var b) / var(a − b). `None` with fewer than two pairs or a difference without any variance.
    pub fn variance_reduction(&self) -> Option<f64> {
        let difference = self.difference.variance()?;
        let independent = self.first.variance()? + self.second.variance()?;
        (difference > 0.0).then(|| independent / difference)
    }

    /// The comparison as if the two systems had met different luck: only to show what pairing saved.
    pub fn as_if_independent(&self) -> Welch {
        Welch::of(&self.first, &self.second)
    }
}

/// The difference of two means of independent samples (Welch, Biometrika 34, 1947).
///
/// Not valid for systems that met the same luck: use [`Paired`] there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Welch {
    /// First mean − second mean.
    pub mean: f64,
    /// Standard error of that difference, +∞ if a sample has fewer than two values.
    pub standard_error: f64,
    /// Welch–Satterthwaite degrees of freedom, `None` if a sample has fewer than two values or neither varies.
    pub df: Option<f64>,
}

impl Welch {
    /// Compares two independent samples.
    pub fn of(first: &Summary, second: &Summary) -> Self {
        let (a, b) = (
            first.standard_error().powi(2),
            second.standard_error().powi(2),
        );
        let df = (a + b) * (a + b)
            / (a * a / (first.n() as f64 - 1.0) + b * b / (second.n() as f64 - 1.0));
        Self {
            mean: first.mean().unwrap_or(0.0) - second.mean().unwrap_or(0.0),
            standard_error: (a + b).sqrt(),
            df: df.is_finite().then_some(df),
        }
    }

    /// The interval of the difference at confidence `level`.
    pub fn interval(&self, level: f64) -> Interval {
        match self.df {
            Some(df) => Interval::around(self.mean, t_critical(level, df) * self.standard_error),
            None => Interval::around(self.mean, self.standard_error),
        }
    }
}
