//! What changes from day to day: orders that do not take place, sites that are not ready, plants that stand still.
//!
//! A plant that stands still is not closed: trucks in its queue wait.
//!
//! The desk knows of none of this before it is told. That a site is not ready is heard when its first load is due, unless the site
//! telephones ahead (then its order is moved to when it will be ready, so that nobody is late by that), that a pour
//! stops or a plant breaks down when it does; not until when. It reckons with what such a wait lasts on average that has lasted so
//! long. A customer cancels at the midnight before the order's day, or when its first load is to be sent if that is earlier.
//!
//! A balance is called in when all loads but the last are on site and makes the order larger: its loads are due by the order's
//! own spacing behind the volume ordered, no due time moves. Its volume is drawn by order, the same under every rule; a rule
//! that gets no load but the last there on the order's day never hears of it. A short-load fee looks at what was ordered at
//! first.

use super::command::Command;
use super::event::{Event, Observer};
use super::world::World;
use crate::engine::{Block, Entity, Luck};
use crate::units::{Millis, OrderId, PlantId, Purpose, TruckId, Volume};

/// Lanes of the block of draws that belongs to an order.
pub(super) mod lane {
    pub(super) const CHANCE: usize = 0;
    pub(super) const CANCELLED: usize = 1;
    pub(super) const NOT_READY: usize = 2;
    pub(in crate::plant) const HOW_LATE: usize = 3;
    pub(super) const PACE: usize = 4;
    pub(super) const HOLD: usize = 5;
    pub(super) const HOLD_AFTER: usize = 6;
    pub(in crate::plant) const HOW_LONG: usize = 7;
    /// In a second block of the order.
    pub(super) const RETURNS: usize = 0;
    pub(super) const HOW_MUCH: usize = 1;
    pub(super) const BALANCE: usize = 2;
    pub(super) const HOW_MUCH_MORE: usize = 3;
    pub(super) const PHONES: usize = 4;
}

const HALF_YARD: Volume = Volume::thousandths(500);

/// A discharge at the pace of a site.
#[inline]
pub(super) fn paced(took: Millis, pace: f64) -> Millis {
    if pace == 1.0 {
        took
    } else {
        Millis((took.0 as f64 * pace + 0.5) as i64)
    }
}

