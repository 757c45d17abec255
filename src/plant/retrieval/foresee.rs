//! A stranding seen coming: somebody sets out already, or in vain.

use super::super::event::{Event, Observer};
use super::super::state::Fetcher;
use super::super::world::World;
use crate::hours::DutyStatus;
use crate::roads::Haul;
use crate::units::TruckId;

impl<'p> World<'p> {
    /// The truck is on site. If the way home is seen not to fit, somebody sets out already, where the rule foresees.
    pub(in crate::plant) fn foresee<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let foreseen = self
            .day
            .policy
            .retrieval
            .fetch()
            .is_some_and(|f| f.foreseen);
        if !foreseen
            || self.day.trucks[truck_id.at()].fetch.is_some()
            || self.way_home_fits(truck_id)
        {
            return;
        }
        if self.after_rush().is_none() {
            let spot = self.day.trucks[truck_id.at()].load().spot;
            self.set_off(truck_id, self.plan.spots[spot.at()].parking, observer);
        }
    }

    /// Whether the way home is believed to fit after the stay on site that begins now.
    fn way_home_fits(&self, truck_id: TruckId) -> bool {
        let load = self.day.trucks[truck_id.at()].load();
        let spot = &self.plan.spots[load.spot.at()];
        let stay = spot.stay(self.day.policy).mean(load.volume);
        let home = self.home_place(truck_id);
        let believed = self.day.policy.driver_belief;
        let done = self.day.now + stay;
        let roads = self.roads();
        let back = roads.believed(believed, spot.place, home, Haul::Empty, done);
        let plan = [(DutyStatus::OnDuty, stay), (DutyStatus::Driving, back)];
        self.fits(self.driver_of(truck_id), &plan)
    }

    /// The driver could drive home after all: whoever had set out turns round.
    pub(in crate::plant) fn helper_in_vain<O: Observer>(
        &mut self,
        truck_id: TruckId,
        observer: &mut O,
    ) {
        let Some(fetch) = self.day.trucks[truck_id.at()].fetch.take() else {
            return;
        };
        // As long back as out, from where the message finds the car.
        let takes = ((self.day.now.min(fetch.there) - fetch.sent) + (self.day.now - fetch.sent))
            .min(self.day.now - fetch.sent + (fetch.there - fetch.sent));
        let truck = truck_id;
        if let Fetcher::Helper(_) = fetch.who {
            self.tell(observer, Event::HelperInVain { truck, takes });
        }
        self.let_go(&fetch, fetch.sent + takes, observer);
    }
}
