//! The dispatcher's desk: loads ask, trucks are offered, promises are made and broken. What is decided comes from
//! `dispatch`; here it is carried out.

use super::command::Command;
use super::event::{Event, LoadPlan, Observer};
use super::force::{Offer, Which};
use super::state::{Again, Load, NOT_OFFERED, Phase};
use super::world::{LOAD, OVERRIDE, World, lane};
use crate::dispatch::{
    Ask, Candidate, LoadSize, Override, Pace, Plants, Rank, Refusal, View, at_rack, choose, lead,
    rank, target,
};
use crate::roads::Haul;
use crate::units::{Millis, OrderId, PlantId, SpotId, TruckId, Volume};

/// What an order's next load asks with.
#[derive(Clone, Copy)]
pub(super) struct Wish {
    pub(super) volume: Volume,
    pub(super) before: Volume,
    pub(super) due: Millis,
    pub(super) again: bool,
}

impl World<'_> {
    /// What a rule sees now, with these trucks on offer.
    #[inline]
    pub(super) fn view<'a>(&'a self, offered: &'a [TruckId]) -> View<'a> {
        View {
            now: self.now,
            offered,
            trucks: &self.truck_views,
            plants: &self.plant_views,
            roads: self.roads(),
            free: &self.offered,
            clocks: &self.clocks,
            rule_sets: &self.plan.rule_sets,
        }
    }

    /// Keeps what the dispatcher sees of a plant's hours current.
    pub(super) fn look_at_plant(&mut self, id: PlantId) {
        let spans = &self.plan.plants[id.at()].open;
        let plant = &mut self.plants[id.at()];
        while plant.span < spans.len() && spans[plant.span].1.max(plant.kept_until) < self.now {
            plant.span += 1;
        }
        let (opens, closes) = spans
            .get(plant.span)
            .copied()
            .unwrap_or((Millis::NEVER, Millis::NEVER));
        let view = &mut self.plant_views[id.at()];
        view.opens = if plant.down > 0 {
            // Nobody knows when: as reckoned, and if that has passed, in a little while.
            opens.max(plant.back_at).max(self.now + Millis::MINUTE * 5)
        } else {
            opens
        };
        view.closes = closes.max(plant.kept_until);
    }

    /// What the next load of an order asks with; none if nothing is left to ask for.
    pub(super) fn wish(&self, id: OrderId) -> Option<Wish> {
        let order = &self.orders[id.at()];
        let plan = &self.plan.orders[id.at()];
        if order.closed || self.period_over {
            return None;
        }
        if let Some(again) = order.again.first() {
            return Some(Wish {
                volume: again.volume,
                before: again.before,
                due: again.due,
                again: true,
            });
        }
        if plan.arrivals.is_some() && order.arrived.is_empty() {
            return None;
        }
        let open = order.volume - order.promised;
        if open <= Volume::ZERO {
            return None;
        }
        let size = match self.policy.load_size {
            LoadSize::Equal if !plan.endless => {
                let loads = order.booked.loads_of(plan.load);
                Volume((order.booked.0 + loads - 1) / loads)
            }
            _ => plan.load,
        };
        let due = self.due(id);
        Some(Wish {
            volume: size.min(open),
            before: order.promised,
            due,
            again: false,
        })
    }

    /// When the next new load of an order is due.
    fn due(&self, id: OrderId) -> Millis {
        let order = &self.orders[id.at()];
        let plan = &self.plan.orders[id.at()];
        match order.arrived.front() {
            Some(arrived) => *arrived,
            None if plan.endless => self.now,
            None => self.due_after(id, order.promised),
        }
    }

    /// When a load is due that has this volume of its order before it.
    #[inline]
    pub(super) fn due_after(&self, id: OrderId, before: Volume) -> Millis {
        self.plan.orders[id.at()].due(before) + self.orders[id.at()].moved
    }

    /// The ask of a wish, for the destination whose turn it is.
    fn ask_of(&self, id: OrderId, spot: SpotId, wish: &Wish) -> Ask<'_> {
        let plan = &self.plan.orders[id.at()];
        let spot_plan = &self.plan.spots[spot.at()];
        let pace = Pace {
            ahead: self.orders[id.at()].ahead,
            outlets: spot_plan.outlet_places.len() as u32,
            opens: self.known_opening(id),
            discharge: spot_plan.discharge.mean(wish.volume),
        };
        Ask {
            site: spot_plan.place,
            target: target(self.policy.send, self.now, self.aim(id, wish), &pace),
            late: plan.late,
            volume: wish.volume,
            makers: &plan.makers,
            stay: spot_plan.stay(self.policy),
            parking: spot_plan.parking,
            overrides: false,
        }
    }

    /// When the next load of an order asks, by what is known now.
    fn ask_time(&self, id: OrderId, wish: &Wish) -> Millis {
        if self.plan.orders[id.at()].endless || wish.again {
            return self.now;
        }
        let ask = self.ask_of(id, SpotId(self.plan.orders[id.at()].spots.start), wish);
        let roads = self.roads();
        let sends = ask.makers.iter().filter_map(|plant| {
            let lead = lead(self.policy, &roads, &self.plant_views[plant.at()], &ask);
            (lead < Millis::NEVER).then_some((ask.target - lead, *plant))
        });
        let first = match self.policy.plants {
            Plants::Any => sends.map(|(send, _)| send).min(),
            Plants::NearestFirst { .. } => sends
                .clone()
                .filter(|(send, plant)| self.open_at(*plant, self.now.max(*send)))
                .map(|(send, _)| send)
                .max()
                .or_else(|| sends.map(|(send, _)| send).max()),
        };
        let called = self.plan.orders[id.at()].called;
        first.map_or(self.now, |send| send.max(called).max(self.now))
    }

    /// Whether the plant's hours hold at that moment.
    fn open_at(&self, plant: PlantId, at: Millis) -> bool {
        let spans = &self.plan.plants[plant.at()].open;
        spans
            .iter()
            .any(|(open, close)| *open <= at && at <= *close)
            || self.now <= at && at <= self.plants[plant.at()].kept_until
    }

    /// Whether anything of an order is left to ask for.
    pub(super) fn asks_for_more(&self, id: OrderId) -> bool {
        self.wish(id).is_some()
    }

    /// What an order's next load asks with, and when it is due.
    pub(super) fn next_wish(&self, id: OrderId) -> Option<(Volume, Millis)> {
        self.wish(id).map(|wish| (wish.volume, wish.due))
    }

    /// The order's next load asks now, whenever it was to.
    pub(super) fn ask_now<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        if !self.orders[id.at()].waiting {
            self.orders[id.at()].ask_at = self.now;
            self.wait_for_truck(id, observer);
        }
        self.offer_all(id, observer);
    }

    /// Puts the next ask of an order into the calendar, or among the waiting if it is time.
    pub(super) fn plan_ask(&mut self, id: OrderId) {
        let Some(wish) = self.wish(id) else {
            self.orders[id.at()].ask_at = Millis::NEVER;
            self.less_work |= self.plan.orders[id.at()].arrivals.is_none();
            return;
        };
        let at = self.ask_time(id, &wish);
        self.orders[id.at()].ask_at = at;
        self.schedule(at, Command::Ask(id));
    }

    /// An order's next load asks for a truck.
    pub(super) fn ask<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        if self.orders[id.at()].waiting || self.orders[id.at()].ask_at != self.now {
            return; // planned anew since
        }
        let Some(wish) = self.wish(id) else { return };
        // A paced site may have slowed down since the ask was planned; a minute at least passes between two looks.
        let at = self.ask_time(id, &wish);
        if at > self.now {
            let at = at.max(self.now + Millis::MINUTE);
            self.orders[id.at()].ask_at = at;
            self.schedule(at, Command::Ask(id));
            return;
        }
        self.wait_for_truck(id, observer);
        self.offer_all(id, observer);
        self.dismiss_if_less_work(observer);
    }

    /// Offers all trucks that can be promised to the waiting load of an order, and to those that follow it at once.
    fn offer_all<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        while self.orders[id.at()].waiting
            && !self.offered.is_empty()
            && self.try_promise(id, None, observer)
        {}
    }

    fn wait_for_truck<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        self.orders[id.at()].waiting = true;
        self.waiting.push(id);
        self.tell(observer, Event::Asked { order: id });
    }

    /// Offers one truck that has just become free or near (or, without one, all that can be promised) to the loads that wait,
    /// first things first. The other trucks have been refused for these loads already, and time only tightens a gate.
    pub(super) fn serve_waiting<O: Observer>(&mut self, offer: Option<TruckId>, observer: &mut O) {
        self.rank_waiting();
        let mut next = 0;
        while next < self.waiting.len()
            && offer.map_or(!self.offered.is_empty(), |truck| {
                self.trucks[truck.at()].slot != NOT_OFFERED
            })
        {
            let id = self.waiting[next];
            if self.try_promise(id, offer, observer) {
                if offer.is_some() {
                    // Nobody has been refused for the order's following load yet.
                    self.offer_all(id, observer);
                }
                // The order's following load has its own rank: begin again from the top.
                self.rank_waiting();
                next = 0;
            } else {
                next += 1;
            }
        }
        self.dismiss_if_less_work(observer);
    }

    fn rank_waiting(&mut self) {
        if self.waiting.len() < 2 {
            return;
        }
        for position in 0..self.waiting.len() {
            let id = self.waiting[position];
            self.orders[id.at()].rank = self.rank_of(id);
        }
        let orders = &self.orders;
        self.waiting
            .sort_unstable_by_key(|id| (orders[id.at()].rank, *id));
    }

    fn rank_of(&self, id: OrderId) -> (i64, i64) {
        let order = &self.orders[id.at()];
        let (due, again) = match order.again.first() {
            Some(again) => (again.due, true),
            None => (self.due(id), false),
        };
        rank(self.policy.sequence, due, order.booked, order.begun, again)
    }

    /// Tries to promise a truck to the waiting load of an order.
    fn try_promise<O: Observer>(
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
        let order = &self.orders[id.at()];
        let plan = &self.plan.orders[id.at()];
        let (number, attempt) = match order.again.first() {
            Some(again) => (again.number, again.attempt),
            None => (order.next_number, 0),
        };
        let luck = self.luck.block(LOAD, plan.entity, number, attempt);
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
        let forced = self.offer_by_force(which, offer);
        let mut candidates = std::mem::take(&mut self.candidates);
        let mut ask = self.ask_of(id, spot, &wish);
        if let Override::Share { share } = self.policy.override_gates {
            let drawn = self.luck.block(OVERRIDE, plan.entity, number, attempt);
            ask.overrides = drawn.uniform(0) < share;
        }
        let ungated;
        let mut policy = self.policy;
        let mut offered = offer
            .as_ref()
            .map_or(&self.offered[..], std::slice::from_ref);
        match &forced {
            Offer::AsUsual => {}
            Offer::Only(trucks) => offered = trucks,
            Offer::Forced(truck, plant) => {
                offered = std::slice::from_ref(truck);
                ask.makers = std::slice::from_ref(plant);
                ungated = self.policy_without_gates();
                policy = &ungated;
            }
        }
        let view = self.view(offered);
        let mut last_refusal = None;
        let mut refused = |truck: TruckId, plant: PlantId, reason: Refusal| {
            last_refusal = Some(reason);
            self.tell(
                observer,
                Event::Refused {
                    order: id,
                    number,
                    truck,
                    plant,
                    reason,
                },
            )
        };
        let mut look_again = Millis::NEVER;
        let choice = choose(
            policy,
            &view,
            &ask,
            &mut candidates,
            &mut refused,
            &mut look_again,
        );
        self.candidates = candidates;
        let Some(choice) = choice else {
            if matches!(forced, Offer::Forced(..)) {
                return !self.keeps_load(last_refusal) && self.try_promise(id, offer, observer);
            }
            self.look_again(id, look_again);
            return false;
        };
        let ready = match self.orders[id.at()].again.first() {
            Some(again) => again.ready,
            None => self.ready(id, wish.before),
        };
        let load = Load {
            order: id,
            spot,
            plant: choice.plant,
            number,
            attempt,
            volume: choice.volume,
            before: wish.before,
            due: wish.due,
            ready,
            send: choice.send.max(self.plant_views[choice.plant.at()].opens),
            outlet: 0,
            batched: Millis::ZERO,
            reused: Volume::ZERO,
            dry_up: false,
            wet: false,
            spare: Volume::ZERO,
            given_up: false,
            overridden: choice.overridden,
            redirected: false,
            luck,
        };
        self.promise(&choice, load, None, observer);
        true
    }

    /// Other plants may serve a waiting load later, whether or not a truck becomes free by then.
    fn look_again(&mut self, id: OrderId, at: Millis) {
        let planned = self.orders[id.at()].look_again;
        if at < Millis::NEVER && !(self.now < planned && planned <= at) {
            let at = at.max(self.now + Millis::MINUTE);
            self.orders[id.at()].look_again = at;
            self.schedule(at, Command::LookAgain(id));
        }
    }

    /// A load that still waits is offered the trucks of all plants.
    pub(super) fn looked_again<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        self.offer_all(id, observer);
        self.dismiss_if_less_work(observer);
    }

    /// Promises a truck to a load. `planned`: what is planned, where it does not follow from the choice.
    pub(super) fn promise<O: Observer>(
        &mut self,
        choice: &Candidate,
        load: Load,
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
        let order = &mut self.orders[id.at()];
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
        let truck = &mut self.trucks[truck_id.at()];
        truck.load = load;
        truck.promised = true;
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

    /// What is planned for a load that has just been promised.
    fn load_plan(&self, choice: &Candidate, load: &Load) -> LoadPlan {
        let (policy, view) = (self.policy, &self.plant_views[load.plant.at()]);
        let spot = &self.plan.spots[load.spot.at()];
        let loading = view.loading.mean(load.volume);
        let rack = at_rack(policy, view, load.volume);
        let leaves = choice.send + policy.bay_wait + loading + rack;
        let trip = |belief| {
            self.roads()
                .believed(belief, view.place, spot.place, Haul::Loaded, leaves)
        };
        let delays = |belief| {
            self.roads()
                .believed_delays(belief, view.place, spot.place, Haul::Loaded, leaves)
        };
        LoadPlan {
            ready: load.ready,
            send: choice.send,
            opens: view.opens,
            bay_wait: policy.bay_wait,
            loading,
            rack,
            believed: trip(policy.belief),
            believed_delays: delays(policy.belief),
            usual: trip(policy.usual),
            usual_delays: delays(policy.usual),
            stay: spot.stay(policy).mean(load.volume),
        }
    }

    /// After a promise: the order's following load asks at once if it is time, or is planned.
    fn following_load<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        let plan = &self.plan.orders[id.at()];
        // A load made on demand asks at once, whatever the order has promised.
        let on_demand = plan.endless && plan.arrivals.is_none() && !self.period_over;
        let now = on_demand
            || self
                .wish(id)
                .is_some_and(|wish| self.ask_time(id, &wish) <= self.now);
        if now {
            self.orders[id.at()].ask_at = self.now;
            self.tell(observer, Event::Asked { order: id });
        } else {
            self.stop_waiting(id);
            self.plan_ask(id);
        }
    }

    fn stop_waiting(&mut self, id: OrderId) {
        if std::mem::take(&mut self.orders[id.at()].waiting) {
            let position = self
                .waiting
                .iter()
                .position(|other| *other == id)
                .expect("a waiting order is in the list");
            self.waiting.swap_remove(position);
        }
    }

    /// A promised truck cannot take its load after all: the load asks again, before all others.
    pub(super) fn break_promise<O: Observer>(
        &mut self,
        truck_id: TruckId,
        reason: Refusal,
        observer: &mut O,
    ) {
        let load = self.trucks[truck_id.at()].load;
        self.tell(
            observer,
            Event::PromiseBroken {
                order: load.order,
                truck: truck_id,
                reason,
            },
        );
        self.ask_again(truck_id, load.attempt, observer);
    }

    /// The load of a truck is to be made again, as the given attempt.
    pub(super) fn ask_again<O: Observer>(
        &mut self,
        truck_id: TruckId,
        attempt: u32,
        observer: &mut O,
    ) {
        let load = self.trucks[truck_id.at()].load;
        self.leave_order(truck_id);
        self.asks_again(&load, attempt, observer);
    }

    /// A truck is no longer promised to its load.
    pub(super) fn leave_order(&mut self, truck_id: TruckId) {
        let truck = &mut self.trucks[truck_id.at()];
        truck.promised = false;
        self.orders[truck.load.order.at()].ahead -= 1;
    }

    /// A load that has lost its truck asks for another, as the given attempt.
    pub(super) fn asks_again<O: Observer>(&mut self, load: &Load, attempt: u32, observer: &mut O) {
        let order = &mut self.orders[load.order.at()];
        if self.plan.orders[load.order.at()].endless {
            return; // made on demand
        }
        if order.closed {
            if !load.given_up {
                // It was on site by the end of the day and was turned away: what would replace it does not come.
                let day_over = self.plan.orders[load.order.at()].day_over;
                self.tell(
                    observer,
                    Event::Undelivered {
                        order: load.order,
                        volume: load.volume,
                        number: Some(load.number),
                        carrier: None,
                        ready: load.ready,
                        late: (day_over - load.ready).max(Millis::ZERO),
                        first: load.before == Volume::ZERO,
                    },
                );
            }
            self.tell(
                observer,
                Event::LeftOver {
                    order: load.order,
                    volume: load.volume,
                },
            );
            return;
        }
        order.again.push(Again {
            number: load.number,
            attempt,
            volume: load.volume,
            before: load.before,
            due: load.due,
            ready: load.ready,
        });
        order.ask_at = self.now;
        if self.period_over {
            return;
        }
        if !order.waiting {
            self.wait_for_truck(load.order, observer);
        }
        // Trucks that stand idle have been refused for other loads, not for this one.
        self.offer_all(load.order, observer);
        self.dismiss_if_less_work(observer);
    }

    /// The day of an order is over: what is not on site is late until now, and undelivered.
    pub(super) fn day_over<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        if self.orders[id.at()].closed {
            return; // refused when it was called in
        }
        let plan = &self.plan.orders[id.at()];
        let now = self.now;
        for position in 0..self.trucks.len() {
            let truck = &mut self.trucks[position];
            if truck.promised && truck.load.order == id && before_site(truck.phase) {
                truck.load.given_up = true;
                let load = truck.load;
                let late = (now - load.ready).max(Millis::ZERO);
                self.tell(
                    observer,
                    Event::Undelivered {
                        order: id,
                        volume: load.volume,
                        number: Some(load.number),
                        carrier: Some(TruckId::new(position)),
                        ready: load.ready,
                        late,
                        first: load.before == Volume::ZERO,
                    },
                );
            }
        }
        let mut left = Volume::ZERO;
        for position in 0..self.orders[id.at()].again.len() {
            let again = self.orders[id.at()].again[position];
            left += again.volume;
            let late = (now - again.ready).max(Millis::ZERO);
            self.tell(
                observer,
                Event::Undelivered {
                    order: id,
                    volume: again.volume,
                    number: Some(again.number),
                    carrier: None,
                    ready: again.ready,
                    late,
                    first: again.before == Volume::ZERO,
                },
            );
        }
        let mut before = self.orders[id.at()].promised;
        while before < self.orders[id.at()].volume {
            let volume = plan.load.min(self.orders[id.at()].volume - before);
            let ready = self.ready(id, before);
            let late = (now - ready).max(Millis::ZERO);
            self.tell(
                observer,
                Event::Undelivered {
                    order: id,
                    volume,
                    number: None,
                    carrier: None,
                    ready,
                    late,
                    first: before == Volume::ZERO,
                },
            );
            left += volume;
            before += volume;
        }
        if left > Volume::ZERO {
            self.tell(
                observer,
                Event::LeftOver {
                    order: id,
                    volume: left,
                },
            );
        }
        self.stop_waiting(id);
        let order = &mut self.orders[id.at()];
        order.closed = true;
        order.again.clear();
        order.ask_at = Millis::NEVER;
        self.dismiss_idle(observer);
    }

    /// The period is over: nothing is sent any more, and whoever is idle goes home.
    pub(super) fn end_period<O: Observer>(&mut self, observer: &mut O) {
        self.period_over = true;
        while let Some(id) = self.waiting.pop() {
            self.orders[id.at()].waiting = false;
        }
        self.dismiss_idle(observer);
        self.dismiss_waiting_drivers(observer);
    }

    fn dismiss_if_less_work<O: Observer>(&mut self, observer: &mut O) {
        if std::mem::take(&mut self.less_work) {
            self.dismiss_idle(observer);
        }
    }

    /// A truck can be promised from now on.
    pub(super) fn offer(&mut self, truck_id: TruckId) {
        let truck = &mut self.trucks[truck_id.at()];
        if truck.slot == NOT_OFFERED {
            truck.slot = self.offered.len() as u32;
            self.offered.push(truck_id);
        }
    }

    /// A truck can no longer be promised.
    pub(super) fn withdraw(&mut self, truck_id: TruckId) {
        let slot = std::mem::replace(&mut self.trucks[truck_id.at()].slot, NOT_OFFERED);
        if slot != NOT_OFFERED {
            self.offered.swap_remove(slot as usize);
            if let Some(moved) = self.offered.get(slot as usize) {
                self.trucks[moved.at()].slot = slot;
            }
        }
    }
}

/// Whether a promised truck in this phase has not yet reached the site.
fn before_site(phase: Phase) -> bool {
    !matches!(
        phase,
        Phase::SiteQueue | Phase::AtOutlet | Phase::Discharging
    )
}
