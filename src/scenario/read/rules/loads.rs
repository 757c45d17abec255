//! What a rule believes of trips, when it sends loads, which first, and how large.

use super::Variants;
use crate::dispatch::{LoadSize, Send, Sequence};
use crate::roads::Belief;
use crate::scenario::decode::{Contents, Limits, number};

pub(super) const BELIEFS: Variants<Belief, 4> = [
    ("TimeOfDay", hour_belief),
    ("FreeFlow", |contents| contents.bare(Belief::FreeFlow)),
    ("StraightLine", |contents| {
        contents.bare(Belief::StraightLine)
    }),
    ("Live", |contents| contents.bare(Belief::Live)),
];

fn hour_belief(contents: Contents<'_>) -> Option<Belief> {
    if contents.is_bare() {
        return Some(Belief::TimeOfDay { quantile: None });
    }
    let mut fields = contents.fields(&["quantile"])?;
    let quantile = fields.or_none(
        "quantile",
        number(Limits::between("share of trips", 0.05, 0.99)),
        f64::NAN,
    );
    fields.finish();
    Some(Belief::TimeOfDay {
        quantile: quantile.filter(|quantile| quantile.is_finite()),
    })
}

pub(super) const SENDS: [(&str, Send); 2] =
    [("AsOrdered", Send::AsOrdered), ("Paced", Send::Paced)];

pub(super) const SEQUENCES: [(&str, Sequence); 3] = [
    ("EarliestDue", Sequence::EarliestDue),
    ("RunningPoursFirst", Sequence::RunningPoursFirst),
    ("BiggestFirst", Sequence::BiggestFirst),
];

pub(super) const LOAD_SIZES: [(&str, LoadSize); 2] = [
    ("FullThenRemainder", LoadSize::FullThenRemainder),
    ("Equal", LoadSize::Equal),
];
