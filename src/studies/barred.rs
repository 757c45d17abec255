//! What keeps a rule from being recommended, whatever it saves.

use super::compare::Figure;
use crate::observe::figure;
use crate::statistics::Contrast;
use std::cmp::Ordering;

/// Why nobody should be told to run a rule, against the one that it is compared with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Barred {
    /// It has drivers drive more past a legal limit.
    DrivesPastLimits {
        /// Minutes in a replication, against the other.
        more: Contrast,
    },
    /// It sends more trucks out beyond the legal weight.
    Overweight {
        /// Loads in a replication, against the other.
        more: Contrast,
    },
    /// It places materially less: by this share of what the other places.
    DeliversLess {
        /// Mean difference over the other's mean, above zero.
        share: f64,
    },
}

/// A rule that places less by more than this share is not recommended for what it saves: it is another amount of business.
const MATERIAL: f64 = 0.01;

impl Barred {
    /// What bars the rule with these figures against a base; the law comes first. The law has no price, and there is no trade of a
    /// limit for money.
    pub(super) fn of(rule: &[Figure], base: &[Figure]) -> Option<Self> {
        let more = |column: usize| {
            let said = rule[column].difference?.said;
            (said.told() == Some(Ordering::Greater)).then_some(said)
        };
        if let Some(more) = more(figure::VIOLATION_MIN) {
            return Some(Self::DrivesPastLimits { more });
        }
        if let Some(more) = more(figure::HEAVY) {
            return Some(Self::Overweight { more });
        }
        let said = rule[figure::PLACED_YD3].difference?.said;
        let placed = |figures: &[Figure]| figures[figure::PLACED_YD3].summary.mean();
        let share = 1.0 - placed(rule)? / placed(base)?;
        // One replication tells nothing of how sure it is, and is all that there is.
        let unsure = said
            .mean()
            .is_some_and(|(_, interval)| !interval.is_bounded());
        let told = said.told() == Some(Ordering::Less) || unsure;
        (told && share > MATERIAL).then_some(Self::DeliversLess { share })
    }
}
