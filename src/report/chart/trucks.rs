//! One day, truck by truck: what each was doing when.

use super::axis::Scale;
use super::canvas::{self, Anchor, Canvas};
use super::heading::Heading;
use super::legend::Legend;
use super::palette::{GREY, GRID, INK, VERMILION, kind, tint};
use super::text::Look;
use super::{MARGIN, WIDTH};
use crate::observe::Doing;
use plotters::style::RGBColor;

/// What is drawn. Times in hours since midnight of the day.
#[derive(Clone, Debug)]
pub struct Trucks {
    /// What was found, in one sentence.
    pub title: String,
    /// What is shown.
    pub subtitle: String,
    /// Names, from the top.
    pub trucks: Vec<String>,
    /// Row, what the truck does, from and to.
    pub spans: Vec<(usize, Doing, f64, f64)>,
    /// Late arrivals: row and when.
    pub late: Vec<(usize, f64)>,
    /// Strandings: row and when.
    pub stranded: Vec<(usize, f64)>,
    /// First and last whole hour shown.
    pub hours: (u32, u32),
}

const FOOT: f64 = 34.0;
/// The color in which a truck is drawn that does this, on charts and pages alike: `#e69f00`.
pub fn color(doing: Doing) -> String {
    hex(fill(doing))
}

/// A darker one, for the edge of a mark of that color.
pub fn edge(doing: Doing) -> String {
    let darker = |part: u8| (u16::from(part) * 6 / 10) as u8;
    hex(match doing {
        Doing::Free => GREY,
        Doing::DrivingBack => kind(1),
        Doing::Unloading => INK,
        other => {
            let RGBColor(red, green, blue) = fill(other);
            RGBColor(darker(red), darker(green), darker(blue))
        }
    })
}

fn hex(RGBColor(red, green, blue): RGBColor) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

fn fill(doing: Doing) -> RGBColor {
    match doing {
        Doing::Free => GRID,
        Doing::WaitingToLoad => kind(6),
        Doing::Loading => kind(3),
        Doing::DrivingLoaded => kind(1),
        Doing::WaitingOnSite => kind(4),
        Doing::Unloading => INK,
        Doing::DrivingBack => tint(kind(1)),
        Doing::OutOfHours => VERMILION,
        Doing::BrokenDown => tint(VERMILION),
    }
}

/// Dots and crosses.
const MARK: RGBColor = VERMILION;

/// The chart as SVG text.
pub fn svg(chart: &Trucks) -> String {
    let heading = Heading::new(&chart.title, &chart.subtitle);
    let broken = chart.spans.iter().any(|span| span.1 == Doing::BrokenDown);
    let doings = Doing::told(broken).map(|doing| (doing.words(), fill(doing)));
    let legend = Legend::new(doings);
    let row = if chart.trucks.len() > 24 { 13.0 } else { 18.0 };
    let top = heading.height() + 8.0 + legend.height() + 26.0;
    let bottom = top + row * chart.trucks.len() as f64;
    canvas::svg(
        (WIDTH, bottom + FOOT),
        &chart.title,
        &in_words(chart),
        |canvas| {
            heading.draw(canvas);
            legend.draw(canvas, heading.height() + 8.0);
            draw(canvas, chart, top, bottom, row);
        },
    )
}

fn draw(canvas: &Canvas<'_>, chart: &Trucks, top: f64, bottom: f64, row: f64) {
    let small = Look::new(if row < 15.0 { 9.5 } else { 11.5 }, false, INK);
    let names_width = small
        .widest(chart.trucks.iter().map(String::as_str))
        .min(120.0);
    let (left, right) = (MARGIN + names_width + 10.0, WIDTH - MARGIN - 14.0);
    let (first, last) = (f64::from(chart.hours.0), f64::from(chart.hours.1));
    let x = Scale::new((first, last), (left, right));
    let step = if chart.hours.1 - chart.hours.0 > 15 {
        2
    } else {
        1
    };
    for hour in (chart.hours.0..=chart.hours.1).step_by(step) {
        let at = x.at(f64::from(hour));
        canvas.line((at, top - 4.0), (at, bottom), GRID, 1.0);
        for y in [top - 13.0, bottom + 13.0] {
            canvas.text(
                &format!("{:02}:00", hour % 24),
                (at, y),
                Anchor::Middle,
                Look::NOTE,
            );
        }
    }
    let middle = |number: usize| top + row * (number as f64 + 0.5);
    for (number, name) in chart.trucks.iter().enumerate() {
        let name = small.shortened(name, names_width);
        canvas.text(&name, (left - 10.0, middle(number)), Anchor::Right, small);
    }
    let half = row * 0.36;
    for (number, doing, from, to) in &chart.spans {
        let y = middle(*number);
        let (from, to) = (x.at(from.max(first)), x.at(to.min(last)));
        if from < to {
            canvas.rectangle((from, y - half), (to, y + half), fill(*doing));
        }
    }
    let shown = |at: f64| (first..=last).contains(&at);
    for (number, at) in chart.late.iter().filter(|(_, at)| shown(*at)) {
        canvas.disc((x.at(*at), middle(*number) - half), 2.6, MARK);
    }
    for (number, at) in chart.stranded.iter().filter(|(_, at)| shown(*at)) {
        let (x, y) = (x.at(*at), middle(*number));
        canvas.line((x - 5.0, y - 5.0), (x + 5.0, y + 5.0), MARK, 2.5);
        canvas.line((x - 5.0, y + 5.0), (x + 5.0, y - 5.0), MARK, 2.5);
    }
}

fn in_words(chart: &Trucks) -> String {
    format!(
        "{} trucks between {:02}:00 and {:02}:00: {} late arrivals, {} drivers stranded.",
        chart.trucks.len(),
        chart.hours.0,
        chart.hours.1,
        chart.late.len(),
        chart.stranded.len()
    )
}
