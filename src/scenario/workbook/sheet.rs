//! One sheet: headings with notes, cells, lists of choices.

use rust_xlsxwriter::{
    Color, DataValidation, ExcelDateTime, Format, FormatAlign, Formula, Note, Worksheet, XlsxError,
};

/// What stands in a cell.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Cell {
    Blank,
    Text(String),
    Number(f64),
    Yes(bool),
    /// Minutes since midnight.
    Time(u32),
    /// Year, month, day.
    Date(u16, u8, u8),
}

/// What may stand in the cells of a column; another value may be typed all the same.
#[derive(Clone, Debug)]
pub(super) enum Choices {
    Written(Vec<&'static str>),
    /// The cells of a column of another sheet: `=Sites!$A$2:$A$9`.
    Range(String),
}

/// A sheet before it is written.
pub(super) struct Sheet {
    headings: Vec<(String, String, f64)>,
    rows: Vec<Vec<Cell>>,
    choices: Vec<(usize, Choices)>,
}

/// Rows for which a list of choices is offered beyond those written.
const MORE_ROWS: u32 = 200;

impl Sheet {
    /// With headings, the note at each and the width of its column in characters.
    pub(super) fn new(headings: &[(&str, &str, f64)]) -> Self {
        let headings = headings.iter();
        Self {
            headings: headings
                .map(|(heading, note, width)| ((*heading).to_owned(), (*note).to_owned(), *width))
                .collect(),
            rows: Vec::new(),
            choices: Vec::new(),
        }
    }

    pub(super) fn row(&mut self, cells: Vec<Cell>) {
        self.rows.push(cells);
    }

    pub(super) fn offer(&mut self, column: usize, choices: Choices) {
        self.choices.push((column, choices));
    }

    pub(super) fn write(&self, sheet: &mut Worksheet, name: &str) -> Result<(), XlsxError> {
        sheet.set_name(name)?;
        let head = Format::new()
            .set_bold()
            .set_background_color(Color::RGB(0x00E3_EAF0))
            .set_text_wrap()
            .set_align(FormatAlign::Top);
        let wrapped = Format::new().set_text_wrap().set_align(FormatAlign::Top);
        let top = Format::new().set_align(FormatAlign::Top);
        let time = Format::new()
            .set_num_format("hh:mm")
            .set_align(FormatAlign::Top);
        let date = Format::new()
            .set_num_format("yyyy-mm-dd")
            .set_align(FormatAlign::Top);
        for (column, (heading, note, width)) in self.headings.iter().enumerate() {
            let column = column as u16;
            sheet.write_string_with_format(0, column, heading, &head)?;
            sheet.set_column_width(column, *width)?;
            if !note.is_empty() {
                let lines = (note.chars().count() as u32 / 34) + note.lines().count() as u32 + 1;
                let note = Note::new(note.as_str())
                    .add_author_prefix(false)
                    .set_width(260)
                    .set_height(18 * lines.max(3));
                sheet.insert_note(0, column, &note)?;
            }
        }
        for (row, cells) in self.rows.iter().enumerate() {
            let row = row as u32 + 1;
            for (column, cell) in cells.iter().enumerate() {
                let column = column as u16;
                match cell {
                    Cell::Blank => {}
                    Cell::Text(text) => {
                        sheet.write_string_with_format(row, column, text, &wrapped)?;
                    }
                    Cell::Number(number) => {
                        sheet.write_number_with_format(row, column, *number, &top)?;
                    }
                    Cell::Yes(yes) => {
                        let text = if *yes { "yes" } else { "no" };
                        sheet.write_string_with_format(row, column, text, &top)?;
                    }
                    Cell::Time(minutes) => {
                        let day = f64::from(*minutes) / 1_440.0;
                        sheet.write_number_with_format(row, column, day, &time)?;
                    }
                    Cell::Date(year, month, day) => {
                        let day = ExcelDateTime::from_ymd(*year, *month, *day)?;
                        sheet.write_with_format(row, column, &day, &date)?;
                    }
                }
            }
        }
        let last = self.rows.len() as u32 + MORE_ROWS;
        for (column, choices) in &self.choices {
            let list = DataValidation::new();
            let list = match choices {
                Choices::Written(choices) => list.allow_list_strings(choices)?,
                Choices::Range(range) => list.allow_list_formula(Formula::new(range)),
            };
            // Numbers within a choice are the user's, and so are lists of several.
            let list = list.show_error_message(false);
            let column = *column as u16;
            sheet.add_data_validation(1, column, last, column, &list)?;
        }
        sheet.set_freeze_panes(1, 1)?;
        Ok(())
    }
}
