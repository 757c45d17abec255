//! Orders that are added to the day: taken, taken for another hour, or refused.
//!
//! A refused order leaves the base: what its sale would have earned is in no cost. Rules that refuse are judged by cost per
//! yd³, or by revenue less cost.

use super::command::Command;
use super::event::{Event, Observer};
use super::plan::Ahead;
use super::world::World;
use crate::dispatch::{Additions, HALF_HOUR};
use crate::units::{Millis, OrderId, PlantId, Volume};

impl World<'_> {
    /// Whether the desk decides on an order when it is called in: one that is not there from the beginning of every period.
    pub(super) fn is_decided_on(&self, id: OrderId) -> bool {
        let plan = &self.plan.orders[id.at()];
        self.day.policy.additions != Additions::TakeAll
            && self.plan.nearest(id).is_some()
            && (plan.chance < 1.0 || plan.called > Millis::ZERO)
    }

    /// Plans the decision on an order; until then nobody reckons with it.
    pub(super) fn plan_decision(&mut self, id: OrderId) {
        let plan = &self.plan.orders[id.at()];
        self.day.orders[id.at()].closed = true;
        self.schedule(plan.called.min(plan.day_over), Command::Decide(id));
    }

    /// The order is called in: it is taken if it holds, for a later hour if the rule offers one, or refused.
    pub(super) fn decide<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        let plan = &self.plan.orders[id.at()];
        let Some(ahead) = self.plan.nearest(id).copied() else {
            return;
        };
        let last = Volume((self.day.orders[id.at()].booked.loads_of(plan.load) - 1) * plan.load.0);
        let most = self.day.policy.additions.latest();
        let mut moved = Millis::ZERO;
        while moved <= most && (moved == Millis::ZERO || plan.due(last) + moved < plan.day_over) {
            self.day.orders[id.at()].moved = moved;
            if self.holds(id, &ahead) {
                self.take(id, moved, observer);
                return;
            }
            moved += HALF_HOUR;
        }
        self.day.orders[id.at()].moved = Millis::ZERO;
        let volume = self.day.orders[id.at()].booked;
        self.tell(observer, Event::Declined { order: id, volume });
    }

    fn take<O: Observer>(&mut self, id: OrderId, moved: Millis, observer: &mut O) {
        let order = &mut self.day.orders[id.at()];
        order.closed = false;
        order.opens += moved;
        if moved > Millis::ZERO {
            self.tell(
                observer,
                Event::Moved {
                    order: id,
                    by: moved,
                },
            );
            self.plan_news(id);
        }
        self.plan_ask(id);
    }

    /// Whether in every half hour in which a truck of this order is under way, the drivers on shift at its plant are as many as the
    /// trucks that it and all other orders known there keep under way.
    fn holds(&mut self, id: OrderId, ahead: &Ahead) -> bool {
        let mut needs = std::mem::take(&mut self.scratch.needs);
        let (from, to) = self.span(id, ahead);
        let start = Millis(from.0.div_euclid(HALF_HOUR.0) * HALF_HOUR.0);
        let half_hours = (to - start).0.div_euclid(HALF_HOUR.0) + 1;
        needs.begin(start, half_hours as usize);
        let own = (std::slice::from_ref(ahead), Some(ahead.plant));
        self.add_loads(&mut needs, id, own, Volume::ZERO, self.day.now);
        let touched = needs.half_hours(from, to);
        let latest = needs.end() + self.plan.book.longest_lead;
        let here = self.plan.book.of(Some(ahead.plant));
        for other in here.between(self.day.now, latest) {
            let known = !self.day.orders[other.at()].closed
                && self.plan.orders[other.at()].called <= self.day.now
                && *other != id;
            if known {
                let there = (&self.plan.ahead[other.at()][..], Some(ahead.plant));
                self.add_loads(&mut needs, *other, there, Volume::ZERO, Millis::ZERO);
            }
        }
        let holds = touched.clone().all(|half_hour| {
            let begins = start + Millis(HALF_HOUR.0 * half_hour as i64);
            needs.of(half_hour) <= self.drivers_on_shift(ahead.plant, begins)
        });
        self.scratch.needs = needs;
        holds
    }

    /// From the first load's send time until the last truck is back.
    fn span(&self, id: OrderId, ahead: &Ahead) -> (Millis, Millis) {
        let plan = &self.plan.orders[id.at()];
        let last = Volume((self.day.orders[id.at()].booked.loads_of(plan.load) - 1) * plan.load.0);
        let first = self.send_of(id, ahead, Volume::ZERO).max(self.day.now);
        let last = self.send_of(id, ahead, last).max(self.day.now);
        (first, self.back_of(id, ahead, last))
    }

    /// Drivers of a plant who are on shift, checks done, through a half hour.
    fn drivers_on_shift(&self, plant: PlantId, begins: Millis) -> u32 {
        let ends = begins + HALF_HOUR;
        let days = (begins.day() - 2).max(0)..=ends.day().min(i64::from(self.plan.days) - 1);
        let rostered = days.flat_map(|day| self.plan.roster.of(day as usize, plant));
        let on_shift = rostered.filter(|entry| {
            let driver = &self.plan.drivers[entry.driver.at()];
            let report = self.report_time(entry.driver, entry.nth);
            report.is_some_and(|report| {
                report + self.plan.pre_trip_mean <= begins && ends <= report + driver.shift
            })
        });
        on_shift.count() as u32
    }
}
