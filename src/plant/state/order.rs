//! Orders: what is ordered, promised, placed, and asks again.

use super::super::plan::OrderPlan;
use crate::dispatch::Rank;
use crate::units::{Millis, Volume};
use std::collections::VecDeque;

/// A load that asks again.
#[derive(Clone, Copy, Debug)]
pub(in crate::plant) struct Again {
    pub(in crate::plant) number: u32,
    pub(in crate::plant) attempt: u32,
    pub(in crate::plant) volume: Volume,
    pub(in crate::plant) before: Volume,
    pub(in crate::plant) due: Millis,
    pub(in crate::plant) ready: Millis,
}

/// An order.
#[derive(Debug)]
pub(in crate::plant) struct OrderNow {
    /// Volume ordered in this period; grows when the site calls a balance.
    pub(in crate::plant) volume: Volume,
    /// Volume ordered at first, without the balance.
    pub(in crate::plant) booked: Volume,
    /// Volume that has come on site, loads that were turned away there included.
    pub(in crate::plant) reached: Volume,
    /// Whether the site has said if it needs a balance.
    pub(in crate::plant) balance_called: bool,
    /// Volume promised so far.
    pub(in crate::plant) promised: Volume,
    pub(in crate::plant) placed: Volume,
    /// Ordered, batched and not needed in the end: it goes back with the last truck.
    pub(in crate::plant) spared: Volume,
    /// How slowly the site unloads: factor on every discharge.
    pub(in crate::plant) pace: f64,
    /// The pour stops once this volume is placed, for so long. None: it does not.
    pub(in crate::plant) hold_drawn: Option<(Volume, Millis)>,
    /// Whether it has stopped.
    pub(in crate::plant) hold_over: bool,
    /// Until when no further truck takes a place.
    pub(in crate::plant) held_until: Millis,
    /// When that hold began.
    pub(in crate::plant) held_from: Millis,
    /// The ideal timeline's hold: from which volume, until when. None: not come to yet.
    pub(in crate::plant) ideal_hold: Option<(Volume, Millis)>,
    /// Number of the next new load.
    pub(in crate::plant) next_number: u32,
    /// Loads of the order that are promised and not yet discharged.
    pub(in crate::plant) ahead: u32,
    /// Whether its next load waits for a truck.
    pub(in crate::plant) waiting: bool,
    /// When its next load asks; [`Millis::NEVER`] if there is none.
    pub(in crate::plant) ask_at: Millis,
    /// When its waiting load is looked at again for further plants, as last planned.
    pub(in crate::plant) look_again: Millis,
    pub(in crate::plant) rank: Rank,
    pub(in crate::plant) again: Vec<Again>,
    pub(in crate::plant) begun: bool,
    pub(in crate::plant) closed: bool,
    /// When its site takes the first load.
    pub(in crate::plant) opens: Millis,
    /// Whether the site has last said that it takes no load, for some time.
    pub(in crate::plant) told_to_wait: bool,
    /// Whether the customer is going to cancel, which nobody knows, or has done so.
    pub(in crate::plant) cancelled: bool,
    /// Loads of a stream that have arrived and are not promised: when each came.
    pub(in crate::plant) arrived: VecDeque<Millis>,
    /// Loads of a stream that have arrived so far.
    pub(in crate::plant) arrivals: u32,
    /// When the last of them did.
    pub(in crate::plant) came: Millis,
    /// In a fork: loads below this number have been discharged, and their site minutes are known.
    pub(in crate::plant) known_loads: u32,
    /// By how much it is due later than its plan says: drawn, or moved when it was called in.
    pub(in crate::plant) moved: Millis,
    /// By how much its site will telephone that it is ready later; none: it will not.
    pub(in crate::plant) to_phone: Millis,
    /// Whether the site has telephoned: it is ready when it said.
    pub(in crate::plant) phoned: bool,
    /// Turn of the next destination.
    pub(in crate::plant) turn: u32,
    /// The ideal timeline: loads gone through.
    pub(in crate::plant) ideal_done: i64,
}

impl Clone for OrderNow {
    fn clone(&self) -> Self {
        Self {
            again: self.again.clone(),
            arrived: self.arrived.clone(),
            ..*self
        }
    }

    /// Copies into the lists that this one already has.
    fn clone_from(&mut self, source: &Self) {
        let (mut again, mut arrived) = (
            std::mem::take(&mut self.again),
            std::mem::take(&mut self.arrived),
        );
        again.clone_from(&source.again);
        arrived.clone_from(&source.arrived);
        *self = Self {
            again,
            arrived,
            ..*source
        };
    }
}

impl OrderNow {
    /// As planned, before anything has happened.
    pub(in crate::plant) fn fresh(plan: &OrderPlan) -> Self {
        Self::with(plan, Vec::new(), VecDeque::new())
    }

    /// Back to the beginning; its lists keep their room.
    pub(in crate::plant) fn begin(&mut self, plan: &OrderPlan) {
        let (mut again, mut arrived) = (
            std::mem::take(&mut self.again),
            std::mem::take(&mut self.arrived),
        );
        again.clear();
        arrived.clear();
        *self = Self::with(plan, again, arrived);
    }

    fn with(plan: &OrderPlan, again: Vec<Again>, arrived: VecDeque<Millis>) -> Self {
        Self {
            volume: plan.volume,
            booked: plan.volume,
            reached: Volume::ZERO,
            balance_called: false,
            promised: Volume::ZERO,
            placed: Volume::ZERO,
            spared: Volume::ZERO,
            pace: 1.0,
            hold_drawn: None,
            hold_over: false,
            held_until: Millis::ZERO,
            held_from: Millis::ZERO,
            ideal_hold: None,
            next_number: 0,
            ahead: 0,
            waiting: false,
            ask_at: Millis::NEVER,
            look_again: Millis::ZERO,
            rank: Rank::default(),
            again,
            arrived,
            arrivals: 0,
            came: Millis::ZERO,
            known_loads: 0,
            begun: false,
            closed: false,
            opens: plan.opens,
            told_to_wait: false,
            cancelled: false,
            turn: 0,
            moved: Millis::ZERO,
            to_phone: Millis::ZERO,
            phoned: false,
            ideal_done: 0,
        }
    }
}
