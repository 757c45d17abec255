//! A file of how things stand, read and checked against its scenario.

use super::follow::most_driven;
use super::{Carried, DayState, Doing, DriverState, OrderState, Unsaid};
use super::{table, together};
use crate::scenario::decode::{
    Fields, Limits, Spanned, flag, list, moment, moment_of, name, number, one_of, spanned, whole,
};
use crate::scenario::problem::{Faults, Problem, Problems, listed, nearest, visible};
use crate::scenario::read::{ReadError, read_bytes, read_text};
use crate::scenario::tree::{self, Kind, Node, Span};
use crate::scenario::{History, Scenario};
use crate::units::measure::{self, Quantity};
use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId, TruckId, Volume};
use std::path::Path;

/// Reads and checks a file.
///
/// # Errors
/// If it cannot be read, or all that is wrong in it.
pub fn read(path: &Path, scenario: &Scenario) -> Result<DayState, ReadError> {
    let name = path.display().to_string();
    let bytes = read_bytes(path)?;
    let ends = path.extension().map(|ends| ends.to_ascii_lowercase());
    if bytes.starts_with(b"PK") || ends.is_some_and(|ends| ends == "csv") {
        return table::parse(&name, bytes, scenario).map_err(ReadError::Faults);
    }
    let text = read_text(path)?;
    parse(&name, &text, scenario).map_err(ReadError::Faults)
}

/// Checks the text of one; `file` is what problems call it.
///
/// # Errors
/// All that is wrong in the text; only the first problem if it is one of syntax.
pub fn parse(file: &str, text: &str, scenario: &Scenario) -> Result<DayState, Box<Faults>> {
    let problems = Problems::new();
    let state = match tree::parse(text) {
        Ok(node) => Reader::new(scenario).state(&node, &problems),
        Err(found) => problems.add_all(found),
    };
    match state {
        Some(state) if problems.is_empty() => Ok(state),
        _ => Err(Box::new(problems.into_faults(file, text))),
    }
}

/// The scenario that the text of a state names.
pub fn scenario_of(text: &str) -> Option<String> {
    let node = tree::parse(text).ok()?;
    let Kind::Fields(fields) = &node.kind else {
        return None;
    };
    let named = fields.iter().find(|field| field.key == "scenario")?;
    named.value.text().map(str::to_owned)
}

/// What `doing` may be, without what belongs to it.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Word {
    Off,
    Free,
    Loading,
    AtRack,
    DrivingLoaded,
    WaitingOnSite,
    Unloading,
    DrivingBack,
    OutOfHours,
}

const WORDS: [(&str, Word); 9] = [
    ("Off", Word::Off),
    ("Free", Word::Free),
    ("Loading", Word::Loading),
    ("AtRack", Word::AtRack),
    ("DrivingLoaded", Word::DrivingLoaded),
    ("WaitingOnSite", Word::WaitingOnSite),
    ("Unloading", Word::Unloading),
    ("DrivingBack", Word::DrivingBack),
    ("OutOfHours", Word::OutOfHours),
];

pub(super) struct Reader<'s> {
    pub(super) scenario: &'s Scenario,
    pub(super) midnight: Millis,
    pub(super) at: Millis,
    /// A table: what a load's number, volume and plant are may follow from the plan.
    pub(super) is_table: bool,
    /// Drivers and trucks that are named, with their places.
    pub(super) drivers: Vec<(DriverId, Span)>,
    trucks: Vec<(TruckId, Span)>,
    orders: Vec<(OrderId, Span)>,
    /// Loads that are on trucks, with the place of their numbers.
    loads: Vec<((OrderId, u32), Span)>,
    pub(super) unsaid: Vec<(DriverId, Unsaid)>,
}

/// The number of a load of which a table does not say it.
pub(super) const NO_NUMBER: u32 = u32::MAX;

impl<'s> Reader<'s> {
    pub(super) fn new(scenario: &'s Scenario) -> Self {
        Self {
            scenario,
            midnight: Millis::ZERO,
            at: Millis::ZERO,
            is_table: false,
            drivers: Vec::new(),
            trucks: Vec::new(),
            orders: Vec::new(),
            loads: Vec::new(),
            unsaid: Vec::new(),
        }
    }

