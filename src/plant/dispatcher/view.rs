//! What a rule sees: the trucks on offer and the hours of the plants.

use super::super::state::{NOT_OFFERED, NOT_SEEN, Phase, TruckNow};
use super::super::world::World;
use crate::dispatch::{GivenUp, Legs, View};
use crate::units::{Millis, PlantId, TruckId};

impl World<'_> {
    /// What a rule sees now, with these trucks on offer.
    #[inline]
    pub(in crate::plant) fn view<'a>(&'a self, offered: &'a [TruckId]) -> View<'a> {
        View {
            now: self.day.now,
            offered,
            by_home: None,
            given_up: self.given_up_now(),
            trucks: &self.day.truck_views,
            plants: &self.day.plant_views,
            warmer_f: self.known_warmer_f(),
            roads: self.roads(),
            legs: Legs::default(),
            free: &self.day.offered,
            clocks: &self.day.clocks,
            rule_sets: &self.plan.rule_sets,
            home_work: self.plan.home_work,
        }
    }

    /// What trucks have given up at this moment.
    #[inline]
    fn given_up_now(&self) -> &[GivenUp] {
        let given_up = &self.day.given_up[..];
        match given_up.last() {
            Some(last) if last.at == self.day.now => given_up,
            _ => &[],
        }
    }

    /// Keeps what the dispatcher sees of a plant's hours current.
    #[inline]
    pub(in crate::plant) fn look_at_plant(&mut self, id: PlantId) {
        let plant = &self.day.plants[id.at()];
        // Every load looks twice.
        if plant.down > 0 || plant.seen_until < self.day.now || self.day.policy.bay_queue_seen {
            self.look_at_hours(id);
        }
    }

    fn look_at_hours(&mut self, id: PlantId) {
        let back = match self.day.plants[id.at()].down {
            0 => Millis::ZERO,
            _ => self.reckoned_back(id),
        };
        let bays_free = match self.day.policy.bay_queue_seen {
            true => self.bays_free(id),
            false => Millis::ZERO,
        };
        let spans = &self.plan.plants[id.at()].open;
        let plant = &mut self.day.plants[id.at()];
        while plant.span < spans.len() && spans[plant.span].1.max(plant.kept_until) < self.day.now {
            plant.span += 1;
        }
        let (opens, closes) = spans
            .get(plant.span)
            .copied()
            .unwrap_or((Millis::NEVER, Millis::NEVER));
        plant.seen_until = match plant.down {
            0 if !self.day.policy.bay_queue_seen => closes,
            _ => NOT_SEEN,
        };
        let view = &mut self.day.plant_views[id.at()];
        view.bays_free = bays_free;
        view.opens = opens.max(back);
        view.closes = closes.max(plant.kept_until);
    }

    /// When the bays of a plant are free of all that is to load there, each at its mean, and of nothing that comes later.
    fn bays_free(&self, id: PlantId) -> Millis {
        let loading = self.day.plant_views[id.at()].loading;
        let to_load = |truck: &&TruckNow| {
            matches!(
                truck.phase,
                Phase::Idle
                    | Phase::PreTrip
                    | Phase::ToPlant
                    | Phase::Waiting
                    | Phase::BayQueue
                    | Phase::InBay
            )
        };
        let loads = self.day.trucks.iter().filter(to_load);
        let here = loads.filter_map(|truck| truck.promised().filter(|load| load.plant == id));
        let work: Millis = here.map(|load| loading.mean(load.volume)).sum();
        self.day.now + Millis(work.0 / i64::from(self.plan.plants[id.at()].bays.max(1)))
    }

    /// A truck can be promised from now on.
    #[inline]
    pub(in crate::plant) fn offer(&mut self, truck_id: TruckId) {
        let truck = &mut self.day.trucks[truck_id.at()];
        if truck.slot == NOT_OFFERED {
            truck.slot = self.day.offered.len() as u32;
            self.day.offered.push(truck_id);
            let home = self.plan.trucks[truck_id.at()].home.at();
            let at_home = &mut self.day.offered_at[home];
            truck.slot_at_home = at_home.len() as u32;
            at_home.push(truck_id);
            let place = self.day.truck_views[truck_id.at()].place;
            truck.offered_elsewhere = place != self.day.plant_views[home].place;
            self.day.elsewhere[home] += u32::from(truck.offered_elsewhere);
        }
    }

    /// A truck can no longer be promised.
    #[inline]
    pub(in crate::plant) fn withdraw(&mut self, truck_id: TruckId) {
        let slot = std::mem::replace(&mut self.day.trucks[truck_id.at()].slot, NOT_OFFERED);
        if slot != NOT_OFFERED {
            self.day.offered.swap_remove(slot as usize);
            if let Some(moved) = self.day.offered.get(slot as usize) {
                self.day.trucks[moved.at()].slot = slot;
            }
            let home = self.plan.trucks[truck_id.at()].home.at();
            let at_home = &mut self.day.offered_at[home];
            let truck = &self.day.trucks[truck_id.at()];
            self.day.elsewhere[home] -= u32::from(truck.offered_elsewhere);
            let slot = truck.slot_at_home;
            at_home.swap_remove(slot as usize);
            if let Some(moved) = at_home.get(slot as usize) {
                self.day.trucks[moved.at()].slot_at_home = slot;
            }
        }
    }
}
