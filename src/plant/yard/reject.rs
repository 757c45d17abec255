//! A load that nobody takes: it is made again, and the drum is emptied.
//!
//! A load that is turned away has not come: what replaces it keeps its times.

use super::super::command::Command;
use super::super::event::{Event, Observer, Reject};
use super::super::state::Phase;
use super::super::world::World;
use crate::units::{Millis, Purpose, SpotId, TruckId, Volume};

impl World<'_> {
    /// Nobody takes the load of a truck: it is made again.
    pub(in crate::plant) fn reject<O: Observer>(
        &mut self,
        truck_id: TruckId,
        why: Reject,
        spot: Option<SpotId>,
        observer: &mut O,
    ) {
        let load = *self.day.trucks[truck_id.at()].load();
        self.tell(
            observer,
            Event::Rejected {
                order: load.order,
                truck: truck_id,
                volume: load.volume,
                why,
                spot,
            },
        );
        self.dump_drum(truck_id, observer);
        self.leave_order(truck_id);
        self.day.trucks[truck_id.at()].turn_load_away();
        self.asks_again(&load, load.attempt + 1, observer);
    }

    /// At a plant with a load that nobody takes: it is got rid of before anything else.
    pub(in crate::plant) fn empty_drum<O: Observer>(
        &mut self,
        truck_id: TruckId,
        observer: &mut O,
    ) {
        let entity = self.plan.trucks[truck_id.at()].entity;
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.phase = Phase::Emptying;
        truck.since = self.day.now;
        let luck = self
            .day
            .luck
            .block(Purpose::EmptyTrip, entity, truck.moves, 0);
        truck.moves += 1;
        let took = self.plan.empty.at(Volume::ZERO, luck.uniform(1));
        if took > Millis::ZERO {
            self.schedule(self.day.now + took, Command::Emptied(truck_id));
        } else {
            self.emptied(truck_id, observer);
        }
    }

    /// The drum is empty again.
    pub(in crate::plant) fn emptied<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.drop_load();
        let took = self.day.now - truck.since;
        self.tell(
            observer,
            Event::Emptied {
                truck: truck_id,
                took,
            },
        );
        self.become_free(truck_id, observer);
    }
}
