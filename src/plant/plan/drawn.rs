//! Lists of drawn orders made ready.

use crate::engine::{Counter, Entity, Sampler};
use crate::scenario::DrawnOrders;
use crate::units::Millis;

/// A list of drawn orders made ready.
#[derive(Clone, Debug)]
pub(in crate::plant) struct DrawnPlan {
    pub(in crate::plant) entity: Entity,
    pub(in crate::plant) per_day: Counter,
    /// How much later than the earliest the latest is due.
    pub(in crate::plant) window: Millis,
    pub(in crate::plant) volume: Sampler,
    pub(in crate::plant) growth: f64,
}

pub(super) fn drawn_plan(drawn: &DrawnOrders) -> DrawnPlan {
    DrawnPlan {
        entity: Entity::named(&drawn.name),
        per_day: drawn.per_day.counter(),
        window: drawn.first.1 - drawn.first.0,
        volume: drawn.volume.sampler(),
        growth: drawn.growth,
    }
}
