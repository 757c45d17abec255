//! A check: what is expected, with its source, beside what the program finds.

use super::Family;
use crate::statistics::{Estimate, Interval};
use std::borrow::Cow;

/// Where an expected value has its digits from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// They are printed in the source.
    Printed,
    /// They were computed by the formula or rule of the source, with other software than this.
    Computed,
    /// They are printed in the source, and recalled: nobody has looked them up again.
    Memory,
    /// They follow from the source, or from the case itself, on paper.
    Paper,
}

impl Basis {
    /// All, the strongest first.
    pub const ALL: [Self; 4] = [Self::Printed, Self::Computed, Self::Paper, Self::Memory];

    /// In files, and behind a source.
    pub fn words(self) -> &'static str {
        match self {
            Self::Printed => "printed",
            Self::Computed => "computed",
            Self::Paper => "on paper",
            Self::Memory => "from memory",
        }
    }
}

/// What the source says.
#[derive(Clone, Debug, PartialEq)]
pub enum Expected {
    /// A number. Of one that the program knows exactly, how far from it still agrees; of a mean over simulated runs, how far its interval
    /// may reach to either side.
    Number {
        /// The number.
        value: f64,
        /// In its unit, at least 0.
        within: f64,
    },
    /// A number from one to another, both included.
    Between {
        /// The smallest.
        low: f64,
        /// The largest.
        high: f64,
    },
    /// Words.
    Words(String),
}

/// What the program finds.
#[derive(Clone, Debug, PartialEq)]
pub enum Found {
    /// A number without luck in it.
    Number(f64),
    /// A mean over simulated runs with its interval.
    Mean(Estimate),
    /// Words.
    Words(String),
}

/// One figure held against its source.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// Of what kind it is.
    pub family: Family,
    /// The case: a queue, a log, a day.
    pub about: Cow<'static, str>,
    /// What of it is looked at, with its unit.
    pub figure: Cow<'static, str>,
    /// Who has published it, or how it is reckoned.
    pub source: Cow<'static, str>,
    /// Where the digits are from.
    pub basis: Basis,
    /// What it should be.
    pub expected: Expected,
    /// What it is.
    pub found: Found,
}

impl Check {
    /// Whether what is found is what is expected. A mean agrees if its interval holds the expected value and is no wider than the check
    /// allows: one that says nothing proves nothing.
    pub fn agrees(&self) -> bool {
        match (&self.expected, &self.found) {
            (Expected::Number { value, within }, Found::Number(found)) => {
                (found - value).abs() <= *within
            }
            (Expected::Number { value, within }, Found::Mean(found)) => {
                found.interval.contains(*value) && found.interval.half_width() <= *within
            }
            (Expected::Between { low, high }, Found::Number(found)) => {
                let both = Interval {
                    low: *low,
                    high: *high,
                };
                both.contains(*found)
            }
            (Expected::Words(expected), Found::Words(found)) => expected == found,
            _ => false,
        }
    }

    /// Whether luck decides what is found.
    pub fn is_random(&self) -> bool {
        matches!(self.found, Found::Mean(_))
    }
}

/// Checks of one source about one thing, as they are written down.
#[derive(Clone, Debug)]
pub(super) struct Sheet {
    family: Family,
    checks: Vec<Check>,
    about: Cow<'static, str>,
    source: Cow<'static, str>,
    basis: Basis,
}

impl Sheet {
    /// An empty sheet of a family.
    pub(super) fn new(family: Family) -> Self {
        Self {
            family,
            checks: Vec::new(),
            about: "".into(),
            source: "".into(),
            basis: Basis::Paper,
        }
    }

    /// What the checks that follow are about, and their source.
    pub(super) fn about(
        &mut self,
        about: impl Into<Cow<'static, str>>,
        basis: Basis,
        source: impl Into<Cow<'static, str>>,
    ) -> &mut Self {
        self.about = about.into();
        self.basis = basis;
        self.source = source.into();
        self
    }

    /// A check.
    pub(super) fn check(
        &mut self,
        figure: impl Into<Cow<'static, str>>,
        expected: Expected,
        found: Found,
    ) -> &mut Self {
        self.checks.push(Check {
            family: self.family,
            about: self.about.clone(),
            figure: figure.into(),
            source: self.source.clone(),
            basis: self.basis,
            expected,
            found,
        });
        self
    }

    /// A number, and how far from it still agrees.
    pub(super) fn near(
        &mut self,
        figure: impl Into<Cow<'static, str>>,
        found: f64,
        value: f64,
        within: f64,
    ) -> &mut Self {
        let expected = Expected::Number { value, within };
        self.check(figure, expected, Found::Number(found))
    }

    /// The same, where what still agrees is a share of the number.
    pub(super) fn close(
        &mut self,
        figure: impl Into<Cow<'static, str>>,
        found: f64,
        value: f64,
        share: f64,
    ) -> &mut Self {
        self.near(figure, found, value, share * value.abs())
    }

    /// A published range.
    pub(super) fn between(
        &mut self,
        figure: impl Into<Cow<'static, str>>,
        found: f64,
        low: f64,
        high: f64,
    ) -> &mut Self {
        let expected = Expected::Between { low, high };
        self.check(figure, expected, Found::Number(found))
    }

    /// Words that must be the same.
    pub(super) fn words(
        &mut self,
        figure: impl Into<Cow<'static, str>>,
        found: impl Into<String>,
        expected: impl Into<String>,
    ) -> &mut Self {
        let expected = Expected::Words(expected.into());
        self.check(figure, expected, Found::Words(found.into()))
    }

    /// Yes or no.
    pub(super) fn yes(
        &mut self,
        figure: impl Into<Cow<'static, str>>,
        found: bool,
        expected: bool,
    ) -> &mut Self {
        let word = |yes| if yes { "yes" } else { "no" };
        self.words(figure, word(found), word(expected))
    }

    /// What is written on it.
    pub(super) fn into_checks(self) -> Vec<Check> {
        self.checks
    }
}
