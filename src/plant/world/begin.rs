//! Everything back to midnight before the first day.

use super::super::command::Command;
use super::super::event::Observer;
use super::fresh::{FRESH_DRIVER, fresh_truck};
use super::{BEFORE_ALL, World};
use crate::engine::Luck;
use crate::units::{DriverId, Millis, OrderId, PlantId, Volume};

impl<'p> World<'p> {
    /// Everything back to midnight before the first day.
    pub(in crate::plant) fn begin<O: Observer>(
        &mut self,
        rule: usize,
        luck: Luck,
        observer: &mut O,
    ) {
        self.policy = &self.plan.policies[rule];
        self.rule = rule;
        self.calendar.clear();
        self.now = Millis::ZERO;
        self.luck = luck;
        self.past = luck;
        self.known_until = BEFORE_ALL;
        self.forced = None;
        self.told_rain = None;
        self.plan
            .roads
            .refresh(&mut self.road_state, luck, self.plan.days as usize + 2);
        self.period_over = false;
        self.less_work = false;
        self.offered.clear();
        self.waiting.clear();
        self.helpers.fill(Millis::ZERO);
        self.trucks.fill(fresh_truck(&luck));
        self.drivers.fill(FRESH_DRIVER);
        self.begin_clocks();
        self.ideal_places.fill(Millis::ZERO);
        self.begin_legs();
        for (view, truck) in self.truck_views.iter_mut().zip(&self.plan.trucks) {
            *view = truck.view;
        }
        for outlet in &mut self.outlets {
            outlet.occupied = 0;
            outlet.flowing = false;
            outlet.positioned.clear();
            outlet.ideal_flow = Millis::ZERO;
        }
        for spot in &mut self.spots {
            spot.queue.clear();
        }
        for id in 0..self.plants.len() {
            self.begin_plant(PlantId::new(id));
        }
        for id in 0..self.drivers.len() {
            self.plan_report(DriverId::new(id), 0);
        }
        for id in 0..self.orders.len() {
            self.begin_order(OrderId::new(id), observer);
        }
        self.plan_calls(observer);
        self.plan_end_of_hold();
        self.schedule(self.plan.end, Command::PeriodOver);
    }

    fn begin_plant(&mut self, id: PlantId) {
        let plant = &mut self.plants[id.at()];
        plant.span = 0;
        plant.stayed_until = Millis::ZERO;
        plant.kept_until = Millis::ZERO;
        plant.queue.clear();
        plant.bays_busy = 0;
        plant.batcher_busy = false;
        plant.batcher_queue.clear();
        plant.rack_busy = 0;
        plant.rack_queue.clear();
        plant.down = 0;
        plant.outages = 0;
        for (open, _) in &self.plan.plants[id.at()].open {
            if *open > Millis::ZERO {
                self.calendar
                    .schedule(*open, Command::Open(id).class(), Command::Open(id));
            }
        }
        self.look_at_plant(id);
        self.plan_outages(id);
        self.plan_closings(id);
    }

    fn begin_order<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        let plan = &self.plan.orders[id.at()];
        let order = &mut self.orders[id.at()];
        order.volume = plan.volume;
        order.booked = plan.volume;
        order.reached = Volume::ZERO;
        order.balance_called = false;
        order.promised = Volume::ZERO;
        order.placed = Volume::ZERO;
        order.spared = Volume::ZERO;
        order.pace = 1.0;
        order.hold_drawn = None;
        order.hold_over = false;
        (order.held_from, order.held_until) = (Millis::ZERO, Millis::ZERO);
        order.ideal_hold = None;
        order.next_number = 0;
        order.ahead = 0;
        order.waiting = false;
        order.ask_at = Millis::NEVER;
        order.look_again = Millis::ZERO;
        order.again.clear();
        order.begun = false;
        order.closed = false;
        order.arrived.clear();
        order.arrivals = 0;
        order.came = Millis::ZERO;
        order.known_loads = 0;
        order.turn = 0;
        order.moved = Millis::ZERO;
        order.ideal_done = 0;
        order.opens = plan.opens;
        if !plan.endless && !self.takes_place(id, observer) {
            return;
        }
        if plan.day_over < Millis::NEVER {
            self.schedule(plan.day_over, Command::DayOver(id));
        }
        let opens = self.orders[id.at()].opens;
        if opens > Millis::ZERO {
            self.schedule(opens, Command::SiteReady(id));
        }
        if plan.arrivals.is_some() {
            self.plan_arrival(id);
        } else if self.is_decided_on(id) {
            self.plan_decision(id);
        } else {
            self.plan_ask(id);
        }
    }
}
