//! Trucks that head for another plant than their home after a discharge, and get home while it is legal.

use super::command::Command;
use super::event::Observer;
use super::state::Phase;
use super::world::World;
use crate::dispatch::head_for;
use crate::roads::Haul;
use crate::units::{Millis, OrderId, PlaceId, PlantId, TruckId, Volume};

/// Less than this is not waited for once more.
const LEAST_WAIT: Millis = Millis(60_000);

impl World<'_> {
    /// Where an empty truck heads for from its site.
    pub(super) fn head_for(&self, truck_id: TruckId) -> PlaceId {
        let home = self.plan.trucks[truck_id.at()].home;
        let site = self.day.truck_views[truck_id.at()].place;
        let driver = &self.day.drivers[self.driver_of(truck_id).at()];
        if self.day.trucks[truck_id.at()].is_full()
            || self.day.period_over
            || self.day.now >= driver.shift_over
        {
            return self.home_place(truck_id);
        }
        let view = self.view(&[]);
        let until = self.drivable(self.driver_of(truck_id)).until;
        let waiting = |plant| self.waiting_at(plant);
        let plant = head_for(self.day.policy, &view, site, home, until, &waiting);
        self.plan.plants[plant.at()].place
    }

    /// The volume that waits for trucks at a plant, and the trucks that stand there or head there, empty.
    fn waiting_at(&self, plant: PlantId) -> (Volume, u32) {
        let place = self.plan.plants[plant.at()].place;
        let here = |position: &usize| {
            let phase = self.day.trucks[*position].phase;
            matches!(phase, Phase::Idle | Phase::ToPlant)
                && !self.day.trucks[*position].is_promised()
                && self.day.truck_views[*position].place == place
        };
        let trucks = (0..self.day.trucks.len()).filter(here).count() as u32;
        let volume = |id: &OrderId| {
            let ahead = self.plan.nearest(*id).filter(|ahead| ahead.plant == plant);
            let order = &self.day.orders[id.at()];
            let again: Volume = order.again.iter().map(|again| again.volume).sum();
            ahead.map(|_| again + order.volume - order.promised)
        };
        (self.day.waiting.iter().filter_map(volume).sum(), trucks)
    }

    /// Plans when a truck that stands idle away from home must start for home.
    pub(super) fn plan_home_while_legal(&mut self, truck_id: TruckId) {
        if self.day.truck_views[truck_id.at()].place == self.home_place(truck_id) {
            return;
        }
        let at = self.latest_start_for_home(truck_id);
        if at < Millis::NEVER {
            self.schedule(at.max(self.day.now), Command::HomeWhileLegal(truck_id));
        }
    }

    /// The last moment, as the way home takes by the driver's judgement now. Waiting takes nothing from the hours at the wheel: a
    /// clock of those leaves more than this.
    fn latest_start_for_home(&self, truck_id: TruckId) -> Millis {
        let view = &self.day.truck_views[truck_id.at()];
        let belief = self.day.policy.driver_belief;
        let home = self.home_place(truck_id);
        let way = |depart| {
            self.roads()
                .believed(belief, view.place, home, Haul::Empty, depart)
        };
        // The way at that hour may take longer than now.
        let now = way(self.day.now);
        let until = self.drivable(self.driver_of(truck_id)).until;
        if until == Millis::NEVER {
            return Millis::NEVER;
        }
        until - way(until - now).max(now)
    }

    /// The moment has come: whoever still stands idle there drives home.
    pub(super) fn home_while_legal<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let truck = &self.day.trucks[truck_id.at()];
        let place = self.day.truck_views[truck_id.at()].place;
        if truck.phase != Phase::Idle || truck.is_promised() || place == self.home_place(truck_id) {
            return;
        }
        let latest = self.latest_start_for_home(truck_id);
        if self.day.now + LEAST_WAIT > latest {
            self.go_home(truck_id, observer);
        } else if latest < Millis::NEVER {
            self.schedule(latest, Command::HomeWhileLegal(truck_id));
        }
    }
}
