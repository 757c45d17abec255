//! A site: trucks wait for a place, take it, discharge at the outlet's rate, wash the chute and leave.

use super::changes::paced;
use super::command::Command;
use super::drum::OnSite;
use super::event::{Event, Lateness, Observer, Reject};
use super::state::{OutletNow, Phase, PromisedLoad};
use super::world::{World, lane};
use crate::dispatch::Redirect;
use crate::hours::DutyStatus;
use crate::units::{Millis, OrderId, Purpose, SpotId, TruckId};
use std::ops::Range;

/// The outlet among these that has a free place and the fewest trucks; among equals the first.
#[inline]
fn free_outlet(outlets: &[OutletNow], of_site: Range<usize>) -> Option<usize> {
    let first = of_site.start;
    match &outlets[of_site] {
        [only] => (only.occupied < only.places).then_some(first), // most sites
        several => (first..)
            .zip(several)
            .filter(|(_, outlet)| outlet.occupied < outlet.places)
            .min_by_key(|(_, outlet)| outlet.occupied)
            .map(|(position, _)| position),
    }
}

impl World<'_> {
    /// A loaded truck comes on site.
    pub(super) fn arrive_site<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        if self.never_arrives(truck_id, self.day.now) {
            return;
        }
        self.end_drive(truck_id, true, observer);
        if self.day.policy.redirect != Redirect::Wait && self.redirect(truck_id, observer) {
            return;
        }
        let load = *self.day.trucks[truck_id.at()].load();
        let plan = &self.plan.spots[load.spot.at()];
        let spot = &mut self.day.spots[load.spot.at()];
        let outside = spot.queue.len() >= plan.room as usize && !self.has_place(load.spot);
        let order = &self.plan.orders[load.order.at()];
        let lateness = (!load.given_up && !order.endless).then_some(Lateness {
            after_ready: self.day.now - load.ready,
            tolerated: order.late,
        });
        self.tell(
            observer,
            Event::SiteReached {
                order: load.order,
                spot: load.spot,
                number: load.number,
                truck: truck_id,
                due: load.due,
                ready: load.ready,
                lateness,
                outside,
            },
        );
        self.call_balance(load.order, load.volume, observer);
        self.drum_on_site(truck_id, observer);
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.load_mut().lateness = lateness;
        truck.arrived = self.day.now;
        truck.phase = Phase::SiteQueue;
        truck.since = self.day.now;
        self.day.spots[load.spot.at()].queue.push_back(truck_id);
        self.truck_duty(truck_id, DutyStatus::Waiting, observer);
        self.foresee(truck_id, observer);
        self.serve_places(load.spot, observer);
    }

    #[inline]
    fn has_place(&self, spot: SpotId) -> bool {
        let open = self.day.now >= self.day.orders[self.plan.spots[spot.at()].order.at()].opens;
        let first = self.day.spots[spot.at()].first_outlet as usize;
        let outlets = self.plan.spots[spot.at()].outlet_places.len();
        open && free_outlet(&self.day.outlets, first..first + outlets).is_some()
    }

    /// The site is set up for its first load, goes on, or is to and cannot.
    pub(super) fn site_ready<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        self.hear_site(id, observer);
        for spot in self.plan.orders[id.at()].spots.clone() {
            self.serve_places(SpotId(spot), observer);
        }
    }

    /// Lets waiting trucks, in order of arrival, take free places.
    fn serve_places<O: Observer>(&mut self, spot: SpotId, observer: &mut O) {
        let (plan, now) = (&self.plan.spots[spot.at()], self.day.now);
        let first = match &self.day.spots[spot.at()] {
            site if site.queue.is_empty() => return,
            site => site.first_outlet as usize,
        };
        let order = &self.day.orders[plan.order.at()];
        if now < order.opens.max(order.held_until) {
            return;
        }
        let (opened, hold) = (order.opens, (order.held_from, order.held_until));
        let outlets = first..first + plan.outlet_places.len();
        while let Some(outlet) = free_outlet(&self.day.outlets, outlets.clone())
            && let Some(truck_id) = self.day.spots[spot.at()].queue.pop_front()
        {
            self.day.outlets[outlet].occupied += 1;
            let truck = &mut self.day.trucks[truck_id.at()];
            let waited = now - truck.since;
            truck.phase = Phase::AtOutlet;
            truck.begun = now;
            let load = truck.load_mut();
            load.outlet = outlet as u32;
            let position = plan
                .position
                .at(load.volume, load.luck.uniform(lane::POSITION));
            self.tell(
                observer,
                Event::PlaceTaken {
                    spot,
                    truck: truck_id,
                    waited,
                    opened,
                    hold,
                },
            );
            self.truck_duty(truck_id, DutyStatus::OnDuty, observer);
            if position.0 > 0 {
                self.schedule(now + position, Command::Positioned(truck_id));
            } else {
                self.positioned(truck_id, observer);
            }
        }
    }

    /// A truck stands at its outlet: it discharges when the flow is free.
    #[inline]
    pub(super) fn positioned<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let outlet = &mut self.day.outlets[self.day.trucks[truck_id.at()].load().outlet as usize];
        if outlet.flowing {
            outlet.positioned.push_back(truck_id);
        } else {
            self.begin_discharge(truck_id, observer);
        }
    }

    /// Why the site does not take a load: it is seen to be too wet, or its discharge would end beyond the age limit.
    #[inline]
    fn refuses(&self, truck_id: TruckId) -> Option<Reject> {
        let load = self.day.trucks[truck_id.at()].load();
        if load.wet {
            return Some(Reject::TooWet);
        }
        let limit = self.plan.age_limit(load.order);
        if limit == Millis::NEVER {
            return None;
        }
        let discharge = self.plan.spots[load.spot.at()].discharge.mean(load.volume);
        let age = self.day.now + discharge - load.batched;
        (age > limit && !self.waives_age(load)).then_some(Reject::TooOld)
    }

    /// Whether the site takes this load though it is beyond its age limit, if it can be placed without added water: drawn for each
    /// attempt at a load, and known to nobody before.
    pub(super) fn waives_age(&self, load: &PromisedLoad) -> bool {
        let plan = &self.plan.orders[load.order.at()];
        let luck = self.day.luck;
        let block = luck.block(Purpose::AgeWaiver, plan.entity, load.number, load.attempt);
        block.uniform(0) < plan.age_waived
    }

    /// The site does not take the load: the truck makes room at once and drives back full.
    fn turn_away<O: Observer>(&mut self, truck_id: TruckId, why: Reject, observer: &mut O) {
        let load = *self.day.trucks[truck_id.at()].load();
        self.day.outlets[load.outlet as usize].occupied -= 1;
        self.reject(truck_id, why, Some(load.spot), observer);
        self.reckon_stay(truck_id);
        self.drive_back(truck_id, observer);
        self.go_on(load.outlet, load.spot, observer);
    }

    /// After a truck has left an outlet: the next one there discharges, and the next in line takes a place.
    fn go_on<O: Observer>(&mut self, outlet: u32, spot: SpotId, observer: &mut O) {
        let outlet = &mut self.day.outlets[outlet as usize];
        if !outlet.flowing
            && let Some(next) = outlet.positioned.pop_front()
        {
            self.begin_discharge(next, observer);
        }
        self.serve_places(spot, observer);
    }

    fn begin_discharge<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let verdict = match self.drum_plan() {
            Some(drums) => self.look_at_load(truck_id, drums, observer),
            None => self
                .refuses(truck_id)
                .map_or(OnSite::Taken, OnSite::Refused),
        };
        match verdict {
            OnSite::Taken => {}
            OnSite::Turning(until) => {
                // Nobody else discharges here meanwhile.
                let outlet = self.day.trucks[truck_id.at()].load().outlet;
                self.day.outlets[outlet as usize].flowing = true;
                self.schedule(until, Command::Turned(truck_id));
                return;
            }
            OnSite::Refused(why) => {
                self.turn_away(truck_id, why, observer);
                return;
            }
        }
        self.judge_need(truck_id);
        let now = self.day.now;
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.phase = Phase::Discharging;
        let came = std::mem::replace(&mut truck.since, now);
        let load = truck.load();
        self.day.outlets[load.outlet as usize].flowing = true;
        let order = &mut self.day.orders[load.order.at()];
        order.begun = true;
        let outlet = load.outlet - self.day.spots[load.spot.at()].first_outlet;
        let rate = &self.plan.spots[load.spot.at()].rates[outlet as usize];
        let took = rate.at(load.volume - load.spare, load.luck.uniform(lane::DISCHARGE));
        let took = paced(took, order.pace);
        let (order, number, spot) = (load.order, load.number, load.spot);
        if let Some(lateness) = load.lateness {
            self.tell(
                observer,
                Event::Taken {
                    order,
                    number,
                    truck: truck_id,
                    came,
                    lateness,
                },
            );
        }
        self.tell(
            observer,
            Event::DischargeBegun {
                order,
                spot,
                truck: truck_id,
            },
        );
        self.schedule(now + took, Command::Discharged(truck_id));
    }

    /// Water or HRWR is mixed in: the load is looked at again.
    pub(super) fn turned<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let outlet = self.day.trucks[truck_id.at()].load().outlet;
        self.day.outlets[outlet as usize].flowing = false;
        self.begin_discharge(truck_id, observer);
    }

    /// The load is discharged: the place is free, and the chute is washed aside of it.
    pub(super) fn discharged<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let truck = &mut self.day.trucks[truck_id.at()];
        let load = *truck.load();
        let took = self.day.now - truck.since;
        truck.drop_load();
        truck.phase = Phase::ChuteWash;
        truck.since = self.day.now;
        let order = &mut self.day.orders[load.order.at()];
        order.ahead -= 1;
        order.placed += load.volume - load.spare;
        order.spared += load.spare;
        let complete = order.placed + order.spared >= order.volume;
        self.tell(
            observer,
            Event::DischargeEnded {
                order: load.order,
                spot: load.spot,
                truck: truck_id,
                took,
                volume: load.volume - load.spare,
                returned: load.spare,
                complete,
                age: self.day.now - load.batched,
            },
        );
        self.hold_pour(load.order, observer);
        self.keep_returned(truck_id);
        self.place_drum(truck_id, observer);
        let load = self.day.trucks[truck_id.at()].load();
        let (spot, outlet_id) = (load.spot, load.outlet);
        let wash = self.plan.spots[spot.at()]
            .chute_wash
            .at(load.volume, load.luck.uniform(lane::CHUTE_WASH));
        self.schedule(self.day.now + wash, Command::LeaveSite(truck_id));
        let outlet = &mut self.day.outlets[outlet_id as usize];
        outlet.flowing = false;
        outlet.occupied -= 1;
        self.go_on(outlet_id, spot, observer);
    }

    /// The chute is washed: the truck leaves the site.
    pub(super) fn leave_site<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let truck = &self.day.trucks[truck_id.at()];
        let (spot, washed) = (truck.load().spot, self.day.now - truck.since);
        self.tell(
            observer,
            Event::SiteLeft {
                spot,
                truck: truck_id,
                washed,
            },
        );
        self.reckon_stay(truck_id);
        self.drive_back(truck_id, observer);
    }
}
