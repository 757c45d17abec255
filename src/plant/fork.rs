//! A look ahead without clairvoyance: the world forked at a moment.
//!
//! A fork keeps what has been revealed: who is where, what is loaded, hours worked, today's roads and weather, how slowly a site
//! that has begun unloads, what a site has said: that it is not ready or stops, not until when. What is under way is drawn again
//! given that it is not over yet; everything else comes from the fork's own luck. So nothing in a fork depends on the true future.
//!
//! Known approximations: what is in a drum beyond the check at the rack is taken as it is, though nobody has measured it; a
//! site's pace counts as known after its first load; in the ideal timeline loads that were discharged out of order count as not
//! discharged; a stage that has lasted longer than any draw of it ends at once.

mod drives;
mod stages;

use super::changes::lane as order_lane;
use super::command::Command;
use super::state::{Phase, Renewed};
use super::world::World;
use crate::concrete::RackOutcome;
use crate::engine::{Block, Class, Entity, Luck};
use crate::units::{Millis, OrderId, PlantId, Purpose, TruckId, Volume};

/// Draws of one thing before a fork settles for what it has.
const TRIES: u32 = 32;

/// The world at a moment, ready to be forked.
#[derive(Clone, Debug)]
pub struct Moment<'p> {
    world: World<'p>,
    pending: Vec<(Millis, Class, Command)>,
}

impl<'p> Moment<'p> {
    /// The world as it is now.
    pub fn new(world: World<'p>) -> Self {
        let pending = world.day.calendar.pending();
        Self { world, pending }
    }

    /// The world: its future is the true one.
    pub fn world(&self) -> &World<'p> {
        &self.world
    }

    /// When it is.
    pub fn at(&self) -> Millis {
        self.world.day.now
    }
}

impl<'p> World<'p> {
    /// Becomes the world of the moment itself, with its true future.
    pub fn resume(&mut self, moment: &Moment<'p>) {
        self.copy_from(&moment.world);
    }

    /// Becomes a copy of another world, in the room that is there.
    pub fn copy_from(&mut self, other: &Self) {
        self.day.copy(&other.day);
    }

    /// Becomes a fork of the world at a moment, with luck of its own from there on.
    pub fn fork(&mut self, moment: &Moment<'p>, luck: Luck) {
        let base = &moment.world;
        self.day.copy(&base.day);
        if self.day.known_until < self.day.now {
            // A fork of a fork at the same moment knows what the first knew.
            self.day.past = base.day.luck;
        }
        self.day.known_until = self.day.now;
        self.day.luck = luck;
        let (state, now) = (&mut self.day.road_state, self.day.now);
        let known = self.day.told_rain.is_none();
        self.plan
            .roads
            .fork(state, &base.day.road_state, luck, (now, known));
        self.day.calendar.clear();
        let mut renewed = std::mem::take(&mut self.scratch.renewed);
        renewed.clear();
        renewed.extend((0..self.day.orders.len()).map(|id| self.renew_order(OrderId::new(id))));
        let mut repaired = std::mem::take(&mut self.scratch.repaired);
        repaired.clear();
        repaired.resize(self.day.plants.len(), None);
        self.renew_loads();
        self.renew_breakdowns();
        self.renew_errands();
        for (at, class, command) in &moment.pending {
            let at = match *command {
                Command::Ask(id)
                | Command::LookAgain(id)
                | Command::DayOver(id)
                | Command::Decide(id)
                | Command::Cancel(id)
                    if renewed[id.at()] == Renewed::Whole =>
                {
                    continue;
                }
                Command::SiteReady(id) | Command::SitePhones(id)
                    if renewed[id.at()] != Renewed::Nothing =>
                {
                    continue;
                }
                // Planned anew below, or with the truck's new drive.
                Command::Down(_, false)
                | Command::Near(_)
                | Command::BreaksDown(_)
                | Command::Heard(_) => continue,
                Command::Repaired(truck) if !self.is_given_up(truck, *at) => continue,
                Command::ArriveSite(truck) if self.never_arrives(truck, *at) => continue,
                command => self.renewed_time(command, *at),
            };
            self.day.calendar.schedule(at.max(now), *class, *command);
            match *command {
                Command::ArrivePlace(truck) => self.renew_near(truck, at),
                Command::Up(plant, false) => repaired[plant.at()] = Some(at.max(now)),
                _ => {}
            }
        }
        // Times between two outages are exponential, so that it does not matter how long none has come.
        for (id, repaired) in repaired.iter().enumerate() {
            self.plan_next_outage(PlantId::new(id), repaired.unwrap_or(now));
        }
        let less_work = self.day.less_work;
        for (id, renewed) in renewed.iter().enumerate() {
            self.plan_renewed(OrderId::new(id), *renewed);
        }
        (self.scratch.renewed, self.scratch.repaired) = (renewed, repaired);
        self.day.less_work = less_work;
    }

