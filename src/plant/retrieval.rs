//! Bringing a stranded driver and truck home.

use super::command::Command;
use super::event::{Event, Observer};
use super::state::Phase;
use super::world::{MOVE, World};
use crate::dispatch::Retrieval;
use crate::roads::Haul;
use crate::units::{Millis, TruckId};

impl World<'_> {
    /// Sends the nearest helper who is on call until the truck is home, if the rule does so. Whether one goes.
    pub(super) fn send_helper<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) -> bool {
        if self.policy.retrieval != Retrieval::Fetch {
            return false;
        }
        let here = self.truck_views[truck_id.at()].place;
        let home = self.plan.plants[self.plan.trucks[truck_id.at()].home.at()].place;
        let roads = self.roads();
        let free = (0..self.plan.helpers.len()).filter(|helper| {
            let plan = &self.plan.helpers[*helper];
            // Reckoned with the driver's caution: who would be out beyond the call does not set out.
            let believed = self.policy.driver_belief;
            let way = |from, to, haul| roads.believed(believed, from, to, haul, self.now);
            let back = self.now
                + way(plan.place, here, Haul::Empty)
                + way(here, home, self.haul_of(truck_id));
            let on_call = |span: &(Millis, Millis)| span.0 <= self.now && back <= span.1;
            self.helpers[*helper] <= self.now && plan.on_call.iter().any(on_call)
        });
        let nearest = free.min_by_key(|helper| {
            let from = self.plan.helpers[*helper].place;
            (roads.free_flow(from, here, Haul::Empty), *helper)
        });
        let Some(helper) = nearest else {
            return false;
        };
        let truck = &mut self.trucks[truck_id.at()];
        let entity = self.plan.trucks[truck_id.at()].entity;
        let luck = self.luck.block(MOVE, entity, truck.moves, 0);
        truck.moves += 1;
        truck.phase = Phase::Resting;
        let roads = self.roads();
        let out = roads.trip(
            self.plan.helpers[helper].place,
            here,
            Haul::Empty,
            self.now,
            luck.uniform(0),
        );
        let there = self.now + out;
        // The way home is the trip that `fetched` will drive: the same draw, so the helper is out for exactly as long.
        let next = self
            .luck
            .block(MOVE, entity, self.trucks[truck_id.at()].moves, 0);
        let takes = out + roads.trip(here, home, self.haul_of(truck_id), there, next.uniform(0));
        self.helpers[helper] = self.now + takes;
        let driver = self.driver_of(truck_id);
        self.tell(
            observer,
            Event::HelperSent {
                driver,
                truck: truck_id,
                takes,
            },
        );
        self.schedule(there, Command::Fetched(truck_id));
        true
    }

    /// The helper takes the wheel; the driver rides along, on duty until the truck is home.
    pub(super) fn fetched(&mut self, truck_id: TruckId) {
        let home = self.plan.plants[self.plan.trucks[truck_id.at()].home.at()].place;
        // It is the helper who drives, and the helper's clock that counts.
        self.truck_views[truck_id.at()].barred_from = Millis::NEVER;
        self.move_empty(truck_id, home, Phase::GoingHome);
    }
}
