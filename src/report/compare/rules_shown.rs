//! Which rules a screen has room for: all of a few, else the best and today's.

use super::sentences;
use crate::observe::Better;
use crate::report::number::count;
use crate::report::table::numbers_that_fit;
use crate::studies::Comparison;

/// So many are shown whatever the width: their cells wrap.
const A_FEW: usize = 5;
/// At least the best and today's.
const LEAST: usize = 2;

/// Places of the rules shown at this width, in the order asked.
pub(super) fn rules_shown(answer: &Comparison, width: u16) -> Vec<usize> {
    let all = answer.rules.len();
    let fit = numbers_that_fit(width).max(LEAST);
    if all <= A_FEW.max(fit) {
        return (0..all).collect();
    }
    let mut order: Vec<usize> = (0..all).filter(|rule| *rule != answer.base).collect();
    let sign = match answer.judged_by().better {
        Better::More => -1.0,
        Better::Less | Better::Neither => 1.0,
    };
    let worse = |rule: usize| {
        let mean = answer.judged(rule).summary.mean();
        mean.map_or(f64::INFINITY, |mean| sign * mean)
    };
    order.sort_by(|a, b| worse(*a).total_cmp(&worse(*b)));
    order.truncate(fit - 1);
    order.push(answer.base);
    order.sort_unstable();
    order
}

/// What is left out, and where it is; none if nothing is.
pub(super) fn left_out(answer: &Comparison, shown: &[usize]) -> Option<String> {
    let all = answer.rules.len();
    (shown.len() < all).then(|| {
        let base = if answer.base_is_today {
            "today's".to_owned()
        } else {
            sentences::base(answer)
        };
        format!(
            "The best {} and {base} of {} rules; all are in report.html and summary.csv.",
            shown.len() - 1,
            count(all as u64)
        )
    })
}