    /// A uniform number that only this fork has, for something of this entity.
    fn fresh(&self, entity: Entity, what: u32, nth: u32) -> f64 {
        self.day
            .luck
            .block(Purpose::Fork, entity, what, nth)
            .uniform(0)
    }

    /// What of an order has not been told by now is drawn again.
    fn renew_order(&mut self, id: OrderId) -> Renewed {
        let plan = &self.plan.orders[id.at()];
        let state = &self.day.orders[id.at()];
        if plan.endless {
            return Renewed::Nothing;
        }
        let luck = self.day.luck.block(Purpose::Order, plan.entity, 0, 0);
        if state.closed && plan.called <= self.day.now {
            // Over, refused, cancelled or not called in: that stays.
            return self.renew_wait(id, &luck);
        }
        let told = plan.called.max(Millis::midnight(plan.first.day()));
        if told > self.day.now && state.next_number == 0 && !state.waiting {
            let order = &mut self.day.orders[id.at()];
            // What was agreed when it was called in stays; when a drawn one is due is drawn as it was.
            let agreed = plan.slot.is_none() && plan.called <= self.day.now;
            order.moved = if agreed { order.moved } else { Millis::ZERO };
            (order.closed, order.opens, order.pace) = (false, plan.opens + order.moved, 1.0);
            order.hold_drawn = None;
            (order.ask_at, order.cancelled) = (Millis::NEVER, false);
            (order.to_phone, order.phoned) = (Millis::ZERO, order.phoned && agreed);
            self.takes_place(id, &mut ());
            self.renew_ideal(id);
            return Renewed::Whole;
        }
        let (closed, placed, hold_over) = (state.closed, state.placed, state.hold_over);
        let waits = self.renew_wait(id, &luck);
        if closed {
            return waits;
        }
        if placed == Volume::ZERO {
            self.draw_pace(id, &luck);
        }
        if !hold_over {
            self.day.orders[id.at()].hold_drawn = None;
            self.draw_hold(id, &luck);
        }
        let moved = self.day.orders[id.at()].moved;
        let unheard = plan.first + moved > self.day.now;
        if unheard {
            let order = &mut self.day.orders[id.at()];
            (order.opens, order.to_phone) = (plan.opens, Millis::ZERO);
            self.draw_opening(id, &luck);
            self.day.orders[id.at()].opens += moved;
        }
        self.renew_ideal(id);
        if unheard { Renewed::Opening } else { waits }
    }

    /// A site that has said that it takes no load for some time: how long is drawn again, given how long it has lasted.
    fn renew_wait(&mut self, id: OrderId, luck: &Block) -> Renewed {
        let (planned, now) = (self.planned_opening(id), self.day.now);
        let order = &mut self.day.orders[id.at()];
        if !order.told_to_wait {
            return Renewed::Nothing;
        }
        if order.opens > now {
            let u = luck.uniform(order_lane::HOW_LATE);
            order.opens = planned + self.plan.not_ready.beyond(now - planned, u);
        }
        if order.held_until > now {
            let u = luck.uniform(order_lane::HOW_LONG);
            let length = self.plan.hold_min.beyond(now - order.held_from, u);
            order.held_until = order.held_from + length;
            if let Some(drawn) = &mut order.hold_drawn {
                drawn.1 = length;
            }
        }
        Renewed::Opening
    }

    /// Puts into the calendar what an order that has been drawn again brings.
    fn plan_renewed(&mut self, id: OrderId, renewed: Renewed) {
        if renewed == Renewed::Nothing {
            return;
        }
        if renewed == Renewed::Whole && self.day.orders[id.at()].closed {
            self.plan_no_call(id);
            return;
        }
        let plan = &self.plan.orders[id.at()];
        self.plan_news(id);
        let held_until = self.day.orders[id.at()].held_until;
        if held_until > self.day.now {
            self.schedule(held_until, Command::SiteReady(id));
        }
        if renewed == Renewed::Whole {
            self.schedule(plan.day_over, Command::DayOver(id));
            if self.is_decided_on(id) && plan.called > self.day.now {
                self.plan_decision(id);
            } else {
                self.plan_ask(id);
            }
        }
    }

