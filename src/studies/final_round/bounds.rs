//! One-sided bounds of the means that targets are about, also where nothing was seen.
//!
//! None seen is not never. Where a count or a share was 0 in every replication, the exact bound of the share of replications
//! with an event judges, one event in each, and never t, whose bound would be 0: a target of exactly 0 is never shown. Figures
//! of other units have no such bound; there the answer says in how many replications there may be some.

use crate::observe::{Better, Column, FigureUnit};
use crate::statistics::{Summary, share_at_least, share_at_most};

/// The bound that the mean of a figure stays below (above, where more is better) with confidence `level`.
///
/// Student's t, but for what is rarely or never seen, where t knows too little or nothing: a count has a mean of at least the share
/// of replications with an event, so its bound is no less than the exact bound of that share, with one event in each; a share that
/// was 0 (or, where more is better, 1) in every replication differs in at most so many.
pub(super) fn bound(column: &Column, values: &[f64], level: f64) -> f64 {
    let summary = Summary::of(values.iter().copied());
    let n = summary.n();
    if column.better == Better::More {
        return if never_missed(column, &summary) && n > 1 {
            share_at_least(n, n, level)
        } else {
            summary.at_least(level)
        };
    }
    let by_t = summary.at_most(level);
    match column.unit {
        FigureUnit::Count => {
            let with_event = values.iter().filter(|value| **value > 0.0).count();
            by_t.max(share_at_most(with_event as u64, n, level))
        }
        FigureUnit::Share if n > 1 && never_missed(column, &summary) => share_at_most(0, n, level),
        _ => by_t,
    }
}

/// Whether every replication was without fault: nothing of what should not happen was seen.
pub(super) fn never_missed(column: &Column, summary: &Summary) -> bool {
    match column.better {
        Better::More => column.unit == FigureUnit::Share && summary.min() == Some(1.0),
        _ => summary.min() == Some(0.0) && summary.max() == Some(0.0),
    }
}

/// Whether a target leaves no room for a fault: no number of replications shows that a mean is as good as that.
pub(super) fn without_fault(column: &Column, target: f64) -> bool {
    match column.better {
        Better::More => column.unit == FigureUnit::Share && target >= 1.0,
        _ => target <= 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::observe::Needs;

    fn column(unit: FigureUnit, better: Better) -> Column {
        Column {
            key: "k".into(),
            label: "l".into(),
            unit,
            decimals: 0,
            better,
            needs: Needs::Nothing,
            lacks: None,
        }
    }

    /// Hanley & Lippman-Hand, JAMA 249, 1983 (from memory): none in n, at most about 3/n with 95 % confidence; for 30: 9.5 %.
    #[test]
    fn never_seen_is_not_never() {
        let none = [0.0; 30];
        for unit in [FigureUnit::Count, FigureUnit::Share] {
            let most = bound(&column(unit, Better::Less), &none, 0.95);
            assert!((most - 0.0950).abs() < 5e-5, "{most}");
        }
        let all = [1.0; 30];
        let least = bound(&column(FigureUnit::Share, Better::More), &all, 0.95);
        assert!((least - 0.9050).abs() < 5e-5, "{least}");
    }

    /// Seen once is no better than never seen; and what is seen often is judged by t.
    #[test]
    fn more_events_never_make_a_lower_bound() {
        let count = column(FigureUnit::Count, Better::Less);
        let with = |events: usize| {
            let values: Vec<f64> = (0..50).map(|n| f64::from(u8::from(n < events))).collect();
            bound(&count, &values, 0.99)
        };
        // In all of them, the values do not differ, and t has nothing to add.
        for events in 0..49 {
            assert!(with(events) <= with(events + 1), "{events}");
        }
        let often: Vec<f64> = (0..50).map(|n| f64::from(3 + n % 3)).collect();
        let by_t = Summary::of(often.iter().copied()).at_most(0.99);
        assert_eq!(bound(&count, &often, 0.99), by_t);
    }
}
