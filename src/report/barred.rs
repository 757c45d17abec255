//! Why a rule is not recommended though it looks cheaper; goes on after a comma.

use super::number::Unit;
use super::period::per;
use super::statement;
use crate::observe::{Column, figure};
use crate::statistics::Contrast;
use crate::studies::Barred;

/// `but its drivers drive 12 min more past legal limits a week: cheaper is not lawful enough`. `columns` are all figures; `base` is the
/// rule that it is compared with.
pub(super) fn words(why: Barred, columns: &[Column], base: &str, days: u32) -> String {
    let per = per(days);
    // In the mean, or where too few periods tell of one in how many.
    let told = |more: Contrast, column: usize, in_the_mean: &dyn Fn(String) -> String| {
        let column = &columns[column];
        let what = match more.mean() {
            Some((mean, _)) => in_the_mean(Unit::Plain.show(mean, 1)),
            None => {
                let words = statement::difference_words(more, column, base, days);
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
