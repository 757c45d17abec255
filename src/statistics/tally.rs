//! What is said of a figure whose values are whole numbers, from running sums: no list of values, so that there is room for thousands
//! of figures in any number of replications.
//!
//! The sums are exact, so they come out the same in whatever order replications are added: on any number of threads.

use super::interval::Interval;
use super::mean::outermost_again;
use super::statement::{Affected, Contrast, Signs, Statement};
use super::summary::Summary;
use serde::{Deserialize, Serialize};

/// Running sums of whole numbers, one for each replication; those that are zero need not be added.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Tally {
    /// How many are not zero.
    any: u64,
    sum: i128,
    squares: i128,
    /// Of those that are not zero.
    least: i64,
    most: i64,
}

impl Default for Tally {
    fn default() -> Self {
        Self {
            any: 0,
            sum: 0,
            squares: 0,
            least: i64::MAX,
            most: i64::MIN,
        }
    }
}

impl Tally {
    /// Adds the value of a replication; below 10¹² to each side, in fewer than 10⁷ replications.
    pub fn add(&mut self, value: i64) {
        if value != 0 {
            self.any += 1;
            self.sum += i128::from(value);
            self.squares += i128::from(value) * i128::from(value);
            self.least = self.least.min(value);
            self.most = self.most.max(value);
        }
    }

    /// Adds the sums of other replications.
    pub fn merge(&mut self, other: &Self) {
        self.any += other.any;
        self.sum += other.sum;
        self.squares += other.squares;
        self.least = self.least.min(other.least);
        self.most = self.most.max(other.most);
    }

    /// The sum over all replications.
    pub fn sum(&self) -> i128 {
        self.sum
    }

    /// What is said of it in `of` replications at confidence `level`; a value of 1 is so much of the figure's `unit`.
    pub fn statement(&self, of: u64, unit: f64, level: f64) -> Statement {
        let affected = Affected {
            times: self.any,
            of,
        };
        Statement::said(affected, level, || self.mean(of, unit, level))
    }

    /// The mean with its interval.
    fn mean(&self, of: u64, unit: f64, level: f64) -> (f64, Interval) {
        let plain = self.summary(of);
        let interval = outermost_again(&plain, level, |outermost| {
            let mut more = *self;
            // Whole numbers below 2^53 are exact.
            more.add(outermost as i64);
            more.summary(of + 1)
        });
        let interval = Interval {
            low: interval.low * unit,
            high: interval.high * unit,
        };
        (plain.mean().unwrap_or(f64::NAN) * unit, interval)
    }

    /// Of so many replications.
    fn summary(&self, of: u64) -> Summary {
        let (mut least, mut most) = (self.least, self.most);
        if self.any < of {
            (least, most) = (least.min(0), most.max(0));
        }
        // The sum of squares about the mean, times the number of values: exact.
        let n = i128::from(of);
        let about_mean = (n * self.squares - self.sum * self.sum) as f64 / of as f64;
        let mean = self.sum as f64 / of as f64;
        Summary::from_sums(of, mean, about_mean, (least as f64, most as f64))
    }
}

/// Running sums of paired whole numbers, two for each replication; pairs of zeros need not be added.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct PairTally {
    difference: Tally,
    more: u64,
    less: u64,
    only_first: u64,
    only_second: u64,
    /// In how many at least one of the two is not zero.
    some: u64,
}

impl PairTally {
    /// Adds the values of a replication; bounds as of [`Tally::add`].
    pub fn add(&mut self, first: i64, second: i64) {
        if (first, second) != (0, 0) {
            self.difference.add(first - second);
            self.more += u64::from(first > second);
            self.less += u64::from(first < second);
            self.only_first += u64::from(second == 0);
            self.only_second += u64::from(first == 0);
            self.some += 1;
        }
    }

    /// Adds the sums of other replications.
    pub fn merge(&mut self, other: &Self) {
        self.difference.merge(&other.difference);
        self.more += other.more;
        self.less += other.less;
        self.only_first += other.only_first;
        self.only_second += other.only_second;
        self.some += other.some;
    }

    /// The sum of the differences, the first less the second.
    pub fn sum(&self) -> i128 {
        self.difference.sum
    }

    /// What is said of the first less the second in `of` replications, with confidence `level` for `comparisons` at once; a value of 1
    /// is so much of the figure's `unit`.
    pub fn contrast(&self, of: u64, unit: f64, level: f64, comparisons: usize) -> Contrast {
        let signs = Signs {
            of,
            more: self.more,
            less: self.less,
            only_first: self.only_first,
            only_second: self.only_second,
            neither: of - self.some,
        };
        let level = Contrast::each_of(level, comparisons);
        Contrast::said(signs, level, || self.difference.mean(of, unit, level))
    }
}
