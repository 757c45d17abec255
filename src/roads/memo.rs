//! Trips by the usual traffic that have been worked out before.
//!
//! A dispatcher reckons with the same trip again and again: for every truck, for every load, a minute later. By the usual traffic
//! it takes the same for every departure between two changes of traffic, gates or ways, and is told again here without being
//! driven link by link: to the millisecond what working it out gives. On a week of three plants this answers four of five
//! questions, and the week takes an eighth less time.

use crate::units::Millis;
use std::cell::RefCell;
use std::sync::Mutex;

/// So many answers are kept, each at the place that its question hashes to: a power of two. A working week of a few plants asks for
/// some ten thousand, in every replication the same.
const KEPT: usize = 32_768;

/// Departures within 2 to the power of so many milliseconds, about half an hour, share a place.
const STRETCH: u32 = 21;

/// What is asked: which trip, and what is believed of its luck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Asked {
    /// The network.
    pub(super) network: u32,
    /// The pair of places, loaded or empty.
    pub(super) leg: u32,
    pub(super) luck: LuckName,
}

/// A number that stands for a luck that is believed in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LuckName(u32);

impl LuckName {
    /// The same for the same luck, whenever it is asked for in this process.
    pub(super) fn of(luck: f64) -> Self {
        static LUCKS: Mutex<Vec<u64>> = Mutex::new(Vec::new());
        let mut lucks = LUCKS.lock().expect("nobody panics with it");
        let known = lucks.iter().position(|known| *known == luck.to_bits());
        Self(known.unwrap_or_else(|| {
            lucks.push(luck.to_bits());
            lucks.len() - 1
        }) as u32)
    }
}

/// Departures, both ends included, whose trip takes so long.
#[derive(Clone, Copy, Debug)]
pub(super) struct Steady {
    pub(super) from: Millis,
    pub(super) to: Millis,
    pub(super) trip: Millis,
}

/// What is kept: half a cache line. Moments beyond 2^32 ms are not kept, which no calendar reaches.
#[derive(Clone, Copy, Debug)]
struct Kept {
    asked: Asked,
    from: u32,
    to: u32,
    trip: u32,
}

/// Nothing known: no departure lies within.
const NOTHING: Kept = Kept {
    asked: Asked {
        network: u32::MAX,
        leg: u32::MAX,
        luck: LuckName(u32::MAX),
    },
    from: 1,
    to: 0,
    trip: 0,
};

thread_local! {
    /// Of each thread, whatever days it simulates: the usual traffic is of the network, which is part of the question, and no
    /// luck changes it.
    static KNOWN: RefCell<Vec<Kept>> = const { RefCell::new(Vec::new()) };
}

/// How long the trip takes that departs then; worked out if it is not known.
#[inline]
pub(super) fn recall(asked: Asked, depart: Millis, work_out: impl FnOnce() -> Steady) -> Millis {
    KNOWN.with_borrow_mut(|known| {
        if known.is_empty() {
            known.resize(KEPT, NOTHING);
        }
        let place = &mut known[hash(asked, depart)];
        let leaves = u32::try_from(depart.0).unwrap_or(u32::MAX);
        if place.asked == asked && place.from <= leaves && leaves <= place.to {
            return Millis(i64::from(place.trip));
        }
        let steady = work_out();
        if leaves < u32::MAX
            && let Ok(trip) = u32::try_from(steady.trip.0)
        {
            *place = Kept {
                asked,
                from: steady.from.0.max(0) as u32,
                // the last of them stands for all moments beyond
                to: steady.to.0.min(i64::from(u32::MAX - 1)) as u32,
                trip,
            };
        }
        steady.trip
    })
}

#[inline]
fn hash(asked: Asked, depart: Millis) -> usize {
    let of_leg = u64::from(asked.leg) << 32 | u64::from(asked.network ^ asked.luck.0 << 24);
    let mixed = of_leg
        .wrapping_add(((depart.0 >> STRETCH) as u64).wrapping_mul(0x0001_0000_0001_0000))
        .wrapping_mul(0x9E37_79B9_7F4A_7C15);
    (mixed >> (64 - KEPT.trailing_zeros())) as usize
}
