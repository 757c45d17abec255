//! How each order of a replication goes: loads late, gaps, loads that do not come, minutes to spare, and what made them late.

use super::cause::LateCause;
use super::ledger::Ledger;
use super::pours::Pours;
use crate::plant::{Event, Observer, Plan};
use crate::units::{Millis, OrderId, Volume};

/// How one order has gone so far.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct OrderSeen {
    /// Loads judged: those that came, and those that did not come on their day.
    pub judged: u32,
    /// Loads that came late beyond tolerance.
    pub late: u32,
    /// Loads that did not come on their day.
    pub undelivered: u32,
    /// Pauses of the pour beyond what it tolerates.
    pub gaps: u32,
    /// What the first load had to spare before it would have been late; below zero: so much beyond.
    pub first_spare: Option<Millis>,
    /// The least that any load had to spare.
    pub least_spare: Option<Millis>,
    /// Lateness of its late loads by cause.
    pub causes: [Millis; LateCause::ALL.len()],
}

impl OrderSeen {
    /// Whether it takes place.
    pub fn takes_place(&self) -> bool {
        self.judged > 0
    }

    /// Whether anything of it went wrong: a load late or missing, or a gap.
    pub fn broke(&self) -> bool {
        self.late > 0 || self.undelivered > 0 || self.gaps > 0
    }
}

/// Watches all orders with a volume. Kept warm: [`OrderWatch::begin`] before each replication.
#[derive(Clone, Debug)]
pub struct OrderWatch<'p> {
    plan: &'p Plan,
    ledger: Ledger<'p>,
    pours: Pours,
    seen: Vec<OrderSeen>,
}

impl<'p> OrderWatch<'p> {
    /// For runs of this plan.
    pub fn new(plan: &'p Plan) -> Self {
        Self {
            plan,
            ledger: Ledger::new(plan),
            pours: Pours::new(plan),
            seen: vec![OrderSeen::default(); plan.orders.len()],
        }
    }

    /// Forgets the last replication.
    pub fn begin(&mut self) {
        self.ledger.begin();
        self.pours.begin();
        self.seen.fill(OrderSeen::default());
    }

    /// How an order has gone.
    pub fn seen(&self, order: OrderId) -> &OrderSeen {
        &self.seen[order.at()]
    }
}

impl OrderSeen {
    fn judge(&mut self, first: bool, spare: Millis) {
        self.judged += 1;
        if first {
            self.first_spare = Some(self.first_spare.map_or(spare, |least| least.min(spare)));
        }
        self.least_spare = Some(self.least_spare.map_or(spare, |least| least.min(spare)));
    }

    fn add(&mut self, parts: &[(LateCause, Millis)]) {
        for (cause, time) in parts {
            self.causes[*cause as usize] += *time;
        }
    }
}

impl Observer for OrderWatch<'_> {
    const EACH_REFUSAL: bool = false;
    const PLANS: bool = true;

    fn event(&mut self, at: Millis, event: &Event) {
        self.ledger.event(at, event);
        match *event {
            Event::Taken {
                order,
                number,
                truck,
                lateness,
                ..
            } => {
                let seen = &mut self.seen[order.at()];
                seen.judge(number == 0, lateness.tolerated - lateness.after_ready);
                if lateness.is_late() {
                    seen.late += 1;
                    seen.add(self.ledger.late(truck));
                }
            }
            Event::Undelivered {
                order,
                number,
                late,
                ..
            } => {
                let tolerated = self.plan.orders[order.at()].late;
                let seen = &mut self.seen[order.at()];
                // A load that was never promised is the first if none was.
                let first = number.map_or(seen.judged == 0, |number| number == 0);
                seen.judge(first, tolerated - late);
                seen.undelivered += 1;
                seen.add(self.ledger.late_undelivered());
            }
            Event::DischargeBegun { order, .. } => {
                let ends_gap = self.pours.discharge_begun(self.plan, order, at);
                self.seen[order.at()].gaps += u32::from(ends_gap);
            }
            Event::DischargeEnded { order, .. } => {
                self.pours.discharge_ended(order, at, (Volume::ZERO, false));
            }
            _ => {}
        }
    }
}
