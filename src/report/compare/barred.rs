//! Rules that look cheaper and are not recommended, and why.

use super::sentences::{better, gain, quoted};
use crate::report::number::Unit;
use crate::report::period::per;
use crate::studies::{Barred, Comparison, Decision};

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
                words(why, found.days)
            ))
        })
        .collect()
}

/// Whether a rule that may not be recommended comes out better than this one.
pub(super) fn any_better(found: &Comparison, than: usize) -> bool {
    (0..found.rules.len()).any(|rule| found.barred[rule].is_some() && better(found, rule, than))
}

fn words(why: Barred, days: u32) -> String {
    let per = per(days);
    match why {
        Barred::DrivesPastLimits { more } => format!(
            "but its drivers drive {} min more past legal limits {per}: cheaper is not lawful enough",
            Unit::Plain.show(more.minutes(), 1)
        ),
        Barred::Overweight { more } => format!(
            "but it sends {} more overweight loads out {per}: cheaper is not lawful enough",
            Unit::Plain.show(more, 1)
        ),
        Barred::DeliversLess { share } => format!(
            "but it delivers {} less concrete: that is less business, not a better rule",
            Unit::Share.show(share, 1)
        ),
    }
}
