//! The way between places: minutes, or a network, and traffic.

mod network;

use self::network::reach::Reach;
use super::super::decode::{
    Fields, Limits, entries, factors, list, number, pair, time_of_day, variant, weekdays,
};
use super::super::defaults;
use super::super::problem::{Problem, Problems};
use super::super::tree::{Field, Kind, Node, Span};
use super::super::{MinutesByHour, RoadTable, TrafficProfile};
use super::places::Places;
use crate::engine::Spread;
use crate::units::{Millis, PlaceId, Weekday};

/// The roads, and where they are written.
pub(super) struct Roads {
    pub(super) table: RoadTable,
    /// Where the minutes of each plant are written, or would be; in a network, where its links are.
    rows: Vec<Span>,
    /// Whether all that is written could be read; if not, what is missing may be what is misspelt.
    sound: bool,
    /// Where a network leads; none of a table.
    reach: Option<Reach>,
}

impl Roads {
    /// That the way from a plant to a place and back is missing, if it is.
    pub(super) fn gap(&self, places: &Places, plant: usize, place: PlaceId) -> Option<Problem> {
        if !self.sound {
            return None;
        }
        let row = self.rows[plant].clone();
        match &self.reach {
            None => self.table.minutes[plant][place.at()]
                .is_none()
                .then(|| missing(places, plant, place.at(), row)),
            Some(reach) => reach.gap(places, plant, place.at(), row),
        }
    }
}

const MINUTES: Limits = Limits::between("minutes", 0.0, 1_440.0);
const BY_HOUR: Limits = Limits::above("minutes", 0.0, 1_440.0);

/// The block of roads: a table `( … )` or `Network( … )`.
pub(super) fn roads(node: &Node, places: &Places, problems: &Problems) -> Option<Roads> {
    match &node.kind {
        Kind::Asked => {
            table(node, places, problems);
            problems.outline().choice("Network", || {
                network::network(node, places, problems);
            });
            None
        }
        Kind::Tagged(tag, inside) if tag.name == "Network" => {
            network::network(inside, places, problems)
        }
        Kind::Tag(_) | Kind::Tagged(..) => variant::<Roads>(
            "form of roads",
            &[("Network", |contents| {
                contents.fields(&["links"])?;
                None
            })],
        )(node, problems),
        _ => table(node, places, problems),
    }
}

fn table(node: &Node, places: &Places, problems: &Problems) -> Option<Roads> {
    let mut fields = Fields::of(node, "table of roads", problems)?;
    let minutes = fields.required("minutes", |node, problems| minutes(node, places, problems));
    let (luck, straight_line_mph) = luck_and_map(&mut fields);
    let traffic = fields.off(&defaults::TRAFFIC, traffic).unwrap_or_default();
    fields.finish();
    let Minutes {
        minutes,
        by_hour,
        rows,
        sound,
    } = minutes?;
    Some(Roads {
        table: RoadTable {
            minutes,
            by_hour,
            luck,
            traffic,
            straight_line_mph,
            network: None,
        },
        rows,
        sound,
        reach: None,
    })
}

/// `luck?: spread, straight_line_mph?: 35`
fn luck_and_map(fields: &mut Fields<'_>) -> (Spread, f64) {
    let mph = Limits::above("miles an hour", 0.0, 100.0);
    let luck = fields.usual(&defaults::TRIP_LUCK, factors);
    (
        luck,
        fields.usual(&defaults::STRAIGHT_LINE_MPH, number(mph)),
    )
}

struct Minutes {
    minutes: Vec<Vec<Option<f64>>>,
    by_hour: Vec<MinutesByHour>,
    rows: Vec<Span>,
    sound: bool,
}

