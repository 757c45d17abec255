//! A waiting load is tried with the trucks on offer, and a truck is promised to it.

use super::super::event::{Event, LoadPlan, Observer};
use super::super::force::Offer;
use super::super::state::{Again, Cargo, Hold, Phase, PromisedLoad, Which};
use super::super::world::{World, lane};
use crate::dispatch::{
    ByHome, Candidate, Lead, Leads, Override, Plants, Rank, Refusal, Refusals, at_rack, choose,
    lead,
};
use crate::roads::Haul;
use crate::units::{Millis, OrderId, PlantId, Purpose, SpotId, TruckId, Volume};
use std::cell::Cell;

/// Tells the observer who is refused for a load.
struct Told<'a, 'p, O> {
    world: &'a World<'p>,
    observer: &'a mut O,
    which: Which,
    last: Option<Refusal>,
}

impl<O: Observer> Refusals for Told<'_, '_, O> {
    const EACH: bool = O::EACH_REFUSAL;

    fn each(&mut self, truck: TruckId, plant: PlantId, reason: Refusal) {
        self.last = Some(reason);
        let Which { order, number } = self.which;
        let refused = Event::Refused {
            order,
            number,
            truck,
            plant,
            reason,
        };
        self.world.tell(self.observer, refused);
    }

    fn together(&mut self, trucks: usize, reason: Refusal) {
        if trucks > 0 {
            self.last = Some(reason);
            let refused = Event::RefusedTogether {
                order: self.which.order,
                trucks: trucks as u32,
                reason,
            };
            self.world.tell(self.observer, refused);
        }
    }
}

