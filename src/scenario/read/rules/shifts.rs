//! When drivers are called and sent home, and until when plants stay open.

use super::{Variants, value};
use crate::dispatch::{PlantHours, SendHome, Shift};
use crate::scenario::decode::{Contents, Limits, whole};

pub(super) const SHIFTS: Variants<Shift, 3> = [
    ("Rostered", |contents| contents.bare(Shift::Rostered)),
    ("Staggered", |contents| {
        if contents.is_bare() {
            return Some(Shift::Staggered { minutes: None });
        }
        let minutes = value(&contents, "minutes", Limits::between("minutes", 0.0, 240.0))?;
        Some(Shift::Staggered {
            minutes: Some(minutes),
        })
    }),
    ("Matched", |contents| {
        let spare = count(&contents, "spare")?;
        Some(Shift::Matched { spare })
    }),
];

pub(super) const SEND_HOMES: Variants<SendHome, 4> = [
    ("ShiftEnd", |contents| contents.bare(SendHome::ShiftEnd)),
    ("FirstInFirstOut", |contents| {
        let hold = count(&contents, "hold")?;
        Some(SendHome::FirstInFirstOut { hold })
    }),
    ("LongestDay", |contents| {
        let hold = count(&contents, "hold")?;
        Some(SendHome::LongestDay { hold })
    }),
    ("Seniority", |contents| {
        let hold = count(&contents, "hold")?;
        Some(SendHome::Seniority { hold })
    }),
];

/// A number of drivers that may be left out, with its brackets: 0 then.
fn count(contents: &Contents<'_>, name: &'static str) -> Option<u32> {
    if contents.is_bare() {
        return Some(0);
    }
    let mut fields = contents.fields(&[name])?;
    let count = fields.or_else(
        name,
        |node, problems| whole(Limits::between("drivers", 0.0, 100.0))(node, problems).map(Some),
        Some(0),
        None,
    );
    fields.finish();
    count
}

pub(super) const PLANT_HOURS: Variants<PlantHours, 2> = [
    ("AsPosted", |contents| contents.bare(PlantHours::AsPosted)),
    ("KeptOpen", |contents| {
        let hours = value(&contents, "hours", Limits::above("hours", 0.0, 12.0))?;
        Some(PlantHours::KeptOpen { hours })
    }),
];
