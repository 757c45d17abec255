//! Panels one under the other over the same steps from left to right (fleet sizes, head counts): values with their intervals,
//! or columns made of parts.

use super::axis::Scale;
use super::canvas::{self, Anchor, Canvas};
use super::heading::Heading;
use super::legend::Legend;
use super::palette::{BLUE, GRID, INK, SOFT, VERMILION, kind, tint};
use super::text::Look;
use super::{MARGIN, WIDTH};
use crate::report::number::Unit;
use plotters::style::WHITE;

/// A value with its ends, where there is one.
type Spanned = Option<(f64, f64, f64)>;

/// What is drawn.
#[derive(Clone, Debug)]
pub struct Panels {
    /// What was found, in one sentence.
    pub title: String,
    /// What is shown.
    pub subtitle: String,
    /// Text under the axis.
    pub axis: String,
    /// Labels of the steps.
    pub steps: Vec<String>,
    /// The step that is recommended.
    pub marked: Option<usize>,
    /// Panels from the top.
    pub panels: Vec<Panel>,
}

/// One panel.
#[derive(Clone, Debug)]
pub struct Panel {
    /// Text over its axis.
    pub axis: String,
    /// How its values are written.
    pub unit: Unit,
    /// Bottom of the axis; none: zero.
    pub bottom: Option<f64>,
    /// Top of the axis; none: after the largest value.
    pub top: Option<f64>,
    /// A dashed line and what it stands for.
    pub line: Option<(f64, String)>,
    /// What is drawn in it.
    pub content: Content,
}

/// What a panel shows, one entry for each step.
#[derive(Clone, Debug)]
pub enum Content {
    /// Value and the ends of its interval; none: no point.
    Points(Vec<Spanned>),
    /// The same of things that have no order: without a line from one to the next.
    Apart(Vec<Spanned>),
    /// The same, the intervals joined to a band. Steps that are hollow are of another kind: neither line nor band joins them with the
    /// others.
    Banded {
        /// Value and the ends of its interval; none: no point.
        points: Vec<Spanned>,
        /// Which steps are of the other kind.
        hollow: Vec<bool>,
    },
    /// Columns made of parts, values of 0 or more.
    Columns {
        /// Names of the parts, from the bottom.
        parts: Vec<String>,
        /// Values of each column.
        values: Vec<Vec<f64>>,
    },
}

const HEIGHT: f64 = 190.0;
const OVER: f64 = 34.0;
const FOOT: f64 = 54.0;

/// The chart as SVG text.
pub fn svg(panels: &Panels) -> String {
    let heading = Heading::new(&panels.title, &panels.subtitle);
    let parts = panels.panels.iter().flat_map(|panel| match &panel.content {
        Content::Columns { parts, .. } => parts.as_slice(),
        Content::Points(_) | Content::Apart(_) | Content::Banded { .. } => &[],
    });
    let named: Vec<_> = parts
        .enumerate()
        .map(|(n, part)| (part.as_str(), kind(n)))
        .collect();
    let legend = (!named.is_empty()).then(|| Legend::new(named));
    let top = heading.height() + 8.0 + legend.as_ref().map_or(0.0, Legend::height);
    let bottom = top + (OVER + HEIGHT) * panels.panels.len() as f64;
    canvas::svg(
        (WIDTH, bottom + FOOT),
        &panels.title,
        &in_words(panels),
        |canvas| {
            heading.draw(canvas);
            if let Some(legend) = &legend {
                legend.draw(canvas, heading.height() + 8.0);
            }
            draw(canvas, panels, top, bottom);
        },
    )
}

