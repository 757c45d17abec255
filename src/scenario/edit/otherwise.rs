//! What is otherwise in a world in which a decision is tried: one thing of the usual list, or what the scenario writes as a world of
//! its own.

use super::Surprise;
use crate::scenario::{OwnWorld, Scenario};

/// What is otherwise.
#[derive(Clone, Debug, PartialEq)]
pub enum Otherwise {
    /// Nothing: the world as assumed.
    Nothing,
    /// One thing of the usual list.
    Surprise(Surprise),
    /// A world that the scenario writes.
    Own(OwnWorld),
}

impl Otherwise {
    /// Whether it is the user's own world.
    pub fn is_own(&self) -> bool {
        matches!(self, Self::Own(_))
    }

    /// In plain words, as a table names it.
    pub fn words(&self, scenario: &Scenario) -> String {
        match self {
            Self::Nothing => "everything is as assumed".into(),
            Self::Surprise(surprise) => surprise.words(scenario),
            Self::Own(world) => format!("yours: {}", world.name),
        }
    }

    /// The same to fit after "if".
    pub fn clause(&self, scenario: &Scenario) -> String {
        match self {
            Self::Own(world) => format!("it is as in your \"{}\"", world.name),
            other => other.words(scenario),
        }
    }

    /// What is changed, in plain words.
    pub fn changes(&self, scenario: &Scenario) -> Vec<String> {
        let changes: &[Surprise] = match self {
            Self::Nothing => &[],
            Self::Surprise(surprise) => std::slice::from_ref(surprise),
            Self::Own(world) => &world.changes,
        };
        changes.iter().map(|one| one.words(scenario)).collect()
    }

    /// The name in files.
    pub fn key(&self, scenario: &Scenario) -> String {
        match self {
            Self::Nothing => "as_assumed".into(),
            Self::Surprise(surprise) => surprise.key(scenario),
            Self::Own(world) => format!("own: {}", world.name),
        }
    }

    /// The scenario as it is then; of several changes one after the other.
    ///
    /// # Errors
    /// Why it does not apply: one of its changes has nothing to change.
    pub fn apply(&self, scenario: &Scenario) -> Result<Scenario, &'static str> {
        match self {
            Self::Nothing => Ok(scenario.clone()),
            Self::Surprise(surprise) => surprise.apply(scenario),
            Self::Own(world) => {
                let mut changes = world.changes.iter();
                changes.try_fold(scenario.clone(), |edited, change| change.apply(&edited))
            }
        }
    }
}
