//! Uniform numbers in a row, for models that need no addresses beyond "the next one of this kind".

use plantday::engine::{Block, Entity, Luck};
use plantday::units::Purpose;

/// The uniform numbers of one kind in one replication, eight to a block; mirrored ones are 1 − u.
pub(crate) struct Uniforms {
    luck: Luck,
    entity: Entity,
    mirrored: bool,
    count: u32,
    block: Block,
}

const PURPOSE: Purpose = Purpose::Load;

impl Uniforms {
    pub(crate) fn new(luck: Luck, name: &str, mirrored: bool) -> Self {
        let entity = Entity::named(name);
        Self {
            luck,
            entity,
            mirrored,
            count: 0,
            block: luck.block(PURPOSE, entity, 0, 0),
        }
    }

    pub(crate) fn draw(&mut self) -> f64 {
        let lane = self.count as usize % 8;
        if lane == 0 {
            let index = self.count / 8;
            self.block = self.luck.block(PURPOSE, self.entity, index, 0);
        }
        self.count += 1;
        let u = self.block.uniform(lane);
        if self.mirrored { 1.0 - u } else { u }
    }
}
