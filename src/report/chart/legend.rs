//! Which colour is what: swatches with names, measured so that they never collide, on as many lines as needed.

use super::canvas::{Anchor, Canvas};
use super::text::Look;
use super::{MARGIN, WIDTH};
use plotters::style::RGBColor;

const SWATCH: f64 = 11.0;
const GAP: f64 = 6.0;
const BETWEEN: f64 = 20.0;
const LINE: f64 = 20.0;

/// A legend laid out.
pub(super) struct Legend {
    entries: Vec<(String, RGBColor, f64, f64)>,
    height: f64,
}

impl Legend {
    pub(super) fn new<'a>(entries: impl IntoIterator<Item = (&'a str, RGBColor)>) -> Self {
        let (mut x, mut line) = (MARGIN, 0.0);
        let mut placed = Vec::new();
        for (name, colour) in entries {
            let name = Look::NOTE.shortened(name, WIDTH - 2.0 * MARGIN - SWATCH - GAP);
            let width = SWATCH + GAP + Look::NOTE.width(&name);
            if x > MARGIN && x + width > WIDTH - MARGIN {
                x = MARGIN;
                line += 1.0;
            }
            placed.push((name, colour, x, line));
            x += width + BETWEEN;
        }
        Self {
            entries: placed,
            height: (line + 1.0) * LINE,
        }
    }

    pub(super) fn height(&self) -> f64 {
        self.height
    }

    pub(super) fn draw(&self, canvas: &Canvas<'_>, top: f64) {
        let look = Look::NOTE.coloured(super::palette::INK);
        for (name, colour, x, line) in &self.entries {
            let y = top + (line + 0.5) * LINE;
            let half = SWATCH / 2.0;
            canvas.rectangle((*x, y - half), (x + SWATCH, y + half), *colour);
            canvas.text(name, (x + SWATCH + GAP, y), Anchor::Left, look);
        }
    }
}
