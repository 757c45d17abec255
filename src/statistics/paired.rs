//! Differences between two systems that met the same replications, and what pairing them saved.

use super::interval::Interval;
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
}
