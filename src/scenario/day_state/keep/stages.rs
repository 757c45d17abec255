//! The stages of a load, which calls go through in their order.

use crate::scenario::day_state::{DayState, Doing, Drive, Pause, Standstill};
use crate::units::Millis;

/// The stages of a load, in their order.
pub(super) const STAGES: [&str; 9] = [
    "free",
    "queue",
    "loading",
    "rack",
    "out",
    "site",
    "unloading",
    "washing",
    "back",
];

/// Where each of them is.
pub(super) const QUEUE: usize = 1;
pub(super) const LOADING: usize = 2;
pub(super) const RACK: usize = 3;
pub(super) const OUT: usize = 4;
pub(super) const WASHING: usize = 7;
pub(super) const BACK: usize = 8;

pub(super) fn stage(doing: &Doing) -> Option<usize> {
    match doing {
        Doing::Checking
        | Doing::Free(_)
        | Doing::Repositioning(..)
        | Doing::OnBreak(Pause::Free(_)) => Some(0),
        Doing::Queueing(_) => Some(QUEUE),
        Doing::Loading(_) => Some(LOADING),
        Doing::AtRack(_) | Doing::OnBreak(Pause::Loaded(_)) => Some(RACK),
        Doing::Out(_) => Some(OUT),
        Doing::OnSite(_) => Some(5),
        Doing::Discharging(_) => Some(6),
        Doing::Washing(_) | Doing::OnBreak(Pause::OnSite(_)) => Some(WASHING),
        Doing::Returning(_) => Some(BACK),
        Doing::BrokenDown(standstill) => stage(&drives_on(standstill)),
        Doing::Off
        | Doing::Stranded(_)
        | Doing::Resting(_)
        | Doing::GoingHome(_)
        | Doing::WashingOut => None,
    }
}

/// What a driver does whose break is over.
pub(super) fn after_break(doing: Doing) -> Doing {
    match doing {
        Doing::OnBreak(Pause::Free(plant)) => Doing::Free(plant),
        Doing::OnBreak(Pause::Loaded(load)) => Doing::AtRack(load),
        Doing::OnBreak(Pause::OnSite(order)) => Doing::Washing(order),
        doing => doing,
    }
}

/// What a driver does whose truck is repaired.
pub(super) fn drives_on(standstill: &Standstill) -> Doing {
    match standstill.drive {
        Drive::Out(load) => Doing::Out(load),
        Drive::Back(order) => Doing::Returning(order),
        Drive::To(from, to) => Doing::Repositioning(from, to),
    }
}

impl DayState {
    /// What was to be over by the moment: a plant works again, a break is over; when a truck is repaired is no longer known.
    pub(super) fn let_pass(&mut self) {
        let now = self.at;
        let passed = |until: Option<Millis>| until.filter(|until| *until <= now);
        self.plants.retain(|of| passed(of.until).is_none());
        for of in &mut self.drivers {
            let Some(until) = passed(of.until) else {
                continue;
            };
            of.until = None;
            if matches!(of.doing, Doing::OnBreak(_)) {
                (of.doing, of.since) = (after_break(of.doing), until.max(of.since));
            }
        }
    }
}
