//! What serves one after the other (trucks, the bays of a plant, the places of a site), each with what keeps it behind its plan.
//!
//! A plan runs beside the day: in it nothing holds anybody up. Who is served gets in the plan whatever would be free first, which
//! need not be what serves it on the day: then the two change places in the plan, with what keeps them behind it.

use super::super::cause::{Account, LateCause};
use crate::units::Millis;

/// A truck, a bay or a place.
#[derive(Clone, Debug, Default)]
pub(super) struct Slot {
    /// When it is free in the plan.
    pub(super) free: Millis,
    /// How far it is behind the plan, and for what.
    pub(super) held: Account,
    /// Until when the present stage was to last, and what more than that goes to.
    pub(super) stage: Option<(Millis, LateCause)>,
    /// Whether it serves somebody, or has a driver.
    pub(super) busy: bool,
}

impl Slot {
    /// Free in the plan from then on, and not behind it.
    pub(super) fn begin(&mut self, free: Millis) {
        self.free = free;
        self.held.clear();
        self.stage = None;
        self.busy = false;
    }

    /// The present stage is over, and the next begins.
    pub(super) fn pass(&mut self, at: Millis, next: Option<(Millis, LateCause)>) {
        if let Some((over, cause)) = self.stage {
            self.held.add(cause, at - over);
        }
        self.stage = next;
    }

    /// Takes the place in the plan of another, which is free in it before: what is behind from now on is what keeps the other
    /// behind. What nothing explains is no delay: the plan itself is that late.
    pub(super) fn stand_in(&mut self, other: &mut Self, at: Millis, room: &mut Account) {
        let gap = self.free - other.free;
        let behind = self.held.level() + gap;
        room.clear();
        if behind <= Millis::ZERO {
            room.add(LateCause::NoTruck, behind);
        } else {
            let ongoing = other.stage.map(|(over, cause)| (cause, at - over));
            let kept = other.held.parts().iter().copied().chain(ongoing);
            for (cause, time) in kept.chain(self.held.parts().iter().copied()) {
                room.add(cause, time.min(behind - room.level()).max(Millis::ZERO));
            }
        }
        let planned = std::mem::replace(&mut self.free, other.free + behind - room.level());
        std::mem::swap(&mut self.held, room);
        other.free = planned;
        other.held.add(LateCause::NoTruck, Millis::ZERO - gap);
    }
}

/// Who comes to be served.
pub(super) struct Visit {
    /// When it came, and when it is served.
    pub(super) came: Millis,
    /// When it is served.
    pub(super) at: Millis,
    /// Nobody is served before.
    pub(super) opens: Millis,
    /// How much of the wait nobody could be served, and what for.
    pub(super) stood: (LateCause, Millis),
    /// What else the wait goes to.
    pub(super) own: LateCause,
    /// How long it is planned to take.
    pub(super) takes: Millis,
}

/// What a visit has come to.
pub(super) struct Served {
    /// The position of what serves it.
    pub(super) slot: usize,
    /// How long it would have waited by the plan.
    pub(super) planned_wait: Millis,
}

/// Somebody who is so far behind the plan is served. `tell` hears of the wait beyond the plan what is not its own; all of it is added
/// to `held`, so that it is behind the plan by what it is then.
pub(super) fn serve(
    slots: &mut [Slot],
    room: &mut Account,
    held: &mut Account,
    visit: &Visit,
    mut tell: impl FnMut(LateCause, Millis),
) -> Served {
    let planned = visit.came - held.level();
    let idle = (0..slots.len()).filter(|slot| !slots[*slot].busy);
    let index = idle.min_by_key(|slot| slots[*slot].free).unwrap_or(0);
    let first = (0..slots.len()).min_by_key(|slot| slots[*slot].free);
    if let Some(first) = first
        && slots[index].free > planned
        && slots[first].free < slots[index].free
        && let Ok([mine, other]) = slots.get_disjoint_mut([index, first])
    {
        mine.stand_in(other, visit.at, room);
    }
    let slot = &mut slots[index];
    let planned_wait = (slot.free.max(visit.opens) - planned).max(Millis::ZERO);
    let mut left = visit.at - visit.came - planned_wait;
    let mut book = |held: &mut Account, cause, time: Millis| {
        let time = time.min(left).max(Millis::ZERO);
        if time > Millis::ZERO {
            left -= time;
            held.add(cause, time);
            tell(cause, time);
        }
    };
    book(held, visit.stood.0, visit.stood.1);
    for (cause, time) in slot.held.parts() {
        book(held, *cause, *time);
    }
    held.add(visit.own, left);
    slot.held.copy_from(held);
    slot.free = planned + planned_wait + visit.takes;
    slot.stage = Some((visit.at + visit.takes, visit.own));
    slot.busy = true;
    Served {
        slot: index,
        planned_wait,
    }
}
