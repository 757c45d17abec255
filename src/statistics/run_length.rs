//! How many replications a wanted precision would take, judged from those already made.
//!
//! Law, Simulation Modeling and Analysis, ch. 9: mean and variance are taken as they are, so the answer is an estimate,
//! and the interval that counts is the one made from the replications then run.

use super::student::t_critical;
use super::summary::Summary;

/// No study runs longer; a precision out of reach answers `None`.
const MOST: u64 = 1 << 40;

/// The smallest number of replications (at least those already made) at which the half-width of the interval at
/// confidence `level` is expected to be at most `error`. `None` with fewer than two values or if it is out of reach.
pub fn replications_for_error(so_far: &Summary, error: f64, level: f64) -> Option<u64> {
    let variance = so_far.variance()?;
    let enough = |n: u64| t_critical(level, (n - 1) as f64) * (variance / n as f64).sqrt() <= error;
    let (mut too_few, mut enough_at) = (so_far.n() - 1, so_far.n());
    while !enough(enough_at) {
        too_few = enough_at;
        enough_at *= 2;
        if enough_at > MOST {
            return None;
        }
    }
    while enough_at - too_few > 1 {
        let middle = too_few + (enough_at - too_few) / 2;
        if enough(middle) {
            enough_at = middle;
        } else {
            too_few = middle;
        }
    }
    Some(enough_at)
}