impl World<'_> {
    /// Tries to promise a truck to the waiting load of an order.
    pub(super) fn try_promise<O: Observer>(
        &mut self,
        id: OrderId,
        offer: Option<TruckId>,
        observer: &mut O,
    ) -> bool {
        let Some(wish) = self.wish(id) else {
            return false;
        };
        for position in 0..self.plan.orders[id.at()].makers.len() {
            self.look_at_plant(self.plan.orders[id.at()].makers[position]);
        }
        let order = &self.day.orders[id.at()];
        let plan = &self.plan.orders[id.at()];
        let (number, attempt) = match order.again.first() {
            Some(again) => (again.number, again.attempt),
            None => (order.next_number, 0),
        };
        let luck = self
            .day
            .luck
            .block(Purpose::Load, plan.entity, number, attempt);
        let spot = if plan.spots.len() == 1 {
            SpotId(plan.spots.start)
        } else if plan.drawn {
            let u = luck.uniform(lane::DESTINATION);
            let spots = plan.spots.clone();
            let last = spots.end - 1;
            SpotId(
                spots
                    .into_iter()
                    .find(|spot| u < self.plan.spots[*spot as usize].cumulative_share)
                    .unwrap_or(last),
            )
        } else {
            SpotId(plan.spots.start + order.turn % plan.spots.len() as u32)
        };
        let which = Which { order: id, number };
        let mut known = self.known_leads(id, spot, &wish);
        let mut of_makers = known.cells();
        let forced = self.offer_by_force(which, offer);
        let mut candidates = std::mem::take(&mut self.scratch.candidates);
        let mut ask = self.ask_of(id, spot, &wish);
        ask.load = Some((id, number));
        if let Override::Share { share } = self.day.policy.override_gates {
            let drawn = self
                .day
                .luck
                .block(Purpose::Override, plan.entity, number, attempt);
            ask.overrides = drawn.uniform(0) < share;
        }
        let (ungated, of_forced);
        let mut policy = self.day.policy;
        let mut offered = offer
            .as_ref()
            .map_or(&self.day.offered[..], std::slice::from_ref);
        match &forced {
            Offer::AsUsual => {}
            Offer::Only(trucks) => offered = trucks,
            Offer::Forced(truck, plant) => {
                offered = std::slice::from_ref(truck);
                ask.makers = std::slice::from_ref(plant);
                let seen = &self.day.plant_views[plant.at()];
                let lead = lead(policy, &self.roads(), seen, &ask);
                of_forced = [Cell::new(Lead::Is(lead))];
                of_makers = &of_forced;
                ungated = self.policy_without_gates();
                policy = &ungated;
            }
        }
        let mut view = self.view(offered);
        if offer.is_none() && matches!(forced, Offer::AsUsual) {
            view.by_home = Some(ByHome {
                offered: &self.day.offered_at,
                elsewhere: &self.day.elsewhere,
            });
        }
        let mut refused = Told {
            world: self,
            observer,
            which,
            last: None,
        };
        let leads = Leads {
            policy,
            ..self.leads(&ask, of_makers)
        };
        let mut look_again = Millis::NEVER;
        let choice = choose(
            &view,
            &leads,
            &mut candidates,
            &mut refused,
            &mut look_again,
        );
        let last_refusal = refused.last;
        self.scratch.candidates = candidates;
        self.scratch.leads = known;
        let Some(choice) = choice else {
            if let Offer::Forced(truck, _) = forced {
                if !self.keeps_load(last_refusal) {
                    return self.try_promise(id, offer, observer);
                }
                if last_refusal == Some(Refusal::BreakDue) && self.pauses(truck) {
                    // Loading may begin before the break is whole, where work at the plant counts as one.
                    self.look_again(id, self.day.now + Millis::MINUTE);
                }
                return false;
            }
            self.look_again(id, look_again);
            return false;
        };
        let ready = match self.day.orders[id.at()].again.first() {
            Some(again) => again.ready,
            None => self.ready(id, wish.before),
        };
        let load = PromisedLoad {
            order: id,
            spot,
            plant: choice.plant,
            number,
            attempt,
            volume: choice.volume,
            before: wish.before,
            due: wish.due,
            ready,
            send: choice
                .send
                .max(self.day.plant_views[choice.plant.at()].opens),
            outlet: 0,
            batched: Millis::ZERO,
            reused: Volume::ZERO,
            dry_up: false,
            wet: false,
            spare: Volume::ZERO,
            given_up: false,
            lateness: None,
            overridden: choice.overridden,
            redirected: false,
            luck,
        };
        self.promise(&choice, load, None, observer);
        true
    }

    /// Promises a truck to a load. `planned`: what is planned, where it does not follow from the choice.
    #[inline]
    pub(in crate::plant) fn promise<O: Observer>(
        &mut self,
        choice: &Candidate,
        load: PromisedLoad,
        planned: Option<LoadPlan>,
        observer: &mut O,
    ) {
        let id = load.order;
        self.load_promised(Which {
            order: id,
            number: load.number,
        });
        // Only a bay queue by rule looks at ranks.
        let rank = if self.plan.plants[load.plant.at()].by_rule {
            self.rank_of(id)
        } else {
            Rank::default()
        };
        let order = &mut self.day.orders[id.at()];
        if order.again.is_empty() {
            order.arrived.pop_front();
            order.promised += load.volume;
            order.next_number += 1;
            order.turn += 1;
        } else {
            let again = order.again.remove(0);
            if load.volume < again.volume {
                // The rest of it is asked for as a load of its own.
                let number = order.next_number;
                order.next_number += 1;
                let rest = Again {
                    number,
                    attempt: 0,
                    volume: again.volume - load.volume,
                    before: again.before + load.volume,
                    ..again
                };
                order.again.insert(0, rest);
            }
        }
        order.ahead += 1;
        let truck_id = choice.truck;
        self.withdraw(truck_id);
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.cargo = Cargo::Load(Hold::Promised, load);
        truck.rank = rank;
        let idle = truck.phase == Phase::Idle;
        self.tell(
            observer,
            Event::Promised {
                order: id,
                number: load.number,
                truck: truck_id,
                plant: load.plant,
                lent: choice.lent,
                volume: load.volume,
                due: load.due,
                plan: if O::PLANS {
                    planned.unwrap_or_else(|| self.load_plan(choice, &load))
                } else {
                    LoadPlan::default()
                },
            },
        );
        self.following_load(id, observer);
        if idle {
            self.go_to_bay(truck_id, observer);
        }
    }

    /// From when the desk knows of a load of an order, due then: since the order was called in, or more was.
    pub(in crate::plant) fn known_from(&self, id: OrderId, due: Millis) -> Millis {
        let plan = &self.plan.orders[id.at()];
        if plan.arrivals.is_some() {
            return due;
        }
        plan.called
    }

    /// From when a site is to be set up, as its order says.
    pub(in crate::plant) fn planned_opening(&self, id: OrderId) -> Millis {
        self.plan.orders[id.at()].opens + self.day.orders[id.at()].moved
    }

    /// What is planned for a load that has just been promised.
    fn load_plan(&self, choice: &Candidate, load: &PromisedLoad) -> LoadPlan {
        let (policy, view) = (self.day.policy, &self.day.plant_views[load.plant.at()]);
        let spot = &self.plan.spots[load.spot.at()];
        let loading = view.loading.mean(load.volume);
        let rack = at_rack(policy, view, load.volume);
        let leaves = choice.send + policy.bay_wait + loading + rack;
        let trip = |belief| {
            let (from, to) = (view.place, spot.place);
            self.roads()
                .believed_with_delays(belief, from, to, Haul::Loaded, leaves)
        };
        let (believed, believed_delays) = trip(policy.belief);
        let (usual, usual_delays) = if policy.usual == policy.belief {
            (believed, believed_delays)
        } else {
            trip(policy.usual)
        };
        let stay = spot.stay(policy).mean(load.volume);
        let home = self.home_place(choice.truck);
        let leaves_site = leaves + usual + stay;
        LoadPlan {
            ready: load.ready,
            known: self.known_from(load.order, load.due),
            nearest_first: policy.plants != Plants::Any,
            send: choice.send,
            opens: view.opens,
            bay_wait: policy.bay_wait,
            loading,
            rack,
            believed,
            believed_delays,
            usual,
            usual_delays,
            site_opens: self.planned_opening(load.order),
            stay,
            place: stay - spot.wash(load.volume),
            back: self.usual_on_the_move((spot.place, home, Haul::Empty), leaves_site),
        }
    }
}
