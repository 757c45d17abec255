//! What an order's loads wait for until a truck is promised.

use super::super::cause::LateCause;
use crate::dispatch::Refusal;
use crate::units::Millis;

/// Why the loads of an order have waited for a truck.
#[derive(Clone, Debug, Default)]
pub(super) struct Wait {
    /// From when which cause holds; it holds until the next.
    spans: Vec<(Millis, LateCause)>,
    /// Loads to be made again: number, since when, why.
    pub(super) again: Vec<(u32, Millis, LateCause)>,
}

impl Wait {
    /// Forgets the last replication.
    pub(super) fn begin(&mut self) {
        self.spans.clear();
        self.again.clear();
    }

    /// When and why the load was lost that is to be made again under this number, which it is now.
    pub(super) fn take_again(&mut self, number: u32) -> Option<(Millis, LateCause)> {
        let position = self.again.iter().position(|again| again.0 == number)?;
        let (_, at, cause) = self.again.remove(position);
        Some((at, cause))
    }

    /// From now on this cause holds.
    pub(super) fn turn(&mut self, at: Millis, cause: LateCause) {
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
    pub(super) fn of(
        &self,
        from: Millis,
        to: Millis,
        lost: Option<(Millis, LateCause)>,
        tell: &mut (impl FnMut(LateCause, Millis) + ?Sized),
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
            0 => LateCause::CalledLate,
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
        hours if hours.is_of_hours() => LateCause::NoHours,
        _ => LateCause::Refused,
    }
}
