//! What is said while a saving is not shown: keep today's, and what it would take to know.

use super::sentences::{dollars, less, share, staffing};
use crate::report::number::count;
use crate::report::period::per;
use crate::studies::{StaffAnswer, StaffResult};

/// The decision where the cheapest staffing is not shown to be cheaper than today's.
pub(super) fn not_yet(answer: &StaffAnswer, best: &StaffResult, runs: Option<u64>) -> String {
    let todays = answer.todays().map_or(String::new(), |today| {
        format!(
            " It meets the service targets: {} of loads late, {} undelivered.",
            share(&today.late_share),
            share(&today.undelivered)
        )
    });
    let saving = answer.saving.as_ref();
    let saving = saving.map_or(String::new(), |saving| less(&saving.whole));
    let takes = match runs {
        Some(runs) => format!(
            "about {} runs would show a saving of this size",
            count(runs)
        ),
        None => "more runs than can be said would have to show it".into(),
    };
    format!(
        "Keep today's staffing for now, {}: no saving is shown yet.{todays} The cheapest tried that meets them{} is {}, {} {}, {saving} than \
         today's: {takes}. With it {} of loads are late, {} undelivered.",
        staffing(answer.today),
        match answer.question.hire_per_week {
            Some(_) => ", hires counted,",
            None => "",
        },
        staffing(best.staffing),
        dollars(&best.cost),
        per(answer.days),
        share(&best.late_share),
        share(&best.undelivered),
    )
}