fn draw(canvas: &Canvas<'_>, panels: &Panels, top: f64, bottom: f64) {
    let scales: Vec<(f64, f64)> = panels.panels.iter().map(range).collect();
    let labels: Vec<Vec<(f64, String)>> = panels
        .panels
        .iter()
        .zip(&scales)
        .map(|(panel, range)| ticks(panel, *range))
        .collect();
    let texts = labels.iter().flatten().map(|(_, label)| label.as_str());
    let left = MARGIN + Look::NOTE.widest(texts) + 10.0;
    let right = WIDTH - MARGIN;
    let step = (right - left) / panels.steps.len().max(1) as f64;
    let x = |at: usize| left + step * (at as f64 + 0.5);
    if let Some(marked) = panels.marked {
        let half = (step / 2.0).min(26.0);
        canvas.rectangle(
            (x(marked) - half, top + OVER - 6.0),
            (x(marked) + half, bottom),
            super::palette::tint(tint(BLUE)),
        );
    }
    for (nth, panel) in panels.panels.iter().enumerate() {
        let panel_top = top + (OVER + HEIGHT) * nth as f64 + OVER;
        let y = Scale::new(scales[nth], (panel_top + HEIGHT, panel_top));
        for (tick, label) in &labels[nth] {
            canvas.line((left, y.at(*tick)), (right, y.at(*tick)), GRID, 1.0);
            canvas.text(label, (left - 8.0, y.at(*tick)), Anchor::Right, Look::NOTE);
        }
        canvas.line(
            (left, panel_top + HEIGHT),
            (right, panel_top + HEIGHT),
            SOFT,
            1.0,
        );
        let look = Look::NOTE.coloured(INK);
        canvas.text(&panel.axis, (MARGIN, panel_top - 18.0), Anchor::Left, look);
        match &panel.content {
            Content::Points(points) => {
                draw_line(canvas, points, &x, y);
                draw_points(canvas, points, &x, y);
            }
            Content::Apart(points) => draw_points(canvas, points, &x, y),
            Content::Banded { points, hollow } => draw_banded(canvas, (points, hollow), &x, y),
            Content::Columns { values, .. } => draw_columns(canvas, values, &x, y, step),
        }
        if let Some((value, text)) = &panel.line {
            canvas.dashed((left, y.at(*value)), (right, y.at(*value)), VERMILION, 1.5);
            let look = Look::NOTE.coloured(super::palette::for_text(VERMILION));
            canvas.text(text, (right, panel_top - 18.0), Anchor::Right, look);
        }
    }
    let every = (Look::NOTE.widest(panels.steps.iter().map(String::as_str)) + 8.0) / step;
    let every = (every.ceil() as usize).max(1);
    for (at, label) in panels.steps.iter().enumerate() {
        let marked = panels.marked == Some(at);
        let near_marked = panels.marked.is_some_and(|m| m.abs_diff(at) < every);
        if marked || at.is_multiple_of(every) && (!near_marked || every == 1) {
            let look = Look::NOTE.coloured(if marked { INK } else { SOFT });
            let look = if marked { look.bold() } else { look };
            canvas.text(label, (x(at), bottom + 14.0), Anchor::Middle, look);
        }
    }
    let look = Look::NOTE.coloured(INK);
    canvas.text(&panels.axis, (right, bottom + 36.0), Anchor::Right, look);
}

fn draw_line(canvas: &Canvas<'_>, points: &[Spanned], x: &impl Fn(usize) -> f64, y: Scale) {
    for (at, pair) in points.windows(2).enumerate() {
        if let [Some(from), Some(to)] = pair {
            let ends = ((x(at), y.at(from.0)), (x(at + 1), y.at(to.0)));
            canvas.line(ends.0, ends.1, tint(BLUE), 2.0);
        }
    }
}

fn draw_points(canvas: &Canvas<'_>, points: &[Spanned], x: &impl Fn(usize) -> f64, y: Scale) {
    for (at, point) in points.iter().enumerate() {
        let Some((value, low, high)) = point else {
            continue;
        };
        if low.is_finite() && high.is_finite() {
            canvas.line((x(at), y.at(*low)), (x(at), y.at(*high)), BLUE, 2.0);
        }
        canvas.disc((x(at), y.at(*value)), 3.5, BLUE);
    }
}