impl World<'_> {
    /// Draws whether an order takes place in this period, and when its site is ready.
    pub(super) fn takes_place<O: Observer>(&mut self, id: OrderId, observer: &mut O) -> bool {
        let plan = &self.plan.orders[id.at()];
        let ordered = self.is_ordered(id);
        if ordered && let Some(slot) = plan.slot {
            self.draw_order(id, slot, observer);
        }
        let changes = &self.plan.changes;
        let luck = self.day.luck.block(Purpose::Order, plan.entity, 0, 0);
        let told = |at| {
            self.luck_told_at(at)
                .block(Purpose::Order, plan.entity, 0, 0)
        };
        let its_day = Millis::midnight(plan.first.day());
        let cancelled = told(its_day).uniform(lane::CANCELLED) < changes.cancelled
            || plan.outdoor && self.rains(plan.first.day());
        // An order that would be called in on its own day is cancelled by not being called in.
        let known_now = its_day <= self.day.now || plan.called > its_day;
        if !ordered || cancelled && known_now {
            self.close_cancelled(id, ordered, observer);
            return false;
        }
        self.day.orders[id.at()].cancelled = cancelled;
        self.draw_opening(id, &luck);
        self.draw_pace(id, &luck);
        self.draw_hold(id, &luck);
        true
    }

    fn close_cancelled<O: Observer>(&mut self, id: OrderId, ordered: bool, observer: &mut O) {
        let order = &mut self.day.orders[id.at()];
        order.closed = true;
        order.ask_at = Millis::NEVER;
        let volume = order.volume;
        self.tell(
            observer,
            Event::Cancelled {
                order: id,
                volume,
                ordered,
            },
        );
    }

    /// Puts into the calendar what an order's site and customer will say, as far as it is still to come.
    pub(super) fn plan_news(&mut self, id: OrderId) {
        let first = self.plan.orders[id.at()].first + self.day.orders[id.at()].moved;
        let midnight = Millis::midnight(self.plan.orders[id.at()].first.day());
        let order = &self.day.orders[id.at()];
        let (opens, cancelled) = (order.opens, order.cancelled);
        let not_ready = opens > self.planned_opening(id);
        if cancelled {
            self.schedule(midnight, Command::Cancel(id));
        }
        if not_ready && first > self.day.now {
            self.schedule(first, Command::SiteReady(id));
        }
        if opens > self.day.now {
            self.schedule(opens, Command::SiteReady(id));
        }
        if self.day.orders[id.at()].to_phone > Millis::ZERO
            && let Some(call) = self.phone_time(id)
        {
            self.schedule(call, Command::SitePhones(id));
        }
    }

    /// An order that is not called in: until it could have been, nobody knows.
    pub(super) fn plan_no_call(&mut self, id: OrderId) {
        let called = self.plan.orders[id.at()].called;
        if called > self.day.now {
            self.schedule(called, Command::Cancel(id));
        }
    }

    /// The customer cancels or does not call; nothing is new of an order that was refused or is cancelled already.
    pub(super) fn cancel<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        let not_called = self.plan.orders[id.at()].called == self.day.now;
        let closed = self.day.orders[id.at()].closed;
        if !closed {
            self.close_cancelled(id, true, observer);
        }
        if !closed || not_called {
            self.dismiss_idle(observer);
        }
    }

    /// Before the first load of an order is sent: whether the customer cancels now.
    pub(super) fn is_cancelled_now<O: Observer>(&mut self, id: OrderId, observer: &mut O) -> bool {
        let cancelled = self.day.orders[id.at()].cancelled;
        if cancelled {
            self.cancel(id, observer);
        }
        cancelled
    }

    /// The luck of what is told at that moment: in a fork, the true one of what has been told by then.
    pub(super) fn luck_told_at(&self, at: Millis) -> Luck {
        if at <= self.day.known_until {
            self.day.past
        } else {
            self.day.luck
        }
    }

    /// Draws when a site is ready, given what it has said so far: which has telephoned is ready then.
    pub(super) fn draw_opening(&mut self, id: OrderId, luck: &Block) {
        if self.day.orders[id.at()].phoned {
            return;
        }
        let changes = &self.plan.changes;
        let (not_ready, phones) = (changes.not_ready, changes.phones_ahead);
        let call = self.phone_time(id).filter(|_| phones > 0.0);
        let silent = call.is_some_and(|call| call <= self.day.now);
        // Bayes: of all sites that have not telephoned.
        let chance = if silent {
            not_ready * (1.0 - phones) / (1.0 - not_ready * phones)
        } else {
            not_ready
        };
        if luck.uniform(lane::NOT_READY) >= chance {
            return;
        }
        let late = self.plan.not_ready.at(luck.uniform(lane::HOW_LATE));
        let entity = self.plan.orders[id.at()].entity;
        let more = || self.day.luck.block(Purpose::Order, entity, 1, 0);
        if call.is_some() && !silent && more().uniform(lane::PHONES) < phones {
            self.day.orders[id.at()].to_phone = late;
        } else {
            self.day.orders[id.at()].opens += late;
        }
    }

    /// When a site would telephone that it is not ready; none if that is before it ordered, or before the first midnight.
    fn phone_time(&self, id: OrderId) -> Option<Millis> {
        let (plan, order) = (&self.plan.orders[id.at()], &self.day.orders[id.at()]);
        let call =
            plan.first + order.moved - Millis::from_minutes(self.plan.changes.phones_ahead_min);
        (call > plan.called.max(Millis::ZERO)).then_some(call)
    }

    /// A site telephones that it is ready later: its order is moved by that.
    pub(super) fn site_phones<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        let order = &mut self.day.orders[id.at()];
        let by = std::mem::take(&mut order.to_phone);
        if order.closed || by == Millis::ZERO {
            return;
        }
        order.phoned = true;
        order.moved += by;
        order.opens += by;
        let (opens, again) = (order.opens, !order.waiting && order.ask_at < Millis::NEVER);
        self.schedule(opens, Command::SiteReady(id));
        self.tell(observer, Event::SitePhones { order: id, by });
        if again {
            self.plan_ask(id);
        }
    }

    /// Draws how slowly a site unloads.
    pub(super) fn draw_pace(&mut self, id: OrderId, luck: &Block) {
        if let Some(pace) = &self.plan.pace {
            self.day.orders[id.at()].pace = pace.at(luck.uniform(lane::PACE));
        }
    }

    /// Draws whether and after how much a pour stops, given that it has not stopped so far: after any load but the last.
    pub(super) fn draw_hold(&mut self, id: OrderId, luck: &Block) {
        let plan = &self.plan.orders[id.at()];
        let order = &self.day.orders[id.at()];
        let loads = order.booked.loads_of(plan.load);
        // It would have stopped already after this many.
        let past = (order.placed.0 / plan.load.0).min(loads - 1);
        let chances = (loads - 1 - past) as f64;
        if loads < 2 || past == loads - 1 {
            return;
        }
        let share = chances / (loads - 1) as f64;
        let hold = self.plan.changes.hold;
        // Bayes: of all pours that have come so far without a stop.
        let chance = if past == 0 {
            hold
        } else {
            hold * share / (1.0 - hold * (1.0 - share))
        };
        if luck.uniform(lane::HOLD) < chance {
            let after = past + 1 + (luck.uniform(lane::HOLD_AFTER) * chances) as i64;
            let length = self.plan.hold_min.at(luck.uniform(lane::HOW_LONG));
            self.day.orders[id.at()].hold_drawn = Some((Volume(after * plan.load.0), length));
        }
    }

    /// Whether an order is ordered in this period at all.
    pub(super) fn is_ordered(&self, id: OrderId) -> bool {
        let plan = &self.plan.orders[id.at()];
        let told = self.luck_told_at(plan.called);
        let luck = told.block(Purpose::Order, plan.entity, 0, 0);
        luck.uniform(lane::CHANCE) < plan.chance && plan.slot.is_none_or(|slot| self.has_slot(slot))
    }

    /// After a load is placed: the pour stops if its hold has come. Trucks that have a place go on.
    pub(super) fn hold_pour<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        let order = &mut self.day.orders[id.at()];
        if let Some((from, length)) = order.hold_drawn
            && !order.hold_over
            && order.placed >= from
        {
            order.hold_over = true;
            (order.held_from, order.held_until) = (self.day.now, self.day.now + length);
            order.told_to_wait = true;
            let until = order.held_until;
            self.schedule(until, Command::SiteReady(id));
            self.tell(observer, Event::SiteWaits { order: id });
        }
    }

    /// Before the last load of an order: what of it is not needed, since more was ordered than the form takes.
    #[inline]
    pub(super) fn judge_need(&mut self, truck_id: TruckId) {
        if self.plan.changes.returned > 0.0 {
            self.judge_last_load(truck_id);
        }
    }

    fn judge_last_load(&mut self, truck_id: TruckId) {
        let load = self.day.trucks[truck_id.at()].load();
        let (plan, order) = (
            &self.plan.orders[load.order.at()],
            &self.day.orders[load.order.at()],
        );
        if plan.endless || order.volume > order.booked || order.placed + load.volume < order.volume
        {
            return;
        }
        let luck = self.day.luck.block(Purpose::Order, plan.entity, 1, 0);
        if luck.uniform(lane::RETURNS) < self.plan.changes.returned {
            let much = self.plan.returned_yd3.at(luck.uniform(lane::HOW_MUCH));
            // Something is always needed of the last load.
            let most = load.volume.half();
            let load = self.day.trucks[truck_id.at()].load_mut();
            load.spare = Volume::from_yd3(much.max(0.0)).min(most);
        }
    }

    /// A load has come on site: once all but the last are there, the site calls in what it needs beyond the volume ordered. It
    /// is due at the order's own spacing behind what was ordered. The same under every rule, as far as the loads get there
    /// on the order's day.
    #[inline]
    pub(super) fn call_balance<O: Observer>(
        &mut self,
        id: OrderId,
        came: Volume,
        observer: &mut O,
    ) {
        let plan = &self.plan.orders[id.at()];
        let order = &mut self.day.orders[id.at()];
        order.reached += came;
        if plan.endless || order.balance_called || order.closed || self.day.period_over {
            return;
        }
        self.call_in_balance(id, observer);
    }

    fn call_in_balance<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        let plan = &self.plan.orders[id.at()];
        let order = &mut self.day.orders[id.at()];
        let but_last = Volume((order.booked.loads_of(plan.load) - 1) * plan.load.0);
        if order.reached < but_last {
            return;
        }
        order.balance_called = true;
        let luck = self.day.luck.block(Purpose::Order, plan.entity, 1, 0);
        let spread = match &plan.balance {
            Some(spread) => spread,
            None if luck.uniform(lane::BALANCE) < self.plan.changes.balance => {
                &self.plan.balance_yd3
            }
            None => return,
        };
        // Concrete is called in by the half yard.
        let halves = (spread.at(luck.uniform(lane::HOW_MUCH_MORE)) * 2.0 + 0.5) as i64;
        let more = Volume(halves * HALF_YARD.0);
        if more <= Volume::ZERO {
            return;
        }
        order.volume += more;
        let all_promised = order.ask_at == Millis::NEVER && !order.waiting;
        self.tell(
            observer,
            Event::BalanceCalled {
                order: id,
                volume: more,
            },
        );
        if all_promised {
            self.plan_ask(id);
        }
    }

    pub(super) fn rains(&self, day: i64) -> bool {
        if let Some(rain) = self.day.told_rain
            && day == self.day.known_until.max(Millis::ZERO).day()
        {
            return rain;
        }
        let luck = self.luck_told_at(Millis::midnight(day));
        let weather = luck.block(Purpose::Weather, Entity(0), day as u32, 0);
        weather.uniform(0) < self.plan.changes.rain
    }

    /// From when a site takes loads, as far as the desk can know.
    pub(super) fn known_opening(&self, id: OrderId) -> Millis {
        let planned = self.planned_opening(id);
        let (order, now) = (&self.day.orders[id.at()], self.day.now);
        if !order.told_to_wait {
            return if order.opens < now {
                order.opens
            } else {
                planned
            };
        }
        let opens = if now <= order.opens {
            planned + self.plan.not_ready.reckoned(now - planned)
        } else {
            order.opens
        };
        let goes_on = if now <= order.held_until {
            order.held_from + self.plan.hold_min.reckoned(now - order.held_from)
        } else {
            order.held_until
        };
        opens.max(goes_on)
    }

    /// A site speaks: it is to take its first load and cannot yet, or takes loads from now on. Then the desk, which has reckoned
    /// with another time, looks again when its next load is to be sent.
    pub(super) fn hear_site<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        let order = &self.day.orders[id.at()];
        let takes = self.day.now >= order.opens.max(order.held_until);
        let due = self.plan.orders[id.at()].first + order.moved <= self.day.now;
        if order.closed || takes != order.told_to_wait || !due {
            return;
        }
        self.day.orders[id.at()].told_to_wait = !takes;
        if !takes {
            self.tell(observer, Event::SiteWaits { order: id });
            return;
        }
        self.tell(observer, Event::SiteGoesOn { order: id });
        let order = &self.day.orders[id.at()];
        if !order.waiting && self.day.now < order.ask_at && order.ask_at < Millis::NEVER {
            self.plan_ask(id);
        }
    }

    /// Puts the planned outages of a plant and the first drawn one into the calendar.
    pub(super) fn plan_outages(&mut self, id: PlantId) {
        for (from, _) in &self.plan.plants[id.at()].planned_outages {
            self.schedule(*from, Command::Down(id, true));
        }
        self.plan_next_outage(id, Millis::ZERO);
    }

    pub(super) fn plan_next_outage(&mut self, id: PlantId, after: Millis) {
        let plan = &self.plan.plants[id.at()];
        let Some((between, _)) = &plan.outages else {
            return;
        };
        let luck = self.day.luck.block(
            Purpose::Outage,
            plan.entity,
            self.day.plants[id.at()].outages,
            0,
        );
        let at = after + between.at(Volume::ZERO, luck.uniform(0));
        if at < self.plan.end {
            self.schedule(at, Command::Down(id, false));
        }
    }

    /// A plant stands still: no loading begins until it works again.
    pub(super) fn plant_down<O: Observer>(&mut self, id: PlantId, planned: bool, observer: &mut O) {
        let now = self.day.now;
        let plan = &self.plan.plants[id.at()];
        let state = &mut self.day.plants[id.at()];
        let until = match &plan.outages {
            Some((_, length)) if !planned => {
                let luck = self
                    .day
                    .luck
                    .block(Purpose::Outage, plan.entity, state.outages, 0);
                state.broken_since = Some(now);
                now + length.at(luck.uniform(1))
            }
            _ => {
                let planned = plan.planned_outages.iter().find(|(from, _)| *from == now);
                let until = planned.map_or(now, |(_, to)| *to);
                state.planned_until = state.planned_until.max(until);
                until
            }
        };
        state.down += 1;
        self.schedule(until, Command::Up(id, planned));
        self.tell(observer, Event::PlantDown { plant: id });
        if !planned {
            self.day.plants[id.at()].outages += 1;
            self.plan_next_outage(id, until);
        }
        self.look_at_plant(id);
    }

    /// When the desk reckons that a plant which stands still works again: in a minute at the earliest.
    pub(super) fn reckoned_back(&self, id: PlantId) -> Millis {
        let (plan, plant) = (&self.plan.plants[id.at()], &self.day.plants[id.at()]);
        let repaired = match (plant.broken_since, &plan.outages) {
            (Some(since), Some((_, length))) => since + length.reckoned(self.day.now - since),
            _ => Millis::ZERO,
        };
        repaired
            .max(plant.planned_until)
            .max(self.day.now + Millis::MINUTE)
    }

    /// A plant works again, unless another outage holds it still.
    pub(super) fn plant_up<O: Observer>(&mut self, id: PlantId, planned: bool, observer: &mut O) {
        self.day.plants[id.at()].down -= 1;
        if !planned {
            self.day.plants[id.at()].broken_since = None;
        }
        if self.day.plants[id.at()].down == 0 {
            self.tell(observer, Event::PlantUp { plant: id });
            self.open(id, observer);
        }
    }
}
