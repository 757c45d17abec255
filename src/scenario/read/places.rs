//! Plants and sites.

use super::super::decode::{
    self, Contents, Fields, Limits, Names, Spanned, factors, flag, list, minutes, name, number,
    one_of, pair, spanned, time_of_day, variant_or, weekdays, whole,
};
use super::super::defaults;
use super::super::problem::{Problem, Problems};
use super::super::tree::{Kind, Node};
use super::super::{Batcher, BayQueue, OpenHours, Period, Plant, Site, Stage};
use super::changes::outages;
use super::mix_names::Made;
use super::rule_books::Books;
use super::setting::day_of;
use crate::units::{Millis, PlaceId, PlantId, Weekday};

/// The names of all places. Plants are read first, so that a position is a [`PlaceId`].
pub(super) struct Places<'a> {
    period: &'a Period,
    places: Names,
    plants: Names,
    sites: Names,
    mixes: Made,
    /// The first place that does not say where it lies on the map.
    unmapped: Option<Spanned<String>>,
    /// The first but that one: with two of them there is no map, one alone may be its middle.
    unmapped_besides: Option<Spanned<String>>,
}

impl<'a> Places<'a> {
    pub(super) fn new(period: &'a Period) -> Self {
        Self {
            period,
            places: Names::of("plant or site"),
            plants: Names::of("plant"),
            sites: Names::of("site"),
            mixes: Made::default(),
            unmapped: None,
            unmapped_besides: None,
        }
    }

    /// How many there are.
    pub(super) fn count(&self) -> usize {
        self.places.len()
    }

    /// How many of them are plants; the first ones.
    pub(super) fn plants(&self) -> usize {
        self.plants.len()
    }

    /// The name of a place.
    pub(super) fn name(&self, place: usize) -> &str {
        self.places.name(place)
    }

    /// The plant that a node names.
    pub(super) fn find_plant(&self, node: &Node, problems: &Problems) -> Option<PlantId> {
        self.plants.find(node, problems).map(PlantId::new)
    }

    /// The site that a node names.
    pub(super) fn find_site(&self, node: &Node, problems: &Problems) -> Option<PlaceId> {
        self.sites
            .find(node, problems)
            .map(|site| PlaceId::new(self.plants.len() + site))
    }

    /// The names of plants, and of all places.
    pub(super) fn names(&self) -> (&Names, &Names) {
        (&self.plants, &self.places)
    }

    /// A place of the map; one that does not say where it lies is remembered.
    fn at(
        &mut self,
        fields: &mut Fields<'_>,
        name: Option<&Spanned<String>>,
    ) -> ((f64, f64), bool) {
        let is_mapped = fields.place("at").is_some();
        if !is_mapped {
            let place = match self.unmapped {
                None => &mut self.unmapped,
                Some(_) => &mut self.unmapped_besides,
            };
            if place.is_none() {
                *place = name.cloned();
            }
        }
        (fields.optional("at", at, (0.0, 0.0)), is_mapped)
    }

    /// Every place must lie on the map where a rule book looks at the distance from home.
    pub(super) fn check_map(&self, books: &Books, problems: &Problems) {
        if let Some((book, miles)) = books.radius()
            && let Some(place) = &self.unmapped
        {
            problems.add::<()>(
                Problem::new(
                    place.span.clone(),
                    format!("{:?} does not say where it lies on the map", place.value),
                )
                .label("expected `at: (east, north)` in miles for every plant and site")
                .help(format!(
                    "the short-haul exception of {book:?} holds within {miles} air miles of the home plant"
                )),
            );
        }
    }

    /// A place that does not say where it lies on a map whose middle is another that does not; none where there is a map.
    pub(super) fn off_the_map(&self) -> Option<&Spanned<String>> {
        self.unmapped_besides.as_ref()
    }

    /// The mixes that plants make.
    pub(super) fn mixes(&self) -> &Made {
        &self.mixes
    }

