//! The concrete in a truck's drum, computed: what is batched, how it ages, where it goes. Each step has a file of its own;
//! here is what they share: the weather, the draws, and what is told.

mod fill;
mod place;
mod rack;
mod site;

use super::event::{Event, Observer};
use super::material::MaterialStep;
use super::plan::DrumPlan;
use super::state::PromisedLoad;
use super::world::World;
use crate::concrete::{AirTemperature, Drum, SlumpTarget, day_warmer_f};
use crate::engine::{Block, Entity};
use crate::units::{Millis, Purpose, TruckId};
pub(super) use site::OnSite;

/// Lanes of the block of a batch.
mod lane {
    pub(super) const FINE: usize = 0;
    pub(super) const COARSE: usize = 1;
    pub(super) const AIR: usize = 2;
    pub(super) const WRONG_MIX: usize = 3;
    pub(super) const TESTED: usize = 4;
    pub(super) const FIRST_TEST: usize = 5;
    pub(super) const SECOND_TEST: usize = 6;
}

impl<'p> World<'p> {
    /// What drums are reckoned with, where they are.
    #[inline]
    pub(super) fn drum_plan(&self) -> Option<&'p DrumPlan> {
        self.plan.drums.as_ref()
    }

    /// Keeps what is in a drum as it is before the check at the rack, which is gone through at once: a fork made during the
    /// check goes through it anew.
    #[inline]
    pub(super) fn keep_drum(&mut self, truck: TruckId) {
        if let Some(drum) = self.day.drums.get(truck.at()) {
            self.day.unchecked[truck.at()] = *drum;
        }
    }

    /// Temperature of the concrete now, °F.
    fn concrete_f(&self, drums: &DrumPlan) -> f64 {
        drums.material.temperature.at(self.air_f(drums))
    }

    /// Air temperature now, °F.
    fn air_f(&self, drums: &DrumPlan) -> f64 {
        self.air_today(drums).at(self.day.now)
    }

    fn air_today(&self, drums: &DrumPlan) -> AirTemperature {
        drums.material.air.warmer(self.warmer_f(drums))
    }

    /// How much warmer today is than written, °F.
    fn warmer_f(&self, drums: &DrumPlan) -> f64 {
        let sd_f = drums.material.air_sd_f;
        if sd_f == 0.0 {
            return 0.0;
        }
        let today = self.luck_told_at(Millis::midnight(self.day.now.day()));
        let luck = today.block(
            Purpose::AirTemperature,
            Entity(0),
            self.day.now.day() as u32,
            0,
        );
        day_warmer_f(sd_f, luck.uniform(0))
    }

    /// The same for those who send loads: who reads a thermometer knows the day. 0 where the age limit does not turn on it.
    #[inline]
    pub(super) fn known_warmer_f(&self) -> f64 {
        match (&self.day.policy.age_limit, self.drum_plan()) {
            (Some(limit), Some(drums)) if limit.by_air() => self.warmer_f(drums),
            _ => 0.0,
        }
    }

    /// The block of this purpose for a load; `more` tells blocks of one attempt apart, 0 to 3.
    fn load_luck(&self, purpose: Purpose, load: &PromisedLoad, more: u32) -> Block {
        let entity = self.plan.orders[load.order.at()].entity;
        self.day
            .luck
            .block(purpose, entity, load.number, load.attempt << 2 | more)
    }

    /// The slump that the site takes of this load.
    fn site_slump(&self, drums: &DrumPlan, load: &PromisedLoad) -> SlumpTarget {
        drums.material.mixes[drums.mixes[load.order.at()]].site_slump
    }

    fn tell_step<O: Observer>(&self, truck: TruckId, step: MaterialStep, observer: &mut O) {
        let order = self.day.trucks[truck.at()].load().order;
        self.tell(observer, Event::Material { order, truck, step });
    }

    fn mixer(&self, truck: TruckId) -> Drum {
        Drum::rated(self.day.truck_views[truck.at()].capacity)
    }
}