    fn state(&mut self, node: &Node, problems: &Problems) -> Option<DayState> {
        let mut fields = Fields::of(node, "day state", problems)?;
        let file = fields.maybe("scenario", name);
        let days = f64::from(self.scenario.period.days);
        let day = fields.optional(
            "day",
            whole(Limits::between("day of the period", 1.0, days)),
            1,
        );
        self.midnight = Millis::midnight(i64::from(day) - 1);
        let at = fields.required("at", moment);
        self.at = self.midnight + at.unwrap_or(Millis::DAY);
        let rain = fields.optional("rain", flag, false);
        let orders = fields.optional(
            "orders",
            |node, problems| {
                list(0..=100_000, "order", |node, problems| {
                    self.order(node, problems)
                })(node, problems)
            },
            Vec::new(),
        );
        let drivers = fields.required("drivers", |node, problems| {
            list(0..=10_000, "driver", |node, problems| {
                self.driver(node, &orders, problems)
            })(node, problems)
        });
        fields.finish();
        at?;
        let drivers = drivers?;
        together::check(self.scenario, &drivers, &self.drivers, problems);
        together::check_volumes(&drivers, (&orders, &self.orders), problems);
        let mut state = DayState {
            at: self.at,
            rain,
            drivers,
            orders,
            orders_as_planned: false,
            scenario: file,
            unsaid: std::mem::take(&mut self.unsaid),
        };
        state.follow_the_roster(self.scenario);
        Some(state)
    }

    /// A time of the day that is not after the moment.
    fn past(&self, fields: &mut Fields<'_>, field: &'static str) -> Option<Option<Millis>> {
        let problems_at = fields.place(field);
        let written = fields.maybe(field, |node, problems| {
            let at = self.midnight + moment_or_yesterday(node, problems)?;
            if at > self.at {
                return problems.add(
                    Problem::new(node.span.clone(), "this is after the moment of the file")
                        .label("expected a time that has passed by `at`"),
                );
            }
            Some(at)
        });
        match (problems_at, written) {
            (Some(_), None) => None,
            (_, written) => Some(written),
        }
    }

