//! How a load is reckoned with beforehand.

use super::Plan;
use crate::scenario::LoadOnPaper;
use crate::units::{Millis, OrderId, PlantId};

/// How a load of an order is reckoned at a plant that makes its mix, on paper.
#[derive(Clone, Copy, Debug)]
pub(in crate::plant) struct Ahead {
    pub(in crate::plant) plant: PlantId,
    /// From the beginning of loading until it is on site.
    pub(in crate::plant) lead: Millis,
    /// From being taken on site until the truck is back.
    pub(in crate::plant) back: Millis,
    /// The longest lead of this plant and of all that are less near to the order.
    pub(in crate::plant) longest_lead: Millis,
}

impl From<LoadOnPaper> for Ahead {
    fn from(load: LoadOnPaper) -> Self {
        Self {
            plant: load.plant,
            lead: load.lead(),
            back: load.on_site + load.back,
            longest_lead: load.lead(),
        }
    }
}

/// The plants that make the mix of an order, the nearest first.
pub(super) fn by_nearness(mut loads: Vec<LoadOnPaper>) -> Vec<Ahead> {
    loads.sort_by_key(LoadOnPaper::nearness);
    let mut aheads: Vec<Ahead> = loads.into_iter().map(Ahead::from).collect();
    let mut longest = Millis::ZERO;
    for ahead in aheads.iter_mut().rev() {
        longest = longest.max(ahead.lead);
        ahead.longest_lead = longest;
    }
    aheads
}

impl Plan {
    /// How a load of an order is reckoned at the nearest plant that makes its mix; none without a way, or for an endless one.
    pub(in crate::plant) fn nearest(&self, id: OrderId) -> Option<&Ahead> {
        self.ahead[id.at()].first()
    }
}
