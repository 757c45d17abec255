//! A workbook (.xlsx) and the tables in its sheets, cell by cell: a sheet with a stray cell in its last corner is as small as any.

use super::grid::{MOST_CELLS, MOST_COLUMNS, Row, Rows};
use crate::scenario::input_file::{self, LARGEST_MIB};
use crate::scenario::problem::{listed, nearest};
use calamine::{
    Data, DataRef, ExcelDateTime, Reader, SheetVisible, Xlsx, XlsxError, XlsxFormulaMetadata,
};
use std::io::Cursor;

/// A sheet with more is no list of a scenario.
const MOST_ROWS: u32 = 200_000;

/// A workbook that is open.
pub(super) struct Book<'a> {
    name: &'a str,
    book: Xlsx<Cursor<&'a [u8]>>,
}

impl<'a> Book<'a> {
    /// Opens the bytes of a file.
    pub(super) fn open(name: &'a str, bytes: &'a [u8]) -> Result<Self, String> {
        // The first entry of an OpenDocument file is its kind (OpenDocument 1.3, part 2, 3.3).
        if bytes
            .get(30..)
            .is_some_and(|rest| rest.starts_with(b"mimetype"))
        {
            return Err(format!(
                "{name} is a file of another kind than .xlsx: save it as .xlsx"
            ));
        }
        input_file::check_packed(bytes)
            .map_err(|reason| format!("{name} cannot be read as a workbook (.xlsx): {reason}"))?;
        match Xlsx::new(Cursor::new(bytes)) {
            Ok(book) => Ok(Self { name, book }),
            Err(error) => Err(format!(
                "{name} cannot be read as a workbook (.xlsx): {error}"
            )),
        }
    }

    /// Its sheets that are not hidden, in order; if all are, all.
    pub(super) fn sheets(&self) -> Vec<String> {
        let all = self.book.sheets_metadata();
        let shown = all
            .iter()
            .filter(|sheet| sheet.visible == SheetVisible::Visible);
        let shown: Vec<String> = shown.map(|sheet| sheet.name.clone()).collect();
        match shown.is_empty() {
            true => self.book.sheet_names(),
            false => shown,
        }
    }

    /// The sheet that is asked for, whatever its capitals; by default the first.
    pub(super) fn sheet(&self, asked: Option<&str>) -> Result<String, String> {
        let sheets = self.book.sheet_names();
        let Some(asked) = asked else {
            let first = self.sheets().into_iter().next();
            return first.ok_or(format!("{} has no sheet", self.name));
        };
        match sheets.iter().find(|name| name.eq_ignore_ascii_case(asked)) {
            Some(sheet) => Ok(sheet.clone()),
            None => {
                let near = nearest(asked, sheets.iter().map(String::as_str));
                let near = near.map_or(String::new(), |near| format!("; did you mean \"{near}\"?"));
                Err(format!(
                    "{} has no sheet \"{asked}\"{near}: its sheets are {}",
                    self.name,
                    listed(&sheets)
                ))
            }
        }
    }

    /// How problems call a sheet.
    pub(super) fn called(&self, sheet: &str) -> String {
        format!("{}, sheet \"{sheet}\"", self.name)
    }

    /// The rows of a sheet. Times are rounded to the minute, if seconds are not asked for.
    pub(super) fn rows(&mut self, sheet: &str, seconds: bool) -> Result<Rows, String> {
        let name = self.name;
        let broken = |error: XlsxError| format!("{name} cannot be read as a workbook: {error}");
        let merged = self
            .book
            .merge_cells_by_sheet_name(sheet)
            .unwrap_or_default();
        let refused =
            |why: String| format!("{name}, sheet \"{sheet}\": {why} (plantday help limits)");
        let too_much = || {
            refused(format!(
                "its cells hold more than {LARGEST_MIB} MiB of text, the most that is read of a table"
            ))
        };
        let too_many = || {
            refused(format!(
                "it has more than {MOST_CELLS} cells, the most that is read of a table"
            ))
        };
        let mut left = (LARGEST_MIB as usize) << 20;
        let mut cells = self.book.worksheet_cells_reader(sheet).map_err(broken)?;
        let mut found: Vec<(u32, u32, String)> = Vec::new();
        // A formula that is shared is not written out for each cell: a small sheet could hold a large one in every cell.
        while let Some(cell) = cells.next_cell_with_formula_metadata().map_err(broken)? {
            let text = match &cell.value {
                DataRef::DateTime(time) => date_time(time, seconds),
                value => written(value),
            };
            // A line of the text is a row of the sheet.
            let mut text = text.trim().replace(['\n', '\r'], " ");
            if text.is_empty()
                && let Some(formula) = &cell.formula
                && matches!(cell.value, DataRef::Empty)
            {
                text = format!("={}", of_formula(formula));
            }
            if text.is_empty() {
                continue;
            }
            let (row, column) = cell.pos;
            if row >= MOST_ROWS || column as usize >= MOST_COLUMNS {
                return Err(refused(format!(
                    "something stands in row {}, column {}; a table has at most {MOST_ROWS} rows and {MOST_COLUMNS} columns: clear it",
                    u64::from(row) + 1,
                    u64::from(column) + 1
                )));
            }
            // A text that stands once in the file may stand in every cell.
            left = left.checked_sub(text.len()).ok_or_else(too_much)?;
            if found.len() >= MOST_CELLS {
                return Err(too_many());
            }
            found.push((row, column, text));
        }
        found.sort_by_key(|(row, column, _)| (*row, *column));
        // A cell merged over several rows holds for all of them.
        let written = found.len();
        for area in merged {
            let (row, column) = area.start;
            let last = area.end.0.min(MOST_ROWS - 1);
            let head = found[..written].partition_point(|cell| (cell.0, cell.1) < (row, column));
            let head = found[..written].get(head);
            let Some(text) = head.filter(|cell| (cell.0, cell.1) == (row, column)) else {
                continue;
            };
            let text = text.2.clone();
            let below = last.saturating_sub(row) as usize;
            left = left.checked_sub(below * text.len()).ok_or_else(too_much)?;
            if found.len() + below > MOST_CELLS {
                return Err(too_many());
            }
            found.extend((row + 1..=last).map(|row| (row, column, text.clone())));
        }
        found.sort_by_key(|(row, column, _)| (*row, *column));
        let mut text = String::new();
        let mut rows: Vec<Row> = Vec::new();
        let mut counted = 0;
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
            counted += (column as usize + 1).saturating_sub(cells.len());
            if counted > MOST_CELLS {
                return Err(too_many());
            }
            cells.resize(column as usize, None);
            let from = text.len();
            text += &cell;
            cells.push(Some((cell, from..text.len())));
        }
        Ok(Rows {
            text,
            rows,
            comma: false,
            sheet: true,
            note: None,
            turned: false,
        })
    }
}

/// What is written of a formula: of one that other cells share only at the first of them.
fn of_formula(formula: &XlsxFormulaMetadata) -> &str {
    match formula {
        XlsxFormulaMetadata::Normal { formula } | XlsxFormulaMetadata::Shared { formula, .. } => {
            formula
        }
        _ => "…",
    }
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
