//! Charts that the spreadsheet program draws itself, from cells of the tables' sheets: bars of one number by name.
//!
//! What needs more than that, such as stacks, curves and intervals, is on the page and in the SVG files.

use super::formats::digits;
use super::grid::{Entry, Grid, Shown};
use super::{Answer, Sheet, Table, WITHIN};
use crate::report::answer::Form;
use rust_xlsxwriter::{Chart, ChartAxisLabelPosition, Worksheet};
use std::collections::HashSet;

/// Fewest and most bars that make a chart.
const BARS: std::ops::RangeInclusive<usize> = 2..=40;
/// Height of a bar with its gap, and of what is around all of them, in pixels.
const BAR: usize = 28;
const AROUND: usize = 130;
const WIDTH: u32 = 900;
/// Height of a row of a sheet in pixels.
const ROW: usize = 20;

/// A chart with the cells that it is drawn from.
#[derive(Debug)]
pub(super) struct Drawn {
    heading: String,
    axis: String,
    sheet: String,
    /// First row, first column, last row, last column.
    names: (u32, u16, u32, u16),
    values: (u32, u16, u32, u16),
    bars: usize,
    form: Form,
    /// Whether no bar goes to the left of zero, where the axis then begins.
    from_zero: bool,
}

/// The charts of an answer: the rows that it wants drawn, and those charts of its own whose table is a list of names and numbers.
pub(super) fn of(answer: &Answer, sheets: &[(&Table, Sheet)]) -> Vec<Drawn> {
    let sheet = |name: &str| sheets.iter().find(|(table, _)| table.name == name);
    let mut all = Vec::new();
    for bars in &answer.bars {
        if let Some((_, sheet)) = sheet(bars.table) {
            all.extend(across(&bars.heading, sheet, bars.row));
        }
    }
    for chart in &answer.charts {
        if let Some((table, sheet)) = sheet(chart.table) {
            all.extend(down(&chart.heading, table, sheet));
        }
    }
    all
}

/// A row of a table: its numbers by the headings of their columns.
fn across(heading: &str, sheet: &Sheet, row: usize) -> Option<Drawn> {
    let grid = &sheet.grid;
    let at = grid.rows.iter().position(|line| line.row == row)?;
    let (first, rest) = grid.rows[at].entries.split_first()?;
    let form = form_of_all(rest)?;
    let line = at as u32 + 1;
    let last = rest.len() as u16;
    (BARS.contains(&rest.len())).then(|| Drawn {
        heading: heading.to_owned(),
        axis: match first {
            Entry::Text(text) => text.clone(),
            _ => String::new(),
        },
        sheet: sheet.name.clone(),
        names: (0, 1, 0, last),
        values: (line, 1, line, last),
        bars: rest.len(),
        form,
        from_zero: none_below_zero(rest),
    })
}

/// A table whose first column names every row once: by these names the first column that has intervals, or that there is.
fn down(heading: &str, table: &Table, sheet: &Sheet) -> Option<Drawn> {
    let grid = &sheet.grid;
    if !BARS.contains(&grid.rows.len()) || !names_each_row(grid) {
        return None;
    }
    // What the answer is about has an interval; the end of it stands to the right.
    let shown = |at: &usize| {
        let column = grid.headings[*at].value_of;
        column.is_some_and(|column| table.columns[column].page)
    };
    let has_ends = |at: &usize| {
        let next = grid.headings.get(at + 1);
        next.is_some_and(|next| next.value_of.is_none())
    };
    let mut columns = (1..grid.headings.len()).filter(shown);
    let at = columns.clone().find(has_ends).or_else(|| columns.next())?;
    let form = form_of_all(grid.rows.iter().map(|line| &line.entries[at]))?;
    let (last, column) = (grid.rows.len() as u32, at as u16);
    Some(Drawn {
        heading: heading.to_owned(),
        axis: grid.headings[at].text.clone(),
        sheet: sheet.name.clone(),
        names: (1, 0, last, 0),
        values: (1, column, last, column),
        bars: grid.rows.len(),
        form,
        from_zero: none_below_zero(grid.rows.iter().map(|line| &line.entries[at])),
    })
}

fn names_each_row(grid: &Grid) -> bool {
    let mut seen = HashSet::new();
    grid.rows.iter().all(|line| match line.entries.first() {
        Some(Entry::Text(name)) => seen.insert(name),
        _ => false,
    })
}

/// How the numbers are written, if all are numbers in the same unit.
fn form_of_all<'a>(entries: impl IntoIterator<Item = &'a Entry>) -> Option<Form> {
    let mut common: Option<Form> = None;
    for entry in entries {
        let Entry::Number(_, Shown::Form(form)) = entry else {
            return None;
        };
        let first = common.get_or_insert(*form);
        if first.unit != form.unit {
            return None;
        }
        first.decimals = first.decimals.max(form.decimals);
    }
    common
}

fn none_below_zero<'a>(entries: impl IntoIterator<Item = &'a Entry>) -> bool {
    let mut entries = entries.into_iter();
    entries.all(|entry| !matches!(entry, Entry::Number(value, _) if *value < 0.0))
}

/// The sheet of charts, one below the other.
pub(super) fn write(sheet: &mut Worksheet, name: &str, charts: &[Drawn]) {
    sheet.set_name(name).expect(WITHIN);
    let mut row = 1;
    for drawn in charts {
        let height = AROUND + BAR * drawn.bars;
        let mut chart = Chart::new_bar();
        chart
            .add_series()
            .set_categories(range(&drawn.sheet, drawn.names))
            .set_values(range(&drawn.sheet, drawn.values))
            .set_gap(60);
        chart.title().set_name(&no_formula(&drawn.heading));
        chart.legend().set_hidden();
        // Bars lie: names go down, numbers across. The first name on top, and names at the side where bars go to the left.
        chart
            .y_axis()
            .set_reverse()
            .set_label_position(ChartAxisLabelPosition::Low);
        chart
            .x_axis()
            .set_name(&no_formula(&drawn.axis))
            .set_num_format(digits(1.0, drawn.form));
        if drawn.from_zero {
            // Bars that begin elsewhere would make differences look larger than they are.
            chart.x_axis().set_min(0.0);
        }
        chart.set_width(WIDTH).set_height(height as u32);
        sheet.insert_chart(row, 1, &chart).expect(WITHIN);
        row += (height / ROW + 2) as u32;
    }
    sheet.set_landscape().set_print_fit_to_pages(1, 0);
}

type Range<'a> = (&'a str, u32, u16, u32, u16);

fn range(sheet: &str, (top, left, bottom, right): (u32, u16, u32, u16)) -> Range<'_> {
    (sheet, top, left, bottom, right)
}

/// The library takes what begins with an equals sign for a place in the workbook.
fn no_formula(text: &str) -> String {
    let text = crate::report::plain_text::one_line(text);
    match text.starts_with('=') {
        true => format!(" {text}"),
        false => text,
    }
}
