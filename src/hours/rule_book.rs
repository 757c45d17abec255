//! Which limits a driver keeps.

use super::rule_set::RuleSet;

/// The hours-of-service limits that a driver keeps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RuleBook {
    /// No legal clock: the textbook queue.
    Unlimited,
    /// A rule book written out: its position in the scenario's list.
    Set(u16),
}

impl RuleBook {
    /// Written out, if there is any limit; `sets` are the rule books that [`RuleBook::Set`] counts.
    #[inline]
    pub fn of(self, sets: &[RuleSet]) -> Option<&RuleSet> {
        match self {
            Self::Unlimited => None,
            Self::Set(at) => Some(&sets[at as usize]),
        }
    }

    /// Whether there is any limit.
    pub fn limits(self) -> bool {
        self != Self::Unlimited
    }
}
