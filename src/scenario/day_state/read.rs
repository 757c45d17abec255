//! A file of how things stand, read and checked against its scenario.

use super::detail::{Standing, WORDS, Word};
use super::follow::{as_planned, most_driven};
use super::{DayState, DriverState, OrderState, PlantState, Unsaid};
use super::{numbers, simulated, table, together};
use crate::scenario::decode::{
    Fields, Limits, Spanned, flag, list, moment, moment_of, name, number, one_of, spanned, whole,
};
use crate::scenario::problem::{Faults, Problem, Problems, listed, nearest, visible};
use crate::scenario::read::{ReadError, read_bytes, read_text};
use crate::scenario::tree::{self, Kind, Node, Span};
use crate::scenario::{History, Scenario};
use crate::units::measure::{self, Quantity};
use crate::units::{DriverId, Millis, OrderId, PlantId, TruckId, Volume};
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
    let _spoken = measure::speak(scenario.measures);
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
    plants: Vec<(PlantId, Span)>,
    /// Loads that are on trucks or promised, with the place of their numbers.
    pub(super) loads: Vec<((OrderId, u32), Span)>,
    pub(super) unsaid: Vec<(DriverId, Unsaid)>,
}

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
            plants: Vec::new(),
            loads: Vec::new(),
            unsaid: Vec::new(),
        }
    }

    fn state(&mut self, node: &Node, problems: &Problems) -> Option<DayState> {
        let mut fields = Fields::of(node, "day state", problems)?;
        let file = fields.maybe("scenario", name);
        let simulated = fields.maybe("simulated", simulated::read);
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
        let times = number(Limits::between("times the usual", 0.2, 10.0));
        let traffic = fields.maybe("traffic", times);
        let plants = fields.optional(
            "plants",
            |node, problems| {
                list(0..=1_000, "plant", |node, problems| {
                    self.plant(node, problems)
                })(node, problems)
            },
            Vec::new(),
        );
        let orders_as_planned = fields.optional("orders_as_planned", flag, false);
        let mut orders = fields.optional(
            "orders",
            |node, problems| {
                list(0..=100_000, "order", |node, problems| {
                    self.order(node, problems)
                })(node, problems)
            },
            Vec::new(),
        );
        let named = orders.len();
        if orders_as_planned {
            self.add_planned(&mut orders);
        }
        let drivers = fields.required("drivers", |node, problems| {
            list(0..=10_000, "driver", |node, problems| {
                self.driver(node, &orders, problems)
            })(node, problems)
        });
        fields.finish();
        at?;
        let mut drivers = drivers?;
        // With who carries what.
        for order in &mut orders[named..] {
            if let Some(planned) = as_planned(self.scenario, order.order, self.at, &drivers) {
                *order = planned;
            }
        }
        numbers::promised(&orders, &mut drivers);
        together::check(self.scenario, &drivers, &self.drivers, problems);
        together::check_volumes(&drivers, (&orders, &self.orders), problems);
        together::check_promised(self.scenario, (&drivers, &self.drivers), &orders, problems);
        let mut state = DayState {
            at: self.at,
            rain,
            drivers,
            orders,
            plants,
            traffic,
            orders_as_planned,
            scenario: file,
            simulated,
            unsaid: std::mem::take(&mut self.unsaid),
        };
        state.follow_the_roster(self.scenario);
        Some(state)
    }

    /// Of the orders that are not named: what is due by the moment has been sent.
    fn add_planned(&self, orders: &mut Vec<OrderState>) {
        let ids = (0..self.scenario.orders.len()).map(OrderId::new);
        let named = orders.len();
        for id in ids {
            if orders[..named].iter().all(|order| order.order != id) {
                orders.extend(as_planned(self.scenario, id, self.at, &[]));
            }
        }
    }

    /// A time of the day that is not after the moment.
    pub(super) fn past(
        &self,
        fields: &mut Fields<'_>,
        field: &'static str,
    ) -> Option<Option<Millis>> {
        fields.if_any(field, |node, problems| {
            let at = self.midnight + moment_or_yesterday(node, problems)?;
            if at > self.at {
                return problems.add(
                    Problem::new(node.span.clone(), "this is after the moment of the file")
                        .label("expected a time that has passed by `at`"),
                );
            }
            Some(at)
        })
    }

    pub(super) fn find<'n>(
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

    /// A plant that stands still. When it is back is asked for where the scenario does not say how long that takes.
    fn plant(&mut self, node: &Node, problems: &Problems) -> Option<PlantState> {
        let mut fields = Fields::of(node, "plant", problems)?;
        let names = self.scenario.plants.iter().map(|plant| plant.name.as_str());
        let plant = fields.required("name", self.find("plant", names));
        let since = self.past(&mut fields, "down_since");
        let until = self.to_come(&mut fields, "until");
        let opening = fields.opening();
        if since == Some(None) {
            problems.add::<()>(
                Problem::new(opening.clone(), "field `down_since` is missing in a plant")
                    .label("expected `down_since` in the block that begins here"),
            );
        }
        fields.finish();
        let ((at, span), until) = (plant?, until?);
        once(&mut self.plants, PlantId::new(at), &span, "plant", problems);
        if until.is_none() && self.scenario.plants[at].outages.is_none() {
            problems.add::<()>(
                Problem::new(opening, "when this plant works again is not known").label(
                    "expected `until`: the scenario has no `outages` of the plant to draw it from",
                ),
            );
        }
        Some(PlantState {
            plant: PlantId::new(at),
            since: since??,
            until,
        })
    }

    /// A time that is still to come at the moment.
    pub(super) fn to_come(
        &self,
        fields: &mut Fields<'_>,
        field: &'static str,
    ) -> Option<Option<Millis>> {
        fields.if_any(field, |node, problems| {
            let at = self.midnight + moment_or_yesterday(node, problems)?;
            if at <= self.at {
                return problems.add(
                    Problem::new(
                        node.span.clone(),
                        "this has passed by the moment of the file",
                    )
                    .label("expected a time after `at`"),
                );
            }
            Some(at)
        })
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
        let Some(doing) = doing else {
            // Which fields there are besides is said by what is done.
            fields.finish_in_part();
            return None;
        };
        let own = driver.as_ref().map(|(at, _)| scenario.drivers[*at].truck);
        let truck_of = truck
            .as_ref()
            .map_or(own, |(at, _)| Some(TruckId::new(*at)));
        let standing = Standing {
            word: doing,
            truck: truck_of,
            own: truck_of == own,
            since,
            reported,
        };
        let detail = self.detail(&standing, &mut fields, orders, problems);
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
                return detail.map(|(doing, ..)| DriverState {
                    driver: id,
                    truck: truck_id,
                    doing,
                    since,
                    until: None,
                    next: None,
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
        let pauses = rules.is_some_and(|rules| rules.break_rule.is_some());
        if doing == Word::OnBreak && !pauses && detail.is_some_and(|(_, until, _)| until.is_none())
        {
            let title = "how long this break takes is not known";
            problems.add::<()>(
                Problem::new(span.clone(), title)
                    .label("expected `until`: the driver's rule book asks for no break"),
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
            _ if doing.drives() => most_driven(rules, most),
            _ => most_driven(rules, (since - reported).max(Millis::ZERO)),
        });
        let (doing, until, next) = detail?;
        Some(DriverState {
            driver: id,
            truck: truck_id,
            doing,
            since,
            until,
            next,
            reported,
            driven,
            since_break: since_break.map(|hours| Millis::from_hours(hours.value)),
            break_over,
            week: week.map(Millis::from_hours),
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

pub(super) fn once<T: PartialEq>(
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
