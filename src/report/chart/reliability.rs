//! What was foretold against what came: one square for each thing foretold, a dot for each bin, and the line on which both are
//! the same.

use super::axis::Scale;
use super::canvas::{self, Anchor, Canvas};
use super::heading::Heading;
use super::palette::{BLUE, GRID, INK, SOFT};
use super::text::Look;
use super::{MARGIN, WIDTH};
use crate::report::number::Unit;
use crate::statistics::Interval;

/// Moments of which about the same was foretold.
#[derive(Clone, Copy, Debug)]
pub struct Point {
    /// The chance foretold, 0 to 1.
    pub foretold: f64,
    /// The share that came true.
    pub came: f64,
    /// Its interval.
    pub interval: Interval,
    /// Moments.
    pub count: u64,
}

/// What is drawn.
#[derive(Clone, Debug)]
pub struct Diagram {
    /// What was found, in one sentence.
    pub title: String,
    /// What is shown.
    pub subtitle: String,
    /// Name and points of each square.
    pub panels: Vec<(String, Vec<Point>)>,
}

const HEIGHT: f64 = 250.0;
const OVER: f64 = 40.0;
const FOOT: f64 = 42.0;
const BETWEEN: f64 = 30.0;
const ACROSS: usize = 2;

/// The chart as SVG text.
pub fn svg(diagram: &Diagram) -> String {
    let heading = Heading::new(&diagram.title, &diagram.subtitle);
    let rows = diagram.panels.len().div_ceil(ACROSS);
    let top = heading.height() + 8.0;
    let height = top + (OVER + HEIGHT + FOOT) * rows as f64 + 8.0;
    let words: Vec<String> = diagram.panels.iter().map(in_words).collect();
    canvas::svg(
        (WIDTH, height),
        &diagram.title,
        &words.join(" "),
        |canvas| {
            heading.draw(canvas);
            for (at, panel) in diagram.panels.iter().enumerate() {
                let width = (WIDTH - 2.0 * MARGIN - BETWEEN) / ACROSS as f64;
                let left = MARGIN + (at % ACROSS) as f64 * (width + BETWEEN);
                let above = top + (at / ACROSS) as f64 * (OVER + HEIGHT + FOOT);
                draw(canvas, panel, (left, left + width), above + OVER);
            }
        },
    )
}

fn in_words((name, points): &(String, Vec<Point>)) -> String {
    let points: Vec<String> = points
        .iter()
        .map(|point| {
            format!(
                "foretold {}, came {} of {}",
                Unit::Share.show(point.foretold, 0),
                Unit::Share.show(point.came, 0),
                point.count
            )
        })
        .collect();
    format!("{name}: {}.", points.join("; "))
}

fn draw(
    canvas: &Canvas<'_>,
    (name, points): &(String, Vec<Point>),
    (left, right): (f64, f64),
    top: f64,
) {
    let bottom = top + HEIGHT;
    let ticks = [0.0, 0.25, 0.5, 0.75, 1.0];
    let label = |tick: f64| Unit::Share.show(tick, 0);
    let labels = ticks.map(label);
    let left = left + Look::NOTE.widest(labels.iter().map(String::as_str)) + 8.0;
    let right = right - 12.0;
    let x = Scale::new((0.0, 1.0), (left, right));
    let y = Scale::new((0.0, 1.0), (bottom, top));
    canvas.text(name, (left, top - 24.0), Anchor::Left, Look::NAME.bold());
    for (tick, label) in ticks.iter().zip(&labels) {
        canvas.line((left, y.at(*tick)), (right, y.at(*tick)), GRID, 1.0);
        canvas.text(label, (left - 8.0, y.at(*tick)), Anchor::Right, Look::NOTE);
        canvas.text(
            label,
            (x.at(*tick), bottom + 14.0),
            Anchor::Middle,
            Look::NOTE,
        );
    }
    let ink = Look::NOTE.coloured(INK);
    canvas.text("came true", (left, top - 8.0), Anchor::Left, ink);
    canvas.text("foretold", (right, bottom + 30.0), Anchor::Right, ink);
    canvas.dashed((x.at(0.0), y.at(0.0)), (x.at(1.0), y.at(1.0)), SOFT, 1.0);
    let most = points.iter().map(|point| point.count).max().unwrap_or(1);
    for point in points {
        let at = x.at(point.foretold);
        let ends = (y.at(point.interval.low), y.at(point.interval.high));
        canvas.line((at, ends.0), (at, ends.1), BLUE, 1.5);
        let radius = 3.0 + 5.0 * (point.count as f64 / most as f64).sqrt();
        canvas.disc((at, y.at(point.came)), radius, BLUE);
    }
}
