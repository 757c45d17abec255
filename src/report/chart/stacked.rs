//! Horizontal bars made of parts, one bar for each rule.

use super::axis::Scale;
use super::canvas::{self, Anchor, Canvas};
use super::heading::Heading;
use super::legend::Legend;
use super::palette::{GRID, INK, KINDS, kind};
use super::text::Look;
use super::{MARGIN, WIDTH};
use crate::report::number::Unit;

/// What is drawn.
#[derive(Clone, Debug)]
pub struct Stacked {
    /// What was found, in one sentence.
    pub title: String,
    /// What is shown.
    pub subtitle: String,
    /// Text under the axis.
    pub axis: String,
    /// How values are written.
    pub unit: Unit,
    /// Names of the parts, from the left.
    pub parts: Vec<String>,
    /// Name and values of each bar, values of 0 or more.
    pub bars: Vec<(String, Vec<f64>)>,
}

const BAR: f64 = 26.0;
const ROW: f64 = 46.0;
const FOOT: f64 = 54.0;
const NAMES_AT_MOST: f64 = 190.0;

/// How many of so many parts are drawn by themselves, so that with one for the rest each has a colour of its own.
pub fn most_drawn(parts: usize) -> usize {
    if parts <= KINDS.len() {
        parts
    } else {
        KINDS.len() - 1
    }
}

/// The chart as SVG text.
pub fn svg(stacked: &Stacked) -> String {
    let heading = Heading::new(&stacked.title, &stacked.subtitle);
    let parts = stacked.parts.iter().enumerate();
    let legend = Legend::new(parts.map(|(n, name)| (name.as_str(), kind(n))));
    let top = heading.height() + 8.0 + legend.height() + 10.0;
    let bottom = top + ROW * stacked.bars.len() as f64;
    canvas::svg(
        (WIDTH, bottom + FOOT),
        &stacked.title,
        &in_words(stacked),
        |canvas| {
            heading.draw(canvas);
            legend.draw(canvas, heading.height() + 8.0);
            draw(canvas, stacked, top, bottom);
        },
    )
}

fn draw(canvas: &Canvas<'_>, stacked: &Stacked, top: f64, bottom: f64) {
    let totals: Vec<f64> = stacked
        .bars
        .iter()
        .map(|(_, values)| values.iter().sum())
        .collect();
    let labels: Vec<String> = totals
        .iter()
        .map(|total| stacked.unit.show(*total, 0))
        .collect();
    let names = stacked.bars.iter().map(|(name, _)| name.as_str());
    let names_width = Look::NAME.widest(names).min(NAMES_AT_MOST);
    let left = MARGIN + names_width + 14.0;
    let look = Look::NAME.bold();
    let right = WIDTH - MARGIN - look.widest(labels.iter().map(String::as_str)) - 14.0;
    let high = totals.iter().copied().fold(0.0, f64::max).max(1e-9);
    let x = Scale::new((0.0, high), (left, right));
    let (ticks, decimals) = x.ticks(5.0);
    for tick in ticks {
        canvas.line((x.at(tick), top), (x.at(tick), bottom), GRID, 1.0);
        let label = stacked.unit.show(tick, decimals);
        canvas.text(
            &label,
            (x.at(tick), bottom + 14.0),
            Anchor::Middle,
            Look::NOTE,
        );
    }
    canvas.text(
        &stacked.axis,
        (right, bottom + 36.0),
        Anchor::Right,
        Look::NOTE.coloured(INK),
    );
    for (row, ((name, values), label)) in stacked.bars.iter().zip(&labels).enumerate() {
        let y = top + ROW * (row as f64 + 0.5);
        let wrapped = Look::NAME.wrap(name, names_width, 2);
        canvas.lines(&wrapped, (left - 14.0, y), Anchor::Right, Look::NAME);
        let mut from = 0.0;
        for (n, value) in values.iter().enumerate() {
            if *value > 0.0 {
                let corner = (x.at(from), y - BAR / 2.0);
                canvas.rectangle(corner, (x.at(from + value), y + BAR / 2.0), kind(n));
                from += value;
            }
        }
        canvas.text(label, (x.at(from) + 8.0, y), Anchor::Left, look);
    }
}

fn in_words(stacked: &Stacked) -> String {
    let bars: Vec<String> = stacked
        .bars
        .iter()
        .map(|(name, values)| {
            let parts = stacked.parts.iter().zip(values);
            let parts: Vec<String> = parts
                .map(|(part, value)| format!("{part} {}", stacked.unit.show(*value, 0)))
                .collect();
            format!("{name}: {}", parts.join(", "))
        })
        .collect();
    format!("{}. {}.", stacked.axis, bars.join("; "))
}
