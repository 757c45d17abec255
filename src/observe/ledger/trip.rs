//! A truck with its load, and the account of that load's lateness, stage by stage.

use super::super::cause::{Account, LateCause};
use super::slot::Slot;
use super::wait::Stretch;
use crate::plant::LoadPlan;
use crate::roads::Delays;
use crate::units::{Millis, OrderId, PlantId};

/// A truck with its load.
#[derive(Clone, Debug)]
pub(super) struct Trip {
    pub(super) order: OrderId,
    pub(super) number: u32,
    pub(super) plant: PlantId,
    pub(super) due: Millis,
    pub(super) plan: LoadPlan,
    pub(super) account: Account,
    /// The last milestone.
    since: Millis,
    /// What the time since the last milestone goes to, and how much of it is planned.
    pub(super) stage: Option<(LateCause, Millis)>,
    pub(super) drying: bool,
    /// What holds up the drive under way.
    pub(super) road: Road,
    /// What its last load was turned away for.
    pub(super) lost_for: LateCause,
    /// Whether it was made for another order, and has not been promised to its new one yet.
    pub(super) redirected: bool,
    /// When it was promised.
    pub(super) promised: Millis,
    /// Promised, and not yet in the queue for a bay: when the truck was free for it in the plan.
    pub(super) pending: Option<Millis>,
    /// What the load has waited for so far.
    pub(super) waited: Vec<Stretch>,
    /// Why it is made anew, if it is.
    pub(super) anew: Option<LateCause>,
    /// When the truck joined the bay queue, and how long the plant had stood still by then.
    pub(super) joined: (Millis, Millis),
    /// Its bay, and its place on site.
    pub(super) bay: usize,
    pub(super) place: usize,
}

/// What holds up a drive.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Road {
    pub(super) takes: Millis,
    pub(super) delays: Delays,
    /// At a weigh station, found heavy.
    pub(super) held: Millis,
    pub(super) broken: Millis,
    /// Longer on the way round a weigh station.
    pub(super) round: Millis,
}

impl Road {
    /// What a drive takes beyond its plan, by cause: `usual` with these delays in it, of which those in `believed` were reckoned with.
    pub(super) fn beyond(
        &self,
        usual: Millis,
        usual_delays: Delays,
        believed: Delays,
    ) -> [(LateCause, Millis); 6] {
        let weighed = self.held + self.delays.weighed;
        let incidents = self.delays.incidents - usual_delays.incidents;
        let rest = self.takes
            - usual
            - (self.delays.closed - usual_delays.closed)
            - (weighed - usual_delays.weighed)
            - incidents
            - self.broken
            - self.round;
        [
            (LateCause::LiftBridge, self.delays.closed - believed.closed),
            (LateCause::WeighStation, weighed - believed.weighed),
            (LateCause::Incident, incidents),
            (LateCause::Breakdown, self.broken),
            (LateCause::WayRound, self.round),
            (LateCause::Traffic, rest),
        ]
    }
}

impl Trip {
    pub(super) fn new() -> Self {
        Self {
            order: OrderId(0),
            number: 0,
            plant: PlantId(0),
            due: Millis::ZERO,
            plan: LoadPlan::default(),
            account: Account::default(),
            since: Millis::ZERO,
            stage: None,
            drying: false,
            road: Road::default(),
            lost_for: LateCause::MadeAgain,
            redirected: false,
            promised: Millis::ZERO,
            pending: None,
            waited: Vec::new(),
            anew: None,
            joined: (Millis::ZERO, Millis::ZERO),
            bay: 0,
            place: 0,
        }
    }

    /// Forgets the last replication.
    pub(super) fn begin(&mut self) {
        self.account.clear();
        self.waited.clear();
        self.stage = None;
        self.pending = None;
        self.road = Road::default();
        self.redirected = false;
    }

    /// The truck is promised to a load. What that has waited for until now stands in `waited`.
    pub(super) fn promised(&mut self, at: Millis) {
        self.promised = at;
        self.drying = false;
        let (account, plan) = (&mut self.account, &self.plan);
        account.clear();
        let on_average = plan.send + plan.bay_wait + plan.loading + plan.rack;
        account.add(LateCause::SentLate, on_average + plan.believed - plan.ready);
        // Bridges and weigh stations are causes of their own, whoever believed in them.
        let on_the_move = |trip, delays: Delays| trip - delays.closed - delays.weighed;
        let usual = on_the_move(plan.usual, plan.usual_delays);
        let believed = on_the_move(plan.believed, plan.believed_delays);
        account.add(LateCause::Belief, usual - believed);
        self.since = at.max(plan.send);
        self.stage = Some((LateCause::NoTruck, Millis::ZERO));
    }

    /// How long the truck is away for the load by its plan, in which it stands before nothing.
    pub(super) fn planned(&self) -> Millis {
        let plan = &self.plan;
        let out = plan.usual - plan.usual_delays.closed - plan.usual_delays.weighed;
        plan.bay_wait + plan.loading + plan.rack + out + plan.stay + plan.back
    }

