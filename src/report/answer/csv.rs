//! The tables of an answer as CSV.

use super::table::{Table, Value};
use crate::report::csv_text;

/// One table: the columns that have a name for files, numbers with all their digits.
pub(super) fn table(table: &Table) -> Vec<u8> {
    let mut text = Growing::new(table);
    text.add(table);
    text.finish()
}

/// A table that is written row by row: as cells a large one takes many times as much memory as its text.
pub(in crate::report) struct Growing(csv_text::Table);

impl Growing {
    /// With the headings of this table.
    pub(in crate::report) fn new(table: &Table) -> Self {
        let headings: Vec<&str> = table.keys().map(|(_, key, _)| key).collect();
        Self(csv_text::Table::new(&headings))
    }

    /// Adds the rows of a table with the same columns.
    pub(in crate::report) fn add(&mut self, table: &Table) {
        for row in table.rows.iter().filter(|row| row.file) {
            self.0.row(
                table
                    .keys()
                    .map(|(at, _, part)| match row.cells[at].part(part) {
                        Value::Text(text) => csv_text::Cell::Text(text),
                        Value::Number(number) => csv_text::Cell::Number(number),
                        Value::Blank => csv_text::Cell::Blank,
                    }),
            );
        }
    }

    /// The text.
    pub(in crate::report) fn finish(self) -> Vec<u8> {
        self.0.finish()
    }
}
