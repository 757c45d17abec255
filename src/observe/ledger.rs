//! The lateness ledger: which cause made each late load late, milestone by milestone.
//!
//! The plan of a load is made when a truck is promised: when it should join the bay queue and how long each stage takes on
//! average. From the ready time on every milestone (promise, bay queue, bay, rack, arrival) adds what it took beyond the
//! plan. What passes until a truck is promised goes to what refused the trucks meanwhile; if none was free, to what had held
//! the truck that came at last.

mod trip;
mod wait;

use super::cause::{Account, Causes, LateCause};
use crate::plant::{Event, Lateness, LoadPlan, Observer, Plan};
use crate::units::{Millis, OrderId, TruckId};
use trip::{Road, Trip};
use wait::{Wait, why};

/// Adds late loads to [`Causes`]. Kept warm: [`Ledger::begin`] before each replication.
#[derive(Clone, Debug)]
pub struct Ledger<'p> {
    plan: &'p Plan,
    /// The sums so far.
    pub causes: Causes,
    /// By order.
    waits: Vec<Wait>,
    /// By truck.
    trips: Vec<Trip>,
    /// The account of an undelivered load, kept for its memory.
    undelivered: Account,
}

impl<'p> Ledger<'p> {
    /// For runs of this plan.
    pub fn new(plan: &'p Plan) -> Self {
        Self {
            plan,
            causes: Causes::default(),
            waits: vec![Wait::default(); plan.orders.len()],
            trips: vec![Trip::new(); plan.trucks.len()],
            undelivered: Account::default(),
        }
    }

    /// What made the load late that has just been taken from this truck.
    pub(super) fn late(&self, truck: TruckId) -> &[(LateCause, Millis)] {
        self.trips[truck.at()].account.parts()
    }

    /// What made the load late that has just been told as undelivered; nothing if it is not late by the end of its day.
    pub(super) fn late_undelivered(&self) -> &[(LateCause, Millis)] {
        self.undelivered.parts()
    }

    /// Before each replication.
    pub fn begin(&mut self) {
        for wait in &mut self.waits {
            wait.begin();
        }
        for trip in &mut self.trips {
            trip.begin();
        }
    }

    fn turn(&mut self, at: Millis, order: OrderId, cause: LateCause) {
        // Loads of an endless order are never late.
        if !self.plan.orders[order.at()].endless {
            self.waits[order.at()].turn(at, cause);
        }
    }

    fn promised(
        &mut self,
        at: Millis,
        truck: TruckId,
        order: OrderId,
        number: u32,
        plan: LoadPlan,
    ) {
        let wait = &mut self.waits[order.at()];
        let again = wait.take_again(number);
        self.trips[truck.at()].promised(at, (order, number), plan, |tell| {
            wait.of(plan.send, at, again, tell);
        });
    }

    fn taken(&mut self, truck: TruckId, lateness: Lateness) {
        let account = &self.trips[truck.at()].account;
        debug_assert_eq!(
            account.level(),
            lateness.after_ready,
            "the ledger says how late the load is"
        );
        if lateness.is_late() {
            self.causes.book(account);
        }
    }

    /// The load of a truck is to be made again.
    fn lost(&mut self, at: Millis, truck: TruckId, cause: LateCause) {
        let trip = &mut self.trips[truck.at()];
        trip.stage = None;
        let (order, number) = (trip.order, trip.number);
        self.waits[order.at()].again.push((number, at, cause));
    }

    fn undelivered(
        &mut self,
        order: OrderId,
        load: Option<u32>,
        carrier: Option<TruckId>,
        ready: Millis,
        late: Millis,
    ) {
        self.undelivered.clear();
        if late <= Millis::ZERO {
            self.causes.loads += 1;
            self.causes.parts[LateCause::NoTruck as usize] += super::cause::WHOLE;
            return;
        }
        let account = &mut self.undelivered;
        if let Some(truck) = carrier {
            let trip = &self.trips[truck.at()];
            let cause = trip.stage.map_or(LateCause::NoTruck, |(cause, _)| cause);
            account.copy_from(&trip.account);
            account.add(cause, late - account.level());
            self.causes.book(account);
            return;
        }
        let wait = &mut self.waits[order.at()];
        let again = load.and_then(|number| wait.take_again(number));
        wait.of(ready, ready + late, again, &mut |cause, time| {
            account.add(cause, time);
        });
        debug_assert_eq!(account.level(), late);
        self.causes.book(account);
    }
}

impl Observer for Ledger<'_> {
    const PLANS: bool = true;

    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::Reported { truck, .. } => self.trips[truck.at()].held.clear(),
            Event::Asked { order } => self.turn(at, order, LateCause::NoTruck),
            Event::Refused { order, reason, .. } => self.turn(at, order, why(reason)),
            Event::Promised {
                order,
                number,
                truck,
                plan,
                ..
            } => self.promised(at, truck, order, number, plan),
            Event::PromiseBroken { truck, reason, .. } => self.lost(at, truck, why(reason)),
            Event::BayJoined { truck, .. } => self.trips[truck.at()].joined(at),
            Event::BayEntered { truck, .. } => {
                let trip = &mut self.trips[truck.at()];
                if !trip.drying {
                    trip.milestone(at, Some((LateCause::Loading, trip.plan.loading)));
                }
            }
            Event::BayLeft { truck, .. } => {
                let trip = &mut self.trips[truck.at()];
                if !trip.drying {
                    trip.milestone(at, Some((LateCause::Rack, trip.plan.rack)));
                }
            }
            Event::RackLeft { truck, .. } => {
                let trip = &mut self.trips[truck.at()];
                trip.drying = false;
                trip.milestone(at, Some((LateCause::Traffic, trip.plan.usual)));
            }
            Event::DryUp { truck, .. } => {
                // Told at the moment of leaving the rack: no drive has begun.
                let trip = &mut self.trips[truck.at()];
                trip.drying = true;
                trip.stage = Some((LateCause::Rack, Millis::ZERO));
            }
            Event::Drove {
                truck,
                broken,
                held,
                delays,
                round,
                ..
            } => {
                let trip = &mut self.trips[truck.at()];
                if matches!(trip.stage, Some((LateCause::Traffic, _))) {
                    trip.road = Road {
                        delays,
                        held,
                        broken,
                        round: round.unwrap_or_default(),
                    };
                } else {
                    trip.hold(LateCause::Breakdown, broken);
                }
            }
            Event::Redirected { truck, .. } => {
                self.lost(at, truck, LateCause::Site);
                self.trips[truck.at()].redirected = true;
            }
            Event::LoadLost { truck, .. } => self.lost(at, truck, LateCause::NoHours),
            Event::Rejected { truck, .. } => self.lost(at, truck, LateCause::MadeAgain),
            Event::SiteReached { truck, .. } => self.trips[truck.at()].came(at),
            Event::Taken {
                truck, lateness, ..
            } => self.taken(truck, lateness),
            Event::SiteLeft { truck, .. } => {
                let trip = &mut self.trips[truck.at()];
                let excess = at - trip.arrived - trip.plan.stay;
                trip.hold(LateCause::Site, excess);
            }
            Event::Undelivered {
                order,
                number,
                carrier,
                ready,
                late,
                ..
            } => self.undelivered(order, number, carrier, ready, late),
            _ => {}
        }
    }
}
