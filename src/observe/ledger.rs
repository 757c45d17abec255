//! The lateness ledger: which cause made each late load late, milestone by milestone.
//!
//! The plan of a load is made when a truck is promised: when it should join the bay queue and how long each stage takes on
//! average. From the ready time on every milestone (promise, bay queue, bay, rack, arrival) adds what it took beyond the
//! plan. What passes until a truck is promised goes to what refused the trucks meanwhile; if none was free, to what had held
//! the truck that came at last.

use super::cause::{Account, Cause, Causes};
use crate::dispatch::Refusal;
use crate::plant::{Event, Lateness, LoadPlan, Observer, Plan};
use crate::roads::Delays;
use crate::units::{Millis, OrderId, TruckId};

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

/// Why the loads of an order have waited for a truck.
#[derive(Clone, Debug, Default)]
struct Wait {
    /// From when which cause holds; it holds until the next.
    spans: Vec<(Millis, Cause)>,
    /// Loads to be made again: number, since when, why.
    again: Vec<(u32, Millis, Cause)>,
}

/// A truck with its load.
#[derive(Clone, Debug)]
struct Trip {
    order: OrderId,
    number: u32,
    plan: LoadPlan,
    account: Account,
    /// The last milestone.
    since: Millis,
    /// What the time since the last milestone goes to, and how much of it is planned.
    stage: Option<(Cause, Millis)>,
    drying: bool,
    /// What held up the drive that has just ended.
    road: Road,
    /// Whether it was made for another order, and has not been promised to its new one yet.
    redirected: bool,
    lent: bool,
    /// Of the last load: what held the truck beyond the plan.
    held: Vec<(Cause, Millis)>,
    arrived: Millis,
}

/// What held up a loaded drive.
#[derive(Clone, Copy, Debug, Default)]
struct Road {
    delays: Delays,
    /// At a weigh station, found heavy.
    held: Millis,
    broken: Millis,
    /// Longer on the way round a weigh station.
    round: Millis,
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
    pub(super) fn late(&self, truck: TruckId) -> &[(Cause, Millis)] {
        self.trips[truck.at()].account.parts()
    }

    /// What made the load late that has just been told as undelivered; nothing if it is not late by the end of its day.
    pub(super) fn late_undelivered(&self) -> &[(Cause, Millis)] {
        self.undelivered.parts()
    }

    /// Before each replication.
    pub fn begin(&mut self) {
        for wait in &mut self.waits {
            wait.spans.clear();
            wait.again.clear();
        }
        for trip in &mut self.trips {
            trip.account.clear();
            trip.held.clear();
            trip.stage = None;
            trip.road = Road::default();
            trip.redirected = false;
        }
    }

    fn turn(&mut self, at: Millis, order: OrderId, cause: Cause) {
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
        let trip = &mut self.trips[truck.at()];
        let held = std::mem::take(&mut trip.held);
        let wait = &mut self.waits[order.at()];
        let again = wait.take_again(number);
        trip.order = order;
        trip.number = number;
        trip.plan = plan;
        trip.drying = false;
        let account = &mut trip.account;
        account.clear();
        let on_average = plan.send + plan.bay_wait + plan.loading + plan.rack;
        account.add(Cause::SentLate, on_average + plan.believed - plan.ready);
        // Bridges and weigh stations are causes of their own, whoever believed in them.
        let on_the_move = |trip, delays: Delays| trip - delays.closed - delays.weighed;
        let usual = on_the_move(plan.usual, plan.usual_delays);
        let believed = on_the_move(plan.believed, plan.believed_delays);
        account.add(Cause::Belief, usual - believed);
        let mut no_truck = Millis::ZERO;
        let mut waited = |cause, time| {
            if cause == Cause::NoTruck {
                no_truck += time;
            }
            account.add(cause, time);
        };
        wait.of(plan.send, at, again, &mut waited);
        trip.since = at.max(plan.send);
        trip.stage = Some((Cause::NoTruck, Millis::ZERO));
        if std::mem::take(&mut trip.redirected) {
            // On its way: loading and rack are behind it.
            trip.stage = Some((Cause::Traffic, plan.usual));
        }
        // The truck that came at last was held by something: that has held the load as well.
        inherit(account, &held, no_truck);
        trip.held = held;
    }

