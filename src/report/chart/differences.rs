//! How much better or worse than today's rule each other rule is, with simultaneous intervals.

use super::axis::Scale;
use super::canvas::{self, Anchor, Canvas};
use super::heading::Heading;
use super::palette::{BLUE, GREY, GRID, INK, VERMILION, for_text, tint};
use super::text::Look;
use super::{MARGIN, WIDTH};
use crate::report::number::Unit;
use crate::statistics::Interval;
use plotters::style::RGBColor;

/// What is drawn.
#[derive(Clone, Debug)]
pub struct Differences {
    /// What was found, in one sentence.
    pub title: String,
    /// What is shown: how many replications, which confidence.
    pub subtitle: String,
    /// Name of what the rows are compared with, written over the zero line.
    pub baseline: String,
    /// Text under the axis: the figure and its unit.
    pub axis: String,
    /// How the figures are written.
    pub unit: Unit,
    /// Which direction is good.
    pub better: Better,
    /// One row per rule, drawn from the top.
    pub rows: Vec<Difference>,
}

/// Which direction of a figure is good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// Less is better: cost, late loads.
    Lower,
    /// More is better: volume placed.
    Higher,
}

/// One rule against the baseline.
#[derive(Clone, Debug)]
pub struct Difference {
    /// Name of the rule.
    pub name: String,
    /// Mean difference, rule − baseline; `None` if there is none.
    pub mean: Option<f64>,
    /// Its simultaneous interval; unbounded with fewer than two replications.
    pub interval: Interval,
    /// Where its bar begins, in a chart whose rows add up one after the other; none: it is shown from zero, without a bar.
    pub begins: Option<f64>,
}

impl Difference {
    /// Where a value of this row is drawn.
    fn drawn(&self, value: f64) -> f64 {
        self.begins.unwrap_or(0.0) + value
    }

    /// The values that are drawn.
    fn extent(&self) -> impl Iterator<Item = f64> {
        let ends = [self.interval.low, self.interval.high];
        let ends = ends.into_iter().filter(|end| end.is_finite());
        let drawn = ends.chain(self.mean).map(|value| self.drawn(value));
        drawn.chain(self.begins)
    }
}

/// What the interval shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Standing {
    Better,
    Worse,
    NotToldApart,
}

impl Standing {
    fn colour(self) -> RGBColor {
        match self {
            Self::Better => BLUE,
            Self::Worse => VERMILION,
            Self::NotToldApart => GREY,
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Better => "better",
            Self::Worse => "worse",
            Self::NotToldApart => "not told apart",
        }
    }
}

const BAND: f64 = 58.0;
const FOOT: f64 = 62.0;
const GAP: f64 = 16.0;
const NAMES_AT_MOST: f64 = 220.0;
const NAME_LINES: usize = 3;
/// Differences this small are rounding, whatever the unit.
const NOTHING: f64 = 1e-9;
const VALUE: Look = Look::NAME.bold();

/// The chart as SVG text.
pub fn svg(differences: &Differences) -> String {
    let heading = Heading::new(&differences.title, &differences.subtitle);
    let layout = Layout::new(differences, heading.height());
    let size = (WIDTH, layout.bottom + FOOT);
    canvas::svg(size, &differences.title, &in_words(differences), |canvas| {
        heading.draw(canvas);
        layout.draw_axis(canvas, differences);
        let rows = || differences.rows.iter().zip(layout.middles());
        for (row, y) in rows() {
            layout.draw_interval(canvas, differences, row, y);
        }
        layout.draw_sides(canvas, differences);
        for (row, y) in rows() {
            layout.draw_figures(canvas, differences, row, y);
        }
    })
}

struct Layout {
    scale: Scale,
    left: f64,
    right: f64,
    top: f64,
    row: f64,
    bottom: f64,
    decimals: usize,
}

impl Layout {
    fn new(differences: &Differences, heading: f64) -> Self {
        let decimals = decimals(differences);
        let names = || differences.rows.iter().map(|row| row.name.as_str());
        let names_width = Look::NAME.widest(names()).min(NAMES_AT_MOST);
        let (values, notes): (Vec<String>, Vec<String>) = differences
            .rows
            .iter()
            .map(|row| value_texts(differences, row, decimals))
            .unzip();
        let value_width = VALUE
            .widest(values.iter().map(String::as_str))
            .max(Look::NOTE.widest(notes.iter().map(String::as_str)));
        let most_lines = names()
            .map(|name| Look::NAME.wrap(name, names_width, NAME_LINES).len())
            .fold(2, usize::max);
        let left = MARGIN + names_width + GAP;
        let right = WIDTH - MARGIN - value_width - GAP;
        let top = heading + BAND;
        let row = Look::NAME.line_height() * most_lines as f64 + 12.0;
        Self {
            scale: Scale::new(range(differences), (left, right)),
            left,
            right,
            top,
            row,
            bottom: top + row * differences.rows.len() as f64,
            decimals,
        }
    }

