//! What keeps a rule from being recommended, whatever it saves.

use super::compare::Figure;
use crate::observe::figure;
use crate::units::Millis;

/// Why nobody should be told to run a rule, against the one that it is compared with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Barred {
    /// It has drivers drive more past a legal limit: so many minutes more in a replication.
    DrivesPastLimits {
        /// Mean difference.
        more: Millis,
    },
    /// It sends more trucks out beyond the legal weight: so many loads more in a replication.
    Overweight {
        /// Mean difference.
        more: f64,
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
            let difference = rule[column].difference?;
            // a difference that is told from zero
            let mean = difference.mean?;
            (difference.interval.low > 0.0).then_some(mean)
        };
        if let Some(minutes) = more(figure::VIOLATION_MIN) {
            let more = Millis::from_minutes(minutes);
            return Some(Self::DrivesPastLimits { more });
        }
        if let Some(more) = more(figure::HEAVY) {
            return Some(Self::Overweight { more });
        }
        let placed = rule[figure::PLACED_YD3].difference?;
        let share = -placed.mean? / base[figure::PLACED_YD3].summary.mean()?;
        let told = placed.interval.high < 0.0 || !placed.interval.is_bounded();
        (told && share > MATERIAL).then_some(Self::DeliversLess { share })
    }
}
