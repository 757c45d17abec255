//! Trucks and drivers, groups written out.

use std::collections::BTreeSet;
use std::ops::Range;

use super::super::decode::{
    Fields, Limits, Names, Spanned, list, name, number, spanned, time_of_day, weekdays, whole,
};
use super::super::problem::{Problem, Problems};
use super::super::tree::{Kind, Node, Span};
use super::super::{Driver, Period, Truck};
use super::changes::outages;
use super::licences::{need, person};
use super::places::Places;
use super::rule_books::Books;
use crate::concrete::{Axle, AxleLayout};
use crate::hours::RuleBook;
use crate::units::{Millis, PlantId, TruckId, Volume, Weekday};

/// Most trucks and most drivers of a scenario.
const MOST_TRUCKS: usize = 5_000;
const MOST_DRIVERS: usize = 10_000;

/// The trucks read so far.
pub(super) struct Trucks {
    list: Vec<Truck>,
    /// Every truck's name.
    names: Names,
    /// The names as written: of groups, and of trucks that stand alone.
    groups: Names,
    members: Vec<Range<usize>>,
}

impl Trucks {
    pub(super) fn new() -> Self {
        Self {
            list: Vec::new(),
            names: Names::of("truck"),
            groups: Names::of("truck or group"),
            members: Vec::new(),
        }
    }

    pub(super) fn into_list(self) -> Vec<Truck> {
        self.list
    }

    /// Whether some truck can carry anything with so much room kept in the drum and so much weight kept below the legal
    /// gross. True also if not all trucks could be read.
    pub(super) fn can_carry(&self, room_kept_yd3: f64, weight_margin_lb: f64) -> bool {
        self.groups.is_incomplete()
            || self.list.iter().any(|truck| {
                truck.capacity > Volume::from_yd3(room_kept_yd3)
                    && truck.payload_lb() > weight_margin_lb
            })
    }

    /// The largest drum; none before there are trucks.
    pub(super) fn largest(&self) -> Option<Volume> {
        self.list.iter().map(|truck| truck.capacity).max()
    }

    /// `(name: "N", count?: 1, home: "Plant", capacity_yd3?: 10, empty_lb?: 28000, legal_gross_lb?: 69000, axles?: [ … ])`
    pub(super) fn read(&mut self, node: &Node, places: &Places, problems: &Problems) -> Option<()> {
        let mut fields = Fields::of(node, "truck", problems);
        let name = fields
            .as_mut()
            .and_then(|fields| fields.required("name", spanned(name)));
        if name.is_none() {
            self.groups.unread();
        }
        let mut fields = fields?;
        let count = fields.optional("count", group("trucks of a group", MOST_TRUCKS), alone());
        let home = fields.required("home", |node, problems| places.find_plant(node, problems));
        let capacity = fields.optional(
            "capacity_yd3",
            number(Limits::between("yd³", 1.0, 20.0)),
            10.0,
        );
        let lb = Limits::between("lb", 0.0, 200_000.0);
        let empty_lb = fields.optional("empty_lb", number(lb), 28_000.0);
        let legal_gross_lb = fields.or_none("legal_gross_lb", number(lb), 69_000.0);
        let needs = fields.maybe("needs", need);
        if let Some(gross) = legal_gross_lb.filter(|gross| *gross <= empty_lb) {
            let span = fields
                .place("legal_gross_lb")
                .or(fields.place("empty_lb"))
                .unwrap_or(fields.opening());
            problems.add::<()>(
                Problem::new(
                    span,
                    format!("the truck may weigh {gross} lb and weighs {empty_lb} lb empty"),
                )
                .label("expected a legal gross weight above the empty weight"),
            );
        }
        let breakdowns = fields.maybe("breakdowns", outages);
        let axles = fields.maybe("axles", axles);
        let empty_lb = axles.map_or(empty_lb, |axles| axles.empty_lb());
        fields.finish();
        let name = name?;
        let names = written_out(
            &name,
            &count,
            self.list.len(),
            MOST_TRUCKS,
            "truck",
            problems,
        );
        if names.is_none() {
            self.groups.unread();
        }
        let names = names?;
        let known = self.groups.position(&name.value).is_some();
        self.groups.define(&name, problems);
        self.members
            .push(self.list.len()..self.list.len() + names.len());
        for name in names {
            if known {
                // The group itself is reported; its trucks would be again.
                self.names.adopt(&name);
            } else {
                self.names.define(&name, problems);
            }
            // A truck whose home is wrong still has its name, so that its drivers are not wrong besides.
            let home = home.unwrap_or(PlantId(0));
            let capacity = Volume::from_yd3(capacity);
            self.list.push(Truck {
                name: name.value,
                home,
                capacity,
                empty_lb,
                legal_gross_lb,
                breakdowns: breakdowns.clone(),
                axles,
                needs: needs.clone(),
            });
        }
        home.map(|_| ())
    }

