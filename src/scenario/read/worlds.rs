//! Worlds of one's own, in which `holds` and `compare` try a decision besides the usual ones:
//!
//! ```text
//! worlds?: [(name: "…", change: CHANGE | [CHANGE, CHANGE, …])]          // several: all at once
//!
//! CHANGE:
//! Orders(times: 1.1) | Orders(more: 0.1) | Orders(less: 0.1)             // of what is written; the same of
//! Traffic(…)  RoadLuck(…)  Discharge(…)                                  // trip times, their scatter, unloading times,
//! Breakdowns(…)  Outages(…)                                              // how often trucks break down and plants stand still
//! Price(of: Lateness | Goodwill | Pay | Driving | Sale, times: 1.5)      // or more, less
//! NotReady(times: 2) | NotReady(share: 0.2)                              // or more, less; the same of
//! Cancelled(…)  Rain(…)  Misread(…)  NoShows(…)  Absent(…)               // other shares
//! AgeLimit(min: 60)
//! PlantDown(plant: "…", day?: 2, from?: "00:00", until?: "24:00")        // day left out: the one with the most ordered volume
//! TruckFewer(plant?: "…", count?: 1)  DriverFewer(…)                     // plant left out: of each; never the last of a plant
//! RainyDay                                                               // one more
//! ```

use super::super::decode::{
    Contents, Fields, Limits, Names, Spanned, list, name, number, one_of, spanned, time_of_day,
    variant, whole,
};
use super::super::edit::{Down, Input, InputKind, Surprise};
use super::super::problem::{Problem, Problems};
use super::super::tree::{Kind, Node};
use super::super::{OwnWorld, Period};
use super::places::Places;
use super::setting::day_within;
use crate::units::{Millis, PlantId};

/// The list of worlds: names unique.
pub(super) fn worlds(
    node: &Node,
    places: &Places<'_>,
    period: &Period,
    problems: &Problems,
) -> Option<Vec<OwnWorld>> {
    let mut names = Names::of("world");
    list(0..=100, "world", |node, problems| {
        let mut fields = Fields::of(node, "world", problems)?;
        let name = fields.required("name", spanned(name));
        if let Some(name) = &name {
            names.define(name, problems);
        }
        let one = |node: &Node, problems: &Problems| {
            let written = variant("change", &CHANGES)(node, problems)?;
            written.resolve(places, period, problems)
        };
        let changes = fields.required("change", |node, problems| match &node.kind {
            Kind::List(_) => list(1..=20, "change", one)(node, problems),
            _ => one(node, problems).map(|change| vec![change]),
        });
        fields.finish();
        Some(OwnWorld {
            name: name?.value,
            changes: changes?,
        })
    })(node, problems)
}

/// A change whose plant and day are still to be looked up.
enum Written {
    Ready(Surprise),
    Down {
        plant: Spanned<String>,
        day: Option<Spanned<u32>>,
        from: Millis,
        until: Millis,
    },
    Fewer {
        plant: Option<Spanned<String>>,
        count: u32,
        of: fn(Option<PlantId>, u32) -> Surprise,
    },
}

impl Written {
    fn resolve(
        self,
        places: &Places<'_>,
        period: &Period,
        problems: &Problems,
    ) -> Option<Surprise> {
        let find = |plant: &Spanned<String>| {
            let (plants, _) = places.names();
            let found = plants.find_at(&plant.value, &plant.span, problems);
            found.map(PlantId::new)
        };
        match self {
            Self::Ready(surprise) => Some(surprise),
            Self::Down {
                plant,
                day,
                from,
                until,
            } => {
                let plant = find(&plant);
                let day = match day {
                    None => Some(None),
                    Some(day) => day_within(period, &day, problems).map(Some),
                };
                Some(Surprise::PlantDown(Down {
                    plant: plant?,
                    day: day?,
                    from,
                    until,
                }))
            }
            Self::Fewer { plant, count, of } => match plant {
                None => Some(of(None, count)),
                Some(plant) => Some(of(Some(find(&plant)?), count)),
            },
        }
    }
}

type Table = [(&'static str, fn(Contents<'_>) -> Option<Written>); 18];

