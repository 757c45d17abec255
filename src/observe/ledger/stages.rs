//! The stages of a truck's day: what each adds to the account of its load, and to what the truck itself is behind its plan.

use super::super::cause::LateCause;
use super::Ledger;
use super::slot::{Visit, serve};
use super::trip::Road;
use crate::plant::Errand;
use crate::roads::Delays;
use crate::units::{Millis, SpotId, TruckId};

impl Ledger<'_> {
    pub(super) fn reported(&mut self, at: Millis, truck: TruckId) {
        let late = std::mem::take(&mut self.reports_late);
        let slot = &mut self.trucks[truck.at()];
        if slot.busy {
            return; // handed over on the road: what held it up goes on
        }
        slot.begin(at - late + self.plan.pre_trip_mean);
        slot.held.add(LateCause::NoHours, late);
        slot.busy = true;
    }

    pub(super) fn released(&mut self, truck: TruckId) {
        self.trucks[truck.at()].busy = false;
    }

    /// A promise is broken: in the plan the truck is free as if it had not been made.
    pub(super) fn broken(&mut self, at: Millis, truck: TruckId, cause: LateCause) {
        let (trip, slot) = (&mut self.trips[truck.at()], &mut self.trucks[truck.at()]);
        match trip.pending.take() {
            Some(free) => slot.free = free,
            None => {
                // It has been in the queue for a bay: what that took is lost.
                let joined = trip.joined.0;
                slot.stage = None;
                if trip.anew.is_none() {
                    slot.free -= trip.planned();
                    slot.held.add(cause, at - joined);
                } else {
                    let takes = trip.planned();
                    slot.held.add(cause, at - joined - takes);
                }
            }
        }
        trip.waited.clear();
        let anew = trip.anew;
        self.lost(at, truck, anew.unwrap_or(cause), anew.is_some());
    }

    /// The truck joins the bay queue.
    pub(super) fn joined(&mut self, at: Millis, truck: TruckId) {
        let (trip, slot) = (&mut self.trips[truck.at()], &mut self.trucks[truck.at()]);
        trip.joined = (at, self.plants[trip.plant.at()].stood(at));
        if trip.drying {
            return; // all of it goes to the rack
        }
        trip.settle(at, slot, &mut self.room);
        trip.stage = Some((LateCause::BayQueue, trip.plan.bay_wait));
        slot.stage = Some((at + trip.plan.bay_wait, LateCause::BayQueue));
    }

    /// The truck pulls into a bay: beyond its allowance it has waited for a plant that stood still, for what held up the trucks
    /// before it, and for the queue.
    pub(super) fn bay_entered(&mut self, at: Millis, truck: TruckId, waited: Millis) {
        let (trip, slot) = (&mut self.trips[truck.at()], &mut self.trucks[truck.at()]);
        let plant = &mut self.plants[trip.plant.at()];
        if trip.drying {
            let idle = (0..plant.bays.len()).filter(|bay| !plant.bays[*bay].busy);
            trip.bay = idle.min_by_key(|bay| plant.bays[*bay].free).unwrap_or(0);
            let bay = &mut plant.bays[trip.bay];
            (bay.busy, bay.stage) = (true, Some((at, LateCause::Rack)));
            return;
        }
        let visit = Visit {
            came: at - waited,
            at,
            opens: Millis::ZERO,
            stood: (LateCause::PlantClosed, plant.stood(at) - trip.joined.1),
            own: LateCause::BayQueue,
            takes: trip.plan.loading,
        };
        slot.stage = None;
        let account = &mut trip.account;
        let mut told = Millis::ZERO;
        let served = serve(
            &mut plant.bays,
            &mut self.room,
            &mut slot.held,
            &visit,
            |cause, time| {
                account.add(cause, time);
                told += time;
            },
        );
        trip.bay = served.slot;
        let allowed = trip.plan.bay_wait;
        slot.held
            .add(LateCause::BayQueue, served.planned_wait - allowed);
        slot.stage = Some((at + trip.plan.loading, LateCause::Loading));
        trip.stage = Some((LateCause::BayQueue, allowed + told));
        trip.milestone(at, Some((LateCause::Loading, trip.plan.loading)));
    }

    pub(super) fn bay_left(&mut self, at: Millis, truck: TruckId) {
        let (trip, slot) = (&mut self.trips[truck.at()], &mut self.trucks[truck.at()]);
        let bay = &mut self.plants[trip.plant.at()].bays[trip.bay];
        bay.busy = false;
        if trip.drying {
            // In the plan nothing is dried up.
            let behind = at - bay.free;
            bay.stage = None;
            bay.held.add(LateCause::Rack, behind - bay.held.level());
            return;
        }
        if let Some((over, _)) = bay.stage.take() {
            bay.held.add(LateCause::Loading, at - over);
        }
        slot.pass(at, Some((at + trip.plan.rack, LateCause::Rack)));
        trip.milestone(at, Some((LateCause::Rack, trip.plan.rack)));
    }

    /// The truck leaves the rack: at once, or after its driver's break.
    pub(super) fn rack_left(&mut self, at: Millis, truck: TruckId) {
        let trip = &mut self.trips[truck.at()];
        trip.drying = false;
        self.trucks[truck.at()].pass(at, Some((at, LateCause::NoHours)));
        trip.milestone(at, Some((LateCause::NoHours, Millis::ZERO)));
    }

    pub(super) fn dries_up(&mut self, at: Millis, truck: TruckId) {
        // Told at the moment of leaving the rack: no drive has begun.
        let trip = &mut self.trips[truck.at()];
        trip.drying = true;
        trip.stage = Some((LateCause::Rack, Millis::ZERO));
        self.trucks[truck.at()].stage = Some((at, LateCause::Rack));
    }

    /// A drive begins, of which it is known how it will differ from its plan.
    pub(super) fn departed(
        &mut self,
        at: Millis,
        truck: TruckId,
        (errand, usual): (Errand, Millis),
        road: Road,
    ) {
        let (trip, slot) = (&mut self.trips[truck.at()], &mut self.trucks[truck.at()]);
        let (plan, none) = (&trip.plan, Delays::default());
        slot.pass(at, None);
        let beyond = match errand {
            Errand::Out => road.beyond(plan.usual, plan.usual_delays, none),
            Errand::Home => road.beyond(plan.back, none, none),
            Errand::OtherPlant => {
                slot.free += usual - plan.back;
                road.beyond(usual, none, none)
            }
            Errand::ToLoad => {
                // Nobody is late for a drive that belongs to the choice.
                slot.free += usual;
                trip.pending = trip.pending.map(|free| free + usual);
                road.beyond(usual, none, none)
            }
        };
        for (cause, excess) in beyond {
            slot.held.add(cause, excess);
        }
        if errand == Errand::Out {
            let usual = plan.usual;
            trip.milestone(at, Some((LateCause::Traffic, usual)));
            trip.road = road;
        }
    }

    /// The load of a truck is lost, or goes to another order.
    pub(super) fn turned_away(&mut self, at: Millis, truck: TruckId, cause: LateCause) {
        self.lost(at, truck, cause, true);
        self.trips[truck.at()].lost_for = cause;
        let slot = &mut self.trucks[truck.at()];
        match slot.stage {
            // Still at its plant: there it is free again, before its plan.
            Some((_, LateCause::NoHours | LateCause::Rack)) => {
                slot.stage = None;
                let behind = at - slot.free;
                slot.held.add(cause, behind - slot.held.level());
            }
            Some((over, _)) => slot.stage = Some((over, cause)),
            None => {}
        }
    }

    /// The load of a truck that has broken down is given up on the way. What is known of its drive has been added when it began: from
    /// where that leads to, it turns round later or sooner than from its site.
    pub(super) fn given_up(&mut self, at: Millis, truck: TruckId) {
        let over = self.trips[truck.at()].leaves_site();
        self.trucks[truck.at()].stage = Some((over, LateCause::Breakdown));
        self.turned_away(at, truck, LateCause::Breakdown);
    }

    pub(super) fn came(&mut self, at: Millis, truck: TruckId) {
        let trip = &mut self.trips[truck.at()];
        trip.came(at);
        // Who comes early may have to wait until the load is due.
        let over = at.max(trip.due) + trip.plan.stay;
        self.trucks[truck.at()].stage = Some((over, LateCause::Site));
    }

    /// The truck takes a place on site: it has waited for a site that was not ready or on hold, for what held up the trucks before it,
    /// for its own earliness, or for a site that is slower than it has ordered.
    pub(super) fn takes_place(
        &mut self,
        at: Millis,
        (truck, spot): (TruckId, SpotId),
        waited: Millis,
        (opened, hold): (Millis, (Millis, Millis)),
    ) {
        let (trip, slot) = (&mut self.trips[truck.at()], &mut self.trucks[truck.at()]);
        let (plan, came) = (&trip.plan, at - waited);
        let within =
            |from: Millis, until: Millis| (until.min(at) - from.max(came)).max(Millis::ZERO);
        let not_ready = within(plan.site_opens, opened);
        let visit = Visit {
            came,
            at,
            opens: plan.site_opens,
            stood: (LateCause::Site, not_ready + within(hold.0, hold.1)),
            own: LateCause::Site,
            takes: plan.place,
        };
        let planned = came - slot.held.level();
        let places = &mut self.places[spot.at()];
        let held = &mut slot.held;
        let served = serve(places, &mut self.room, held, &visit, |_, _| {});
        trip.place = served.slot;
        // By the plan it waits until the load is due; beyond that the site is slow.
        let early = (trip.due - planned).clamp(Millis::ZERO, served.planned_wait);
        slot.free += early;
        slot.held.add(LateCause::Site, served.planned_wait - early);
        slot.stage = Some((at + plan.stay, LateCause::Site));
    }

    /// The place is free.
    pub(super) fn leaves_place(&mut self, at: Millis, truck: TruckId, spot: SpotId) {
        let place = &mut self.places[spot.at()][self.trips[truck.at()].place];
        place.busy = false;
        place.pass(at, None);
    }
}
