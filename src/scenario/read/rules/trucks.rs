//! Which plant and truck a load gets, from where trucks are lent, and where they head for afterwards.

use super::{Variants, value};
use crate::dispatch::{AfterDischarge, Choose, Lend, Plants};
use crate::scenario::decode::Limits;

pub(super) const CHOICES: [(&str, Choose); 6] = [
    ("Nearest", Choose::Nearest),
    ("LongestIdle", Choose::LongestIdle),
    ("SoonestOnSite", Choose::SoonestOnSite),
    ("FewestHours", Choose::FewestHours),
    ("Seniority", Choose::Seniority),
    ("Cheapest", Choose::Cheapest),
];

pub(super) const PLANTS: Variants<Plants, 3> = [
    ("Any", |contents| contents.bare(Plants::Any)),
    ("NearestFirst", |contents| {
        let late_min = value(
            &contents,
            "late_min",
            Limits::between("minutes", 0.0, 1_440.0),
        )?;
        Some(Plants::NearestFirst { late_min })
    }),
    ("UsualFirst", |contents| {
        let late_min = value(
            &contents,
            "late_min",
            Limits::between("minutes", 0.0, 1_440.0),
        )?;
        Some(Plants::UsualFirst { late_min })
    }),
];

pub(super) const LENDS: Variants<Lend, 3> = [
    ("Never", |contents| contents.bare(Lend::Never)),
    ("IfSaves", |contents| {
        let minutes = value(
            &contents,
            "minutes",
            Limits::between("minutes", 0.0, 1_440.0),
        )?;
        Some(Lend::IfSaves { minutes })
    }),
    ("Always", |contents| contents.bare(Lend::Always)),
];

pub(super) const AFTER_DISCHARGES: [(&str, AfterDischarge); 3] = [
    ("HomePlant", AfterDischarge::HomePlant),
    ("NearestPlant", AfterDischarge::NearestPlant),
    ("MostWork", AfterDischarge::MostWork),
];
