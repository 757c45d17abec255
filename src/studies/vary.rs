//! What a search of settings varies: a number of a rule, or a whole decision.

use crate::dispatch::{Habit, Parameter, Rule};
use crate::units::measure;
use std::borrow::Cow;

/// A number or a decision of a rule, and what to try for it.
#[derive(Clone, Debug, PartialEq)]
pub enum Vary {
    /// A number.
    Number {
        /// Which.
        parameter: Parameter,
        /// Values, each once, within the parameter's range, at least one.
        values: Vec<f64>,
    },
    /// A decision.
    Decision {
        /// Which.
        habit: Habit,
        /// What it is, for people.
        label: &'static str,
        /// Whether the ways are those of the scenario's rules, and not asked for one by one.
        of_the_scenario: bool,
        /// Ways of taking it, each once, at least one.
        ways: Vec<Way>,
    },
}

/// One way of taking a decision.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// As it was asked for, and as it can be asked for again.
    pub written: String,
    /// For people.
    pub words: String,
    /// A rule that takes it so.
    pub rule: Rule,
}

impl Vary {
    /// How many values or ways there are.
    pub fn count(&self) -> usize {
        match self {
            Self::Number { values, .. } => values.len(),
            Self::Decision { ways, .. } => ways.len(),
        }
    }

    /// Name in files, as a scenario writes it.
    pub fn name(&self) -> Cow<'static, str> {
        match self {
            Self::Number { parameter, .. } => measure::key(parameter.name()).0,
            Self::Decision { habit, .. } => Cow::Borrowed(habit.key()),
        }
    }

    /// What it is, for people.
    pub fn label(&self) -> &'static str {
        match self {
            Self::Number { parameter, .. } => parameter.label(),
            Self::Decision { label, .. } => label,
        }
    }

    /// One of the values, for people: `9 h`, `no loans between plants`.
    pub fn shown(&self, at: usize) -> String {
        match self {
            Self::Number { parameter, values } => parameter.shown(values[at]),
            Self::Decision { ways, .. } => ways[at].words.clone(),
        }
    }

    /// The same with what it is a value of.
    pub fn named(&self, at: usize) -> String {
        match self {
            Self::Number { .. } => format!("{} {}", self.label(), self.shown(at)),
            Self::Decision { .. } => self.shown(at),
        }
    }

    /// One of the values in files: `9`, `Never`.
    pub fn written(&self, at: usize) -> String {
        match self {
            Self::Number { parameter, values } => parameter.told(values[at]).to_string(),
            Self::Decision { ways, .. } => ways[at].written.clone(),
        }
    }

    /// One of the values, where it is a number.
    pub fn number(&self, at: usize) -> Option<f64> {
        match self {
            Self::Number { parameter, values } => Some(parameter.told(values[at])),
            Self::Decision { .. } => None,
        }
    }

    /// A rule with one of the values.
    pub(super) fn set(&self, mut rule: Rule, at: usize) -> Rule {
        match self {
            Self::Number { parameter, values } => parameter.set(rule, values[at]),
            Self::Decision { habit, ways, .. } => {
                habit.take(&ways[at].rule, &mut rule);
                rule
            }
        }
    }
}
