//! Which waiting load is served first.

use super::Sequence;
use crate::units::{Millis, Volume};

/// The place of a load in the queue of those that wait: smaller is first.
pub type Rank = (i64, i64);

/// The rank of a load that is `due`, of an order of volume `ordered` that has or has not `begun` to pour. A load that asks
/// again (a broken promise, a re-batch) goes before all others.
#[inline]
pub fn rank(sequence: Sequence, due: Millis, ordered: Volume, begun: bool, again: bool) -> Rank {
    let first = if again {
        i64::MIN
    } else {
        match sequence {
            Sequence::EarliestDue => 0,
            Sequence::RunningPoursFirst => i64::from(!begun),
            Sequence::BiggestFirst => -ordered.0,
        }
    };
    (first, due.0)
}
