//! A truck with its load, and the account of that load's lateness, stage by stage.

use super::super::cause::{Account, LateCause};
use crate::plant::LoadPlan;
use crate::roads::Delays;
use crate::units::{Millis, OrderId};

/// A truck with its load.
#[derive(Clone, Debug)]
pub(super) struct Trip {
    pub(super) order: OrderId,
    pub(super) number: u32,
    pub(super) plan: LoadPlan,
    pub(super) account: Account,
    /// The last milestone.
    since: Millis,
    /// What the time since the last milestone goes to, and how much of it is planned.
    pub(super) stage: Option<(LateCause, Millis)>,
    pub(super) drying: bool,
    /// What held up the drive that has just ended.
    pub(super) road: Road,
    /// Whether it was made for another order, and has not been promised to its new one yet.
    pub(super) redirected: bool,
    /// Of the last load: what held the truck beyond the plan.
    pub(super) held: Vec<(LateCause, Millis)>,
    pub(super) arrived: Millis,
}

/// What held up a loaded drive.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Road {
    pub(super) delays: Delays,
    /// At a weigh station, found heavy.
    pub(super) held: Millis,
    pub(super) broken: Millis,
    /// Longer on the way round a weigh station.
    pub(super) round: Millis,
}

impl Trip {
    pub(super) fn new() -> Self {
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
            held: Vec::new(),
            arrived: Millis::ZERO,
        }
    }

    /// Forgets the last replication.
    pub(super) fn begin(&mut self) {
        self.account.clear();
        self.held.clear();
        self.stage = None;
        self.road = Road::default();
        self.redirected = false;
    }

    /// The truck is promised to a load; `waited` tells what the load has waited for since it was to be sent.
    pub(super) fn promised(
        &mut self,
        at: Millis,
        (order, number): (OrderId, u32),
        plan: LoadPlan,
        waited: impl FnOnce(&mut dyn FnMut(LateCause, Millis)),
    ) {
        (self.order, self.number, self.plan) = (order, number, plan);
        self.drying = false;
        let account = &mut self.account;
        account.clear();
        let on_average = plan.send + plan.bay_wait + plan.loading + plan.rack;
        account.add(LateCause::SentLate, on_average + plan.believed - plan.ready);
        // Bridges and weigh stations are causes of their own, whoever believed in them.
        let on_the_move = |trip, delays: Delays| trip - delays.closed - delays.weighed;
        let usual = on_the_move(plan.usual, plan.usual_delays);
        let believed = on_the_move(plan.believed, plan.believed_delays);
        account.add(LateCause::Belief, usual - believed);
        let mut no_truck = Millis::ZERO;
        waited(&mut |cause, time| {
            if cause == LateCause::NoTruck {
                no_truck += time;
            }
            account.add(cause, time);
        });
        self.since = at.max(plan.send);
        self.stage = Some((LateCause::NoTruck, Millis::ZERO));
        if std::mem::take(&mut self.redirected) {
            // On its way: loading and rack are behind it.
            self.stage = Some((LateCause::Traffic, plan.usual));
        }
        // The truck that came at last was held by something: that has held the load as well.
        inherit(account, &self.held, no_truck);
    }

    /// The truck joins the bay queue.
    pub(super) fn joined(&mut self, at: Millis) {
        if self.drying {
            return; // all of it goes to the rack
        }
        let opens = self.plan.opens;
        let closed = (opens - self.since).max(Millis::ZERO).min(at - self.since);
        self.account.add(LateCause::PlantClosed, closed);
        let late = at - self.since - closed;
        self.account.add(LateCause::NoTruck, late);
        inherit(&mut self.account, &self.held, late);
        self.held.clear();
        self.since = at;
        self.stage = Some((LateCause::BayQueue, self.plan.bay_wait));
    }

    /// A stage of the load is over.
    pub(super) fn milestone(&mut self, at: Millis, next: Option<(LateCause, Millis)>) {
        if let Some((cause, planned)) = self.stage {
            self.pass(cause, at - self.since - planned);
        }
        self.since = at;
        self.stage = next;
    }

    /// A stage has taken this much longer than planned.
    fn pass(&mut self, cause: LateCause, excess: Millis) {
        self.account.add(cause, excess);
        self.hold(cause, excess);
    }

    /// The load comes on site: first what held it up, then the drive itself.
    pub(super) fn came(&mut self, at: Millis) {
        if let Some((cause, usual)) = self.stage.take() {
            let (plan, road) = (self.plan, std::mem::take(&mut self.road));
            let beyond = [
                (
                    LateCause::LiftBridge,
                    road.delays.closed - plan.believed_delays.closed,
                    road.delays.closed - plan.usual_delays.closed,
                ),
                (
                    LateCause::WeighStation,
                    road.held + road.delays.weighed - plan.believed_delays.weighed,
                    road.held + road.delays.weighed - plan.usual_delays.weighed,
                ),
                (
                    LateCause::Incident,
                    road.delays.incidents - plan.usual_delays.incidents,
                    road.delays.incidents - plan.usual_delays.incidents,
                ),
                (LateCause::Breakdown, road.broken, road.broken),
                (LateCause::WayRound, road.round, road.round),
            ];
            let mut drive = at - self.since - usual;
            for (cause, excess, unusual) in beyond {
                self.pass(cause, excess);
                drive -= unusual;
            }
            self.pass(cause, drive);
        }
        (self.since, self.arrived) = (at, at);
    }

    /// The truck is held beyond the plan.
    pub(super) fn hold(&mut self, cause: LateCause, excess: Millis) {
        if excess > Millis::ZERO {
            self.held.push((cause, excess));
        }
    }
}

/// Turns what an account has for want of a truck, up to `most`, into what held that truck.
fn inherit(account: &mut Account, held: &[(LateCause, Millis)], most: Millis) {
    let mut left = most;
    for (cause, time) in held {
        let time = (*time).min(left);
        if time <= Millis::ZERO {
            continue;
        }
        account.turn(LateCause::NoTruck, *cause, time);
        left -= time;
    }
}
