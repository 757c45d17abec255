//! The numbers at an address one after another, as a generator of the `rand` library.

use super::{Block, Entity, Luck};
use crate::units::Purpose;
use rand::TryRng;
use rand::rand_core::utils;
use std::convert::Infallible;

/// Lanes of a block.
const LANES: usize = 8;

/// All random numbers of a purpose, an entity and an index, one after another: for choices that take an unknown number of
/// them, through `rand` and whatever builds on it. Each eight are the lanes of one more attempt, the first being 0, so who
/// draws this way draws no attempts of the same address.
#[derive(Clone, Debug)]
pub struct Stream {
    luck: Luck,
    purpose: Purpose,
    entity: Entity,
    index: u32,
    attempt: u32,
    block: Block,
    lane: usize,
}

impl Luck {
    /// The numbers at this address, from the first on.
    pub fn stream(self, purpose: Purpose, entity: Entity, index: u32) -> Stream {
        Stream {
            luck: self,
            purpose,
            entity,
            index,
            attempt: 0,
            block: self.block(purpose, entity, index, 0),
            lane: 0,
        }
    }
}

impl TryRng for Stream {
    type Error = Infallible;

    fn try_next_u32(&mut self) -> Result<u32, Infallible> {
        if self.lane == LANES {
            self.lane = 0;
            self.attempt += 1;
            self.block = self
                .luck
                .block(self.purpose, self.entity, self.index, self.attempt);
        }
        let bits = self.block.bits(self.lane);
        self.lane += 1;
        Ok(bits)
    }

    fn try_next_u64(&mut self) -> Result<u64, Infallible> {
        utils::next_u64_via_u32(self)
    }

    fn try_fill_bytes(&mut self, bytes: &mut [u8]) -> Result<(), Infallible> {
        utils::fill_bytes_via_next_word(bytes, || self.try_next_u32())
    }
}