    /// A stage of a truck's load is over.
    fn milestone(&mut self, at: Millis, truck: TruckId, next: Option<(Cause, Millis)>) {
        let trip = &mut self.trips[truck.at()];
        if let Some((cause, planned)) = trip.stage {
            trip.pass(cause, at - trip.since - planned);
        }
        trip.since = at;
        trip.stage = next;
    }

    fn joined(&mut self, at: Millis, truck: TruckId) {
        let trip = &mut self.trips[truck.at()];
        if trip.drying {
            return; // all of it goes to the rack
        }
        let opens = trip.plan.opens;
        let closed = (opens - trip.since).max(Millis::ZERO).min(at - trip.since);
        trip.account.add(Cause::PlantClosed, closed);
        let late = at - trip.since - closed;
        trip.account.add(Cause::NoTruck, late);
        let held = std::mem::take(&mut trip.held);
        inherit(&mut trip.account, &held, late);
        trip.held = held;
        trip.held.clear();
        trip.since = at;
        trip.stage = Some((Cause::BayQueue, trip.plan.bay_wait));
    }

    fn arrived(&mut self, at: Millis, truck: TruckId) {
        let trip = &mut self.trips[truck.at()];
        trip.came(at);
        trip.arrived = at;
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
    fn lost(&mut self, at: Millis, truck: TruckId, cause: Cause) {
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
            self.causes.parts[Cause::NoTruck as usize] += super::cause::WHOLE;
            return;
        }
        let account = &mut self.undelivered;
        if let Some(truck) = carrier {
            let trip = &self.trips[truck.at()];
            let cause = trip.stage.map_or(Cause::NoTruck, |(cause, _)| cause);
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

impl Trip {
    fn new() -> Self {
        Self {
            order: OrderId(0),
            number: 0,
            plan: LoadPlan::default(),
            account: Account::default(),
            since: Millis::ZERO,
            stage: None,
            drying: false,
            road: Road::default(),
            redirected: false,
            lent: false,
            held: Vec::new(),
            arrived: Millis::ZERO,
        }
    }

    /// A stage has taken this much longer than planned.
    fn pass(&mut self, cause: Cause, excess: Millis) {
        self.account.add(cause, excess);
        self.hold(cause, excess);
    }

    /// A loaded trip has ended: first what held it up, then the drive itself.
    fn came(&mut self, at: Millis) {
        if let Some((cause, usual)) = self.stage.take() {
            let (plan, road) = (self.plan, std::mem::take(&mut self.road));
            let beyond = [
                (
                    Cause::LiftBridge,
                    road.delays.closed - plan.believed_delays.closed,
                    road.delays.closed - plan.usual_delays.closed,
                ),
                (
                    Cause::WeighStation,
                    road.held + road.delays.weighed - plan.believed_delays.weighed,
                    road.held + road.delays.weighed - plan.usual_delays.weighed,
                ),
                (
                    Cause::Incident,
                    road.delays.incidents - plan.usual_delays.incidents,
                    road.delays.incidents - plan.usual_delays.incidents,
                ),
                (Cause::Breakdown, road.broken, road.broken),
                (Cause::WayRound, road.round, road.round),
            ];
            let mut drive = at - self.since - usual;
            for (cause, excess, unusual) in beyond {
                self.pass(cause, excess);
                drive -= unusual;
            }
            self.pass(cause, drive);
        }
        self.since = at;
    }

    fn hold(&mut self, cause: Cause, excess: Millis) {
        if excess > Millis::ZERO {
            self.held.push((cause, excess));
        }
    }
}

impl Wait {
    fn take_again(&mut self, number: u32) -> Option<(Millis, Cause)> {
        let position = self.again.iter().position(|again| again.0 == number)?;
        let (_, at, cause) = self.again.remove(position);
        Some((at, cause))
    }

    fn turn(&mut self, at: Millis, cause: Cause) {
        match self.spans.last_mut() {
            // A truck is refused at every plant that makes the mix: what tells most of why the load waits counts.
            Some((since, known)) if *since == at => {
                if weight(cause) > weight(*known) {
                    *known = cause;
                }
            }
            Some((_, known)) if *known == cause => {}
            _ => self.spans.push((at, cause)),
        }
    }

    /// What the time between two moments goes to: until the load was lost, why it was; before the order was heard of, that;
    /// then what refused the trucks.
    fn of(
        &self,
        from: Millis,
        to: Millis,
        lost: Option<(Millis, Cause)>,
        tell: &mut impl FnMut(Cause, Millis),
    ) {
        let mut from = from;
        if let Some((until, cause)) = lost
            && until.min(to) > from
        {
            tell(cause, until.min(to) - from);
            from = until.min(to);
        }
        if to <= from {
            return;
        }
        let first = self.spans.partition_point(|(since, _)| *since <= from);
        let mut cause = match first {
            0 => Cause::CalledLate,
            after => self.spans[after - 1].1,
        };
        for (since, next) in &self.spans[first..] {
            if *since >= to {
                break;
            }
            tell(cause, *since - from);
            (from, cause) = (*since, *next);
        }
        tell(cause, to - from);
    }
}

/// What tells most of why a load waits: what somebody could decide otherwise before what nobody could.
fn weight(cause: Cause) -> u32 {
    match cause {
        Cause::NoTruck => 0,
        Cause::TooOld => 1,
        Cause::TooHeavy => 2,
        Cause::Refused => 3,
        Cause::NearerPlant => 4,
        Cause::PlantClosed => 5,
        _ => 6,
    }
}

fn why(reason: Refusal) -> Cause {
    match reason {
        Refusal::PlantClosed => Cause::PlantClosed,
        Refusal::Age => Cause::TooOld,
        Refusal::Weight => Cause::TooHeavy,
        Refusal::NearerPlant => Cause::NearerPlant,
        hours if hours.is_of_hours() => Cause::NoHours,
        _ => Cause::Refused,
    }
}

/// Turns what an account has for want of a truck, up to `most`, into what held that truck.
fn inherit(account: &mut Account, held: &[(Cause, Millis)], most: Millis) {
    let mut left = most;
    for (cause, time) in held {
        let time = (*time).min(left);
        if time <= Millis::ZERO {
            continue;
        }
        account.turn(Cause::NoTruck, *cause, time);
        left -= time;
    }
}

impl Observer for Ledger<'_> {
    const PLANS: bool = true;

    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::Reported { truck, .. } => self.trips[truck.at()].held.clear(),
            Event::Asked { order } => self.turn(at, order, Cause::NoTruck),
            Event::Refused { order, reason, .. } => self.turn(at, order, why(reason)),
            Event::Promised {
                order,
                number,
                truck,
                plan,
                lent,
                ..
            } => {
                self.promised(at, truck, order, number, plan);
                self.trips[truck.at()].lent = lent;
            }
            Event::PromiseBroken { truck, reason, .. } => self.lost(at, truck, why(reason)),
            Event::BayJoined { truck, .. } => self.joined(at, truck),
            Event::BayEntered { truck, .. } => {
                let trip = &self.trips[truck.at()];
                if !trip.drying {
                    let loading = trip.plan.loading;
                    self.milestone(at, truck, Some((Cause::Loading, loading)));
                }
            }
            Event::BayLeft { truck, .. } => {
                let trip = &self.trips[truck.at()];
                if !trip.drying {
                    let rack = trip.plan.rack;
                    self.milestone(at, truck, Some((Cause::Rack, rack)));
                }
            }
            Event::RackLeft { truck, .. } => {
                let usual = self.trips[truck.at()].plan.usual;
                self.trips[truck.at()].drying = false;
                self.milestone(at, truck, Some((Cause::Traffic, usual)));
            }
            Event::DryUp { truck, .. } => {
                // Told at the moment of leaving the rack: no drive has begun.
                let trip = &mut self.trips[truck.at()];
                trip.drying = true;
                trip.stage = Some((Cause::Rack, Millis::ZERO));
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
                if matches!(trip.stage, Some((Cause::Traffic, _))) {
                    trip.road = Road {
                        delays,
                        held,
                        broken,
                        round: round.unwrap_or_default(),
                    };
                } else {
                    trip.hold(Cause::Breakdown, broken);
                }
            }
            Event::Redirected { truck, .. } => {
                self.lost(at, truck, Cause::Site);
                self.trips[truck.at()].redirected = true;
            }
            Event::LoadLost { truck, .. } => self.lost(at, truck, Cause::NoHours),
            Event::Rejected { truck, .. } => self.lost(at, truck, Cause::MadeAgain),
            Event::SiteReached { truck, .. } => self.arrived(at, truck),
            Event::Taken {
                truck, lateness, ..
            } => self.taken(truck, lateness),
            Event::SiteLeft { truck, .. } => {
                let trip = &mut self.trips[truck.at()];
                let excess = at - trip.arrived - trip.plan.stay;
                trip.hold(Cause::Site, excess);
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