    /// The trucks that a node names: a group's or one.
    fn find(&self, node: &Node, problems: &Problems) -> Option<Range<usize>> {
        if let Kind::Text(text) = &node.kind
            && self.groups.position(text).is_none()
            && let Some(truck) = self.names.position(text)
        {
            return Some(truck..truck + 1);
        }
        self.groups
            .find(node, problems)
            .map(|group| self.members[group].clone())
    }
}

/// The drivers read so far.
pub(super) struct Drivers<'a> {
    period: &'a Period,
    list: Vec<Driver>,
    names: Names,
    /// Where the trucks of each driver are written.
    places: Vec<Span>,
}

impl<'a> Drivers<'a> {
    pub(super) fn new(period: &'a Period) -> Self {
        Self {
            period,
            list: Vec::new(),
            names: Names::of("driver"),
            places: Vec::new(),
        }
    }

    pub(super) fn into_list(self) -> Vec<Driver> {
        self.list
    }

    /// See [`Driver`] for how it is written.
    pub(super) fn read(
        &mut self,
        node: &Node,
        trucks: &Trucks,
        (books, usual): (&mut Books, RuleBook),
        problems: &Problems,
    ) -> Option<()> {
        let mut fields = Fields::of(node, "driver", problems)?;
        let name = fields.required("name", spanned(name));
        let count = fields.maybe("count", group("drivers of a group", MOST_DRIVERS));
        let mut place = fields.opening();
        let group = fields.required("trucks", |node, problems| {
            place = node.span.clone();
            trucks.find(node, problems)
        });
        let report = fields.required("report", spanned(time_of_day));
        let stagger = fields.optional(
            "stagger_min",
            number(Limits::between("minutes", 0.0, 1_440.0)),
            0.0,
        );
        let shift = fields.optional("shift_h", number(Limits::above("hours", 0.0, 672.0)), 10.0);
        let days = fields.optional("days", weekdays, Weekday::ALL.to_vec());
        let care = fields.optional("care", number(Limits::between("share", 0.0, 1.0)), 1.0);
        let person = person(&mut fields, books, usual, problems);
        let seniority = fields.maybe(
            "seniority",
            whole(Limits::between("place by seniority", 1.0, 9_999.0)),
        );
        fields.finish();
        let (name, group, report) = (name?, group?, report?);
        let count = count.unwrap_or(Spanned {
            value: group.len(),
            span: name.span.clone(),
        });
        let names = written_out(
            &name,
            &count,
            self.list.len(),
            MOST_DRIVERS,
            "driver",
            problems,
        )?;
        let reports = |at: usize| report.value + Millis::from_minutes(stagger * at as f64);
        let last = reports(names.len() - 1);
        if last >= Millis::DAY * 2 {
            return problems.add(
                Problem::new(
                    report.span,
                    format!("the last of {} drivers reports at {last}", names.len()),
                )
                .label("expected a stagger with which all report before the end of the next day"),
            );
        }
        for (at, name) in names.into_iter().enumerate() {
            self.names.define(&name, problems);
            self.places.push(place.clone());
            let truck = &trucks.list[group.start + at % group.len()];
            let lacking = |licence| truck.needs.as_ref().and_then(|need| need.lacking(licence));
            if let Some(lacking) = person.licence.as_ref().and_then(lacking) {
                let title = format!("{:?} may not drive {:?}", name.value, truck.name);
                problems.add::<()>(
                    Problem::new(place.clone(), title).label(format!("the truck needs {lacking}")),
                );
            }
            self.list.push(Driver {
                name: name.value,
                truck: TruckId::new(group.start + at % group.len()),
                report: reports(at),
                shift: Millis::from_hours(shift),
                days: days.clone(),
                care,
                rule_book: person.rule_book,
                licence: person.licence.clone(),
                history: person.history.clone(),
                calls: None,
                seniority,
            });
        }
        Some(())
    }

