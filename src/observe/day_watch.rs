//! A day's orders from a moment on: which loads come late, of one order and of all others, and who is stranded.

use crate::plant::{Event, Observer, Plan};
use crate::units::{Millis, OrderId};

/// What has been seen so far.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct DaySeen {
    /// Loads of the order that came on site.
    pub loads: u32,
    /// Loads of the order that were late beyond its tolerance or did not come.
    pub late: u32,
    /// When the first came.
    pub first: Option<Millis>,
    /// When the order was complete.
    pub complete: Option<Millis>,
    /// Loads of all other orders that were late or did not come.
    pub others_late: u32,
    /// Drivers stranded.
    pub stranded: u32,
}

/// Watches them. Kept warm: [`DayWatch::begin`] before each trial.
#[derive(Clone, Debug)]
pub struct DayWatch {
    tolerance: Vec<Millis>,
    order: Option<OrderId>,
    seen: DaySeen,
}

impl DayWatch {
    /// For forks of worlds of this plan.
    pub fn new(plan: &Plan) -> Self {
        Self {
            tolerance: plan.orders.iter().map(|order| order.late).collect(),
            order: None,
            seen: DaySeen::default(),
        }
    }

    /// Forgets the last trial and watches this order beside the others.
    pub fn begin(&mut self, order: Option<OrderId>) {
        self.order = order;
        self.seen = DaySeen::default();
    }

    /// What has been seen so far.
    pub fn seen(&self) -> &DaySeen {
        &self.seen
    }

    fn late(&mut self, order: OrderId) {
        if self.order == Some(order) {
            self.seen.late += 1;
        } else {
            self.seen.others_late += 1;
        }
    }
}

impl Observer for DayWatch {
    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::SiteReached {
                order,
                ready,
                judged: true,
                ..
            } => {
                if self.order == Some(order) {
                    self.seen.loads += 1;
                    self.seen.first = self.seen.first.or(Some(at));
                }
                if at - ready > self.tolerance[order.at()] {
                    self.late(order);
                }
            }
            Event::Undelivered { order, .. } => self.late(order),
            Event::DischargeEnded {
                order,
                complete: true,
                ..
            } if self.order == Some(order) => {
                self.seen.complete = Some(at);
            }
            Event::Stranded { .. } => self.seen.stranded += 1,
            _ => {}
        }
    }
}
