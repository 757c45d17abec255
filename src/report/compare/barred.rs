//! Rules that look cheaper and are not recommended, and why.

use super::sentences::base;
use super::sentences::{better, gain, quoted};
use crate::observe::figure;
use crate::report::number::Unit;
use crate::report::period::per;
use crate::report::statement;
use crate::statistics::Contrast;
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
                words(found, why)
            ))
        })
        .collect()
}

/// Whether a rule that may not be recommended comes out better than this one.
pub(super) fn any_better(found: &Comparison, than: usize) -> bool {
    (0..found.rules.len()).any(|rule| found.barred[rule].is_some() && better(found, rule, than))
}

fn words(found: &Comparison, why: Barred) -> String {
    let per = per(found.days);
    // In the mean, or where too few periods tell of one in how many.
    let told = |more: Contrast, column: usize, in_the_mean: &dyn Fn(String) -> String| {
        let column = &found.columns[column];
        let what = match more.mean() {
            Some((mean, _)) => in_the_mean(Unit::Plain.show(mean, 1)),
            None => {
                let words = statement::difference_words(more, column, &base(found), found.days);
                format!("it {}", words.unwrap_or_default())
            }
        };
        format!("but {what}: cheaper is not lawful enough")
    };
    match why {
        Barred::DrivesPastLimits { more } => told(more, figure::VIOLATION_MIN, &|minutes| {
            format!("its drivers drive {minutes} min more past legal limits {per}")
        }),
        Barred::Overweight { more } => told(more, figure::HEAVY, &|loads| {
            format!("it sends {loads} more overweight loads out {per}")
        }),
        Barred::DeliversLess { share } => format!(
            "but it delivers {} less concrete: that is less business, not a better rule",
            Unit::Share.show(share, 1)
        ),
    }
}
