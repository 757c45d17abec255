//! The days of a replication in words.

use super::number::count;

/// `a day`, `a week`, `in 12 days`.
pub(super) fn per(days: u32) -> String {
    match days {
        1 => "a day".into(),
        5..=7 => "a week".into(),
        days => format!("in {days} days"),
    }
}

/// `day`, `week`, `12-day period`.
pub(super) fn noun(days: u32) -> String {
    match days {
        1 => "day".into(),
        5..=7 => "week".into(),
        days => format!("{days}-day period"),
    }
}

/// `1 simulated day`, `1,000 simulated weeks`.
pub(super) fn simulated(replications: u64, days: u32) -> String {
    let plural = if replications == 1 { "" } else { "s" };
    format!("{} simulated {}{plural}", count(replications), noun(days))
}

/// `the same simulated day`, `the same 1,000 simulated weeks`.
pub(super) fn the_same(replications: u64, days: u32) -> String {
    match replications {
        1 => format!("the same simulated {}", noun(days)),
        more => format!("the same {}", simulated(more, days)),
    }
}

/// `1 run`, `2,000 runs`.
pub(super) fn runs(n: u64) -> String {
    format!("{} run{}", count(n), if n == 1 { "" } else { "s" })
}