    /// What can be wrong between drivers: two in one truck at a time, nobody who works in the period.
    pub(super) fn check(&self, node: &Node, trucks: &Trucks, problems: &Problems) -> Option<()> {
        let mut tours = self.tours();
        let Some(mut latest) = tours.first().copied() else {
            return problems.add(
                Problem::new(
                    node.span.start..node.span.start + 1,
                    "no driver works on any day of the period",
                )
                .label("expected a driver whose days are days of the period"),
            );
        };
        let mut reported = BTreeSet::new();
        for tour in tours.drain(1..) {
            let clash = tour.truck == latest.truck
                && tour.report < latest.release
                && tour.driver != latest.driver;
            let places = [&self.places[latest.driver], &self.places[tour.driver]];
            if clash && reported.insert((places[0].start, places[1].start)) {
                let [one, other] = [latest, tour].map(|tour| &self.list[tour.driver].name);
                let truck = &trucks.list[tour.truck.at()].name;
                let title = format!(
                    "{other:?} reports at {} for the truck {truck:?}, which {one:?} has until {}",
                    tour.report, latest.release
                );
                problems.add::<()>(
                    Problem::new(places[1].clone(), title)
                        .label("expected the drivers of one truck one after the other")
                        .also(places[0].clone(), "the other driver's truck"),
                );
            }
            if tour.truck != latest.truck || tour.release > latest.release {
                latest = tour;
            }
        }
        Some(())
    }

    /// All planned tours of the period, by truck and time.
    fn tours(&self) -> Vec<Tour> {
        let mut tours = Vec::new();
        for (at, driver) in self.list.iter().enumerate() {
            for day in 0..i64::from(self.period.days) {
                if driver.days.contains(&self.period.first_day.after(day)) {
                    let report = Millis::midnight(day) + driver.report;
                    tours.push(Tour {
                        truck: driver.truck,
                        report,
                        release: report + driver.shift,
                        driver: at,
                    });
                }
            }
        }
        tours.sort_unstable();
        tours
    }
}

/// A planned tour of a driver with a truck.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Tour {
    truck: TruckId,
    report: Millis,
    release: Millis,
    driver: usize,
}

/// `[(at_ft: 0, empty_lb: 12000, share: 0.2), …]`
fn axles(node: &Node, problems: &Problems) -> Option<AxleLayout> {
    let axles = list(1..=20, "axle", |node, problems| {
        let mut fields = Fields::of(node, "axle", problems)?;
        let at_ft = fields.required("at_ft", number(Limits::between("feet", 0.0, 100.0)));
        let empty_lb = fields.required("empty_lb", number(Limits::between("lb", 0.0, 50_000.0)));
        let share = fields.required(
            "share",
            number(Limits::between("share of the load", -1.0, 2.0)),
        );
        fields.finish();
        Some(Axle {
            at_ft: at_ft?,
            empty_lb: empty_lb?,
            share: share?,
        })
    })(node, problems)?;
    match AxleLayout::new(&axles) {
        Ok(layout) if layout.largest_legal(None).payload_lb > 0.0 => Some(layout),
        Ok(layout) => problems.add(
            Problem::new(
                node.span.clone(),
                format!(
                    "the truck of {} lb may carry nothing on these axles",
                    layout.empty_lb()
                ),
            )
            .label("expected axles that bear more than the empty truck"),
        ),
        Err(error) => problems.add(
            Problem::new(node.span.clone(), error.to_string())
                .label("expected axles from front to back, with shares that add up to 1"),
        ),
    }
}

fn alone() -> Spanned<usize> {
    Spanned {
        value: 1,
        span: 0..0,
    }
}

fn group(what: &'static str, most: usize) -> impl Fn(&Node, &Problems) -> Option<Spanned<usize>> {
    move |node, problems| {
        let count = whole(Limits::between(what, 1.0, most as f64))(node, problems)?;
        Some(Spanned {
            value: count as usize,
            span: node.span.clone(),
        })
    }
}

/// The names of a group: the name itself for one, with 1, 2 … behind it for more.
fn written_out(
    name: &Spanned<String>,
    count: &Spanned<usize>,
    so_far: usize,
    most: usize,
    what: &str,
    problems: &Problems,
) -> Option<Vec<Spanned<String>>> {
    if so_far + count.value > most {
        let span = if count.value > 1 {
            count.span.clone()
        } else {
            name.span.clone()
        };
        return problems.add(
            Problem::new(
                span,
                format!("with these there are {} {what}s", so_far + count.value),
            )
            .label(format!("expected at most {most} {what}s in all")),
        );
    }
    let one = |value: String| Spanned {
        value,
        span: name.span.clone(),
    };
    Some(match count.value {
        1 => vec![name.clone()],
        many => (1..=many)
            .map(|at| one(format!("{}{at}", name.value)))
            .collect(),
    })
}
