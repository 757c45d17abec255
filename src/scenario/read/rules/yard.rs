//! What is done at the rack and on site about the concrete in the drum.

use super::{Variants, value};
use crate::dispatch::{HrwrAt, ReadAfter, Warning, WaterBy, YardPractice};
use crate::scenario::decode::{Fields, Limits, flag, number, one_of, variant};
use crate::scenario::problem::Problems;
use crate::scenario::tree::Node;

pub(super) fn yard(node: &Node, problems: &Problems) -> Option<YardPractice> {
    let usual = YardPractice::USUAL;
    let mut fields = Fields::of(node, "yard practice", problems)?;
    let yard = YardPractice {
        warning: fields.optional("warning", one_of("warning", &WARNINGS), usual.warning),
        read_after: fields.optional(
            "read_after",
            |node, problems| {
                variant("wait before the reading", &READ_AFTER)(node, problems).map(Some)
            },
            usual.read_after,
        ),
        water_by: fields.optional(
            "water_by",
            one_of("who adds water", &WATER_BY),
            usual.water_by,
        ),
        most_gal_yd3: fields.optional(
            "most_gal_yd3",
            number(Limits::between("gal/yd³", 0.0, 20.0)),
            usual.most_gal_yd3,
        ),
        probe: fields.optional("probe", flag, usual.probe),
        hrwr: fields.optional("hrwr", one_of("place for HRWR", &HRWR), usual.hrwr),
    };
    fields.finish();
    Some(yard)
}

pub(super) const WARNINGS: [(&str, Warning); 3] = [
    ("Never", Warning::Never),
    ("OnAdmixture", Warning::OnAdmixture),
    ("OnEverything", Warning::OnEverything),
];

const READ_AFTER: Variants<ReadAfter, 2> = [
    ("Minutes", |contents| {
        let limits = Limits::between("minutes", 0.0, 60.0);
        value(&contents, "minutes", limits).map(ReadAfter::Minutes)
    }),
    ("Revolutions", |contents| {
        let limits = Limits::between("revolutions", 0.0, 500.0);
        value(&contents, "revolutions", limits).map(ReadAfter::Revolutions)
    }),
];

pub(super) const WATER_BY: [(&str, WaterBy); 3] = [
    ("Driver", WaterBy::Driver),
    ("Batcher", WaterBy::Batcher),
    ("Nobody", WaterBy::Nobody),
];

pub(super) const HRWR: [(&str, HrwrAt); 2] =
    [("AtPlant", HrwrAt::AtPlant), ("OnSite", HrwrAt::OnSite)];