    /// One plant.
    pub(super) fn plant(&mut self, node: &Node, problems: &Problems) -> Option<Plant> {
        let mut fields = Fields::of(node, "plant", problems);
        let name = fields
            .as_mut()
            .and_then(|fields| fields.required("name", spanned(name)));
        match &name {
            Some(name) => {
                self.places.define(name, problems);
                self.plants.adopt(name);
            }
            None => {
                self.places.unread();
                self.plants.unread();
                self.mixes.unread();
            }
        }
        let mut fields = fields?;
        let (at, is_mapped) = self.at(&mut fields, name.as_ref());
        let hours = fields.off(&defaults::HOURS, hours).unwrap_or_default();
        let bays = fields.usual(&defaults::BAYS, whole(Limits::between("bays", 1.0, 20.0)));
        let batcher = fields.usual(&defaults::BATCHER, one_of("batcher", &BATCHERS));
        let bay_queue = fields.usual(&defaults::BAY_QUEUE, one_of("bay queue", &BAY_QUEUES));
        let pull_in_min = fields.usual(
            &defaults::PULL_IN_MIN,
            number(Limits::between("minutes", 0.0, 60.0)),
        );
        let loading = fields.usual(&defaults::LOADING, stage);
        let rack = fields.usual(&defaults::RACK, minutes);
        let rack_places = fields.off(
            &defaults::RACK_PLACES,
            whole(Limits::between("trucks", 1.0, 1_000.0)),
        );
        let mixes = fields.optional(
            "mixes",
            list(1..=1_000, "mix", spanned(decode::name)),
            Vec::new(),
        );
        let truck_scale = fields.usual(&defaults::TRUCK_SCALE, flag);
        let outages = fields.off(&defaults::OUTAGES, outages);
        let planned_outages =
            fields.optional("planned_outages", planned_outages(self.period), Vec::new());
        fields.finish();
        self.mixes.plant(&mixes);
        let mixes = mixes.into_iter().map(|mix| mix.value).collect();
        Some(Plant {
            name: name?.value,
            at,
            is_mapped,
            hours,
            bays,
            batcher,
            bay_queue,
            pull_in_min,
            loading,
            rack,
            rack_places,
            mixes,
            outages,
            planned_outages,
            truck_scale,
        })
    }

    /// To be called behind the last place: if there are no plants or no sites, the names of all places are not complete.
    pub(super) fn all_read(&mut self) {
        if self.plants.is_empty() || self.sites.is_empty() {
            self.places.unread();
        }
    }

    /// One site.
    pub(super) fn site(&mut self, node: &Node, problems: &Problems) -> Option<Site> {
        let mut fields = Fields::of(node, "site", problems);
        let name = fields
            .as_mut()
            .and_then(|fields| fields.required("name", spanned(name)));
        match &name {
            Some(name) => {
                self.places.define(name, problems);
                self.sites.adopt(name);
            }
            None => {
                self.places.unread();
                self.sites.unread();
            }
        }
        let mut fields = fields?;
        let (at, is_mapped) = self.at(&mut fields, name.as_ref());
        let parking = fields.usual(&defaults::PARKING, flag);
        fields.finish();
        Some(Site {
            name: name?.value,
            at,
            is_mapped,
            parking,
        })
    }
}

const BATCHERS: [(&str, Batcher); 2] = [("PerBay", Batcher::PerBay), ("Shared", Batcher::Shared)];
const BAY_QUEUES: [(&str, BayQueue); 2] = [
    ("ByRule", BayQueue::ByRule),
    ("FirstCome", BayQueue::FirstCome),
];

/// `(east, north)` in miles.
fn at(node: &Node, problems: &Problems) -> Option<(f64, f64)> {
    let miles = number(Limits::between("miles", -10_000.0, 10_000.0));
    let (east, north) = pair(
        node,
        "a place on the map: (miles east, miles north)",
        problems,
    )?;
    let (east, north) = (miles(east, problems), miles(north, problems));
    Some((east?, north?))
}