static CHANGES: Table = [
    ("Orders", |contents| of(&contents, Input::Orders)),
    ("Traffic", |contents| of(&contents, Input::Traffic)),
    ("RoadLuck", |contents| of(&contents, Input::RoadLuck)),
    ("Discharge", |contents| of(&contents, Input::Discharge)),
    ("NotReady", |contents| of(&contents, Input::NotReady)),
    ("Cancelled", |contents| of(&contents, Input::Cancelled)),
    ("Rain", |contents| of(&contents, Input::Rain)),
    ("Misread", |contents| of(&contents, Input::Misread)),
    ("NoShows", |contents| of(&contents, Input::NoShows)),
    ("Absent", |contents| of(&contents, Input::Absent)),
    ("Breakdowns", |contents| of(&contents, Input::Breakdowns)),
    ("Outages", |contents| of(&contents, Input::Outages)),
    ("AgeLimit", |contents| {
        let (least, most) = Input::AgeLimit.limits();
        let mut fields = contents.fields(&["min"])?;
        let min = fields.required("min", number(Limits::between("minutes", least, most)));
        fields.finish();
        Some(Written::Ready(Surprise::Is(Input::AgeLimit, min?)))
    }),
    ("Price", |contents| {
        let mut fields = contents.fields(&["of", "times"])?;
        let input = fields.required("of", one_of("price", &PRICES));
        let change = change(&mut fields, input.unwrap_or(Input::LatePrice));
        fields.finish();
        input.and(change)
    }),
    ("PlantDown", down),
    ("RainyDay", |contents| {
        contents.bare(Written::Ready(Surprise::RainyDay))
    }),
    ("TruckFewer", |contents| {
        fewer(contents, Surprise::TruckFewer)
    }),
    ("DriverFewer", |contents| {
        fewer(contents, Surprise::DriverFewer)
    }),
];

static PRICES: [(&str, Input); 5] = [
    ("Lateness", Input::LatePrice),
    ("Goodwill", Input::Goodwill),
    ("Pay", Input::Pay),
    ("Driving", Input::Driving),
    ("Sale", Input::SalePrice),
];

/// `Traffic(times: 1.2)`
fn of(contents: &Contents<'_>, input: Input) -> Option<Written> {
    let mut fields = contents.fields(&["times"])?;
    let change = change(&mut fields, input);
    fields.finish();
    change
}

/// One of `times`, `more`, `less`, and of a share `share`.
fn change(fields: &mut Fields<'_>, input: Input) -> Option<Written> {
    let is_share = input.kind() == InputKind::Share;
    let (least, most) = match is_share {
        true => (0.0, 100.0),
        false => input.limits(),
    };
    let between = |low, high| number(Limits::between("times what is written", low, high));
    let above = |high| number(Limits::above("part of what is written", 0.0, high));
    let times = fields.maybe("times", between(least, most));
    let more = fields.maybe("more", above(most - 1.0));
    let less = fields.maybe("less", above(1.0 - least));
    let mut names = vec!["times", "more", "less"];
    let mut share = None;
    if is_share {
        share = fields.maybe("share", number(Limits::between("share", 0.0, 1.0)));
        names.push("share");
    }
    let written: Vec<_> = names
        .iter()
        .filter_map(|name| Some((*name, fields.place(name)?)))
        .collect();
    if let [(first, span), (second, place), ..] = written.as_slice() {
        let title = format!("`{first}` and `{second}` are both written");
        let problem = Problem::new(place.clone(), title).label("expected one of the two");
        return fields
            .problems()
            .add(problem.also(span.clone(), "first here"));
    }
    if written.is_empty() {
        return fields.missing_one_of(["times", if is_share { "share" } else { "more" }]);
    }
    let times = times
        .or(more.map(|more| 1.0 + more))
        .or(less.map(|less| 1.0 - less));
    let surprise = times.map(|times| Surprise::Times(input, times));
    let surprise = surprise.or(share.map(|share| Surprise::Is(input, share)));
    surprise.map(Written::Ready)
}

/// `PlantDown(plant: "…", day?: 2, from?: "00:00", until?: "24:00")`
fn down(contents: Contents<'_>) -> Option<Written> {
    let mut fields = contents.fields(&["plant", "until"])?;
    let plant = fields.required("plant", spanned(name));
    let days = Limits::between("day, the first is 1", 1.0, 28.0);
    let day = fields.maybe("day", spanned(whole(days)));
    let from = fields.optional("from", time_of_day, Millis(0));
    let until = fields.optional("until", time_of_day, Millis::DAY);
    if let Some(place) = fields.place("until").or(fields.place("from"))
        && until <= from
    {
        let title = format!("down from {from} until {until}");
        let problem = Problem::new(place, title).label(format!("expected a time after {from}"));
        fields.problems().add::<()>(problem);
    }
    fields.finish();
    Some(Written::Down {
        plant: plant?,
        day,
        from,
        until,
    })
}

/// `TruckFewer` or `TruckFewer(plant?: "…", count?: 1)`
fn fewer(contents: Contents<'_>, of: fn(Option<PlantId>, u32) -> Surprise) -> Option<Written> {
    if contents.is_bare() {
        return Some(Written::Fewer {
            plant: None,
            count: 1,
            of,
        });
    }
    let mut fields = contents.fields(&["plant", "count"])?;
    let plant = fields.maybe("plant", spanned(name));
    let count = whole(Limits::between("of a plant", 1.0, 1_000.0));
    let count = fields.optional("count", count, 1);
    fields.finish();
    Some(Written::Fewer { plant, count, of })
}
