//! What keeps a rule from being recommended, whatever it saves.

use super::compare::Figure;
use crate::observe::figure;
use crate::statistics::{Contrast, Summary};
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
    /// What bars a rule against a base, by what is said of a figure of it less that of the base, and by the means of the two; the law
    /// comes first. The law has no price, and there is no trade of a limit for money.
    pub(super) fn of(
        said: impl Fn(usize) -> Option<Contrast>,
        means: impl Fn(usize) -> Option<(f64, f64)>,
    ) -> Option<Self> {
        let more = |column: usize| {
            let said = said(column)?;
            (said.told() == Some(Ordering::Greater)).then_some(said)
        };
        if let Some(more) = more(figure::VIOLATION_MIN) {
            return Some(Self::DrivesPastLimits { more });
        }
        if let Some(more) = more(figure::HEAVY) {
            return Some(Self::Overweight { more });
        }
        let said = said(figure::PLACED_YD3)?;
        let (placed, placed_by_base) = means(figure::PLACED_YD3)?;
        let share = 1.0 - placed / placed_by_base;
        // One replication tells nothing of how sure it is, and is all that there is.
        let unsure = said
            .mean()
            .is_some_and(|(_, interval)| !interval.is_bounded());
        let told = said.told() == Some(Ordering::Less) || unsure;
        (told && share > MATERIAL).then_some(Self::DeliversLess { share })
    }

    /// The same by the values of a figure in the same replications, the rule's and the base's; one of `compared` such judgments, all of
    /// which hold at once with confidence `level`.
    pub(super) fn of_values(
        values: impl Fn(usize) -> (Vec<f64>, Vec<f64>),
        compared: usize,
        level: f64,
    ) -> Option<Self> {
        let mean = |values: &[f64]| Summary::of(values.iter().copied()).mean();
        Self::of(
            |column| {
                let (rule, base) = values(column);
                Some(Contrast::simultaneous(&rule, &base, level, compared))
            },
            |column| {
                let (rule, base) = values(column);
                Some((mean(&rule)?, mean(&base)?))
            },
        )
    }

    /// The figures that it goes by.
    pub(super) const FIGURES: [usize; 3] =
        [figure::VIOLATION_MIN, figure::HEAVY, figure::PLACED_YD3];

    /// The same of two rules of a comparison.
    pub(super) fn of_figures(rule: &[Figure], base: &[Figure]) -> Option<Self> {
        let mean = |figures: &[Figure], column: usize| figures[column].summary.mean();
        Self::of(
            |column| Some(rule[column].difference?.said),
            |column| Some((mean(rule, column)?, mean(base, column)?)),
        )
    }
}
