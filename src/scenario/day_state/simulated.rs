//! From which simulated day a file of how things stand was written. A file does not hold all that the day holds: while nothing in it
//! is changed, the day itself is asked, and the answer is that of the simulated moment, to the byte.

use super::DayState;
use crate::scenario::Scenario;
use crate::scenario::decode::{Fields, name, wrong_kind};
use crate::scenario::problem::Problems;
use crate::scenario::tree::{Kind, Node};
use std::fmt::Write;

/// What simulates the day.
const PLANTDAY: &str = env!("CARGO_PKG_VERSION");

/// The simulated day; its moment is that of the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Simulated {
    /// The rule under which dispatch worked.
    pub rule: String,
    /// The simulated run.
    pub replication: u64,
    /// Seed of its luck.
    pub seed: u64,
    /// Which plantday simulated it.
    plantday: String,
    /// Checksum of its scenario.
    sha256: String,
}

/// Why a file does not stand for the simulated day that it was written from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoLonger {
    /// Its scenario is another by now.
    OtherScenario,
    /// Asked for is another rule.
    OtherRule,
    /// Another version of plantday simulated it.
    OtherVersion,
    /// Something in it was changed.
    Edited,
}

impl Simulated {
    /// Of this day, simulated here and now.
    pub fn new(scenario: &Scenario, rule: usize, replication: u64, seed: u64) -> Self {
        Self {
            rule: scenario.rules[rule].name.clone(),
            replication,
            seed,
            plantday: PLANTDAY.to_owned(),
            sha256: scenario.origin.sha256.clone(),
        }
    }

    /// Whether the day can be simulated again, under the rule that is asked for.
    ///
    /// # Errors
    /// Why it cannot.
    pub fn again(&self, scenario: &Scenario, rule: usize) -> Result<(), NoLonger> {
        if self.sha256 != scenario.origin.sha256 {
            return Err(NoLonger::OtherScenario);
        }
        if self.rule != scenario.rules[rule].name {
            return Err(NoLonger::OtherRule);
        }
        if self.plantday != PLANTDAY {
            return Err(NoLonger::OtherVersion);
        }
        Ok(())
    }

    /// As it stands in a file.
    pub(super) fn write(&self, text: &mut String) {
        let Self {
            rule,
            replication,
            seed,
            plantday,
            sha256,
        } = self;
        let _ = writeln!(
            text,
            "    // Without this line, or with anything below changed, what a file does not hold is drawn.\n    \
             simulated: (rule: {rule:?}, replication: {replication}, seed: {seed}, plantday: {plantday:?},\n        \
             sha256: {sha256:?}),"
        );
    }
}

/// Reads what [`Simulated::write`] wrote.
pub(super) fn read(node: &Node, problems: &Problems) -> Option<Simulated> {
    let mut fields = Fields::of(node, "simulated day", problems)?;
    let rule = fields.required("rule", name);
    let replication = fields.required("replication", number);
    let seed = fields.required("seed", number);
    let plantday = fields.required("plantday", name);
    let sha256 = fields.required("sha256", name);
    fields.finish();
    Some(Simulated {
        rule: rule?,
        replication: replication?,
        seed: seed?,
        plantday: plantday?,
        sha256: sha256?,
    })
}

/// A seed or the like, of any size.
fn number(node: &Node, problems: &Problems) -> Option<u64> {
    let whole = match node.kind {
        Kind::Number { whole, .. } => whole.and_then(|whole| u64::try_from(whole).ok()),
        _ => None,
    };
    whole.or_else(|| wrong_kind(node, "a whole number, 0 or more", problems))
}

impl DayState {
    /// Whether another file says the same of how things stand, in whatever order.
    pub fn says_the_same(&self, other: &Self) -> bool {
        let sorted = |state: &Self| {
            let mut state = Self {
                scenario: None,
                simulated: None,
                ..state.clone()
            };
            state.drivers.sort_by_key(|of| of.driver);
            state.orders.sort_by_key(|of| of.order);
            state
                .unsaid
                .sort_by_key(|(driver, what)| (*driver, *what as u8));
            state
        };
        sorted(self) == sorted(other)
    }
}