fn hours(node: &Node, problems: &Problems) -> Option<Vec<OpenHours>> {
    let spans = list(1..=50, "span of opening hours", open_hours)(node, problems)?;
    let Kind::List(items) = &node.kind else {
        return Some(spans);
    };
    for (later, item) in items.iter().enumerate() {
        let overlap = spans[..later]
            .iter()
            .enumerate()
            .find_map(|(earlier, other)| {
                let span = &spans[later];
                let day = span.days.iter().find(|day| other.days.contains(day))?;
                (span.open < other.close && other.open < span.close).then_some((earlier, *day))
            });
        if let Some((earlier, day)) = overlap {
            return problems.add(
                Problem::new(
                    item.span.clone(),
                    format!("opening hours overlap on {day:?}"),
                )
                .label("expected hours apart from the others of the day")
                .also(items[earlier].span.clone(), "these hours"),
            );
        }
    }
    Some(spans)
}

/// `(days?: [Monday, …], open: "05:30", close: "17:00")`
fn open_hours(node: &Node, problems: &Problems) -> Option<OpenHours> {
    let mut fields = Fields::of(node, "span of opening hours", problems)?;
    let days = fields.optional("days", weekdays, Weekday::ALL.to_vec());
    let open = fields.required("open", time_of_day);
    let close = fields.required("close", spanned(time_of_day));
    fields.finish();
    let (open, close) = (open?, close?);
    if close.value > open {
        return Some(OpenHours {
            days,
            open,
            close: close.value,
        });
    }
    problems.add(
        Problem::new(close.span, format!("closes at {} and opens at {open}", close.value))
            .label(format!("expected a time after {open}, at most 24:00"))
            .help("hours that go past midnight are written as two spans: one to \"24:00\", one from \"00:00\""),
    )
}

/// `PerYard(…)` or a spread of minutes.
fn stage(node: &Node, problems: &Problems) -> Option<Stage> {
    let spread = |node: &Node, problems: &Problems| minutes(node, problems).map(Stage::Minutes);
    variant_or("stage", &RATES, spread)(node, problems)
}

type ReadStage = fn(Contents<'_>) -> Option<Stage>;

/// By volume: the same under two names.
const RATES: [(&str, ReadStage); 2] = [("PerYard", per_yard), ("PerVolume", per_yard)];

fn per_yard(contents: Contents<'_>) -> Option<Stage> {
    let mut fields = contents.fields(&["fixed_min", "min_per_yd3", "luck"])?;
    let fixed_min = fields.required(
        "fixed_min",
        number(Limits::between("minutes", 0.0, 1_000.0)),
    );
    let min_per_yd3 = fields.required(
        "min_per_yd3",
        number(Limits::between("minutes per yd³", 0.0, 100.0)),
    );
    let luck = fields.usual(&defaults::LOADING_LUCK, factors);
    fields.finish();
    Some(Stage::PerYard {
        fixed_min: fixed_min?,
        min_per_yd3: min_per_yd3?,
        luck,
    })
}

/// `[(day?: 1, from: "11:00", to: "12:30")]`
fn planned_outages(
    period: &Period,
) -> impl FnMut(&Node, &Problems) -> Option<Vec<(Millis, Millis)>> {
    let day_of = day_of(period);
    list(0..=1_000, "planned outage", move |node, problems| {
        let mut fields = Fields::of(node, "planned outage", problems)?;
        let day = fields.optional("day", &day_of, 1);
        let from = fields.required("from", time_of_day);
        let to = fields.required("to", spanned(time_of_day));
        if let (Some(from), Some(to)) = (from, &to)
            && to.value <= from
        {
            let title = format!("the outage begins at {from} and ends at {}", to.value);
            let problem = Problem::new(to.span.clone(), title);
            problems.add::<()>(problem.label(format!("expected a time after {from}")));
        }
        fields.finish();
        let midnight = Millis::midnight(i64::from(day) - 1);
        Some((midnight + from?, midnight + to?.value))
    })
}
