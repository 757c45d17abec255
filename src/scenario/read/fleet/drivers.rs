//! Drivers, each with a truck.

use std::collections::BTreeSet;

use super::groups::{group, written_out};
use super::trucks::Trucks;
use crate::hours::RuleBook;
use crate::scenario::decode::{
    Fields, Limits, Names, Spanned, name, number, spanned, time_of_day, weekdays, whole,
};
use crate::scenario::defaults;
use crate::scenario::problem::{Problem, Problems};
use crate::scenario::read::licences::person;
use crate::scenario::read::money::price;
use crate::scenario::read::rule_books::Books;
use crate::scenario::tree::{Node, Span};
use crate::scenario::{Driver, Hauler, Period};
use crate::units::{Millis, TruckId, Weekday};

/// Most drivers of a scenario.
const MOST_DRIVERS: usize = 10_000;

/// The drivers read so far.
pub(in crate::scenario::read) struct Drivers<'a> {
    period: &'a Period,
    list: Vec<Driver>,
    names: Names,
    /// Where the trucks of each driver are written.
    places: Vec<Span>,
}

impl<'a> Drivers<'a> {
    pub(in crate::scenario::read) fn new(period: &'a Period) -> Self {
        Self {
            period,
            list: Vec::new(),
            names: Names::of("driver"),
            places: Vec::new(),
        }
    }

    pub(in crate::scenario::read) fn into_list(self) -> Vec<Driver> {
        self.list
    }

    /// See [`Driver`] for how it is written.
    pub(in crate::scenario::read) fn read(
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
        let stagger = fields.usual(
            &defaults::STAGGER_MIN,
            number(Limits::between("minutes", 0.0, 1_440.0)),
        );
        let shift = fields.usual(
            &defaults::SHIFT_H,
            number(Limits::above("hours", 0.0, 672.0)),
        );
        let days = fields.optional("days", weekdays, Weekday::ALL.to_vec());
        let care = fields.usual(&defaults::CARE, number(Limits::between("share", 0.0, 1.0)));
        let person = person(&mut fields, books, usual, problems);
        let seniority = fields.maybe(
            "seniority",
            whole(Limits::between("place by seniority", 1.0, 9_999.0)),
        );
        let pay_per_h = fields.maybe("pay_per_h", price);
        let guaranteed_h = number(Limits::between("hours", 0.0, 24.0));
        let guaranteed_h = fields.maybe("guaranteed_h", guaranteed_h);
        let hauler = hauler(&mut fields, problems);
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
                relieved: None,
                seniority,
                pay_per_h,
                guaranteed_day: guaranteed_h.map(Millis::from_hours),
                hauler,
            });
        }
        Some(())
    }

    /// What can be wrong between drivers: two in one truck at a time, nobody who works in the period.
    pub(in crate::scenario::read) fn check(
        &self,
        node: &Node,
        trucks: &Trucks,
        problems: &Problems,
    ) -> Option<()> {
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

/// See [`Hauler`]. What a wage says has no meaning for one.
fn hauler(fields: &mut Fields<'_>, problems: &Problems) -> Option<Hauler> {
    let per_h = fields.maybe("hauler_per_h", price);
    let least = fields.usual_where(
        per_h.is_some(),
        &defaults::HAULER_LEAST_H,
        number(Limits::between("hours", 0.0, 24.0)),
    );
    let hired = fields.place("hauler_per_h");
    for wage in ["pay_per_h", "guaranteed_h"] {
        if let (Some(hired), Some(wage)) = (hired.clone(), fields.place(wage)) {
            problems.add::<()>(
                Problem::new(wage, "a wage and a hauler's price")
                    .label("expected one of the two")
                    .also(hired, "the hauler's price"),
            );
        }
    }
    if let (None, Some(least)) = (hired, fields.place("hauler_least_h")) {
        problems.add::<()>(
            Problem::new(least, "the least hours of no hauler")
                .label("expected `hauler_per_h` beside it"),
        );
    }
    Some(Hauler {
        per_h: per_h?,
        least: Millis::from_hours(least),
    })
}

/// A planned tour of a driver with a truck.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Tour {
    truck: TruckId,
    report: Millis,
    release: Millis,
    driver: usize,
}
