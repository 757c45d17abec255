//! A loaded truck whose site is not ready goes on to another order that waits for a load of the same mix.
//!
//! A redirected load is told by its new order only: it has not come to the site that was not ready. What its road takes beyond
//! the usual is traffic in the account of lateness, bridges and incidents included.

use super::dispatcher::Wish;
use super::event::{Event, LoadPlan, Observer};
use super::state::{Cargo, Hold, PromisedLoad};
use super::world::World;
use crate::concrete::Coming;
use crate::dispatch::{Candidate, Redirect};
use crate::hours::DutyStatus;
use crate::roads::{Believed, Delays, Haul};
use crate::units::{Millis, OrderId, PlaceId, Purpose, SpotId, TruckId};

/// Another order for a load that stands before a site.
#[derive(Clone, Copy)]
struct Other {
    id: OrderId,
    wish: Wish,
    /// The way as the driver reckons with it.
    trip: Millis,
}

impl World<'_> {
    /// Redirects a load that has come to a site which is not ready, if the rule does so and an order waits for it. Whether it did.
    pub(super) fn redirect<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) -> bool {
        let Redirect::SameMix { wait_min } = self.day.policy.redirect else {
            return false;
        };
        let load = *self.day.trucks[truck_id.at()].load();
        let order = &self.day.orders[load.order.at()];
        let waits = self.known_opening(load.order) - self.day.now;
        if self.day.period_over
            || load.redirected
            || order.closed
            || self.plan.orders[load.order.at()].endless
            || waits < Millis::from_minutes(wait_min).max(Millis(1))
        {
            return false;
        }
        let others =
            (0..self.day.waiting.len()).filter_map(|at| self.other(truck_id, self.day.waiting[at]));
        let Some(other) = others.min_by_key(|other| (other.trip, other.id)) else {
            return false;
        };
        self.tell(
            observer,
            Event::Redirected {
                order: load.order,
                truck: truck_id,
                volume: load.volume,
            },
        );
        // The other order takes the load before anybody else is offered to it; then what was promised here asks again.
        self.leave_order(truck_id);
        self.take_over(truck_id, &load, &other, observer);
        self.asks_again(&load, load.attempt + 1, observer);
        true
    }

    /// A waiting order as one that could take the load, if it could.
    fn other(&self, truck_id: TruckId, id: OrderId) -> Option<Other> {
        let load = self.day.trucks[truck_id.at()].load();
        let (plan, mine) = (
            &self.plan.orders[id.at()],
            &self.plan.orders[load.order.at()],
        );
        if id == load.order || plan.endless || plan.mix != mine.mix {
            return None;
        }
        if plan.age.stabilized != mine.age.stabilized {
            return None; // it is other concrete
        }
        let wish = self.wish(id)?;
        if load.volume > wish.volume {
            return None; // nothing is left in the drum
        }
        let spot = &self.plan.spots[plan.spots.start as usize];
        let here = self.day.truck_views[truck_id.at()].place;
        let belief = self.day.policy.driver_belief;
        let trip = self.onward(belief, load, here, spot.place)?;
        let arrives = self.day.now + trip;
        let stay = spot.stay(self.day.policy).mean(load.volume);
        let away = self.roads().believed(
            belief,
            spot.place,
            spot.parking,
            Haul::Empty,
            arrives + stay,
        );
        let fits = self.known_opening(id) <= arrives
            && !self.day.policy.age_limit.as_ref().is_some_and(|limit| {
                limit.passed_by(&Coming {
                    batched: load.batched,
                    arrives,
                    stay,
                    retarder: plan.retarder,
                    order: plan.age,
                    warmer_f: self.known_warmer_f(),
                })
            })
            && self.driver_may(truck_id, [trip, stay, away]);
        fits.then_some(Other { id, wish, trip })
    }

    /// Whether the driver, by own judgement, may drive there, stay and drive on to lawful parking; by the ordinary window, as nobody
    /// has looked at the way home.
    pub(super) fn driver_may(&self, truck_id: TruckId, [out, stay, away]: [Millis; 3]) -> bool {
        let id = self.driver_of(truck_id);
        let plan = [
            (DutyStatus::Driving, out),
            (DutyStatus::OnDuty, stay),
            (DutyStatus::Driving, away),
        ];
        self.fits_if_released(id, Millis::NEVER, &plan)
    }

    /// The believed way from a site to another: the direct one, or by the load's plant where the roads know none.
    fn onward(
        &self,
        belief: Believed,
        load: &PromisedLoad,
        from: PlaceId,
        to: PlaceId,
    ) -> Option<Millis> {
        let roads = self.roads();
        let leg = |from, to, depart| roads.believed(belief, from, to, Haul::Loaded, depart);
        if roads.reaches(from, to, Haul::Loaded) {
            return Some(leg(from, to, self.day.now));
        }
        let plant = self.plan.plants[load.plant.at()].place;
        if !roads.reaches(from, plant, Haul::Loaded) || !roads.reaches(plant, to, Haul::Loaded) {
            return None;
        }
        let there = leg(from, plant, self.day.now);
        Some(there + leg(plant, to, self.day.now + there))
    }

    /// The load becomes the other order's next one, and drives on.
    fn take_over<O: Observer>(
        &mut self,
        truck_id: TruckId,
        from: &PromisedLoad,
        other: &Other,
        observer: &mut O,
    ) {
        let id = other.id;
        let plan = &self.plan.orders[id.at()];
        let wish = other.wish;
        let order = &self.day.orders[id.at()];
        let (number, attempt, ready) = match order.again.first() {
            Some(again) => (again.number, again.attempt, Some(again.ready)),
            None => (order.next_number, 0, None),
        };
        let ready = ready.unwrap_or_else(|| self.ready(id, wish.before));
        let load = PromisedLoad {
            order: id,
            spot: SpotId(plan.spots.start),
            number,
            attempt,
            before: wish.before,
            due: wish.due,
            ready,
            send: self.day.now,
            redirected: true,
            luck: self
                .day
                .luck
                .block(Purpose::Load, plan.entity, number, attempt),
            ..*from
        };
        let to = self.plan.spots[load.spot.at()].place;
        let here = self.day.truck_views[truck_id.at()].place;
        self.day.trucks[truck_id.at()].cargo = Cargo::Load(Hold::Rid, load);
        let trip = self.drive_onward(truck_id, &load, here, to);
        self.begin_drive(truck_id);
        self.look_at_radius(truck_id, to);
        self.reckon_way_home(truck_id, trip, |_| other.trip);
        let arrives = self.day.now + trip;
        let believed = self.onward(self.day.policy.belief, &load, here, to);
        let usual = self.onward(self.day.policy.usual, &load, here, to);
        let believed = believed.unwrap_or(other.trip);
        let usual = usual.unwrap_or(other.trip);
        let spot = &self.plan.spots[load.spot.at()];
        let stay = spot.stay(self.day.policy).mean(load.volume);
        let home = self.home_place(truck_id);
        let leaves_site = self.day.now + usual + stay;
        let plan = LoadPlan {
            ready,
            known: self.known_from(id, load.due),
            nearest_first: false,
            // Due to be sent from here; what has passed since goes to what kept the order waiting.
            send: self.day.now.min(ready - believed),
            opens: Millis::ZERO,
            bay_wait: Millis::ZERO,
            loading: Millis::ZERO,
            rack: Millis::ZERO,
            believed,
            believed_delays: Delays::default(),
            usual,
            usual_delays: Delays::default(),
            site_opens: self.planned_opening(id),
            stay,
            place: stay - spot.wash(load.volume),
            back: self.usual_on_the_move((to, home, Haul::Empty), leaves_site),
        };
        let choice = Candidate {
            truck: truck_id,
            plant: load.plant,
            place: self.plan.plants[load.plant.at()].place,
            lent: self.plan.trucks[truck_id.at()].home != load.plant,
            volume: load.volume,
            send: self.day.now,
            at_bay: self.day.now,
            bay_wait: Millis::ZERO,
            loading: load.batched,
            leaving: self.day.now,
            arrival: self.day.now + other.trip,
            overridden: load.overridden,
        };
        self.day.trucks[truck_id.at()].since = self.day.now;
        self.day.truck_views[truck_id.at()].place = to;
        self.plan_site_arrival(truck_id, arrives);
        self.promise(&choice, load, Some(plan), observer);
        self.tell_departed_out(truck_id, (trip, Delays::default()), observer);
    }

    /// How long the way takes, by the luck of this load's redirection.
    fn drive_onward(
        &mut self,
        truck_id: TruckId,
        load: &PromisedLoad,
        from: PlaceId,
        to: PlaceId,
    ) -> Millis {
        let entity = self.plan.orders[load.order.at()].entity;
        let luck = self
            .day
            .luck
            .block(Purpose::Redirect, entity, load.number, load.attempt);
        if self.roads().reaches(from, to, Haul::Loaded) {
            return self.begin_leg(truck_id, from, to, Haul::Loaded, luck.uniform(0));
        }
        let plant = self.plan.plants[load.plant.at()].place;
        let there = self.begin_leg(truck_id, from, plant, Haul::Loaded, luck.uniform(0));
        let first = self.day.legs.get(truck_id.at()).copied();
        let broke = first.filter(|first| first.broken > Millis::ZERO);
        if let (Some(leg), Some(_)) = (self.day.legs.get_mut(truck_id.at()), broke) {
            leg.breaks_at = Millis::NEVER; // at most one breakdown in a drive
        }
        // The second half meets the roads of its own hour; nothing else happens in between.
        let now = self.day.now;
        self.day.now = now + there;
        let on = self.begin_leg(truck_id, plant, to, Haul::Loaded, luck.uniform(1));
        self.day.now = now;
        if let (Some(first), Some(leg)) = (first, self.day.legs.get_mut(truck_id.at())) {
            if broke.is_some() {
                leg.breaks_at = first.breaks_at;
            }
            leg.miles += first.miles;
            leg.broken += first.broken;
            leg.held += first.held;
        }
        there + on
    }
}