    /// The heights on which the rows are centred.
    fn middles(&self) -> impl Iterator<Item = f64> {
        let (top, row) = (self.top, self.row);
        (0_u32..).map(move |number| top + row * (f64::from(number) + 0.5))
    }

    fn draw_axis(&self, canvas: &Canvas<'_>, differences: &Differences) {
        for (tick, label) in self.ticks(differences) {
            let x = self.scale.at(tick);
            canvas.line((x, self.top), (x, self.bottom + 4.0), GRID, 1.0);
            canvas.text(&label, (x, self.bottom + 14.0), Anchor::Middle, Look::NOTE);
        }
        let axis = Look::NOTE.shortened(&differences.axis, WIDTH - 2.0 * MARGIN);
        let half = Look::NOTE.width(&axis) / 2.0;
        let middle = within((self.left + self.right) / 2.0, half, MARGIN, WIDTH - MARGIN);
        let look = Look::NOTE.coloured(INK);
        canvas.text(&axis, (middle, self.bottom + 38.0), Anchor::Middle, look);
    }

    /// Round values with their labels, as many as keep a clear distance; only zero where nothing differs.
    fn ticks(&self, differences: &Differences) -> Vec<(f64, String)> {
        let unit = differences.unit;
        let labelled = |wanted| -> Vec<(f64, String)> {
            let (ticks, decimals) = self.scale.ticks(wanted);
            let label = |tick| unit.show_difference(tick, axis_decimals(unit, decimals));
            ticks.into_iter().map(|tick| (tick, label(tick))).collect()
        };
        if extent(differences).all(|value| value.abs() <= NOTHING) {
            return vec![(0.0, unit.show_difference(0.0, 0))];
        }
        let dense = labelled(6.0);
        let widest = Look::NOTE.widest(dense.iter().map(|(_, label)| label.as_str()));
        labelled(((self.right - self.left) / (widest + 24.0)).clamp(2.0, 6.0))
    }

    /// The zero line with its name, and which side of it is the better one.
    fn draw_sides(&self, canvas: &Canvas<'_>, differences: &Differences) {
        let zero = self.scale.at(0.0);
        canvas.line((zero, self.top - 20.0), (zero, self.bottom), INK, 1.25);

        let look = Look::NOTE.bold().coloured(INK);
        let baseline = look.shortened(&differences.baseline, WIDTH - 2.0 * MARGIN);
        let half = look.width(&baseline) / 2.0;
        let middle = within(zero, half, MARGIN, WIDTH - MARGIN);
        canvas.text(&baseline, (middle, self.top - 30.0), Anchor::Middle, look);

        let (on_left, on_right) = match differences.better {
            Better::Lower => (Standing::Better, Standing::Worse),
            Better::Higher => (Standing::Worse, Standing::Better),
        };
        let y = self.top - 12.0;
        for (standing, towards) in [(on_left, -1.0), (on_right, 1.0)] {
            let colour = for_text(standing.colour());
            let (tail, point) = (zero + towards * 8.0, zero + towards * 26.0);
            canvas.arrow((tail, y), (point, y), colour);
            let anchor = if towards < 0.0 {
                Anchor::Right
            } else {
                Anchor::Left
            };
            let look = Look::NOTE.bold().coloured(colour);
            canvas.text(standing.words(), (point + towards * 6.0, y), anchor, look);
        }
    }

    fn draw_interval(
        &self,
        canvas: &Canvas<'_>,
        differences: &Differences,
        row: &Difference,
        y: f64,
    ) {
        let colour = standing(differences.better, row.interval).colour();
        let at = |value| self.scale.at(row.drawn(value));
        if let (Some(_), Some(mean)) = (row.begins, row.mean) {
            let (left, right) = (at(0.0).min(at(mean)), at(0.0).max(at(mean)));
            canvas.rectangle((left, y - 9.0), (right, y + 9.0), tint(colour));
            if y + self.row < self.bottom {
                // what comes next begins here
                let below = y + self.row - 9.0;
                canvas.line((at(mean), y + 9.0), (at(mean), below), GREY, 1.0);
            }
            if row.interval.is_bounded() {
                canvas.line(
                    (at(row.interval.low), y),
                    (at(row.interval.high), y),
                    colour,
                    2.0,
                );
            }
        } else if row.interval.is_bounded() {
            let (low, high) = (at(row.interval.low), at(row.interval.high));
            canvas.rectangle((low, y - 7.0), (high, y + 7.0), tint(colour));
            canvas.line((low, y), (high, y), colour, 2.0);
        } else if row.mean.is_some() {
            canvas.dashed((self.left, y), (self.right, y), colour, 1.0);
        }
    }

