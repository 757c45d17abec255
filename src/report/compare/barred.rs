//! Rules that look cheaper and are not recommended, and why.

use super::sentences::base;
use super::sentences::{better, gain, quoted};
use crate::report::barred;
use crate::studies::{Comparison, Decision};

/// One sentence for each rule that is barred and comes out better than what is recommended.
pub(super) fn sentences(found: &Comparison) -> Vec<String> {
    let against = match &found.decision {
        Decision::Best(rule) | Decision::Selected(rule) => *rule,
        Decision::Alone | Decision::NotToldApart(_) => found.base,
    };
    let rules = 0..found.rules.len();
    rules
        .filter_map(|rule| {
            let why = found.barred[rule].filter(|_| better(found, rule, against))?;
            Some(format!(
                "{} {}, {}.",
                quoted(found, rule),
                gain(found, rule),
                barred::words(why, &found.columns, &base(found), found.days)
            ))
        })
        .collect()
}

/// Whether a rule that may not be recommended comes out better than this one.
pub(super) fn any_better(found: &Comparison, than: usize) -> bool {
    (0..found.rules.len()).any(|rule| found.barred[rule].is_some() && better(found, rule, than))
}
