//! Everything back to midnight before the first day.

use super::super::command::Command;
use super::super::event::Observer;
use super::World;
use crate::engine::Luck;
use crate::units::{DriverId, Millis, OrderId, PlantId};

impl<'p> World<'p> {
    /// Everything back to midnight before the first day.
    pub(in crate::plant) fn begin<O: Observer>(
        &mut self,
        rule: usize,
        luck: Luck,
        observer: &mut O,
    ) {
        self.day.begin(self.plan, rule, luck);
        self.begin_legs();
        for id in 0..self.day.plants.len() {
            self.begin_plant(PlantId::new(id));
        }
        self.plan_days_off(observer);
        for id in 0..self.day.drivers.len() {
            self.plan_report(DriverId::new(id), 0);
        }
        for id in 0..self.day.orders.len() {
            self.begin_order(OrderId::new(id), observer);
        }
        self.plan_calls(observer);
        self.plan_end_of_hold();
        self.schedule(self.plan.sent_until, Command::PeriodOver);
    }

    fn begin_plant(&mut self, id: PlantId) {
        for (open, _) in &self.plan.plants[id.at()].open {
            if *open > Millis::ZERO {
                self.day
                    .calendar
                    .schedule(*open, Command::Open(id).class(), Command::Open(id));
            }
        }
        self.look_at_plant(id);
        self.plan_outages(id);
        self.plan_closings(id);
    }

    fn begin_order<O: Observer>(&mut self, id: OrderId, observer: &mut O) {
        let plan = &self.plan.orders[id.at()];
        if !plan.endless && !self.takes_place(id, observer) {
            self.plan_no_call(id);
            return;
        }
        if plan.day_over < Millis::NEVER {
            self.schedule(plan.day_over, Command::DayOver(id));
        }
        self.plan_news(id);
        if plan.arrivals.is_some() {
            self.plan_arrival(id);
        } else if self.is_decided_on(id) {
            self.plan_decision(id);
        } else {
            self.plan_ask(id);
        }
    }
}
