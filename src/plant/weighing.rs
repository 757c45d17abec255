//! What a loaded truck really weighs: as it leaves its plant, and at the weigh stations on its way.
//!
//! A load weighs what its mix weighs; where no mixes are described, 4,050 lb a yd³. What the empty truck weighs beyond the
//! books is drawn once for its day, and a load keeps the weight with which it leaves its plant, so that what weigh stations
//! find and what is told as heavy are the same number. A load that comes back past an open station is weighed and held anew:
//! `found_heavy` counts findings, `heavy_loads` counts loads.
//!
//! A truck scale makes a batch legal: it tells the true empty weight. Water in the yard and a dry-up come after it and, where
//! concrete is computed, weigh too: the remedy is a margin or room kept.

use super::event::{Event, Observer};
use super::material::MaterialStep;
use super::state::OnScale;
use super::world::World;
use crate::concrete::EmptyWeight;
use crate::roads::Haul;
use crate::units::{Millis, PlaceId, Purpose, TruckId, Volume};

/// Less than this over the limit is rounding, lb.
const ROUNDING_LB: f64 = 1e-6;

impl World<'_> {
    /// The loaded truck leaves its plant with all that was batched, added and dried up. What is told of it where concrete is
    /// computed is what a weigh station would find.
    #[inline]
    pub(super) fn leave_loaded<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        // Where neither is looked at, nothing is weighed.
        if !self.day.drums.is_empty() || !self.day.legs.is_empty() {
            self.weigh(truck_id, observer);
        }
    }

    fn weigh<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let load = self.day.trucks[truck_id.at()].load();
        let (order, volume) = (load.order, load.volume);
        let drum = self.day.drums.get(truck_id.at());
        let on_scale = OnScale {
            day: self.day.now.day() as u32,
            lb: match drum {
                Some(drum) => drum.weight_lb(),
                None => self.plan.orders[order.at()].lb_per_yd3 * volume.yd3(),
            },
            found: 0,
        };
        if drum.is_some() {
            let over_lb = self.over_lb(truck_id, &on_scale);
            if over_lb > 0.0 {
                let step = MaterialStep::Heavy {
                    over_lb: over_lb as f32,
                };
                let truck = truck_id;
                self.tell(observer, Event::Material { order, truck, step });
            }
        }
        if let Some(leg) = self.day.legs.get_mut(truck_id.at()) {
            leg.on_scale = on_scale;
        }
    }

    /// By how much the loaded truck passes what the law allows, lb; 0 if it does not. What the empty truck weighs more than
    /// booked counts as load; a plant with a truck scale knows it.
    fn over_lb(&self, truck_id: TruckId, on_scale: &OnScale) -> f64 {
        let truck = &self.plan.trucks[truck_id.at()];
        let plant = self.day.trucks[truck_id.at()].load().plant;
        let empty = if self.plan.plants[plant.at()].truck_scale {
            EmptyWeight::WEIGHED
        } else {
            self.plan.empty_weight
        };
        let luck = self
            .day
            .luck
            .block(Purpose::TruckDay, truck.entity, on_scale.day, 0);
        let lb = on_scale.lb + empty.drawn_over_lb(luck.uniform(0));
        let over_lb = lb - truck.view.payload_lb;
        if over_lb > ROUNDING_LB { over_lb } else { 0.0 }
    }

    /// How long a loaded truck is held on this drive at a weigh station that is open when it comes by. A load that comes back the
    /// same way is weighed anew, and held anew.
    pub(super) fn held_heavy(&mut self, truck_id: TruckId, from: PlaceId, to: PlaceId) -> Millis {
        let Some(held) = &self.plan.held_heavy else {
            return Millis::ZERO;
        };
        let roads = &self.plan.roads;
        let on_scale = self.day.legs[truck_id.at()].on_scale;
        if !roads.weighed(from, to, Haul::Loaded, self.day.now)
            || self.over_lb(truck_id, &on_scale) == 0.0
        {
            return Millis::ZERO;
        }
        let load = self.day.trucks[truck_id.at()].load();
        let order = self.plan.orders[load.order.at()].entity;
        let attempt = on_scale.found << 16 | load.attempt;
        let luck = self
            .day
            .luck
            .block(Purpose::FoundHeavy, order, load.number, attempt);
        self.day.legs[truck_id.at()].on_scale.found += 1;
        held.at(Volume::ZERO, luck.uniform(0))
    }
}
