//! Returned concrete, where the scenario reuses it: what a site did not need stays in the drum until the truck's next load is
//! begun, and goes under that, or is got rid of.
//!
//! Only when the next load is begun are its age and the load on top of it known. All of it is reused or none, as what lies
//! below cannot be dumped later. A load that is turned away is never reused, a stranded truck gets rid of what it has, and a
//! truck with concrete that came back drives as an empty one. The desk and the drivers reckon with whole loads: what is reused
//! saves minutes in the bay that nobody planned with. A state file does not know what came back.

use super::event::{Event, Observer};
use super::state::Returned;
use super::world::World;
use crate::concrete::ReturnedFate;
use crate::units::{Millis, OrderId, TruckId, Volume};

impl World<'_> {
    /// A load has been discharged: what of it is not needed stays in the drum, where it may be reused.
    #[inline]
    pub(super) fn keep_returned(&mut self, truck_id: TruckId) {
        let truck = &mut self.day.trucks[truck_id.at()];
        debug_assert!(
            truck.returned.is_none(),
            "settled before the load was batched"
        );
        if self.plan.reuse.is_some() && truck.load().spare > Volume::ZERO {
            truck.returned = Some(Returned {
                order: truck.load().order,
                volume: truck.load().spare,
                batched: truck.load().batched,
            });
        }
    }

    /// The truck's next load is begun. What has come back stays under it, or is got rid of first: in no time, as returned
    /// concrete is everywhere. If it stays: since when it has been there, and how much.
    #[inline]
    pub(super) fn meet_returned<O: Observer>(
        &mut self,
        truck_id: TruckId,
        observer: &mut O,
    ) -> Option<(Millis, Volume)> {
        let returned = self.day.trucks[truck_id.at()].returned?;
        self.use_returned(truck_id, returned, observer)
    }

    /// Decides what becomes of it.
    fn use_returned<O: Observer>(
        &mut self,
        truck_id: TruckId,
        returned: Returned,
        observer: &mut O,
    ) -> Option<(Millis, Volume)> {
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.returned = None;
        let mix = |order: OrderId| self.plan.orders[order.at()].mix;
        let same_mix = mix(returned.order) == mix(truck.load().order);
        let age = self.day.now - returned.batched;
        let fate = self.plan.reuse.map_or(ReturnedFate::NoLoad, |reuse| {
            reuse.fate(same_mix, age, returned.volume, truck.load().volume)
        });
        self.settle_returned(truck_id, &returned, fate, observer);
        (fate == ReturnedFate::Reused).then_some((returned.batched, returned.volume))
    }

    /// No load comes after it: the drum is washed out, or the truck stays out for the night.
    pub(super) fn empty_returned<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        if let Some(returned) = self.day.trucks[truck_id.at()].returned.take() {
            self.settle_returned(truck_id, &returned, ReturnedFate::NoLoad, observer);
        }
    }

    fn settle_returned<O: Observer>(
        &mut self,
        truck: TruckId,
        returned: &Returned,
        fate: ReturnedFate,
        observer: &mut O,
    ) {
        let Returned { order, volume, .. } = *returned;
        self.tell(
            observer,
            Event::Returned {
                order,
                truck,
                volume,
                age: self.day.now - returned.batched,
                fate,
            },
        );
        if fate != ReturnedFate::Reused {
            self.dump_returned(truck, order, observer);
        }
    }
}