/// `{ "Plant": { "Site": 18, "Other site": (18, 22), "Third site": [("05:00", 12), ("07:00", 17)] } }`
fn minutes(node: &Node, places: &Places, problems: &Problems) -> Option<Minutes> {
    let (plants, _) = places.names();
    let mut matrix = Matrix {
        minutes: vec![vec![None; places.count()]; places.count()],
        by_hour: Vec::new(),
        written: vec![vec![None; places.plants()]; places.plants()],
    };
    let mut rows = vec![node.span.start..node.span.start + 1; places.plants()];
    let mut sound = true;
    let expected = "minutes by plant: `{ \"Plant\": { \"Site\": 18 } }`";
    for row in entries(node, expected, problems)? {
        let from = plants.find_key(&row.key, &row.key_span, problems);
        if let Some(from) = from {
            rows[from] = row.key_span.clone();
        }
        let expected = "minutes by place: `{ \"Site\": 18, \"Other site\": (18, 22) }`";
        let cells = entries(&row.value, expected, problems);
        sound &= from.is_some() && cells.is_some();
        for cell in cells.unwrap_or_default() {
            let read = trip(cell, places, problems);
            sound &= read.is_some();
            if let (Some(from), Some(read)) = (from, read) {
                matrix.enter(from, read, &cell.key_span, places, problems);
            }
        }
    }
    let pairs =
        (0..places.plants()).flat_map(|from| (from + 1..places.plants()).map(move |to| (from, to)));
    for (from, to) in pairs.filter(|_| sound) {
        if matrix.minutes[from][to].is_none() {
            problems.add::<()>(missing(places, from, to, rows[from].clone()));
        }
    }
    Some(Minutes {
        minutes: matrix.minutes,
        by_hour: matrix.by_hour,
        rows,
        sound,
    })
}

/// That there are no minutes from a plant to a place.
fn missing(places: &Places, plant: usize, place: usize, span: Span) -> Problem {
    let (from, to) = (places.name(plant), places.name(place));
    Problem::new(
        span,
        format!("there are no minutes between {from:?} and {to:?}"),
    )
    .label(format!(
        "expected {to:?}: minutes, or (out, back), among those of {from:?}"
    ))
}

/// The minutes of one way: the quickest, and those from times of the day on, if they are told.
#[derive(Clone)]
struct Way {
    quickest: f64,
    by_hour: Vec<(Millis, f64)>,
}

/// `"Site": 18` or `"Site": (18, 22)`: the place, the way out, the way back.
fn trip(cell: &Field, places: &Places, problems: &Problems) -> Option<(usize, Way, Way)> {
    let (_, all) = places.names();
    let to = all.find_key(&cell.key, &cell.key_span, problems);
    let (out, back) = match &cell.value.kind {
        Kind::List(items) if !items.first().is_some_and(is_step) => {
            let (out, back) = pair(&cell.value, "minutes: (out, back)", problems)?;
            (way(out, problems), way(back, problems))
        }
        _ => {
            let both = way(&cell.value, problems);
            (both.clone(), both)
        }
    };
    Some((to?, out?, back?))
}

/// `("07:00", 17)`
fn is_step(node: &Node) -> bool {
    let Kind::List(parts) = &node.kind else {
        return false;
    };
    parts.first().is_some_and(|time| time.text().is_some())
}

/// `18`, or by time of day `[("05:00", 12), ("07:00", 17)]`; before the first time the quickest.
fn way(node: &Node, problems: &Problems) -> Option<Way> {
    let Kind::List(_) = &node.kind else {
        return Some(Way {
            quickest: number(MINUTES)(node, problems)?,
            by_hour: Vec::new(),
        });
    };
    let by_hour = steps(node, "minutes", ("07:00", 17.0), BY_HOUR, problems)?;
    let quickest = by_hour.iter().map(|(_, minutes)| *minutes);
    let quickest = quickest.fold(f64::INFINITY, f64::min);
    let varies = by_hour.iter().any(|(_, minutes)| *minutes != quickest);
    Some(Way {
        quickest,
        by_hour: if varies { by_hour } else { Vec::new() },
    })
}

struct Matrix {
    minutes: Vec<Vec<Option<f64>>>,
    by_hour: Vec<MinutesByHour>,
    /// Where the minutes between two plants are written.
    written: Vec<Vec<Option<Span>>>,
}

