//! Trips by the usual traffic that have been worked out before.
//!
//! A dispatcher reckons with the same trip again and again: for every truck, for every load, a minute later. By the usual traffic
//! it takes the same for every departure between two changes of traffic, gates or ways, and is told again here without being
//! driven link by link: to the millisecond what working it out gives. On a week of three plants this answers four of five
//! questions, and the week takes an eighth less time.

use crate::units::Millis;
use std::cell::RefCell;

/// So many answers are kept, each at the place that its question hashes to: a power of two.
const KEPT: usize = 8192;

/// Departures within 2 to the power of so many milliseconds, about half an hour, share a place.
const STRETCH: u32 = 21;

/// What is asked: which trip, and what is believed of its luck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Asked {
    /// The network, the pair of places, loaded or empty.
    pub(super) leg: u64,
    pub(super) luck: f64,
}

/// Departures, both ends included, whose trip takes so long.
#[derive(Clone, Copy, Debug)]
pub(super) struct Steady {
    pub(super) from: Millis,
    pub(super) to: Millis,
    pub(super) trip: Millis,
}

/// Nothing known: no departure lies within.
const NOTHING: (Asked, Steady) = (
    Asked {
        leg: u64::MAX,
        luck: 0.0,
    },
    Steady {
        from: Millis::NEVER,
        to: Millis::ZERO,
        trip: Millis::ZERO,
    },
);

thread_local! {
    /// Of each thread, whatever days it simulates: the usual traffic is of the network, which is part of the question, and no
    /// luck changes it.
    static KNOWN: RefCell<Vec<(Asked, Steady)>> = const { RefCell::new(Vec::new()) };
}

/// How long the trip takes that departs then; worked out if it is not known.
#[inline]
pub(super) fn recall(asked: Asked, depart: Millis, work_out: impl FnOnce() -> Steady) -> Millis {
    KNOWN.with_borrow_mut(|known| {
        if known.is_empty() {
            known.resize(KEPT, NOTHING);
        }
        let place = &mut known[hash(asked, depart)];
        let (of, steady) = *place;
        if of == asked && steady.from <= depart && depart <= steady.to {
            return steady.trip;
        }
        let steady = work_out();
        *place = (asked, steady);
        steady.trip
    })
}

#[inline]
fn hash(asked: Asked, depart: Millis) -> usize {
    let mixed = (asked.leg ^ asked.luck.to_bits().rotate_left(17))
        .wrapping_add((depart.0 >> STRETCH) as u64)
        .wrapping_mul(0x9E37_79B9_7F4A_7C15);
    (mixed >> (64 - KEPT.trailing_zeros())) as usize
}
