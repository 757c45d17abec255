//! Why a driver is stranded, and what becomes of a full drum.
//!
//! A gate was overridden or the driver overruled for the load; else the way home did not fit when it left (late, lent, or short
//! of hours since the morning); else it fitted and the trip, or the site, took longer than believed: whichever of the two took
//! more beyond it. The event tells the cause; figures, losses and reports count that one.
//!
//! A full drum out of hours at the rack goes with another free driver (`relief: true`) or is lost; beside the road it comes
//! home with a helper, is kept by a stabilizer until the driver is rested, or sets, which costs the cleaning time.

use super::event::{Event, FullDrum, Observer, StrandCause};
use super::world::World;
use crate::hours::DutyStatus;
use crate::roads::Haul;
use crate::units::{Millis, TruckId};

impl World<'_> {
    /// A load leaves for its site: whether the way home is believed to fit after it, and how far the trip will be from `out`,
    /// which the driver reckons with. Kept for the day's account only; nobody decides by it.
    #[inline]
    pub(super) fn reckon_way_home(
        &mut self,
        truck_id: TruckId,
        trip: Millis,
        out: impl FnOnce(&Self) -> Millis,
    ) {
        if !self.is_clocked() {
            return;
        }
        let id = self.driver_of(truck_id);
        if self.book(id).is_none() {
            return;
        }
        let load = self.day.trucks[truck_id.at()].load();
        let spot = &self.plan.spots[load.spot.at()];
        let (roads, believed) = (self.roads(), self.day.policy.driver_belief);
        let out = out(self);
        let stay = spot.stay(self.day.policy).mean(load.volume);
        let done = self.day.now + out + stay;
        let home = self.home_place(truck_id);
        let back = roads.believed(believed, spot.place, home, Haul::Empty, done);
        let plan = [
            (DutyStatus::Driving, out),
            (DutyStatus::OnDuty, stay),
            (DutyStatus::Driving, back),
        ];
        let released = done + back + self.plan.home_work;
        let fitted = self.fits_if_released(id, released, &plan);
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.home_fitted = fitted;
        truck.out_excess = trip - out;
    }

    /// The truck is to leave its site: how long it has been there beyond the mean. For the day's account, as above.
    #[inline]
    pub(super) fn reckon_stay(&mut self, truck_id: TruckId) {
        if !self.is_clocked() {
            return; // nobody is stranded
        }
        let truck = &self.day.trucks[truck_id.at()];
        let load = truck.load();
        let spot = &self.plan.spots[load.spot.at()];
        let stay = spot.stay(self.day.policy).mean(load.volume);
        self.day.trucks[truck_id.at()].stay_excess = self.day.now - truck.arrived - stay;
    }

    /// Why a driver is stranded.
    pub(super) fn why_stranded(&self, truck_id: TruckId) -> StrandCause {
        let truck = &self.day.trucks[truck_id.at()];
        let place = self.day.truck_views[truck_id.at()].place;
        let Some(load) = truck.last_load() else {
            return StrandCause::FarLend; // away from home without a load so far: at another plant
        };
        let lent = load.plant != self.plan.trucks[truck_id.at()].home;
        let spot = self.plan.spots[load.spot.at()].parking;
        // Not at the end of a load: an empty truck at another plant.
        let at_plant = place.at() < self.plan.plants.len() && place != spot;
        if load.overridden {
            StrandCause::Overridden
        } else if at_plant || lent && !truck.home_fitted {
            StrandCause::FarLend
        } else if !truck.home_fitted && self.day.drivers[self.driver_of(truck_id).at()].short {
            StrandCause::ClockShort
        } else if !truck.home_fitted {
            StrandCause::LoadedTooLate
        } else if truck.out_excess > truck.stay_excess.max(Millis::ZERO) {
            StrandCause::Traffic
        } else {
            StrandCause::SiteLong
        }
    }

    /// What becomes of the full drum of a stranded truck, if it is full: brought home by somebody else, kept by a stabiliser
    /// until the driver is rested, or set.
    pub(super) fn full_drum<O: Observer>(
        &mut self,
        truck_id: TruckId,
        brought_home: bool,
        observer: &mut O,
    ) {
        if !self.day.trucks[truck_id.at()].is_full() {
            return;
        }
        let id = self.driver_of(truck_id);
        let here = self.day.truck_views[truck_id.at()].place;
        let way = self.judged(truck_id, here, self.home_place(truck_id));
        let how = if brought_home {
            FullDrum::Relief
        } else if self.rested_for(id, way) + way - self.day.now <= self.plan.company.stabiliser {
            FullDrum::Stabilised
        } else {
            FullDrum::Lost
        };
        self.day.trucks[truck_id.at()].load_set = how == FullDrum::Lost;
        let truck = truck_id;
        self.tell(observer, Event::OutOfHoursFull { truck, how });
    }
}
