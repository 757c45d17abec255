//! What a rule does about drivers' hours: gates, who overrides them, and retrieval.

use super::{Variants, value};
use crate::dispatch::{DriversWord, Fetch, Gate, Override, Retrieval};
use crate::scenario::decode::{Contents, Limits, flag, pair, time_of_day};
use crate::scenario::problem::Problem;

pub(super) const GATES: Variants<Gate, 4> = [
    ("LastLoadBy", |contents| {
        let hours = value(
            &contents,
            "hours",
            Limits::above("hours since report", 0.0, 672.0),
        )?;
        Some(Gate::LastLoadBy { hours })
    }),
    ("HomeWithin", |contents| {
        let probability = value(
            &contents,
            "probability",
            Limits::between("probability", 0.5, 0.999),
        )?;
        Some(Gate::HomeWithin { probability })
    }),
    ("KeepMinutes", |contents| {
        let minutes = value(&contents, "minutes", Limits::between("minutes", 0.0, 600.0))?;
        Some(Gate::KeepMinutes { minutes })
    }),
    ("Reserve", |contents| {
        let hours = value(&contents, "hours", Limits::above("hours", 0.0, 24.0))?;
        Some(Gate::Reserve { hours })
    }),
];

pub(super) const OVERRIDES: Variants<Override, 3> = [
    ("Never", |contents| contents.bare(Override::Never)),
    ("IfLate", |contents| {
        let limits = Limits::between("minutes", 0.0, 1_440.0);
        let minutes = value(&contents, "minutes", limits)?;
        Some(Override::IfLate { minutes })
    }),
    ("Share", |contents| {
        let share = value(
            &contents,
            "share",
            Limits::above("share of loads", 0.0, 1.0),
        )?;
        Some(Override::Share { share })
    }),
];

pub(super) const DRIVERS_WORDS: [(&str, DriversWord); 3] = [
    ("NotAsked", DriversWord::NotAsked),
    ("Heard", DriversWord::Heard),
    ("Overruled", DriversWord::Overruled),
];

pub(super) const RETRIEVALS: Variants<Retrieval, 3> = [
    ("RestOut", |contents| contents.bare(Retrieval::RestOut)),
    ("Fetch", |contents| {
        fetch(&contents, true).map(Retrieval::Fetch)
    }),
    ("FetchDriver", |contents| {
        fetch(&contents, false).map(Retrieval::FetchDriver)
    }),
];

fn fetch(contents: &Contents<'_>, own: bool) -> Option<Fetch> {
    if contents.is_bare() {
        return Some(Fetch::default());
    }
    let mut fields = contents.fields(&["not_between", "foreseen", "waits", "own_drivers"])?;
    let not_between = fields.maybe("not_between", |node, problems| {
        let (from, to) = pair(node, "two times of day", problems)?;
        let (from, to) = (time_of_day(from, problems)?, time_of_day(to, problems)?);
        if from < to {
            return Some((from, to));
        }
        problems.add(
            Problem::new(
                node.span.clone(),
                format!("nobody sets out from {from} to {to}"),
            )
            .label("expected the earlier time first"),
        )
    });
    let foreseen = fields.optional("foreseen", flag, false);
    let waits = fields.optional("waits", flag, false);
    // Who only fetches the driver needs no licence: any helper will do.
    let own_drivers = own && fields.optional("own_drivers", flag, false);
    fields.finish();
    Some(Fetch {
        not_between,
        waits,
        foreseen,
        own_drivers,
    })
}
