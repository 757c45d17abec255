//! Addressed randomness: a draw is a function of its address, never of what was drawn before.
//!
//! The address is (seed, replication, purpose, entity, index, attempt). Two runs that differ in one decision still meet
//! the same luck everywhere else, and any replication can be run again alone.

mod philox;
mod stream;

use crate::units::Purpose;
pub use philox::philox4x64_10;
pub use stream::Stream;

/// Whom a draw is for: a hash of the written name, so that it does not change with the position in a list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Entity(pub u64);

impl Entity {
    /// The entity of this name: FNV-1a over its UTF-8 bytes, then a finaliser so that like names are far apart.
    pub fn named(name: &str) -> Self {
        let fnv1a = |hash: u64, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01B3);
        Self(mix(name.bytes().fold(0xCBF2_9CE4_8422_2325, fnv1a)))
    }
}

/// The luck of one replication: gives the block of random numbers at any address.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Luck {
    key: [u64; 2],
}

/// Fourth counter word: keeps the blocks for draws and the blocks that make new keys apart.
const DRAW: u64 = 0;
const FORK: u64 = 1;

impl Luck {
    /// The luck of replication `replication` under `seed`.
    ///
    /// Different pairs have different keys. Seed and replication are hashed apart, never added, so seed 1 replication
    /// 10 has nothing in common with seed 11 replication 0.
    pub fn new(seed: u64, replication: u64) -> Self {
        let seed = mix(seed ^ 0x5851_F42D_4C95_7F2D);
        Self {
            key: [seed, mix(seed.rotate_left(32) ^ mix(replication))],
        }
    }

    /// Luck that has nothing in common with this one, for a look ahead: `address` says which fork, ask and trial.
    pub fn fork(self, address: [u64; 3]) -> Self {
        let [fork, ask, trial] = address;
        let [first, second, ..] = philox4x64_10([fork, ask, trial, FORK], self.key);
        Self {
            key: [first, second],
        }
    }

    /// The random numbers at an address.
    #[inline]
    pub fn block(self, purpose: Purpose, entity: Entity, index: u32, attempt: u32) -> Block {
        let place = (purpose as u64) << 32 | u64::from(index);
        let counter = [entity.0, place, u64::from(attempt), DRAW];
        Block {
            words: philox4x64_10(counter, self.key),
        }
    }
}

/// The random numbers at one address: eight of 32 bits, or four of 53 bits made of the same bits two by two
/// (`wide(0)` covers `uniform(0)` and `uniform(1)`, and so on).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Block {
    words: [u64; 4],
}

impl Block {
    /// A uniform number strictly inside (0, 1), from 2^-33 to 1 − 2^-33 in steps of 2^-32. `lane` is 0 to 7.
    ///
    /// # Panics
    /// If `lane` is above 7.
    #[inline]
    pub fn uniform(&self, lane: usize) -> f64 {
        (f64::from(self.bits(lane)) + 0.5) * (1.0 / 4_294_967_296.0)
    }

    /// The 32 bits of a lane.
    #[inline]
    fn bits(&self, lane: usize) -> u32 {
        (self.words[lane / 2] >> (lane % 2 * 32)) as u32
    }

    /// A uniform number strictly inside (0, 1), from 2^-53 to 1 − 2^-53 in steps of 2^-52. `lane` is 0 to 3.
    ///
    /// # Panics
    /// If `lane` is above 3.
    #[inline]
    pub fn wide(&self, lane: usize) -> f64 {
        // 52 bits and a half: with 53 the largest would round to 1.
        ((self.words[lane] >> 12) as f64 + 0.5) * (1.0 / 4_503_599_627_370_496.0)
    }
}

/// A bijection of 64-bit words in which every bit moves every other (Stafford's variant 13 of the MurmurHash3
/// finaliser, as in SplitMix64).
#[inline]
fn mix(word: u64) -> u64 {
    let word = (word ^ word >> 30).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let word = (word ^ word >> 27).wrapping_mul(0x94D0_49BB_1331_11EB);
    word ^ word >> 31
}

#[cfg(test)]
mod tests;
