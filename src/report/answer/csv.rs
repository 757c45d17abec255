//! The tables of an answer as CSV.

use super::table::{Table, Value};
use crate::report::csv_text;
use std::io::{self, Write};

/// One table: the columns that have a name for files, numbers with all their digits.
///
/// # Errors
/// It cannot be written.
pub(super) fn write(table: &Table, to: &mut dyn Write) -> io::Result<()> {
    let mut text = Growing::to(to, table)?;
    text.add(table)?;
    text.end()
}

/// A table that is written row by row: as cells a large one takes many times as much memory as its text.
pub(in crate::report) struct Growing<'a>(csv_text::Table<&'a mut dyn Write>);

impl<'a> Growing<'a> {
    /// With the headings of this table.
    ///
    /// # Errors
    /// It cannot be written.
    pub(in crate::report) fn to(to: &'a mut dyn Write, table: &Table) -> io::Result<Self> {
        let headings: Vec<&str> = table.keys().map(|(_, key, _)| key).collect();
        Ok(Self(csv_text::Table::to(to, &headings)?))
    }

    /// Adds the rows of a table with the same columns.
    ///
    /// # Errors
    /// They cannot be written.
    pub(in crate::report) fn add(&mut self, table: &Table) -> io::Result<()> {
        for row in table.rows.iter().filter(|row| row.file) {
            self.0.add(
                table
                    .keys()
                    .map(|(at, _, part)| match row.cells[at].part(part) {
                        Value::Text(text) => csv_text::Cell::Text(text),
                        Value::Number(number) => csv_text::Cell::Number(number),
                        Value::Blank => csv_text::Cell::Blank,
                    }),
            )?;
        }
        Ok(())
    }

    /// Nothing more comes.
    ///
    /// # Errors
    /// The last of it cannot be written.
    pub(in crate::report) fn end(self) -> io::Result<()> {
        self.0.end()
    }
}
