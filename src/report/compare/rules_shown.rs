//! Which rules a screen has room for: all of a few, else the best and today's.

use super::{more_is_better, sentences};
use crate::report::answer::Narrow;
use crate::report::number::count;
use crate::studies::Comparison;

/// So many are shown whatever the width: their cells wrap.
const A_FEW: usize = 5;

/// The columns of the rules, today's first, then the best, and what is said where some are left out.
pub(super) fn narrow(found: &Comparison) -> Narrow {
    let sign = if more_is_better(found) { -1.0 } else { 1.0 };
    let worse = |rule: usize| {
        let mean = found.judged(rule).summary.mean();
        mean.map_or(f64::INFINITY, |mean| sign * mean)
    };
    let all = found.rules.len();
    let mut order: Vec<usize> = (0..all).filter(|rule| *rule != found.base).collect();
    order.sort_by(|a, b| worse(*a).total_cmp(&worse(*b)));
    order.insert(0, found.base);
    let base = if found.base_is_today {
        "today's".to_owned()
    } else {
        sentences::base(found)
    };
    Narrow {
        // The first column tells what the figures are.
        keep: order.into_iter().map(|rule| rule + 1).collect(),
        always: A_FEW,
        left_out: format!(
            "{{shown}} of {} rules: {base} and the best; all are in report.html and summary.csv.",
            count(all as u64)
        ),
    }
}
