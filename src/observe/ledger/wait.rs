//! What an order's loads wait for until a truck is promised.

use super::super::cause::LateCause;
use crate::dispatch::Refusal;
use crate::units::Millis;

/// Why the loads of an order have waited for a truck.
#[derive(Clone, Debug, Default)]
pub(super) struct Wait {
    /// From when which cause holds, until the next; none while no load asks.
    spans: Vec<(Millis, Option<LateCause>)>,
    /// Loads that ask again.
    again: Vec<Again>,
    /// When more was called in than was ordered.
    balance: Millis,
}

/// A load that had a truck.
#[derive(Clone, Copy, Debug)]
struct Again {
    number: u32,
    /// From the promise until it was lost, and what for.
    from: Millis,
    until: Millis,
    cause: LateCause,
    /// Whether it had been made, or another load has taken its truck: the plan has no truck for it but that.
    anew: bool,
}

/// A part of a wait.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    pub(super) cause: LateCause,
    pub(super) time: Millis,
    /// Whether it would have ended with a truck.
    pub(super) for_truck: bool,
}

/// Since when a load is known, and why it asks later than that.
#[derive(Clone, Copy, Debug)]
pub(super) struct Known {
    pub(super) from: Millis,
    pub(super) later: LateCause,
}

impl Wait {
    /// Forgets the last replication.
    pub(super) fn begin(&mut self) {
        self.spans.clear();
        self.again.clear();
        self.balance = Millis::ZERO;
    }

    /// A load has lost the truck that was promised at `from`.
    pub(super) fn lost(
        &mut self,
        number: u32,
        (from, until): (Millis, Millis),
        (cause, anew): (LateCause, bool),
    ) {
        self.again.push(Again {
            number,
            from,
            until,
            cause,
            anew,
        });
    }

    /// More is called in.
    pub(super) fn more(&mut self, at: Millis) {
        self.balance = at;
    }

    /// Why a load is made anew, if it is.
    pub(super) fn anew(&self, number: u32) -> Option<LateCause> {
        let of_load = self.again.iter().filter(|again| again.number == number);
        of_load
            .filter(|again| again.anew)
            .map(|again| again.cause)
            .next_back()
    }

    /// From now on this cause holds.
    pub(super) fn turn(&mut self, at: Millis, cause: LateCause) {
        match self.spans.last_mut() {
            // A truck is refused at every plant that makes the mix: what tells most of why the load waits counts.
            Some((since, Some(known))) if *since == at => {
                if weight(cause) > weight(*known) {
                    *known = cause;
                }
            }
            Some((since, known)) if *since == at => *known = Some(cause),
            _ => {
                self.join();
                self.spans.push((at, Some(cause)));
            }
        }
    }

    /// What a moment told again is one stretch with what held before. Not before the moment is over: it may tell more.
    fn join(&mut self) {
        if let [.., (_, before), (_, last)] = self.spans[..]
            && before == last
        {
            self.spans.pop();
        }
    }

    /// A truck is promised: no load asks until one asks again.
    pub(super) fn stop(&mut self, at: Millis) {
        match self.spans.last_mut() {
            Some((since, known)) if *since == at => *known = None,
            _ => self.spans.push((at, None)),
        }
    }

    /// What the time between two moments goes to of the load with this number, in order.
    pub(super) fn of(
        &self,
        (from, to): (Millis, Millis),
        number: Option<u32>,
        known: Known,
        tell: &mut impl FnMut(Stretch),
    ) {
        let mut from = from;
        for again in &self.again {
            if Some(again.number) == number && again.until > from {
                let promised = again.from.clamp(from, to.max(from));
                self.asked((from, promised), known, tell);
                let until = again.until.min(to);
                if until > promised {
                    tell(Stretch {
                        cause: again.cause,
                        time: until - promised,
                        for_truck: false,
                    });
                }
                from = until.max(promised);
            }
        }
        self.asked((from, to), known, tell);
    }

    /// The load has a truck again: what it has lost so far is told.
    pub(super) fn forget(&mut self, number: u32) {
        // What was made anew still is if it loses its truck once more.
        self.again
            .retain(|again| again.number != number || again.anew);
    }

    /// What refused the trucks meanwhile.
    fn asked(
        &self,
        (mut from, to): (Millis, Millis),
        known: Known,
        tell: &mut impl FnMut(Stretch),
    ) {
        if to <= from {
            return;
        }
        let first = self.spans.partition_point(|(since, _)| *since <= from);
        let mut cause = first.checked_sub(1).and_then(|at| self.spans[at].1);
        let ends = self.spans[first..].iter().map(|span| (span.0, span.1));
        for (until, next) in ends.chain([(to, None)]) {
            let until = until.min(to);
            let mut book = |cause, time, for_truck| {
                if time > Millis::ZERO {
                    tell(Stretch {
                        cause,
                        time,
                        for_truck,
                    });
                }
            };
            match cause {
                Some(cause) => book(cause, until - from, cause != LateCause::PlantClosed),
                None => {
                    let heard = known.from.max(self.balance).clamp(from, until);
                    book(LateCause::CalledLate, heard - from, false);
                    book(known.later, until - heard, false);
                }
            }
            (from, cause) = (until, next);
            if from >= to {
                break;
            }
        }
    }
}

/// What tells most of why a load waits: what somebody could decide otherwise before what nobody could.
fn weight(cause: LateCause) -> u32 {
    match cause {
        LateCause::NoTruck => 0,
        LateCause::TooOld => 1,
        LateCause::TooHeavy => 2,
        LateCause::Refused => 3,
        LateCause::NearerPlant => 4,
        LateCause::PlantClosed => 5,
        _ => 6,
    }
}

/// The cause that a load waits for, of what a truck is refused for.
pub(super) fn why(reason: Refusal) -> LateCause {
    match reason {
        Refusal::PlantClosed => LateCause::PlantClosed,
        Refusal::Age => LateCause::TooOld,
        Refusal::Weight => LateCause::TooHeavy,
        Refusal::NearerPlant => LateCause::NearerPlant,
        Refusal::BrokenDown => LateCause::Breakdown,
        hours if hours.is_of_hours() => LateCause::NoHours,
        _ => LateCause::Refused,
    }
}