impl Matrix {
    fn enter(
        &mut self,
        from: usize,
        (to, out, back): (usize, Way, Way),
        span: &Span,
        places: &Places,
        problems: &Problems,
    ) {
        let (one, other) = (places.name(from), places.name(to));
        if to == from {
            problems.add::<()>(
                Problem::new(span.clone(), format!("minutes from {one:?} to itself"))
                    .label("expected another plant or a site"),
            );
        } else if let Some(first) = self.written.get(to).and_then(|row| row[from].clone()) {
            problems.add::<()>(
                Problem::new(
                    span.clone(),
                    format!("the minutes between {one:?} and {other:?} are written already"),
                )
                .label("expected each pair once, as (out, back) if they differ")
                .also(first, "first here"),
            );
        }
        if to < places.plants() {
            self.written[from][to] = Some(span.clone());
        }
        for (from, to, way) in [(from, to, out), (to, from, back)] {
            self.minutes[from][to] = Some(way.quickest);
            if !way.by_hour.is_empty() {
                self.by_hour.push(MinutesByHour {
                    from,
                    to,
                    minutes: way.by_hour,
                });
            }
        }
    }
}

fn traffic(node: &Node, problems: &Problems) -> Option<Vec<TrafficProfile>> {
    profiles_of_days(node, profile, problems)
}

/// Profiles, each weekday in one of them at most.
fn profiles_of_days(
    node: &Node,
    profile: fn(&Node, &Problems) -> Option<TrafficProfile>,
    problems: &Problems,
) -> Option<Vec<TrafficProfile>> {
    let profiles = list(0..=7, "traffic profile", profile)(node, problems)?;
    let Kind::List(items) = &node.kind else {
        return Some(profiles);
    };
    for (later, profile) in profiles.iter().enumerate() {
        for day in &profile.days {
            if let Some(earlier) = profiles[..later]
                .iter()
                .position(|other| other.days.contains(day))
            {
                return problems.add(
                    Problem::new(
                        items[later].span.clone(),
                        format!("{day:?} stands in two traffic profiles"),
                    )
                    .label("expected each weekday in one profile at most")
                    .also(items[earlier].span.clone(), "the other one"),
                );
            }
        }
    }
    Some(profiles)
}

/// `(days?: [Monday, …], factors: [("00:00", 1.0), ("06:30", 1.4)])`
fn profile(node: &Node, problems: &Problems) -> Option<TrafficProfile> {
    let mut fields = Fields::of(node, "traffic profile", problems)?;
    let days = fields.optional("days", weekdays, Weekday::ALL.to_vec());
    let factors = fields.required("factors", |node, problems| {
        steps(node, "factor", ("06:30", 1.4), FACTOR, problems)
    });
    fields.finish();
    Some(TrafficProfile {
        days,
        factors: factors?,
    })
}

const FACTOR: Limits = Limits::between("times the minutes of the empty road", 0.2, 20.0);

/// `[("06:30", 1.4), …]`: values from times on, which increase; `what` the values are, `such` one of them.
fn steps(
    node: &Node,
    what: &str,
    such: (&str, f64),
    limits: Limits,
    problems: &Problems,
) -> Option<Vec<(Millis, f64)>> {
    let step = |node: &Node, problems: &Problems| {
        let expected = format!("(time, {what}): (\"{}\", {})", such.0, such.1);
        let (time, value) = pair(node, &expected, problems)?;
        let time = time_of_day(time, problems);
        let value = number(limits)(value, problems);
        Some((time?, value?))
    };
    let steps = list(1..=1_440, "step", step)(node, problems)?;
    let Kind::List(items) = &node.kind else {
        return Some(steps);
    };
    match steps.windows(2).position(|pair| pair[0].0 >= pair[1].0) {
        None => Some(steps),
        Some(at) => problems.add(
            Problem::new(
                items[at + 1].span.clone(),
                format!("{} does not come after {}", steps[at + 1].0, steps[at].0),
            )
            .label("expected times that increase")
            .also(items[at].span.clone(), "the time before"),
        ),
    }
}
