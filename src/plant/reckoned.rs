//! What the desk reckons with for a load: for observers who compare the plan with what came of it.

use super::plan::Plan;
use crate::engine::Luck;
use crate::roads::{Haul, RoadState};
use crate::units::{Millis, PlaceId, PlantId, SpotId, Volume};

/// What a rule reckons with for one load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reckoned {
    /// Loading and rack.
    pub at_plant: Millis,
    /// The trip to the site.
    pub trip: Millis,
}

/// A load from a plant to a spot, promised at a moment and due at another.
#[derive(Clone, Copy, Debug)]
pub struct Trip {
    /// Where it loads.
    pub plant: PlantId,
    /// Where it goes.
    pub spot: SpotId,
    /// How much it is.
    pub volume: Volume,
    /// When the desk reckons.
    pub now: Millis,
    /// When it is due on site.
    pub due: Millis,
}

impl Plan {
    /// The roads in one replication.
    pub fn road_state(&self, luck: Luck) -> RoadState {
        let mut state = RoadState::default();
        self.roads.refresh(&mut state, luck, self.days as usize + 2);
        state
    }

    /// What the rule at this position reckons with, the roads being as they are in this replication.
    pub fn reckoned(&self, rule: usize, roads: &RoadState, load: &Trip) -> Reckoned {
        let plant = &self.plants[load.plant.at()].view;
        let site = self.spots[load.spot.at()].place;
        let depart = load.due - self.roads.free_flow(plant.place, site, Haul::Loaded);
        let belief = self.policies[rule].belief;
        Reckoned {
            at_plant: plant.loading.mean(load.volume) + plant.rack.mean(load.volume),
            trip: self.roads.at(roads, load.now).believed(
                belief,
                plant.place,
                site,
                Haul::Loaded,
                depart,
            ),
        }
    }

    /// Time on the empty road for a loaded truck; none without a way.
    pub fn free_flow(&self, from: PlaceId, to: PlaceId) -> Option<Millis> {
        Some(self.roads.free_flow(from, to, Haul::Loaded)).filter(|span| *span < Millis::NEVER)
    }
}
