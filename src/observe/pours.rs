//! Orders as their pours go: lateness, gaps, completion.

use crate::plant::{Lateness, Plan};
use crate::units::{Millis, OrderId, Volume};

/// How one order has gone so far.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Pour {
    discharging: u32,
    begun: bool,
    last_end: Millis,
    late: u32,
    complete: bool,
    cancelled: bool,
    finished: Millis,
    /// By how much it was moved when it was called in.
    pub(super) moved: Millis,
    /// By how much its site has moved it.
    site_moved: Millis,
    pub(super) placed: Volume,
    /// What of it is never placed, though its customer would have taken it.
    pub(super) lost: Volume,
}

/// All orders with a volume, and sums over them.
#[derive(Clone, Debug, Default)]
pub(super) struct Pours {
    pours: Vec<Pour>,
    pub(super) judged: u32,
    pub(super) arrived: u32,
    pub(super) late: u32,
    pub(super) late_arrived: Millis,
    /// Minutes of late loads beyond tolerance, those that came and were not the first of their order.
    pub(super) beyond: Millis,
    /// The same of first loads.
    pub(super) first_beyond: Millis,
    /// Minutes by which loads came too early: before they could be taken, less what is tolerated.
    pub(super) early: Millis,
    /// Late against the time that the customer asked for first.
    pub(super) late_on_first_wish: u32,
    pub(super) moved_orders: u32,
    pub(super) moved_by: Millis,
    pub(super) first_late: u32,
    pub(super) undelivered: u32,
    pub(super) undelivered_volume: Volume,
    pub(super) gaps: u32,
    pub(super) gap: Millis,
    pub(super) pause: Millis,
    /// The part of it with a pump on site.
    pub(super) pump_pause: Millis,
}

impl Pours {
    pub(super) fn new(plan: &Plan) -> Self {
        let orders = plan.orders.iter().filter(|order| !order.endless).count();
        Self {
            pours: vec![Pour::default(); orders],
            ..Self::default()
        }
    }

    pub(super) fn begin(&mut self) {
        let mut pours = std::mem::take(&mut self.pours);
        pours.fill(Pour::default());
        *self = Self {
            pours,
            ..Self::default()
        };
    }

    /// A load that is judged by its lateness is taken.
    pub(super) fn taken(&mut self, order: OrderId, first: bool, lateness: Lateness) {
        self.judged += 1;
        self.arrived += 1;
        self.late_arrived += lateness.late();
        *if first {
            &mut self.first_beyond
        } else {
            &mut self.beyond
        } += lateness.beyond();
        self.early += lateness.early();
        let moved = self.pours[order.at()].moved;
        self.late_on_first_wish += u32::from(lateness.later_by(moved).is_late());
        if lateness.is_late() {
            self.count_late(order, first);
        }
    }

    pub(super) fn undelivered(&mut self, order: OrderId, first: bool, volume: Volume) {
        self.judged += 1;
        self.undelivered += 1;
        self.undelivered_volume += volume;
        self.late_on_first_wish += 1;
        self.count_late(order, first);
    }

    fn count_late(&mut self, order: OrderId, first: bool) {
        self.late += 1;
        self.first_late += u32::from(first);
        self.pours[order.at()].late += 1;
    }

    /// Gives whether this ends a gap: a pause of the pour that is longer than tolerated.
    pub(super) fn discharge_begun(&mut self, plan: &Plan, order: OrderId, at: Millis) -> bool {
        let Some(pour) = self.pours.get_mut(order.at()) else {
            return false;
        };
        let gaps = self.gaps;
        if pour.begun && pour.discharging == 0 {
            let pause = at - pour.last_end;
            self.pause += pause;
            if plan.orders[order.at()].pump {
                self.pump_pause += pause;
            }
            let tolerated = plan.orders[order.at()].gap;
            if pause > tolerated {
                self.gaps += 1;
                self.gap += pause - tolerated;
            }
        }
        pour.begun = true;
        pour.discharging += 1;
        self.gaps > gaps
    }

    pub(super) fn discharge_ended(
        &mut self,
        order: OrderId,
        at: Millis,
        (volume, complete): (Volume, bool),
    ) {
        let Some(pour) = self.pours.get_mut(order.at()) else {
            return;
        };
        pour.discharging -= 1;
        pour.last_end = at;
        pour.placed += volume;
        if complete {
            pour.complete = true;
            pour.finished = at;
        }
    }

    /// The order does not take place: it leaves the base.
    pub(super) fn cancelled(&mut self, order: OrderId) {
        self.pours[order.at()].cancelled = true;
    }

    /// The order was taken for a later time, and what was agreed with it.
    pub(super) fn moved(&mut self, order: OrderId, by: Millis) {
        self.pours[order.at()].moved = by;
        self.moved_orders += u32::from(by > Millis::ZERO);
        self.moved_by += by;
    }

    /// The site has moved its order: no fault of the desk, and what was agreed moves with it.
    pub(super) fn site_moved(&mut self, order: OrderId, by: Millis) {
        self.pours[order.at()].site_moved += by;
    }

    /// This volume of an order is never placed, though its customer would have taken it.
    pub(super) fn lost(&mut self, order: OrderId, volume: Volume) {
        if let Some(pour) = self.pours.get_mut(order.at()) {
            pour.lost += volume;
        }
    }

    /// Every order with a volume.
    pub(super) fn iter(&self) -> impl Iterator<Item = &Pour> {
        self.pours.iter()
    }

    /// Pours begun and not finished though their customers would have taken the rest.
    pub(super) fn broken(&self) -> usize {
        let broken = |pour: &&Pour| pour.begun && pour.lost > Volume::ZERO;
        self.pours.iter().filter(broken).count()
    }

    pub(super) fn orders(&self) -> usize {
        self.pours.iter().filter(|pour| !pour.cancelled).count()
    }

    pub(super) fn served(&self) -> usize {
        self.pours
            .iter()
            .filter(|pour| pour.complete && pour.late == 0)
            .count()
    }

    pub(super) fn finished_late(&self, plan: &Plan) -> usize {
        let agreed = |pour: &Pour, finish_by: Millis| {
            finish_by < Millis::NEVER
                && !pour.cancelled
                && (!pour.complete || pour.finished > finish_by + pour.moved + pour.site_moved)
        };
        self.pours
            .iter()
            .zip(&plan.orders)
            .filter(|(pour, order)| agreed(pour, order.finish_by))
            .count()
    }
}
