//! A table in a sheet of a workbook (.xlsx), cell by cell: a sheet with a stray cell in its last corner is as small as any.

use super::grid::{Grid, Row};
use crate::scenario::problem::{Source, listed, nearest};
use calamine::{Data, DataRef, ExcelDateTime, Reader, Xlsx};
use std::io::Cursor;

/// A sheet with more is no list of a scenario.
const MOST_ROWS: u32 = 200_000;
const MOST_COLUMNS: u32 = 500;

/// Reads a sheet, by default the only one or the first; the grid's places begin at `start`. Times are rounded to the minute, if
/// seconds are not asked for.
pub(super) fn read(
    name: &str,
    bytes: &[u8],
    sheet: Option<&str>,
    start: usize,
    seconds: bool,
) -> Result<Grid, String> {
    let broken =
        |error: calamine::XlsxError| format!("{name} cannot be read as a workbook: {error}");
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(broken)?;
    let sheets = book.sheet_names();
    let sheet = match sheet {
        Some(asked) => match sheets.iter().find(|name| name.eq_ignore_ascii_case(asked)) {
            Some(sheet) => sheet.clone(),
            None => {
                let near = nearest(asked, sheets.iter().map(String::as_str));
                let near = near.map_or(String::new(), |near| format!("; did you mean \"{near}\"?"));
                return Err(format!(
                    "{name} has no sheet \"{asked}\"{near}: its sheets are {}",
                    listed(&sheets)
                ));
            }
        },
        None => sheets
            .first()
            .cloned()
            .ok_or(format!("{name} has no sheet"))?,
    };
    let mut cells = book.worksheet_cells_reader(&sheet).map_err(broken)?;
    let mut found: Vec<(u32, u32, String)> = Vec::new();
    while let Some(cell) = cells.next_cell().map_err(broken)? {
        let text = match cell.get_value() {
            DataRef::DateTime(time) => date_time(time, seconds),
            value => written(value),
        };
        let text = text.trim();
        if text.is_empty() {
            continue;
        }
        let (row, column) = cell.get_position();
        if row >= MOST_ROWS || column >= MOST_COLUMNS {
            return Err(format!(
                "{name}, sheet \"{sheet}\": something stands in row {}, column {}; a table has at most {MOST_ROWS} rows and {MOST_COLUMNS} \
                 columns: clear it",
                row + 1,
                column + 1
            ));
        }
        // A line of the text is a row of the sheet.
        found.push((row, column, text.replace(['\n', '\r'], " ")));
    }
    found.sort_by_key(|(row, column, _)| (*row, *column));
    let mut text = String::new();
    let mut rows: Vec<Row> = Vec::new();
    for (row, column, cell) in found {
        while rows.len() <= row as usize {
            if !rows.is_empty() {
                text.push('\n');
            }
            rows.push(Vec::new());
        }
        let cells = &mut rows[row as usize];
        if !cells.is_empty() {
            text += " | ";
        }
        cells.resize(column as usize, None);
        let from = text.len();
        text += &cell;
        cells.push(Some((cell, from..text.len())));
    }
    let source = Source::sheet(&format!("{name}, sheet \"{sheet}\""), &text, start);
    Grid::new(source, false, rows)
}

/// A value as text: numbers in full, without an end of `.0`.
fn written(value: &DataRef<'_>) -> String {
    match Data::from(value.clone()) {
        Data::Float(number) => number.to_string(),
        value => value.to_string(),
    }
}

/// A time of day, a date, or both.
fn date_time(value: &ExcelDateTime, seconds: bool) -> String {
    let days = value.as_f64();
    let step = if seconds { 1.0 } else { 60_000.0 };
    // What a spreadsheet keeps of a time is off by less than a millisecond.
    let since = libm::round(days.fract() * 86_400_000.0 / step) * step;
    let (minutes, rest) = ((since / 60_000.0) as u32, since as u32 % 60_000);
    let mut time = format!("{:02}:{:02}", minutes / 60, minutes % 60);
    if rest > 0 {
        time += &format!(":{:02}.{:03}", rest / 1_000, rest % 1_000);
    }
    if (0.0..1.0).contains(&days) {
        return time;
    }
    if days == 1.0 {
        return "24:00".into();
    }
    let (year, month, day, ..) = value.to_ymd_hms_milli();
    let date = format!("{year:04}-{month:02}-{day:02}");
    if since == 0.0 {
        date
    } else {
        format!("{date} {time}")
    }
}
