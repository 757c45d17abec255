//! A figure over the values of one parameter: a point for each with its interval, filled where targets are met.

use super::axis::Scale;
use super::canvas::{self, Anchor, Canvas};
use super::heading::Heading;
use super::legend::Legend;
use super::palette::{BLUE, GREY, GRID, INK, SOFT, VERMILION};
use super::text::Look;
use super::{MARGIN, WIDTH};
use crate::report::number::Unit;
use crate::statistics::Interval;

/// One value of the parameter.
#[derive(Clone, Debug)]
pub struct Point {
    /// Value, as it is written under the axis.
    pub name: String,
    /// Mean; none: a blank.
    pub mean: Option<f64>,
    /// Its interval.
    pub interval: Interval,
    /// Whether all targets are met.
    pub meets: bool,
    /// Whether it is the one chosen.
    pub chosen: bool,
}

/// What is drawn.
#[derive(Clone, Debug)]
pub struct Curve {
    /// What was found, in one sentence.
    pub title: String,
    /// What is shown.
    pub subtitle: String,
    /// Text under the axis.
    pub x_axis: String,
    /// Text over the other axis.
    pub y_axis: String,
    /// How its values are written.
    pub unit: Unit,
    /// Points, from left to right at equal distances.
    pub points: Vec<Point>,
    /// Whether there are targets at all.
    pub targets: bool,
}

const HEIGHT: f64 = 250.0;

/// The chart as SVG text.
pub fn svg(curve: &Curve) -> String {
    let heading = Heading::new(&curve.title, &curve.subtitle);
    let legend = if curve.targets {
        Legend::new([
            ("meets the targets", BLUE),
            ("does not", GREY),
            ("chosen", VERMILION),
        ])
    } else {
        Legend::new([("settings tried", BLUE), ("chosen", VERMILION)])
    };
    let top = heading.height() + legend.height() + 44.0;
    let bottom = top + HEIGHT;
    let words: Vec<String> = curve
        .points
        .iter()
        .filter_map(|p| Some(format!("{}: {}", p.name, curve.unit.show(p.mean?, 2))))
        .collect();
    let words = format!(
        "{} by {}. {}.",
        curve.y_axis,
        curve.x_axis,
        words.join("; ")
    );
    canvas::svg((WIDTH, bottom + 56.0), &curve.title, &words, |canvas| {
        heading.draw(canvas);
        legend.draw(canvas, heading.height() + 8.0);
        draw(canvas, curve, top, bottom);
    })
}

fn draw(canvas: &Canvas<'_>, curve: &Curve, top: f64, bottom: f64) {
    let ends = curve.points.iter().filter(|p| p.interval.is_bounded());
    let (low, high) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| {
        (low.min(p.interval.low), high.max(p.interval.high))
    });
    let (low, high) = match (low.is_finite(), high - low) {
        (false, _) => (0.0, 1.0),
        (_, span) => {
            let room = (span * 0.12).max(high.abs() * 1e-3).max(1e-6);
            (low - room, high + room)
        }
    };
    let y = Scale::new((low, high), (bottom, top));
    let (ticks, decimals) = y.ticks(5.0);
    let decimals = match curve.unit {
        Unit::Share => decimals.saturating_sub(2),
        _ => decimals,
    };
    let labels: Vec<String> = ticks
        .iter()
        .map(|t| curve.unit.show(*t, decimals))
        .collect();
    let left = MARGIN + Look::NOTE.widest(labels.iter().map(String::as_str)) + 8.0;
    let right = WIDTH - MARGIN;
    for (tick, label) in ticks.iter().zip(&labels) {
        canvas.line((left, y.at(*tick)), (right, y.at(*tick)), GRID, 1.0);
        canvas.text(label, (left - 8.0, y.at(*tick)), Anchor::Right, Look::NOTE);
    }
    let ink = Look::NOTE.coloured(INK);
    canvas.text(&curve.y_axis, (MARGIN, top - 18.0), Anchor::Left, ink);
    canvas.text(&curve.x_axis, (right, bottom + 36.0), Anchor::Right, ink);
    canvas.line((left, bottom), (right, bottom), SOFT, 1.0);
    let band = (right - left) / curve.points.len().max(1) as f64;
    let x = |n: usize| left + (n as f64 + 0.5) * band;
    let at = |n: usize| curve.points[n].mean.map(|mean| (x(n), y.at(mean)));
    for n in 1..curve.points.len() {
        if let (Some(from), Some(to)) = (at(n - 1), at(n)) {
            canvas.line(from, to, SOFT, 1.0);
        }
    }
    for (n, point) in curve.points.iter().enumerate() {
        let name = Look::NOTE.shortened(&point.name, band - 4.0);
        canvas.text(&name, (x(n), bottom + 14.0), Anchor::Middle, Look::NOTE);
        let Some(centre) = at(n) else { continue };
        let colour = match point {
            Point { chosen: true, .. } => VERMILION,
            Point { meets: true, .. } => BLUE,
            _ => GREY,
        };
        if point.interval.is_bounded() {
            let (a, b) = (y.at(point.interval.low), y.at(point.interval.high));
            canvas.line((x(n), a), (x(n), b), colour, 2.0);
        }
        canvas.disc(centre, if point.chosen { 7.0 } else { 5.0 }, colour);
    }
}