    /// The ideal timeline from its beginning: true for loads that have been discharged, else of this fork.
    fn renew_ideal(&mut self, id: OrderId) {
        let of_order =
            |truck: &&super::state::TruckNow| truck.promised().is_some_and(|load| load.order == id);
        let order = &self.day.orders[id.at()];
        // Most orders of a week have no load under way.
        let trucks = if order.ahead == 0 {
            debug_assert!(!self.day.trucks.iter().any(|truck| of_order(&truck)));
            0
        } else {
            self.day.trucks.len()
        };
        let on_the_way = self.day.trucks[..trucks].iter().filter(of_order);
        let first_open = on_the_way
            .map(|truck| truck.load().number)
            .chain(order.again.iter().map(|again| again.number))
            .min();
        let known_loads = first_open.unwrap_or(order.next_number);
        let order = &mut self.day.orders[id.at()];
        order.known_loads = known_loads;
        order.ideal_done = 0;
        order.ideal_hold = None;
        let places = self.ideal_places_of(id);
        self.day.ideal_places[places].fill(Millis::ZERO);
        for spot in self.plan.orders[id.at()].spots.clone() {
            let first = self.day.spots[spot as usize].first_outlet as usize;
            let outlets = self.plan.spots[spot as usize].outlet_places.len();
            for outlet in &mut self.day.outlets[first..first + outlets] {
                outlet.ideal_flow = Millis::ZERO;
            }
        }
        // Asked for in the order of what is before a load.
        let mut open = std::mem::take(&mut self.scratch.open_loads);
        open.clear();
        for (position, truck) in self.day.trucks[..trucks].iter().enumerate() {
            if let Some(load) = truck.promised().filter(|load| load.order == id) {
                open.push((load.before, position, false));
            }
        }
        for (position, again) in self.day.orders[id.at()].again.iter().enumerate() {
            open.push((again.before, position, true));
        }
        open.sort_unstable();
        for (before, position, again) in open.iter().copied() {
            let ready = self.ready(id, before);
            if again {
                self.day.orders[id.at()].again[position].ready = ready;
            } else {
                self.day.trucks[position].load_mut().ready = ready;
            }
        }
        self.scratch.open_loads = open;
    }

    /// Loads that are promised or on the way meet the fork's luck in what they have not come to yet.
    fn renew_loads(&mut self) {
        for position in 0..self.day.trucks.len() {
            let truck = &self.day.trucks[position];
            // After the discharge the load still has its chute wash and its way back.
            if !truck.is_promised() && !matches!(truck.phase, Phase::ChuteWash | Phase::ToPlant) {
                continue;
            }
            let load = *truck.load();
            let entity = self.plan.orders[load.order.at()].entity;
            let luck = self
                .day
                .luck
                .block(Purpose::Load, entity, load.number, load.attempt);
            self.day.trucks[position].load_mut().luck = luck;
            let checked = matches!(
                truck_phase(self, position),
                Phase::Out | Phase::SiteQueue | Phase::AtOutlet | Phase::OnBreak
            );
            if checked && self.day.drums.is_empty() && !load.dry_up {
                self.renew_wetness(TruckId::new(position));
            }
        }
    }

    /// A load has passed the rack unseen: whether it is too wet shows on site.
    fn renew_wetness(&mut self, truck: TruckId) {
        if self.plan.rack_practice.is_none() {
            return;
        }
        let luck = self.day.luck;
        self.day.trucks[truck.at()].load_mut().wet = false;
        for nth in 0..TRIES {
            self.day.luck = luck.fork([Purpose::Fork as u64, truck.at() as u64, u64::from(nth)]);
            let outcome = self.rack_outcome(truck);
            if matches!(outcome, RackOutcome::Fine | RackOutcome::WetUnseen) {
                self.day.trucks[truck.at()].load_mut().wet = outcome == RackOutcome::WetUnseen;
                break;
            }
        }
        self.day.luck = luck;
    }
}

fn truck_phase(world: &World<'_>, position: usize) -> Phase {
    world.day.trucks[position].phase
}
