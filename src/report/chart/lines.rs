//! One line for each rule over the hours of the day, or over minutes late.

use super::axis::Scale;
use super::canvas::{self, Anchor, Canvas};
use super::heading::Heading;
use super::legend::Legend;
use super::palette::{GRID, INK, SOFT, kind};
use super::text::Look;
use super::{MARGIN, WIDTH};
use crate::report::number::Unit;

/// What is drawn.
#[derive(Clone, Debug)]
pub struct Lines {
    /// What was found, in one sentence.
    pub title: String,
    /// What is shown.
    pub subtitle: String,
    /// Text under the axis.
    pub x_axis: String,
    /// Ends of the axis.
    pub x_range: (f64, f64),
    /// Labelled values of the axis.
    pub x_ticks: Vec<(f64, String)>,
    /// Text over the other axis.
    pub y_axis: String,
    /// How its values are written.
    pub y_unit: Unit,
    /// Top of the axis; none: after the largest value.
    pub y_top: Option<f64>,
    /// Name and points of each line, points from left to right.
    pub series: Vec<(String, Vec<(f64, f64)>)>,
    /// Whether a value holds until the next point (a staircase) instead of a straight line to it.
    pub steps: bool,
}

const HEIGHT: f64 = 230.0;
const FOOT: f64 = 54.0;
const OVER: f64 = 30.0;

/// Hours of the day as an axis: 00:00 to 24:00 in steps of three.
pub fn hours() -> Vec<(f64, String)> {
    (0..=8)
        .map(|n| (f64::from(3 * n), format!("{:02}:00", 3 * n)))
        .collect()
}

/// The chart as SVG text.
pub fn svg(lines: &Lines) -> String {
    let heading = Heading::new(&lines.title, &lines.subtitle);
    let names = lines.series.iter().enumerate();
    let legend = Legend::new(names.map(|(n, (name, _))| (name.as_str(), kind(n))));
    let top = heading.height() + 8.0 + legend.height() + OVER;
    let bottom = top + HEIGHT;
    canvas::svg(
        (WIDTH, bottom + FOOT),
        &lines.title,
        &in_words(lines),
        |canvas| {
            heading.draw(canvas);
            legend.draw(canvas, heading.height() + 8.0);
            draw(canvas, lines, top, bottom);
        },
    )
}

fn draw(canvas: &Canvas<'_>, lines: &Lines, top: f64, bottom: f64) {
    let values = lines.series.iter().flat_map(|(_, points)| points.iter());
    let most = values.map(|(_, y)| *y).fold(0.0, f64::max);
    let high = lines
        .y_top
        .unwrap_or(if most > 0.0 { most * 1.05 } else { 1.0 });
    let (ticks, decimals) = Scale::new((0.0, high), (bottom, top)).ticks(5.0);
    let decimals = match lines.y_unit {
        Unit::Share => decimals.saturating_sub(2),
        _ => decimals,
    };
    let labels: Vec<String> = ticks
        .iter()
        .map(|tick| lines.y_unit.show(*tick, decimals))
        .collect();
    let left = MARGIN + Look::NOTE.widest(labels.iter().map(String::as_str)) + 8.0;
    let right = WIDTH - MARGIN - 16.0;
    let y = Scale::new((0.0, high), (bottom, top));
    let x = Scale::new(lines.x_range, (left, right));
    for (tick, label) in ticks.iter().zip(&labels) {
        canvas.line((left, y.at(*tick)), (right, y.at(*tick)), GRID, 1.0);
        canvas.text(label, (left - 8.0, y.at(*tick)), Anchor::Right, Look::NOTE);
    }
    let look = Look::NOTE.coloured(INK);
    canvas.text(&lines.y_axis, (MARGIN, top - 16.0), Anchor::Left, look);
    for (tick, label) in &lines.x_ticks {
        canvas.line(
            (x.at(*tick), bottom),
            (x.at(*tick), bottom + 4.0),
            SOFT,
            1.0,
        );
        canvas.text(
            label,
            (x.at(*tick), bottom + 14.0),
            Anchor::Middle,
            Look::NOTE,
        );
    }
    canvas.line((left, bottom), (right, bottom), SOFT, 1.0);
    canvas.text(&lines.x_axis, (right, bottom + 36.0), Anchor::Right, look);
    for (n, (_, points)) in lines.series.iter().enumerate() {
        for pair in points.windows(2) {
            let ((x0, y0), (x1, y1)) = (pair[0], pair[1]);
            let (from, to) = ((x.at(x0), y.at(y0)), (x.at(x1), y.at(y1)));
            if lines.steps {
                canvas.line(from, (to.0, from.1), kind(n), 2.0);
                canvas.line((to.0, from.1), to, kind(n), 2.0);
            } else {
                canvas.line(from, to, kind(n), 2.0);
            }
        }
    }
}

fn in_words(lines: &Lines) -> String {
    let highest = |points: &[(f64, f64)]| points.iter().map(|(_, y)| *y).fold(0.0, f64::max);
    let series: Vec<String> = lines
        .series
        .iter()
        .map(|(name, points)| format!("{name}: highest {}", lines.y_unit.show(highest(points), 1)))
        .collect();
    format!(
        "{} by {}. {}.",
        lines.y_axis,
        lines.x_axis,
        series.join("; ")
    )
}
