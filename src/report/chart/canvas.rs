//! Drawing in real pixels, and the SVG that comes of it.

use plotters::coord::Shift;
use plotters::drawing::{DrawingArea, DrawingAreaErrorKind, IntoDrawingArea};
use plotters::element::{Circle, PathElement, Polygon, Rectangle, Text};
use plotters::prelude::SVGBackend;
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{Color, IntoTextStyle, RGBColor, WHITE};

use super::text::Look;
use crate::report::plain_text::one_line;

/// The drawing library knows whole pixels only: charts are drawn this much larger and shrunk by the `viewBox`.
const SCALE: f64 = 4.0;

/// Where a text begins, ends or has its middle; it is centred on its height.
#[derive(Clone, Copy, Debug)]
pub(super) enum Anchor {
    Left,
    Middle,
    Right,
}

/// What a chart is drawn on. Coordinates and widths in pixels, y downwards.
pub(super) struct Canvas<'a> {
    area: DrawingArea<SVGBackend<'a>, Shift>,
}

type Point = (f64, f64);

impl Canvas<'_> {
    pub(super) fn text(&self, text: &str, at: Point, anchor: Anchor, look: Look) {
        let across = match anchor {
            Anchor::Left => HPos::Left,
            Anchor::Middle => HPos::Center,
            Anchor::Right => HPos::Right,
        };
        let style = look
            .font(SCALE)
            .into_text_style(&self.area)
            .pos(Pos::new(across, VPos::Center));
        let style = plotters::style::TextStyle {
            color: look.colour.to_backend_color(),
            ..style
        };
        drawn(
            self.area
                .draw(&Text::new(one_line(text), scaled(at), style)),
        );
    }

    /// Lines of text one under the other, centred as a block on the height of `at`.
    pub(super) fn lines(&self, lines: &[String], at: Point, anchor: Anchor, look: Look) {
        let top = at.1 - look.line_height() * (lines.len() as f64 - 1.0) / 2.0;
        for (number, line) in lines.iter().enumerate() {
            let y = top + look.line_height() * number as f64;
            self.text(line, (at.0, y), anchor, look);
        }
    }

    pub(super) fn line(&self, from: Point, to: Point, colour: RGBColor, width: f64) {
        let style = colour.stroke_width(scaled_length(width));
        let path = PathElement::new([scaled(from), scaled(to)], style);
        drawn(self.area.draw(&path));
    }

    pub(super) fn dashed(&self, from: Point, to: Point, colour: RGBColor, width: f64) {
        let length = libm::hypot(to.0 - from.0, to.1 - from.1);
        let dashes = (length / 8.0) as usize;
        let along = |part: f64| {
            let t = (part * 8.0 / length).min(1.0);
            (from.0 + t * (to.0 - from.0), from.1 + t * (to.1 - from.1))
        };
        for dash in 0..dashes {
            let start = dash as f64;
            self.line(along(start), along(start + 0.5), colour, width);
        }
    }

    pub(super) fn rectangle(&self, corner: Point, opposite: Point, colour: RGBColor) {
        let corners = [scaled(corner), scaled(opposite)];
        drawn(self.area.draw(&Rectangle::new(corners, colour.filled())));
    }

    pub(super) fn polygon(&self, corners: &[Point], colour: RGBColor) {
        let corners: Vec<_> = corners.iter().map(|corner| scaled(*corner)).collect();
        drawn(self.area.draw(&Polygon::new(corners, colour.filled())));
    }

    pub(super) fn disc(&self, centre: Point, radius: f64, colour: RGBColor) {
        let radius = scaled_length(radius);
        drawn(
            self.area
                .draw(&Circle::new(scaled(centre), radius, colour.filled())),
        );
    }

    /// A horizontal arrow with its point at `to`.
    pub(super) fn arrow(&self, from: Point, to: Point, colour: RGBColor) {
        let back = 5.0 * (from.0 - to.0).signum();
        self.line(from, (to.0 + back, to.1), colour, 1.5);
        let head = [
            scaled(to),
            scaled((to.0 + back, to.1 - 3.5)),
            scaled((to.0 + back, to.1 + 3.5)),
        ];
        drawn(self.area.draw(&Polygon::new(head, colour.filled())));
    }
}

/// A whole SVG document of this size in pixels. `title` and `description` are for those who do not see it.
pub(super) fn svg(
    (width, height): (f64, f64),
    title: &str,
    description: &str,
    draw: impl FnOnce(&Canvas<'_>),
) -> String {
    let (w, h) = (scaled_length(width), scaled_length(height));
    let mut drawing = String::new();
    {
        let area = SVGBackend::with_string(&mut drawing, (w, h)).into_drawing_area();
        drawn(area.fill(&WHITE));
        let canvas = Canvas { area };
        draw(&canvas);
        drawn(canvas.area.present());
    }
    let (_, shapes) = drawing
        .split_once(">\n")
        .expect("a drawing begins with its svg tag");
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{width}\" height=\"{height}\" \
         viewBox=\"0 0 {w} {h}\">\n<title>{}</title>\n<desc>{}</desc>\n{shapes}",
        escaped(title),
        escaped(description),
    )
}

fn escaped(text: &str) -> String {
    one_line(text)
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}

fn scaled((x, y): Point) -> (i32, i32) {
    ((x * SCALE).round() as i32, (y * SCALE).round() as i32)
}

fn scaled_length(length: f64) -> u32 {
    (length * SCALE).round() as u32
}

fn drawn(result: Result<(), DrawingAreaErrorKind<std::io::Error>>) {
    result.expect("drawing into a string does not fail");
}
