//! A load from promise to the end of its stay, and what is left of it.

use super::super::event::Lateness;
use crate::engine::{Block, Entity, Luck};
use crate::units::{Millis, OrderId, PlantId, Purpose, SpotId, Volume};

/// A load, from promise to the end of its stay.
#[derive(Clone, Copy, Debug)]
pub(in crate::plant) struct PromisedLoad {
    pub(in crate::plant) order: OrderId,
    pub(in crate::plant) spot: SpotId,
    pub(in crate::plant) plant: PlantId,
    /// Number in its order, from 0; the same for what replaces it.
    pub(in crate::plant) number: u32,
    /// 0 at first, one more whenever it is made again.
    pub(in crate::plant) attempt: u32,
    pub(in crate::plant) volume: Volume,
    /// Volume of the order before it.
    pub(in crate::plant) before: Volume,
    pub(in crate::plant) due: Millis,
    pub(in crate::plant) ready: Millis,
    /// Loading starts no earlier.
    pub(in crate::plant) send: Millis,
    /// Its outlet, once it has a place.
    pub(in crate::plant) outlet: u32,
    /// When its batching began; that of the oldest concrete in it.
    pub(in crate::plant) batched: Millis,
    /// What of it is returned concrete that was in the drum before.
    pub(in crate::plant) reused: Volume,
    /// Whether it is back in the bay to be dried up.
    pub(in crate::plant) dry_up: bool,
    /// Whether it is too wet, unseen so far.
    pub(in crate::plant) wet: bool,
    /// What of it is not needed and goes back.
    pub(in crate::plant) spare: Volume,
    /// Whether it has been counted as undelivered.
    pub(in crate::plant) given_up: bool,
    /// How late it has come on site; none before, and where that is not judged.
    pub(in crate::plant) lateness: Option<Lateness>,
    /// Whether a gate of the rule was overridden for it, or its driver overruled.
    pub(in crate::plant) overridden: bool,
    /// Whether it was made for another order.
    pub(in crate::plant) redirected: bool,
    pub(in crate::plant) luck: Block,
}

impl PromisedLoad {
    /// None yet.
    pub(in crate::plant) fn none(luck: &Luck) -> Self {
        Self {
            order: OrderId(0),
            spot: SpotId(0),
            plant: PlantId(0),
            number: 0,
            attempt: 0,
            volume: Volume::ZERO,
            before: Volume::ZERO,
            due: Millis::ZERO,
            ready: Millis::ZERO,
            send: Millis::ZERO,
            outlet: 0,
            batched: Millis::ZERO,
            reused: Volume::ZERO,
            dry_up: false,
            wet: false,
            spare: Volume::ZERO,
            given_up: false,
            lateness: None,
            overridden: false,
            redirected: false,
            luck: luck.block(Purpose::Load, Entity(0), 0, 0),
        }
    }

    /// What is batched for it.
    pub(in crate::plant) fn fresh(&self) -> Volume {
        self.volume - self.reused
    }
}

/// What a truck has to do with a load.
#[derive(Clone, Copy, Debug)]
pub(in crate::plant) enum Cargo {
    /// It has had none.
    Nothing,
    /// The load that it has or had last.
    Load(Hold, PromisedLoad),
}

/// What has become of the load of a truck. Apart from the load, which stays where it is when this changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::plant) enum Hold {
    /// Promised, or on the truck and to be taken.
    Promised,
    /// On the truck, and nobody takes it.
    Refused,
    /// No longer its load: the washing, the way back and where it may stand still go by it.
    Rid,
}

/// What is left in a drum of a load that has been taken.
#[derive(Clone, Copy, Debug)]
pub(in crate::plant) struct Returned {
    /// The order that it was made for.
    pub(in crate::plant) order: OrderId,
    pub(in crate::plant) volume: Volume,
    /// When batching of the oldest of it began.
    pub(in crate::plant) batched: Millis,
}
