//! In the bay: batcher, loading, and the crew that stays for it after closing.

use super::super::command::Command;
use super::super::event::{Event, Observer};
use super::super::world::{World, lane};
use crate::units::{Millis, PlantId, TruckId, Volume};

impl World<'_> {
    /// A truck stands in its bay: loading begins when the batcher is free.
    #[inline]
    pub(in crate::plant) fn in_bay<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let id = self.day.trucks[truck_id.at()].load().plant;
        if self.plan.plants[id.at()].shared_batcher {
            let plant = &mut self.day.plants[id.at()];
            if plant.batcher_busy {
                plant.batcher_queue.push_back(truck_id);
                return;
            }
            plant.batcher_busy = true;
        }
        self.begin_loading(truck_id, observer);
    }

    #[inline(always)]
    fn begin_loading<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let now = self.day.now;
        let under = self.meet_returned(truck_id, observer);
        self.day.trucks[truck_id.at()].begun = now;
        let load = self.day.trucks[truck_id.at()].load_mut();
        let took = if load.dry_up {
            let luck = match self.dry_up_luck(truck_id) {
                Some(luck) => luck,
                None => self.reading(truck_id).uniform(2),
            };
            self.plan.dry_up.at(Volume::ZERO, luck)
        } else {
            (load.batched, load.reused) = under.unwrap_or((now, Volume::ZERO));
            let plant = &self.plan.plants[load.plant.at()];
            let luck = load.luck.uniform(lane::LOADING);
            plant.loading.at(load.fresh(), luck)
        };
        self.schedule(now + took, Command::LeaveBay(truck_id));
    }

    /// Loading is done.
    pub(in crate::plant) fn leave_bay<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let truck = &self.day.trucks[truck_id.at()];
        let (id, order) = (truck.load().plant, truck.load().order);
        let took = self.day.now - truck.since;
        let loading = self.day.now - truck.begun;
        let volume = if truck.load().dry_up {
            Volume::ZERO // nothing new for the order
        } else {
            truck.load().fresh()
        };
        self.tell(
            observer,
            Event::BayLeft {
                truck: truck_id,
                order,
                plant: id,
                took,
                loading,
                volume,
            },
        );
        let plant = &mut self.day.plants[id.at()];
        plant.bays_busy -= 1;
        if self.plan.plants[id.at()].shared_batcher {
            plant.batcher_busy = false;
            if let Some(next) = plant.batcher_queue.pop_front() {
                plant.batcher_busy = true;
                self.begin_loading(next, observer);
            }
        }
        self.pay_crew_that_stayed(id, took, observer);
        self.fill_drum(truck_id, observer);
        self.go_to_rack(truck_id, observer);
        self.serve_bays(id, observer);
    }

    /// The crew stays as long as trucks are loaded after closing.
    #[inline]
    fn pay_crew_that_stayed<O: Observer>(&mut self, id: PlantId, took: Millis, observer: &mut O) {
        let plan = &self.plan.plants[id.at()];
        let plant = &mut self.day.plants[id.at()];
        let open_now = plan
            .open
            .iter()
            .any(|(open, close)| (*open..=*close).contains(&self.day.now));
        if open_now || self.day.now <= plant.kept_until {
            return;
        }
        let closed_at = plan
            .open
            .iter()
            .map(|(_, close)| *close)
            .filter(|close| *close < self.day.now)
            .max();
        let from = closed_at
            .unwrap_or(self.day.now - took)
            .max(plant.stayed_until);
        plant.stayed_until = self.day.now;
        self.tell(
            observer,
            Event::CrewStayed {
                plant: id,
                time: self.day.now - from,
            },
        );
    }
}