    /// How much earlier the load is sent for a bridge and for weigh stations: what is believed of them, less what comes after the due
    /// time by that belief, as a bridge that is down again by then is met by who leaves earlier only.
    fn sent_earlier(&self) -> [(LateCause, Millis); 2] {
        let plan = &self.plan;
        let leaves = plan.send + plan.bay_wait + plan.loading + plan.rack;
        let after = (leaves + plan.believed - self.due).max(Millis::ZERO);
        let stands = plan.believed_delays;
        let closed = (stands.closed - after).max(Millis::ZERO);
        [
            (LateCause::LiftBridge, closed),
            (LateCause::WeighStation, stands.weighed),
        ]
    }

    /// The wait for the truck is over: it joins the bay queue, or its load is given up. Of the wait, what passed before the truck was
    /// free in the plan is what refused the trucks; until it was really free, what has held it up; then what refused it. It goes on
    /// behind the plan for all but want of trucks.
    pub(super) fn settle(&mut self, at: Millis, slot: &mut Slot, room: &mut Account) {
        let Some(free) = self.pending.take() else {
            return;
        };
        let closed = (self.plan.opens - self.since)
            .max(Millis::ZERO)
            .min(at - self.since);
        self.waited.push(Stretch {
            cause: LateCause::PlantClosed,
            time: closed,
            for_truck: false,
        });
        self.waited.push(Stretch {
            cause: LateCause::NoTruck,
            time: at - self.since - closed,
            for_truck: true,
        });
        room.clear();
        // A driver may have checked the truck sooner than on average.
        let sooner = (free + slot.held.level() - at).max(Millis::ZERO);
        slot.held.add(LateCause::NoTruck, Millis::ZERO - sooner);
        let really = free + slot.held.level();
        // Time in which it would have stood free works off what has held it up, the oldest first.
        let mut skip = (self.plan.send - free).max(Millis::ZERO);
        let mut parts = slot.held.parts().iter().copied();
        let mut part = None;
        let mut from = self.plan.send;
        let mut earlier = self.sent_earlier();
        // Where it is sent earlier for what it will stand before, it begins ahead of its plan, which knows of none.
        let ahead: Millis = earlier.iter().map(|(_, time)| *time).sum();
        room.add(LateCause::NoTruck, Millis::ZERO - ahead);
        for stretch in self.waited.drain(..) {
            let (mut cause, to) = (stretch.cause, from + stretch.time);
            if let (Some(anew), LateCause::NoTruck) = (self.anew, cause) {
                cause = anew;
            }
            let account = &mut self.account;
            let mut book = |carries: bool, cause, time| {
                account.add(cause, time);
                if carries && cause != LateCause::NoTruck {
                    room.add(cause, time);
                }
            };
            if stretch.for_truck && self.anew.is_none() {
                let planned = free.clamp(from, to);
                let until = really.clamp(planned, to);
                // Before the truck is free in the plan nobody is behind it. A load that was to be sent earlier for a bridge would not have
                // needed the truck so early without it.
                let mut wants = planned - from;
                for (cause, time) in &mut earlier {
                    let time = std::mem::take(time).min(wants);
                    book(true, *cause, time);
                    wants -= time;
                }
                book(false, cause, wants);
                let mut left = until - planned;
                while left > Millis::ZERO {
                    let Some((held, time)) = part.take().or_else(|| parts.next()) else {
                        break;
                    };
                    let worked_off = skip.min(time);
                    skip -= worked_off;
                    let time: Millis = time - worked_off;
                    let inherits = time.min(left);
                    book(true, held, inherits);
                    left -= inherits;
                    part = Some((held, time - inherits)).filter(|part| part.1 > Millis::ZERO);
                }
                book(true, cause, left + (to - until));
            } else {
                book(true, cause, stretch.time);
            }
            from = to;
        }
        let takes = self.planned();
        match self.anew {
            // In the plan it is not away for this load at all.
            Some(anew) => {
                slot.free = free;
                let behind = at + takes - free;
                slot.held.add(anew, behind - slot.held.level());
            }
            None => {
                std::mem::swap(&mut slot.held, room);
                slot.free = at - slot.held.level() + takes;
            }
        }
        self.since = at;
    }

    /// When the load was to leave its site, as far as is known since it left the plant.
    pub(super) fn leaves_site(&self) -> Millis {
        self.since + self.road.takes + self.plan.stay
    }

    /// A stage of the load is over.
    pub(super) fn milestone(&mut self, at: Millis, next: Option<(LateCause, Millis)>) {
        if let Some((cause, planned)) = self.stage {
            self.account.add(cause, at - self.since - planned);
        }
        self.since = at;
        self.stage = next;
    }

    /// The load comes on site: first what held it up, then the drive itself.
    pub(super) fn came(&mut self, at: Millis) {
        if let Some((_, usual)) = self.stage.take() {
            let (plan, mut road) = (self.plan, std::mem::take(&mut self.road));
            road.takes = at - self.since;
            for (cause, excess) in road.beyond(usual, plan.usual_delays, plan.believed_delays) {
                self.account.add(cause, excess);
            }
        }
        self.since = at;
    }
}
