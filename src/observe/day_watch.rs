//! A day's orders from a moment on: which loads come late, of one order and of all others, and who is stranded.

use crate::plant::{Event, Observer};
use crate::units::{Millis, OrderId};

/// What has been seen so far.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct DaySeen {
    /// Loads of the order that were late beyond its tolerance or did not come.
    pub late: u32,
    /// When the order was complete.
    pub complete: Option<Millis>,
    /// Loads of all other orders that were late or did not come.
    pub others_late: u32,
    /// Drivers stranded.
    pub stranded: u32,
}

/// Watches them. Kept warm: [`DayWatch::begin`] before each trial.
#[derive(Clone, Debug, Default)]
pub struct DayWatch {
    order: Option<OrderId>,
    from: Millis,
    seen: DaySeen,
}

impl DayWatch {
    /// Forgets the last trial and watches this order beside the others. Loads that came on site before the moment `from` are no
    /// longer of the rest of the day.
    pub fn begin(&mut self, order: Option<OrderId>, from: Millis) {
        (self.order, self.from) = (order, from);
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
    const EACH_REFUSAL: bool = false;

    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::Taken {
                order,
                came,
                lateness,
                ..
            } if lateness.is_late() && came >= self.from => self.late(order),
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
