//! A chart for each leg: the share of tickets up to each value, and the fitted spread's.

use super::sentences;
use crate::report::answer::{Answer, Cell, Column, Table};
use crate::report::chart::lines::{self, Lines};
use crate::report::number::{Unit, number};
use crate::statistics::quantile_of_sorted;
use crate::studies::tickets::{FittedLeg, Leg, Shape, TicketFits};

/// Plants that a chart has room for.
const PLANTS: usize = 3;
/// Points of a line.
const POINTS: usize = 100;

/// Adds them, and the table of their numbers.
pub(super) fn add(found: &TicketFits, to: &mut Answer) {
    let columns = ["leg", "plant", "value", "share_of_tickets", "share_fitted"];
    let mut table = Table::new("shares", columns.map(Column::file).into());
    let mut charts = Vec::new();
    for leg in Leg::ALL {
        let all = found.legs.iter().filter(|one| one.leg == leg);
        let mut legs: Vec<&FittedLeg> = all
            .filter(|one| {
                one.found
                    .as_ref()
                    .is_some_and(|found| found.family.is_some())
            })
            .collect();
        legs.sort_by_key(|one| std::cmp::Reverse(one.n));
        legs.truncate(PLANTS);
        if !legs.is_empty() {
            let svg = chart(&legs, &mut table);
            charts.push((leg, sentences::finding(&legs), svg));
        }
    }
    to.tables.push(table);
    for (leg, finding, svg) in charts {
        let heading = super::super::plain_text::capital(sentences::leg(leg));
        to.add_chart(name(leg), heading, finding, svg, "shares");
    }
}

fn name(leg: Leg) -> &'static str {
    match leg {
        Leg::Loading => "loading",
        Leg::Yard => "yard",
        Leg::Travel => "travel",
        Leg::Position => "pulling-up",
        Leg::Unloading => "unloading",
        Leg::Wash => "after-unloading",
    }
}

fn chart(legs: &[&FittedLeg], table: &mut Table) -> String {
    let mut series = Vec::new();
    let (mut low, mut high) = (f64::INFINITY, 0.0_f64);
    for leg in legs {
        let Some(found) = &leg.found else { continue };
        let n = found.seen.len();
        let of = match &leg.plant {
            Some(plant) => format!("{plant}, "),
            None => String::new(),
        };
        let (mut seen, mut fitted) = (Vec::new(), Vec::new());
        for point in 0..=POINTS {
            let p = point as f64 / POINTS as f64;
            // The axis ends where nearly all tickets do: a few far out would press the rest together.
            let Some(value) = quantile_of_sorted(&found.seen, (0.995 * p).max(0.005)) else {
                continue;
            };
            let share = found.seen.partition_point(|x| *x <= value) as f64 / n as f64;
            let whole = found.spread.cdf(value);
            seen.push((value, share));
            fitted.push((value, whole));
            table.row([
                sentences::leg(leg.leg).into(),
                Cell::Text(leg.plant.clone().unwrap_or_default()),
                value.into(),
                share.into(),
                whole.into(),
            ]);
            (low, high) = (low.min(value), high.max(value));
        }
        series.push((format!("{of}tickets"), seen));
        series.push((format!("{of}fitted"), fitted));
    }
    let plain = legs.iter().any(|leg| {
        leg.found
            .as_ref()
            .is_some_and(|found| found.shape == Shape::Plain)
    });
    let (subtitle, axis) = match (plain, legs[0].leg) {
        (true, _) => ("Share of tickets up to so many minutes", "minutes"),
        (_, Leg::Loading) => (
            "Share of tickets up to so many times the usual minutes for their volume",
            "times the usual",
        ),
        (_, Leg::Travel) => (
            "Share of trips up to so many times the usual minutes for their way and hour",
            "times the usual",
        ),
        _ => (
            "Share of tickets up to so many times the usual minutes for their volume and site",
            "times the usual",
        ),
    };
    let (range, ticks) = axis_of(low, high);
    lines::svg(&Lines {
        title: sentences::finding(legs),
        subtitle: subtitle.into(),
        x_axis: axis.into(),
        x_range: range,
        x_ticks: ticks,
        y_axis: "share".into(),
        y_unit: Unit::Share,
        y_top: Some(1.0),
        series,
        steps: false,
    })
}

/// Ends and labelled values of an axis: steps of 1, 2 or 5 times a power of ten, about eight.
fn axis_of(low: f64, high: f64) -> ((f64, f64), Vec<(f64, String)>) {
    let rough = ((high - low) / 8.0).max(1e-9);
    let power = libm::pow(10.0, libm::floor(libm::log10(rough)));
    let step = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|times| times * power)
        .find(|step| *step >= rough)
        .unwrap_or(10.0 * power);
    let decimals = (-libm::floor(libm::log10(step))).max(0.0) as usize;
    let from = libm::floor(low / step);
    let to = libm::ceil(high / step).max(from + 1.0);
    let count = (to - from) as usize;
    let ticks = (0..=count).map(|n| {
        let value = (from + n as f64) * step;
        (value, number(value, decimals))
    });
    ((from * step, to * step), ticks.collect())
}
