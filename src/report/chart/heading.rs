//! Title and subtitle at the left, as in a newspaper, wrapped to the width of the chart.

use super::canvas::{Anchor, Canvas};
use super::text::Look;
use super::{MARGIN, WIDTH};

/// A title measured before anything is drawn, since the height of the chart depends on it.
pub(super) struct Heading {
    title: Vec<String>,
    subtitle: Vec<String>,
}

const TOP: f64 = 14.0;
const BETWEEN: f64 = 4.0;

impl Heading {
    pub(super) fn new(title: &str, subtitle: &str) -> Self {
        let width = WIDTH - 2.0 * MARGIN;
        Self {
            title: Look::TITLE.wrap(title, width, 3),
            subtitle: Look::SUBTITLE.wrap(subtitle, width, 3),
        }
    }

    /// The height taken, in pixels: the chart begins there.
    pub(super) fn height(&self) -> f64 {
        TOP + block(&self.title, Look::TITLE) + BETWEEN + block(&self.subtitle, Look::SUBTITLE)
    }

    pub(super) fn draw(&self, canvas: &Canvas<'_>) {
        let title = block(&self.title, Look::TITLE);
        let subtitle = block(&self.subtitle, Look::SUBTITLE);
        let middle = |top: f64, height: f64| (MARGIN, top + height / 2.0);
        canvas.lines(&self.title, middle(TOP, title), Anchor::Left, Look::TITLE);
        canvas.lines(
            &self.subtitle,
            middle(TOP + title + BETWEEN, subtitle),
            Anchor::Left,
            Look::SUBTITLE,
        );
    }
}

fn block(lines: &[String], look: Look) -> f64 {
    look.line_height() * lines.len() as f64
}
