//! The embedded font: looks of text, and measuring, wrapping and shortening with it.

use crate::report::wrap;
use std::sync::Once;

use plotters::style::{FontDesc, FontFamily, FontStyle, RGBColor, register_font};

use super::palette::{INK, SOFT};

/// Names the embedded font to the drawing library and is, word for word, the list of fonts written into the SVG.
pub(super) const FAMILY: &str = "Inter, 'Segoe UI', Roboto, Helvetica, Arial, sans-serif";
pub(super) const REGULAR: &[u8] = include_bytes!("../fonts/Inter-Regular.ttf");
pub(super) const BOLD: &[u8] = include_bytes!("../fonts/Inter-Bold.ttf");

/// The drawing library writes a font size of 1/1.24 of what it was told.
const SIZE_CORRECTION: f64 = 1.24;
/// Sizes are measured this much enlarged, because the library answers in whole pixels.
const MEASURED_AT: f64 = 16.0;

/// Size (pixels), weight and colour of a piece of text.
#[derive(Clone, Copy, Debug)]
pub(super) struct Look {
    pub(super) size: f64,
    pub(super) bold: bool,
    pub(super) colour: RGBColor,
}

impl Look {
    pub(super) const TITLE: Self = Self::new(17.0, true, INK);
    pub(super) const SUBTITLE: Self = Self::new(12.5, false, SOFT);
    pub(super) const NAME: Self = Self::new(13.0, false, INK);
    pub(super) const NOTE: Self = Self::new(11.5, false, SOFT);

    pub(super) const fn new(size: f64, bold: bool, colour: RGBColor) -> Self {
        Self { size, bold, colour }
    }

    pub(super) const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    pub(super) const fn coloured(self, colour: RGBColor) -> Self {
        Self { colour, ..self }
    }

    /// Distance between the lines of wrapped text in pixels.
    pub(super) fn line_height(self) -> f64 {
        self.size * 1.3
    }

    /// The font at `scale` times its size.
    pub(super) fn font(self, scale: f64) -> FontDesc<'static> {
        register_fonts();
        let style = if self.bold {
            FontStyle::Bold
        } else {
            FontStyle::Normal
        };
        let size = self.size * SIZE_CORRECTION * scale;
        FontDesc::new(FontFamily::Name(FAMILY), size, style)
    }

    /// Width of a line of text in pixels.
    pub(super) fn width(self, text: &str) -> f64 {
        let (width, _) = self
            .font(MEASURED_AT)
            .box_size(text)
            .expect("the embedded font can be read");
        f64::from(width) / MEASURED_AT
    }

    /// Width of the widest of some texts in pixels.
    pub(super) fn widest<'a>(self, texts: impl IntoIterator<Item = &'a str>) -> f64 {
        texts
            .into_iter()
            .map(|text| self.width(text))
            .fold(0.0, f64::max)
    }

    /// Breaks text at blanks, but not between a number and its unit, into at most `lines` lines of `width` pixels; what does not fit ends in "…".
    pub(super) fn wrap(self, text: &str, width: f64, lines: usize) -> Vec<String> {
        let mut wrapped: Vec<String> = Vec::new();
        let mut words = wrap::words(text).into_iter().peekable();
        while words.peek().is_some() && wrapped.len() + 1 < lines {
            let mut line = String::new();
            while let Some(word) = words.peek() {
                let longer = if line.is_empty() {
                    word.clone()
                } else {
                    format!("{line} {word}")
                };
                if !line.is_empty() && self.width(&longer) > width {
                    break;
                }
                line = longer;
                words.next();
            }
            wrapped.push(self.shortened(&line, width));
        }
        if words.peek().is_some() {
            let rest: Vec<String> = words.collect();
            wrapped.push(self.shortened(&rest.join(" "), width));
        }
        wrapped
    }

    /// The text, or as much of its beginning as fits `width` pixels with "…"; no word with a digit is shown by halves, as it would be
    /// another number.
    pub(super) fn shortened(self, text: &str, width: f64) -> String {
        if self.width(text) <= width {
            return text.to_string();
        }
        let ends: Vec<usize> = text.char_indices().map(|(at, _)| at).collect();
        let with_dots = |end: usize| format!("{}…", text[..end].trim_end());
        let fitting = ends.partition_point(|&end| self.width(&with_dots(end)) <= width);
        let end = fitting.checked_sub(1).map_or(0, |last| ends[last]);
        let word = text[..end].rfind(' ').map_or(0, |blank| blank + 1);
        let cut = text[word..].split(' ').next().unwrap_or_default();
        let digits = cut.contains(|letter: char| letter.is_ascii_digit());
        with_dots(if digits && word > 0 { word } else { end })
    }
}

fn register_fonts() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        for (style, bytes) in [(FontStyle::Normal, REGULAR), (FontStyle::Bold, BOLD)] {
            if register_font(FAMILY, style, bytes).is_err() {
                unreachable!("the embedded font can be read");
            }
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_text_wraps_and_then_ends_in_dots() {
        let text = "Longest idle truck first, then by seniority, with a late-day reserve";
        for (width, lines) in [(150.0, 2), (150.0, 6), (60.0, 1), (20.0, 3)] {
            let wrapped = Look::NAME.wrap(text, width, lines);
            assert!(wrapped.len() <= lines);
            assert!(wrapped.iter().all(|line| Look::NAME.width(line) <= width));
        }
        assert_eq!(Look::NAME.wrap(text, 150.0, 6).join(" "), text);
        assert!(Look::NAME.wrap(text, 60.0, 1)[0].ends_with('…'));
        assert_eq!(Look::NAME.wrap("", 60.0, 2), Vec::<String>::new());
    }

    #[test]
    fn no_number_is_cut() {
        let text = "It costs $651,603 a week";
        for width in 20..200 {
            let shown = Look::NAME.shortened(text, f64::from(width));
            assert!(
                !shown.contains('$') || shown.contains("$651,603"),
                "{shown}"
            );
        }
    }

    #[test]
    fn bold_text_is_wider() {
        let text = "Nearest truck";
        assert!(Look::NAME.bold().width(text) > Look::NAME.width(text));
    }
}