    /// The mean as a disc, the name before and the figures behind.
    fn draw_figures(
        &self,
        canvas: &Canvas<'_>,
        differences: &Differences,
        row: &Difference,
        y: f64,
    ) {
        let colour = standing(differences.better, row.interval).colour();
        if let Some(mean) = row.mean {
            canvas.disc((self.scale.at(row.drawn(mean)), y), 5.0, colour);
        }
        let names_end = (self.left - GAP, y);
        let names = Look::NAME.wrap(&row.name, names_end.0 - MARGIN, NAME_LINES);
        canvas.lines(&names, names_end, Anchor::Right, Look::NAME);

        let (value, note) = value_texts(differences, row, self.decimals);
        let x = self.right + GAP;
        let look = VALUE.coloured(for_text(colour));
        canvas.text(&value, (x, y - 8.0), Anchor::Left, look);
        canvas.text(&note, (x, y + 8.0), Anchor::Left, Look::NOTE);
    }
}

fn standing(better: Better, interval: Interval) -> Standing {
    match better {
        _ if !interval.excludes_zero() => Standing::NotToldApart,
        Better::Lower if interval.high < 0.0 => Standing::Better,
        Better::Higher if interval.low > 0.0 => Standing::Better,
        _ => Standing::Worse,
    }
}

/// The difference with what it means, and its interval.
fn value_texts(differences: &Differences, row: &Difference, decimals: usize) -> (String, String) {
    let Some(mean) = row.mean else {
        return ("–".into(), "no figure to tell".into());
    };
    let unit = differences.unit;
    let interval = row.interval;
    let words = match interval {
        Interval {
            low: 0.0,
            high: 0.0,
        } => "no difference",
        _ => standing(differences.better, interval).words(),
    };
    let value = format!("{} {words}", unit.show_difference(mean, decimals));
    let note = if !interval.is_bounded() {
        "one replication: no interval".into()
    } else if interval.low == interval.high {
        "the same in every replication".into()
    } else {
        let [low, high] =
            [interval.low, interval.high].map(|end| unit.show_difference(end, decimals));
        format!("{low} to {high}")
    };
    (value, note)
}

fn in_words(differences: &Differences) -> String {
    let decimals = decimals(differences);
    let rows: Vec<String> = differences
        .rows
        .iter()
        .map(|row| {
            let (value, note) = value_texts(differences, row, decimals);
            format!("{}: {value} ({note})", row.name)
        })
        .collect();
    let Differences { axis, baseline, .. } = differences;
    format!("{axis}, against {baseline}. {}.", rows.join("; "))
}

fn bounded(differences: &Differences) -> impl Iterator<Item = &Difference> {
    let rows = differences.rows.iter();
    rows.filter(|row| row.interval.is_bounded())
}

/// The same decimals in all rows, after the narrowest interval, but never more than four digits of the largest figure.
fn decimals(differences: &Differences) -> usize {
    let largest = extent(differences).fold(0.0, |most: f64, value| most.max(value.abs()));
    let narrowest = bounded(differences)
        .map(|row| row.interval.half_width())
        .filter(|half| *half > 0.0)
        .fold(f64::INFINITY, f64::min);
    let precision = if narrowest.is_finite() {
        narrowest.max(largest / 1000.0)
    } else {
        largest / 100.0
    };
    differences.unit.decimals(precision)
}

fn axis_decimals(unit: Unit, decimals: usize) -> usize {
    match unit {
        Unit::Plain => decimals,
        Unit::Share => decimals.saturating_sub(2),
        Unit::Money if decimals == 0 => 0,
        Unit::Money => decimals.max(2),
    }
}

fn extent(differences: &Differences) -> impl Iterator<Item = f64> {
    differences.rows.iter().flat_map(Difference::extent)
}

/// From the least to the greatest value drawn, zero inside with room on both sides for the words that name them.
fn range(differences: &Differences) -> (f64, f64) {
    let (low, high) = extent(differences).fold((0.0_f64, 0.0_f64), |(low, high), value| {
        (low.min(value), high.max(value))
    });
    let span = high - low;
    if span <= NOTHING {
        return (-1.0, 1.0);
    }
    let (edge, side) = (0.04 * span, 0.3 * span);
    ((low - edge).min(-side), (high + edge).max(side))
}

/// `middle`, moved so that `half` to each side stays between the edges.
fn within(middle: f64, half: f64, left: f64, right: f64) -> f64 {
    middle.max(left + half).min(right - half)
}
