//! What a rule does about orders of the day: those added, and loads whose site is not ready.

use super::{Variants, value};
use crate::dispatch::{Additions, Redirect};
use crate::scenario::decode::Limits;

pub(super) const ADDITIONS: Variants<Additions, 3> = [
    ("TakeAll", |contents| contents.bare(Additions::TakeAll)),
    ("OnlyIfHolds", |contents| {
        contents.bare(Additions::OnlyIfHolds)
    }),
    ("FirstFreeTime", |contents| {
        let hours = value(&contents, "hours", Limits::between("hours", 0.5, 24.0))?;
        Some(Additions::FirstFreeTime { hours })
    }),
];

pub(super) const REDIRECTS: Variants<Redirect, 2> = [
    ("Wait", |contents| contents.bare(Redirect::Wait)),
    ("SameMix", |contents| {
        let limits = Limits::between("minutes", 0.0, 1_440.0);
        let wait_min = value(&contents, "wait_min", limits)?;
        Some(Redirect::SameMix { wait_min })
    }),
];
