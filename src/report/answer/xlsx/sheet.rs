//! Cells written into a sheet. Text is always written as text: nothing that a user named becomes a formula.

use super::WITHIN;
use super::formats::{self, Formats};
use super::grid::{Entry, Grid, Shown};
use super::lines::Said;
use crate::report::csv_text;
use crate::report::plain_text::one_line;
use crate::report::wrap::wrap;
use rust_xlsxwriter::{Format, Worksheet};

/// Widths of columns, in characters.
const NARROWEST: usize = 9;
const WIDEST: usize = 60;
/// A heading wraps beyond this.
const HEADING: usize = 18;
/// Room for the button of the filter beside a heading.
const BUTTON: usize = 3;
/// Width of the first sheet's text.
const PAGE: usize = 110;
/// Height of a line in points.
const LINE: usize = 15;
/// Most points that a row may be high.
const HIGHEST: usize = 405;
/// Most UTF-16 units that a cell can hold, less a few.
const LONGEST: usize = 32_000;

/// A sheet with a line of headings that stays in sight, and filters.
pub(super) fn write(sheet: &mut Worksheet, name: &str, grid: &Grid, formats: &mut Formats) {
    sheet.set_name(name).expect(WITHIN);
    let heading = formats::heading();
    let widths: Vec<usize> = (0..grid.headings.len()).map(|at| width(grid, at)).collect();
    let mut highest = 1;
    for (at, (column, width)) in grid.headings.iter().zip(&widths).enumerate() {
        let at = at as u16;
        put(sheet, 0, at, &column.text, Some(&heading));
        sheet.set_column_width(at, *width as f64).expect(WITHIN);
        highest = highest.max(lines(&column.text, width.saturating_sub(BUTTON)));
    }
    high(sheet, 0, highest);
    for (at, line) in grid.rows.iter().enumerate() {
        let row = at as u32 + 1;
        let texts = line
            .entries
            .iter()
            .zip(&widths)
            .map(|(entry, width)| match entry {
                Entry::Text(text) => lines(text, *width),
                _ => 1,
            });
        let height = texts.max().unwrap_or(1);
        high(sheet, row, height);
        // Beside what wraps, all begins on the first line.
        let tall = height > 1;
        for (at, entry) in line.entries.iter().enumerate() {
            let at = at as u16;
            match entry {
                Entry::Blank => {}
                Entry::Text(text) => text_in(sheet, row, at, text, line.marked, tall),
                Entry::Number(value, Shown::Whole) if !line.marked && !tall => {
                    sheet.write_number(row, at, *value).expect(WITHIN);
                }
                Entry::Number(value, shown) => {
                    let format = formats.number(*value, shown, line.marked);
                    let written = sheet.write_number_with_format(row, at, *value, &format);
                    written.expect(WITHIN);
                }
            }
        }
    }
    let last = grid.headings.len().saturating_sub(1) as u16;
    let rows = grid.rows.len() as u32;
    sheet.set_freeze_panes(1, 0).expect(WITHIN);
    sheet.autofilter(0, 0, rows.max(1), last).expect(WITHIN);
    sheet.set_repeat_rows(0, 0).expect(WITHIN);
    sheet.set_landscape().set_print_fit_to_pages(1, 0);
}

/// A sheet of words, each with what it is.
pub(super) fn write_lines(sheet: &mut Worksheet, name: &str, said: &[Said]) {
    sheet.set_name(name).expect(WITHIN);
    sheet.set_column_width(0, 22).expect(WITHIN);
    sheet.set_column_width(1, PAGE as f64).expect(WITHIN);
    for (row, (what, text)) in said.iter().enumerate() {
        let row = row as u32;
        if !what.is_empty() {
            put(sheet, row, 0, what, Some(&formats::text(true, true, false)));
        }
        text_in(sheet, row, 1, text, *what == "Decision", true);
        high(sheet, row, lines(text, PAGE));
    }
    sheet.set_print_fit_to_pages(1, 0);
}

/// Lines that a text takes; letters differ in width, so that not all of it is reckoned with.
fn lines(text: &str, width: usize) -> usize {
    match text.chars().count() <= width {
        true => 1,
        false => wrap("", text, (width * 9 / 10).max(1)).len(),
    }
}

/// Room for so many lines: not every program makes it when it opens a file.
fn high(sheet: &mut Worksheet, row: u32, lines: usize) {
    if lines > 1 {
        let height = (LINE * lines).min(HIGHEST) as f64;
        sheet.set_row_height(row, height).expect(WITHIN);
    }
}

fn text_in(sheet: &mut Worksheet, row: u32, column: u16, text: &str, bold: bool, tall: bool) {
    let wrapped = text.chars().count() > WIDEST;
    let quoted = csv_text::is_risky(text);
    if bold || wrapped || quoted || tall {
        let format = formats::text(bold, wrapped, quoted);
        put(sheet, row, column, text, Some(&format));
    } else {
        put(sheet, row, column, text, None);
    }
}

fn put(sheet: &mut Worksheet, row: u32, column: u16, text: &str, format: Option<&Format>) {
    let text = cut(&one_line(text));
    let written = match format {
        Some(format) => sheet.write_string_with_format(row, column, text, format),
        None => sheet.write_string(row, column, text),
    };
    written.expect(WITHIN);
}

/// What a cell has room for.
fn cut(text: &str) -> String {
    let mut units = 0;
    text.chars()
        .take_while(|c| {
            units += c.len_utf16();
            units <= LONGEST
        })
        .collect()
}

/// The width in which every cell can be read, wrapped or whole.
fn width(grid: &Grid, at: usize) -> usize {
    let cells = grid.rows.iter().map(|line| match &line.entries[at] {
        Entry::Blank => 0,
        Entry::Text(text) => text.chars().count(),
        Entry::Number(_, Shown::Whole) => NARROWEST,
        Entry::Number(value, Shown::Form(form)) => form.show(*value).chars().count() + 1,
        Entry::Number(_, Shown::Words(words)) => words.chars().count(),
    });
    let heading = &grid.headings[at].text;
    let word = heading.split_whitespace().map(|word| word.chars().count());
    let heading = word
        .max()
        .unwrap_or(0)
        .max(HEADING.min(heading.chars().count()))
        + BUTTON;
    let widest = cells.max().unwrap_or(0) + 1;
    widest.max(heading).clamp(NARROWEST, WIDEST)
}