fn draw_banded(
    canvas: &Canvas<'_>,
    (points, hollow): (&[Spanned], &[bool]),
    x: &impl Fn(usize) -> f64,
    y: Scale,
) {
    let of_kind = |kind: bool| -> Vec<Spanned> {
        let points = points.iter().zip(hollow);
        points
            .map(|(point, hollow)| point.filter(|_| *hollow == kind))
            .collect()
    };
    for kind in [true, false] {
        let points = of_kind(kind);
        for (at, pair) in points.windows(2).enumerate() {
            if let [Some((_, low, high)), Some((_, next_low, next_high))] = pair
                && [low, high, next_low, next_high]
                    .into_iter()
                    .all(|end| end.is_finite())
            {
                let corners = [
                    (x(at), y.at(*low)),
                    (x(at), y.at(*high)),
                    (x(at + 1), y.at(*next_high)),
                    (x(at + 1), y.at(*next_low)),
                ];
                canvas.polygon(&corners, tint(tint(BLUE)));
            }
        }
        draw_line(canvas, &points, x, y);
        draw_points(canvas, &points, x, y);
    }
    for (at, (point, hollow)) in points.iter().zip(hollow).enumerate() {
        if let Some((value, _, _)) = point
            && *hollow
        {
            canvas.disc((x(at), y.at(*value)), 2.0, WHITE);
        }
    }
}

fn draw_columns(
    canvas: &Canvas<'_>,
    values: &[Vec<f64>],
    x: &impl Fn(usize) -> f64,
    y: Scale,
    step: f64,
) {
    let half = (step * 0.36).min(24.0);
    for (at, parts) in values.iter().enumerate() {
        let mut from = 0.0;
        for (n, value) in parts.iter().enumerate() {
            if *value > 0.0 {
                let corner = (x(at) - half, y.at(from + value));
                canvas.rectangle(corner, (x(at) + half, y.at(from)), kind(n));
                from += value;
            }
        }
    }
}

/// The ends of a panel's axis.
fn range(panel: &Panel) -> (f64, f64) {
    let most = match &panel.content {
        Content::Points(points) | Content::Apart(points) | Content::Banded { points, .. } => points
            .iter()
            .flatten()
            .map(|(value, _, high)| if high.is_finite() { *high } else { *value })
            .fold(0.0, f64::max),
        Content::Columns { values, .. } => values
            .iter()
            .map(|parts| parts.iter().sum::<f64>())
            .fold(0.0, f64::max),
    };
    let line = panel.line.as_ref().map_or(0.0, |(value, _)| *value);
    let bottom = panel.bottom.unwrap_or(0.0);
    let top = panel.top.unwrap_or_else(|| {
        let most = most.max(line);
        most + (most - bottom) * 0.05
    });
    (bottom, if top > bottom { top } else { bottom + 1.0 })
}

fn ticks(panel: &Panel, range: (f64, f64)) -> Vec<(f64, String)> {
    let (ticks, decimals) = Scale::new(range, (0.0, 1.0)).ticks(4.0);
    let decimals = match panel.unit {
        Unit::Share => decimals.saturating_sub(2),
        Unit::Money if decimals > 0 => 2,
        _ => decimals,
    };
    let label = |tick: f64| (tick, panel.unit.show(tick, decimals));
    ticks.into_iter().map(label).collect()
}

fn in_words(panels: &Panels) -> String {
    let words = |panel: &Panel| {
        let values: Vec<String> = panels
            .steps
            .iter()
            .enumerate()
            .filter_map(|(at, step)| {
                let value = match &panel.content {
                    Content::Points(points)
                    | Content::Apart(points)
                    | Content::Banded { points, .. } => (*points.get(at)?)?.0,
                    Content::Columns { values, .. } => values.get(at)?.iter().sum(),
                };
                Some(format!("{step}: {}", panel.unit.show(value, 1)))
            })
            .collect();
        format!("{}: {}", panel.axis, values.join("; "))
    };
    let all: Vec<String> = panels.panels.iter().map(words).collect();
    format!("{}. {}.", panels.axis, all.join(". "))
}
