//! Intervals for a share: how often something happens when each replication says yes or no once.
//!
//! Never for loads or drivers pooled over replications: those of one day share its luck, and these intervals would be
//! far too narrow. Their share is a value per replication and goes through [`Summary`](super::Summary).

use statrs::distribution::{Beta, ContinuousCDF};

use super::interval::Interval;
use super::student::normal_quantile;

const NOTHING_KNOWN: Interval = Interval {
    low: 0.0,
    high: 1.0,
};

/// Wilson's score interval (Journal of the American Statistical Association 22, 1927) for `events` out of `trials`.
///
/// # Panics
/// If there are more events than trials.
pub fn wilson(events: u64, trials: u64, level: f64) -> Interval {
    check(events, trials);
    if trials == 0 {
        return NOTHING_KNOWN;
    }
    let z2 = normal_quantile(0.5 + level / 2.0).powi(2);
    let n = trials as f64;
    let share = events as f64 / n;
    let centre = (share + z2 / (2.0 * n)) / (1.0 + z2 / n);
    let half = (z2 * (share * (1.0 - share) / n + z2 / (4.0 * n * n))).sqrt() / (1.0 + z2 / n);
    Interval {
        // At the ends the formula gives 0 and 1 but for rounding.
        low: if events == 0 { 0.0 } else { centre - half },
        high: if events == trials { 1.0 } else { centre + half },
    }
}

/// The one-sided exact upper bound of the share: "at most x", also where nothing was seen (`events` = 0).
///
/// # Panics
/// If there are more events than trials.
pub fn share_at_most(events: u64, trials: u64, level: f64) -> f64 {
    check(events, trials);
    if events == trials {
        return 1.0;
    }
    if events == 0 {
        // 1 − (1 − level)^(1/trials), without losing digits where trials are many.
        return -libm::expm1(libm::log1p(-level) / trials as f64);
    }
    beta(events + 1, trials - events).inverse_cdf(level)
}

/// The one-sided exact lower bound of the share: "at least x".
///
/// # Panics
/// If there are more events than trials.
pub fn share_at_least(events: u64, trials: u64, level: f64) -> f64 {
    check(events, trials);
    1.0 - share_at_most(trials - events, trials, level)
}

/// The two-sided exact interval of the share (Clopper & Pearson, Biometrika 26, 1934).
///
/// # Panics
/// If there are more events than trials.
pub fn share_between(events: u64, trials: u64, level: f64) -> Interval {
    let one_sided = 0.5 + level / 2.0;
    Interval {
        low: share_at_least(events, trials, one_sided),
        high: share_at_most(events, trials, one_sided),
    }
}

/// The interval of the difference of two chances that are seen in the same trials: of `trials`, `more` had only the first event and
/// `less` only the second; the others had both or neither and tell nothing (McNemar, Psychometrika 12, 1947).
///
/// The difference is (2π − 1)·d: d the chance that a trial tells the two apart, π the chance that it is then the first. π has its
/// exact interval given how many trials told them apart, which is the conditional test of the two chances turned round, and d its
/// own; each is wrong with half of what `level` allows, so that the difference holds at least as often as `level` says. Where no
/// trial told them apart, π is anything, and the difference lies within ± the upper bound of d.
///
/// # Panics
/// If there are more events than trials.
pub fn chance_difference(more: u64, less: u64, trials: u64, level: f64) -> Interval {
    let each = 0.5 + level / 2.0;
    let apart = share_between(more + less, trials, each);
    let first = share_between(more, more + less, each);
    let end = |share: f64, outward: f64| {
        let lean = 2.0 * share - 1.0;
        // An end reaches far where many trials may tell the two apart, unless it lies on the other side of zero.
        lean * if lean * outward > 0.0 {
            apart.high
        } else {
            apart.low
        }
    };
    Interval {
        low: end(first.low, -1.0),
        high: end(first.high, 1.0),
    }
}

/// The fewest trials without an event after which [`share_at_most`] is no more than `share`; none for a share of 0, which no number
/// of trials shows.
pub fn trials_without_event(share: f64, level: f64) -> Option<u64> {
    if share >= 1.0 {
        return Some(0);
    }
    let trials = libm::log1p(-level) / libm::log1p(-share);
    // A product of rounded logarithms may end a hair above a whole number.
    (share > 0.0 && trials < 1e18).then(|| libm::ceil(trials - 1e-9) as u64)
}

fn check(events: u64, trials: u64) {
    assert!(events <= trials, "{events} events in {trials} trials");
}

fn beta(a: u64, b: u64) -> Beta {
    Beta::new(a as f64, b as f64).expect("both counts are at least one")
}

/// How often something went well.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chance {
    /// Times it did.
    pub times: u64,
    /// Replications.
    pub of: u64,
    /// Two-sided interval.
    pub interval: Interval,
    /// One-sided lower bound.
    pub at_least: f64,
}

impl Chance {
    /// So many times in so many replications; `level` of both bounds.
    pub fn of(times: u64, of: u64, level: f64) -> Self {
        Self {
            times,
            of,
            interval: wilson(times, of, level),
            at_least: if of > 0 {
                share_at_least(times, of, level)
            } else {
                0.0
            },
        }
    }

    /// The share seen; not a number without a replication.
    pub fn share(self) -> f64 {
        self.times as f64 / self.of as f64
    }
}
