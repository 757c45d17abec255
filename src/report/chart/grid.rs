//! A figure over the values of two parameters: one cell for each pair, darker where it is better.

use super::canvas::{self, Anchor, Canvas};
use super::heading::Heading;
use super::legend::Legend;
use super::palette::{BLUE, INK, SOFT, VERMILION};
use super::text::Look;
use super::{MARGIN, WIDTH};
use plotters::style::RGBColor;

/// One pair of values.
#[derive(Clone, Debug)]
pub struct Cell {
    /// The figure, as it is written.
    pub text: String,
    /// 0 the best of all to 1 the worst; none: a blank.
    pub place: Option<f64>,
    /// Whether all targets are met.
    pub meets: bool,
    /// Whether it is the one chosen.
    pub chosen: bool,
}

/// What is drawn.
#[derive(Clone, Debug)]
pub struct Grid {
    /// What was found, in one sentence.
    pub title: String,
    /// What is shown.
    pub subtitle: String,
    /// The parameter across, and its values.
    pub across: (String, Vec<String>),
    /// The parameter down, and its values.
    pub down: (String, Vec<String>),
    /// Row by row.
    pub cells: Vec<Cell>,
}

const ROW: f64 = 34.0;
/// Too little contrast with white for nothing, too little with the ink for no text.
const PALE: RGBColor = RGBColor(0xee, 0xf1, 0xf4);

/// The chart as SVG text.
pub fn svg(grid: &Grid) -> String {
    let heading = Heading::new(&grid.title, &grid.subtitle);
    let legend = Legend::new([
        ("better", shade(0.0)),
        ("worse", shade(1.0)),
        ("misses a target", PALE),
        ("chosen", VERMILION),
    ]);
    let top = heading.height() + legend.height() + 58.0;
    let bottom = top + ROW * grid.down.1.len() as f64;
    let words = format!("{} across, {} down.", grid.across.0, grid.down.0);
    canvas::svg((WIDTH, bottom + 18.0), &grid.title, &words, |canvas| {
        heading.draw(canvas);
        legend.draw(canvas, heading.height() + 8.0);
        draw(canvas, grid, top);
    })
}

/// Light blue, never so dark that the figure in it could not be read.
fn shade(place: f64) -> RGBColor {
    let part = |full: u8| {
        let strength = 0.62 * (1.0 - place) + 0.12 * place;
        (255.0 - (255.0 - f64::from(full)) * strength) as u8
    };
    RGBColor(part(BLUE.0), part(BLUE.1), part(BLUE.2))
}

fn draw(canvas: &Canvas<'_>, grid: &Grid, top: f64) {
    let ink = Look::NOTE.coloured(INK);
    let names = Look::NOTE.widest(grid.down.1.iter().map(String::as_str));
    let left = MARGIN + names + 12.0;
    let width = (WIDTH - MARGIN - left) / grid.across.1.len().max(1) as f64;
    let across = format!("{} →", grid.across.0);
    canvas.text(&across, (WIDTH - MARGIN, top - 36.0), Anchor::Right, ink);
    canvas.text(
        &format!("{} ↓", grid.down.0),
        (MARGIN, top - 36.0),
        Anchor::Left,
        ink,
    );
    for (n, name) in grid.across.1.iter().enumerate() {
        let middle = left + (n as f64 + 0.5) * width;
        let name = Look::NOTE.shortened(name, width - 4.0);
        canvas.text(&name, (middle, top - 12.0), Anchor::Middle, Look::NOTE);
    }
    for (m, name) in grid.down.1.iter().enumerate() {
        let y = top + (m as f64 + 0.5) * ROW;
        canvas.text(name, (left - 8.0, y), Anchor::Right, Look::NOTE);
        for n in 0..grid.across.1.len() {
            let Some(cell) = grid.cells.get(m * grid.across.1.len() + n) else {
                continue;
            };
            let corner = (left + n as f64 * width, top + m as f64 * ROW);
            let opposite = (corner.0 + width, corner.1 + ROW);
            let inset = |by: f64| {
                (
                    (corner.0 + by, corner.1 + by),
                    (opposite.0 - by, opposite.1 - by),
                )
            };
            if cell.chosen {
                let (a, b) = inset(0.5);
                canvas.rectangle(a, b, VERMILION);
            }
            let (a, b) = inset(if cell.chosen { 3.5 } else { 1.0 });
            let colour = match cell.place {
                Some(place) if cell.meets => shade(place),
                _ => PALE,
            };
            canvas.rectangle(a, b, colour);
            let look = match (cell.chosen, cell.meets) {
                (true, _) => ink.bold(),
                (_, true) => ink,
                _ => Look::NOTE.coloured(SOFT),
            };
            let text = look.shortened(&cell.text, width - 8.0);
            let middle = ((corner.0 + opposite.0) / 2.0, (corner.1 + opposite.1) / 2.0);
            canvas.text(&text, middle, Anchor::Middle, look);
        }
    }
}
