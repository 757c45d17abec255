//! Charts: SVG text, and PNG made from that SVG.
//!
//! A chart's title says what was found, in one sentence; the subtitle says what is drawn. All text is measured with the
//! embedded font (Inter, SIL Open Font License, `src/report/fonts/OFL.txt`), so nothing is cut and nothing collides.
//! The base is `canvas`, `text`, `heading`, `axis` and `palette`; each chart is one file on top of it.

mod axis;
mod canvas;
pub mod curve;
pub mod differences;
pub mod grid;
mod heading;
mod legend;
pub mod lines;
mod palette;
pub mod panels;
#[cfg(feature = "png")]
mod png;
pub mod reliability;
pub mod stacked;
mod text;
pub mod trucks;

#[cfg(feature = "png")]
pub use png::{PngError, png};

/// Width of all charts in pixels: that of the report's text column.
const WIDTH: f64 = 760.0;
/// Blank space at the left and right edge.
const MARGIN: f64 = 20.0;
