//! Sending drivers home before their shift is over, when there is less work than trucks.

use super::command::Command;
use super::event::Observer;
use super::state::Phase;
use super::world::World;
use crate::dispatch::{Lend, goes_home};
use crate::units::{PlantId, TruckId};

impl World<'_> {
    /// Plans the moments at which nobody is held in reserve any more.
    pub(super) fn plan_end_of_hold(&mut self) {
        if self
            .day
            .policy
            .send_home
            .hold()
            .is_none_or(|hold| hold == 0)
        {
            return;
        }
        for plant in (0..self.plan.plants.len()).map(PlantId::new) {
            for span in 0..self.plan.plants[plant.at()].open.len() {
                let (_, close) = self.plan.plants[plant.at()].open[span];
                if close < self.plan.end {
                    self.schedule(close, Command::HoldOver(plant));
                }
            }
        }
    }

    /// A plant has closed: who was held in reserve may go.
    pub(super) fn hold_over<O: Observer>(&mut self, plant: PlantId, observer: &mut O) {
        self.send_surplus_home(plant, observer);
    }

    /// Sends idle drivers home as long as more trucks are on duty than the work ahead and the reserve need.
    pub(super) fn send_surplus_home<O: Observer>(&mut self, plant: PlantId, observer: &mut O) {
        let group = (self.day.policy.lend == Lend::Never).then_some(plant);
        let Some(hold) = self.day.policy.send_home.hold() else {
            return;
        };
        if self.scratch.plants_left.are_without(group) {
            return;
        }
        self.send_whoever_is_not_needed(group, hold, observer);
        self.scratch.plants_left.leave_out(group);
    }

    fn send_whoever_is_not_needed<O: Observer>(
        &mut self,
        group: Option<PlantId>,
        hold: u32,
        observer: &mut O,
    ) {
        loop {
            let plants = (0..self.plan.plants.len()).map(PlantId::new);
            let open = plants.filter(|plant| group.is_none_or(|group| group == *plant));
            let open = open.filter(|plant| self.is_open(*plant)).count() as u32;
            if !self.more_than_needed(group, hold * open) {
                return;
            }
            let idle = self.trucks_of(group).filter(|position| {
                let truck = &self.day.trucks[*position];
                truck.phase == Phase::Idle && !truck.is_promised()
            });
            let key = |position: &usize| {
                let view = &self.day.truck_views[*position];
                (goes_home(self.day.policy.send_home, view), *position)
            };
            let Some(first) = idle.min_by_key(key) else {
                return;
            };
            self.go_home(TruckId::new(first), observer);
        }
    }

    /// Whether a plant is open, in its posted hours or kept so.
    pub(super) fn is_open(&self, plant: PlantId) -> bool {
        self.plan.plants[plant.at()].is_open(self.day.now)
            || self.day.now < self.day.plants[plant.at()].kept_until
    }
}