    fn find<'n>(
        &self,
        what: &'static str,
        names: impl Iterator<Item = &'n str> + Clone,
    ) -> impl Fn(&Node, &Problems) -> Option<(usize, Span)> {
        let names: Vec<String> = names.map(str::to_owned).collect();
        move |node, problems| {
            let text = name(node, problems)?;
            if let Some(at) = names.iter().position(|other| *other == text) {
                return Some((at, node.span.clone()));
            }
            let all = || names.iter().map(String::as_str);
            let title = format!("the scenario has no {what} \"{}\"", visible(&text, 60));
            let mut problem = Problem::new(node.span.clone(), title)
                .label(format!("expected the name of one of its {what}s"))
                .help(format!("the names are {}", listed(all())));
            if let Some(near) = nearest(&text, all()) {
                problem = problem.replace(
                    node.span.clone(),
                    format!("{near:?}"),
                    format!("a similar name exists: {near:?}"),
                );
            }
            problems.add(problem)
        }
    }

    fn order(&mut self, node: &Node, problems: &Problems) -> Option<OrderState> {
        let mut fields = Fields::of(node, "order", problems)?;
        let names = self.scenario.orders.iter().map(|order| order.name.as_str());
        let order = fields.required("name", self.find("order", names));
        let cancelled = fields.optional("cancelled", flag, false);
        let volume = number(Limits::between("yd³", 0.0, 20_000.0));
        let sent = fields.maybe("sent_yd3", spanned(volume));
        let placed = fields.maybe("placed_yd3", spanned(volume));
        let ordered = fields.maybe("ordered_yd3", spanned(volume));
        let later = number(Limits::between("minutes", 0.0, 1_440.0));
        let later = Millis::from_minutes(fields.optional("later_min", later, 0.0));
        let loads = fields.optional("loads", whole(Limits::between("loads", 0.0, 100_000.0)), 0);
        fields.finish();
        let (at, span) = order?;
        let id = OrderId::new(at);
        once(&mut self.orders, id, &span, "order", problems);
        let yd3 = |of: &Option<_>| {
            of.as_ref().map_or(Volume::ZERO, |volume: &Spanned<f64>| {
                Volume::from_yd3(volume.value)
            })
        };
        let (sent_yd3, placed_yd3) = (yd3(&sent), yd3(&placed));
        let written = ordered.map(|ordered| Volume::from_yd3(ordered.value));
        let ordered = written.unwrap_or(self.scenario.orders[at].volume);
        if let Some(sent) = &sent
            && sent_yd3 > ordered
        {
            let title = format!(
                "more is sent than the {} ordered",
                measure::plainly(Quantity::Volume, ordered.yd3(), 3)
            );
            let label = format!("expected at most {}", ordered.yd3());
            problems.add::<()>(Problem::new(sent.span.clone(), title).label(label));
        }
        if let Some(placed) = &placed
            && placed_yd3 > sent_yd3
        {
            problems.add::<()>(
                Problem::new(placed.span.clone(), "more is placed than sent")
                    .label("expected at most what `sent_yd3` says"),
            );
        }
        Some(OrderState {
            order: id,
            ordered: written,
            later,
            sent: sent_yd3,
            placed: placed_yd3,
            loads,
            cancelled,
        })
    }

    pub(super) fn driver(
        &mut self,
        node: &Node,
        orders: &[OrderState],
        problems: &Problems,
    ) -> Option<DriverState> {
        let scenario = self.scenario;
        let mut fields = Fields::of(node, "driver", problems)?;
        let names = scenario.drivers.iter().map(|driver| driver.name.as_str());
        let driver = fields.required("name", self.find("driver", names));
        let trucks = scenario.trucks.iter().map(|truck| truck.name.as_str());
        let truck = fields.maybe("truck", self.find("truck", trucks));
        let doing = fields.required("doing", one_of("thing to do", &WORDS));
        let since = self.past(&mut fields, "since");
        let reported = self.past(&mut fields, "reported");
        let hours = number(Limits::between("hours", 0.0, 24.0));
        let driven = fields.maybe("driven_h", spanned(hours));
        let hours = number(Limits::between("hours", 0.0, 24.0));
        let since_break = fields.maybe("since_break_h", spanned(hours));
        let break_place = fields.place("break_over");
        let break_over = self.past(&mut fields, "break_over");
        let week = fields.maybe("week_h", number(Limits::between("hours", 0.0, 168.0)));
        let plants = scenario.plants.iter().map(|plant| plant.name.as_str());
        let sites = scenario.sites.iter().map(|site| site.name.as_str());
        let order_names = scenario.orders.iter().map(|order| order.name.as_str());
        let doing = doing?;
        let detail = match doing {
            Word::Off => Some(Doing::Off),
            Word::Free => {
                let at = fields.required("at", self.find("plant", plants));
                at.map(|(at, _)| Doing::Free(PlantId::new(at)))
            }
            Word::OutOfHours => {
                let at = fields.required("at", self.find("place", plants.chain(sites)));
                at.map(|(at, _)| Doing::Stranded(PlaceId::new(at)))
            }
            Word::DrivingBack => {
                let order = fields.required("order", self.find("order", order_names));
                order.map(|(at, _)| Doing::Returning(OrderId::new(at)))
            }
            _ => {
                let order = fields.required("order", self.find("order", order_names));
                let number_of = spanned(whole(Limits::between("number of a load", 1.0, 100_000.0)));
                let yards = number(Limits::above("yd³", 0.0, 20.0));
                let plant_of = self.find("plant", plants);
                let (load, yd3, plant) = match (self.is_table, &order) {
                    (true, Some((at, span))) => {
                        let own = truck.as_ref().map(|(at, _)| *at);
                        let own =
                            own.or_else(|| Some(scenario.drivers[driver.as_ref()?.0].truck.at()));
                        let home = own.map_or(PlantId(0), |at| scenario.trucks[at].home);
                        let unsaid = Spanned {
                            value: NO_NUMBER,
                            span: span.clone(),
                        };
                        (
                            Some(fields.optional("load", number_of, unsaid)),
                            Some(fields.optional("yd3", yards, scenario.orders[*at].load.yd3())),
                            Some(fields.optional("plant", plant_of, (home.at(), span.clone()))),
                        )
                    }
                    _ => (
                        fields.required("load", number_of),
                        fields.required("yd3", yards),
                        fields.required("plant", plant_of),
                    ),
                };
                let batched = self.past(&mut fields, "batched");
                if let (Some(Some(batched)), Some(Some(since))) = (batched, since)
                    && let Some(place) = fields.place("since")
                    && since < batched
                    && doing != Word::Loading
                {
                    problems.add::<()>(
                        Problem::new(place, "this began before the load was batched")
                            .label("expected a time after `batched`"),
                    );
                }
                self.carried(doing, order, load, yd3, plant, batched?, orders, problems)
            }
        };
        let opening = fields.opening();
        fields.finish();
        let (at, span) = driver?;
        let id = DriverId::new(at);
        once(&mut self.drivers, id, &span, "driver", problems);
        let truck_id = match &truck {
            Some((at, _)) => TruckId::new(*at),
            None => scenario.drivers[at].truck,
        };
        if doing != Word::Off {
            let place = truck.map_or(span.clone(), |(_, span)| span);
            once(&mut self.trucks, truck_id, &place, "truck", problems);
        }
        let since = since?.unwrap_or(self.at);
        let Some(reported) = reported? else {
            if doing == Word::Off {
                return detail.map(|doing| DriverState {
                    driver: id,
                    truck: truck_id,
                    doing,
                    since,
                    reported: since,
                    driven: Millis::ZERO,
                    since_break: None,
                    break_over: None,
                    week: week.map(Millis::from_hours),
                });
            }
            return problems.add(
                Problem::new(opening, "when the driver reported is missing")
                    .label("expected a field `reported` in the block that begins here"),
            );
        };
        if since < reported {
            let title = "this began before the driver reported";
            problems.add::<()>(
                Problem::new(opening.clone(), title).label("expected `since` after `reported`"),
            );
        }
        let person = &scenario.drivers[at];
        let rules = person.rule_book.of(&scenario.rule_sets);
        let weekly = rules.is_some_and(|rules| rules.cycle.is_some());
        if doing != Word::Off && weekly && week.is_none() && person.history == History::default() {
            let title = "how long the driver worked in the days before is not known";
            problems.add::<()>(
                Problem::new(opening.clone(), title)
                    .label("expected `week_h`: hours on duty before this tour that the weekly limit counts")
                    .help("a `history` of the driver in the scenario does as well; no hours at all are `week_h: 0`"),
            );
        }
        let break_over = break_over?;
        if let (Some(over), Some(place)) = (break_over, break_place)
            && over < reported
        {
            problems.add::<()>(
                Problem::new(place, "this break was over before the driver reported")
                    .label("expected a time after `reported`"),
            );
        }
        let most = (self.at - reported).max(Millis::ZERO);
        let driven_h = driven
            .as_ref()
            .map(|driven| Millis::from_hours(driven.value));
        if driven_h.is_some_and(|driven| driven > most) {
            let title = "more hours are driven than have passed since the report";
            problems.add::<()>(Problem::new(opening, title).label("expected less in `driven_h`"));
        }
        if let (Some(of), Some(driven)) = (&since_break, driven_h)
            && Millis::from_hours(of.value) > driven
        {
            let title = "more is driven since the break than in the whole tour";
            problems.add::<()>(
                Problem::new(of.span.clone(), title).label("expected at most what `driven_h` says"),
            );
        }
        let limited = rules.is_some() && doing != Word::Off;
        if limited && driven.is_none() {
            self.unsaid.push((id, Unsaid::Driven));
        }
        let breaks = rules.is_some_and(|rules| rules.break_rule.is_some());
        if limited && breaks && since_break.is_none() && break_over.is_none() {
            self.unsaid.push((id, Unsaid::Break));
        }
        let driven = driven_h.unwrap_or_else(|| match doing {
            Word::Off => Millis::ZERO,
            Word::DrivingLoaded | Word::DrivingBack => most_driven(rules, most),
            _ => most_driven(rules, (since - reported).max(Millis::ZERO)),
        });
        Some(DriverState {
            driver: id,
            truck: truck_id,
            doing: detail?,
            since,
            reported,
            driven,
            since_break: since_break.map(|hours| Millis::from_hours(hours.value)),
            break_over,
            week: week.map(Millis::from_hours),
        })
    }

    #[expect(clippy::too_many_arguments, reason = "the fields of one load")]
    fn carried(
        &mut self,
        doing: Word,
        order: Option<(usize, Span)>,
        load: Option<Spanned<u32>>,
        yd3: Option<f64>,
        plant: Option<(usize, Span)>,
        batched: Option<Millis>,
        orders: &[OrderState],
        problems: &Problems,
    ) -> Option<Doing> {
        let (order, span) = order?;
        let (load, yd3, (plant, plant_span)) = (load?, yd3?, plant?);
        let id = OrderId::new(order);
        if load.value != NO_NUMBER {
            once(
                &mut self.loads,
                (id, load.value),
                &load.span,
                "load of its order",
                problems,
            );
        }
        let mix = &self.scenario.orders[order].mix;
        if !self.scenario.plants[plant].makes(mix) {
            let title = format!(
                "this plant does not make the order's mix \"{}\"",
                visible(mix, 60)
            );
            let makers = self.scenario.plants.iter().filter(|plant| plant.makes(mix));
            let names = listed(makers.map(|plant| plant.name.as_str()));
            problems.add::<()>(
                Problem::new(plant_span, title)
                    .label("expected a plant that makes it")
                    .help(format!("the plants that do are {names}"))
                    .also(span.clone(), "its order"),
            );
        }
        let sent = orders.iter().find(|state| state.order == id);
        if !self.is_table && sent.is_none_or(|state| load.value > state.loads) {
            problems.add::<()>(
                Problem::new(load.span.clone(), "this load has not been sent by `orders`")
                    .label("expected at most the `loads` of its order")
                    .also(span, "its order"),
            );
        }
        if batched.is_none() && doing != Word::Loading {
            problems.add::<()>(
                Problem::new(load.span.clone(), "when this load was batched is not known")
                    .label("expected `batched`, the time that its ticket shows"),
            );
        }
        let carried = Carried {
            order: id,
            number: match load.value {
                NO_NUMBER => NO_NUMBER,
                number => number - 1,
            },
            volume: Volume::from_yd3(yd3),
            plant: PlantId::new(plant),
            batched: batched.unwrap_or(self.at),
        };
        Some(match doing {
            Word::Loading => Doing::Loading(carried),
            Word::AtRack => Doing::AtRack(carried),
            Word::DrivingLoaded => Doing::Out(carried),
            Word::WaitingOnSite => Doing::OnSite(carried),
            _ => Doing::Discharging(carried),
        })
    }
}

/// A time of the day, `01:10 +1` of the next or `22:30 -1` of the one before.
pub(super) fn moment_or_yesterday(node: &Node, problems: &Problems) -> Option<Millis> {
    let Kind::Text(text) = &node.kind else {
        return moment(node, problems);
    };
    match text.trim().strip_suffix("-1") {
        Some(clock) => match moment_of(clock.trim_end()) {
            Some(at) if at < Millis::DAY => Some(at - Millis::DAY),
            _ => moment(node, problems),
        },
        None => moment(node, problems),
    }
}

fn once<T: PartialEq>(
    seen: &mut Vec<(T, Span)>,
    id: T,
    span: &Span,
    what: &str,
    problems: &Problems,
) {
    if let Some((_, first)) = seen.iter().find(|(other, _)| *other == id) {
        problems.add::<()>(
            Problem::new(span.clone(), format!("this {what} stands twice"))
                .label("expected each once")
                .also(first.clone(), "first here"),
        );
    }
    seen.push((id, span.clone()));
}
