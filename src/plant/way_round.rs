//! Loads that go round an open weigh station: a habit of drivers whose trucks nobody has weighed. No rule chooses it and the desk
//! does not know of it; nobody goes round whose hours would not hold the way.
//!
//! What it takes beyond the quickest way with the same luck is a cause of lateness of its own; the minutes in the station that
//! it saves are set against it.

use super::world::World;
use crate::roads::Haul;
use crate::units::{PlaceId, Purpose, TruckId};

impl World<'_> {
    /// Before a load leaves its plant: whether it could go round a weigh station, and whether it does.
    #[inline]
    pub(super) fn decide_way(&mut self, truck_id: TruckId, from: PlaceId, to: PlaceId) {
        if self.plan.goes_round > 0.0 {
            self.decide_way_round(truck_id, from, to);
        }
    }

    fn decide_way_round(&mut self, truck_id: TruckId, from: PlaceId, to: PlaceId) {
        let goes_round = self.has_a_way_round(truck_id, from, to)
            && self.wants_round(truck_id)
            && self.hours_hold_way_round(truck_id, from, to);
        self.day.legs[truck_id.at()].goes_round = goes_round;
    }

    /// Whether there is something to go round for a load that leaves now, and a way to do it.
    fn has_a_way_round(&self, truck_id: TruckId, from: PlaceId, to: PlaceId) -> bool {
        let plant = self.day.trucks[truck_id.at()].load().plant;
        !self.plan.plants[plant.at()].truck_scale
            && self.plan.roads.can_go_round(from, to, self.day.now)
    }

    /// What luck says of this attempt at the load.
    fn wants_round(&self, truck_id: TruckId) -> bool {
        let load = self.day.trucks[truck_id.at()].load();
        let order = self.plan.orders[load.order.at()].entity;
        let luck = self
            .day
            .luck
            .block(Purpose::GoesRound, order, load.number, load.attempt);
        luck.uniform(0) < self.plan.goes_round
    }

    /// Whether the driver judges that the way round, the stay and the way to lawful parking fit into the hours.
    fn hours_hold_way_round(&self, truck_id: TruckId, from: PlaceId, to: PlaceId) -> bool {
        let load = self.day.trucks[truck_id.at()].load();
        let spot = &self.plan.spots[load.spot.at()];
        let (roads, belief) = (self.roads(), self.day.policy.driver_belief);
        let out = roads.believed_round(belief, from, to, self.day.now);
        let stay = spot.stay(self.day.policy).mean(load.volume);
        let done = self.day.now + out + stay;
        let away = roads.believed(belief, to, spot.parking, Haul::Empty, done);
        self.driver_may(truck_id, [out, stay, away])
    }
}
