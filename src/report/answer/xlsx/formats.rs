//! Formats of cells: numbers in the digits of the page.

use super::grid::Shown;
use super::rounding;
use crate::report::answer::Form;
use crate::report::number::Unit;
use crate::units::measure;
use rust_xlsxwriter::{Color, Format, FormatAlign, FormatBorder};
use std::collections::HashMap;

/// Spreadsheet programs promise room for some two hundred formats of one's own; past so many in words, numbers come without.
const MOST_IN_WORDS: usize = 120;
/// Most characters of words in a format, which may have 255 in all its parts.
const LONGEST_WORDS: usize = 60;

/// The formats of a workbook.
#[derive(Debug, Default)]
pub(super) struct Formats {
    made: HashMap<(String, bool), Format>,
    in_words: Vec<String>,
}

impl Formats {
    /// How this number is seen.
    pub(super) fn number(&mut self, value: f64, shown: &Shown, bold: bool) -> Format {
        let text = match shown {
            Shown::Whole => String::new(),
            Shown::Words(words) => self.literal(words).unwrap_or_default(),
            Shown::Form(form) => {
                // Where a spreadsheet program would round otherwise, the cell shows the page's digits and holds the number.
                let as_shown = (!rounding::agrees(value, *form))
                    .then(|| self.literal(&form.show(value)))
                    .flatten();
                as_shown.unwrap_or_else(|| digits(value, *form))
            }
        };
        self.made
            .entry((text, bold))
            .or_insert_with_key(|(text, bold)| {
                let format = match text.as_str() {
                    "" => Format::new(),
                    text => Format::new().set_num_format(text),
                };
                let format = format.set_align(FormatAlign::Right);
                weight(format.set_align(FormatAlign::Top), *bold)
            })
            .clone()
    }

    /// A format that is nothing but words; none if there are too many of them.
    fn literal(&mut self, words: &str) -> Option<String> {
        if words.chars().count() > LONGEST_WORDS || words.chars().any(char::is_control) {
            return None;
        }
        if !self.in_words.iter().any(|known| known == words) {
            if self.in_words.len() == MOST_IN_WORDS {
                return None;
            }
            self.in_words.push(words.to_owned());
        }
        let quoted = quoted(words);
        Some(format!("{quoted};{quoted};{quoted}"))
    }
}

/// Text.
pub(super) fn text(bold: bool, wrapped: bool, quoted: bool) -> Format {
    let mut format = Format::new().set_align(FormatAlign::Top);
    if wrapped {
        format = format.set_text_wrap();
    }
    if quoted {
        // What is edited stays text as well.
        format = format.set_quote_prefix();
    }
    weight(format, bold)
}

/// The line of headings.
pub(super) fn heading() -> Format {
    Format::new()
        .set_bold()
        .set_text_wrap()
        .set_align(FormatAlign::Top)
        .set_border_bottom(FormatBorder::Thin)
        .set_background_color(Color::RGB(0x00EE_EEEE))
}

fn weight(format: Format, bold: bool) -> Format {
    if bold { format.set_bold() } else { format }
}

/// `"−$"#,##0.00` and its like, with the signs of the page. What is zero in these digits has no sign.
pub(super) fn digits(value: f64, form: Form) -> String {
    let places = match form.decimals {
        0 => String::new(),
        n => format!(".{}", "0".repeat(n)),
    };
    let (before, after) = match (form.unit, form.signed) {
        (Unit::Plain, _) => (String::new(), ""),
        (Unit::Money, _) => (measure::here().currency.before(), ""),
        (Unit::Share, false) => (String::new(), "%"),
        // A spreadsheet program shows hundredths of a share only beside its percent sign.
        (Unit::Share, true) => (String::new(), "%\" pts\""),
    };
    let number = |sign: &str| {
        let before = format!("{sign}{before}");
        let before = match before.as_str() {
            "" => String::new(),
            before => quoted(before),
        };
        format!("{before}#,##0{places}{after}")
    };
    let shown = form.show(value);
    let is_zero = !shown.contains(|c: char| c.is_ascii_digit() && c != '0');
    let (plus, minus) = match (is_zero, form.signed) {
        (true, _) => ("", ""),
        (false, true) => ("+", "−"),
        (false, false) => ("", "−"),
    };
    format!("{};{};{}", number(plus), number(minus), number(""))
}

fn quoted(words: &str) -> String {
    format!("\"{}\"", words.replace('"', "\"\\\"\""))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Format codes: ECMA-376 part 1, 18.8.31: positive; negative; zero, text in quotes.
    #[test]
    fn digits_and_signs_of_the_page() {
        let money = Form::new(Unit::Money, 0);
        assert_eq!(digits(1234.4, money), "\"$\"#,##0;\"−$\"#,##0;\"$\"#,##0");
        assert_eq!(digits(-0.4, money), "\"$\"#,##0;\"$\"#,##0;\"$\"#,##0");
        let points = Form::new(Unit::Share, 1).signed();
        assert_eq!(
            digits(0.025, points),
            "\"+\"#,##0.0%\" pts\";\"−\"#,##0.0%\" pts\";#,##0.0%\" pts\""
        );
        assert_eq!(
            digits(3.0, Form::new(Unit::Plain, 2)),
            "#,##0.00;\"−\"#,##0.00;#,##0.00"
        );
    }

    #[test]
    fn words_stand_in_quotes_and_are_counted() {
        let mut formats = Formats::default();
        assert_eq!(
            formats.literal("5 \"h\""),
            Some(
                "\"5 \"\\\"\"h\"\\\"\"\";"
                    .repeat(3)
                    .trim_end_matches(';')
                    .to_owned()
            )
        );
        for n in 1..MOST_IN_WORDS {
            assert!(formats.literal(&n.to_string()).is_some());
        }
        assert_eq!(formats.literal("one too many"), None);
        assert!(formats.literal("7").is_some(), "it is known");
    }
}
