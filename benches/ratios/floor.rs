//! The floor: what the heap traffic and the draws of the shuttle day cost without any model. Six pops and pushes for a load
//! at 24 pending, three lognormal draws and one gamma draw.

use super::fast_random::Xoshiro;
use rand_distr::{Distribution, Gamma, LogNormal};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

const PENDING: u64 = 24;

/// Pops and pushes for a load.
pub(crate) const COMMANDS: u64 = 6;

#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Next {
    // Positive floats order like their bits.
    at: u64,
    sequence: u64,
}

/// Plays this many loads and returns the time reached, so that nothing is optimised away.
pub(crate) fn play(seed: u64, loads: u64) -> f64 {
    let mut random = Xoshiro::new(seed);
    let lognormal = LogNormal::<f64>::from_mean_cv(20.0, 0.3).expect("mean and cv are positive");
    let gamma = Gamma::new(4.0, 3.0).expect("shape and scale are positive");
    let mut heap = BinaryHeap::new();
    for sequence in 0..PENDING {
        let at = lognormal.sample(&mut random).to_bits();
        heap.push(Reverse(Next { at, sequence }));
    }
    let mut now = 0.0;
    for load in 0..loads {
        for stage in 0..COMMANDS {
            let Some(Reverse(next)) = heap.pop() else {
                return now;
            };
            now = f64::from_bits(next.at);
            let took = match stage {
                0..3 => lognormal.sample(&mut random),
                3 => gamma.sample(&mut random),
                4 => 4.0,
                _ => 6.0,
            };
            let sequence = PENDING + load * COMMANDS + stage;
            heap.push(Reverse(Next {
                at: (now + took).to_bits(),
                sequence,
            }));
        }
    }
    now
}
