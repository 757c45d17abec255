//! The tables of an answer as CSV.

use super::table::{Table, Value};
use crate::report::csv_text;

/// One table: the columns that have a name for files, numbers with all their digits.
pub(super) fn table(table: &Table) -> Vec<u8> {
    let headings: Vec<&str> = table.keys().map(|(_, key, _)| key).collect();
    let mut csv = csv_text::Table::new(&headings);
    for row in table.rows.iter().filter(|row| row.file) {
        csv.row(
            table
                .keys()
                .map(|(at, _, part)| match row.cells[at].part(part) {
                    Value::Text(text) => csv_text::Cell::Text(text),
                    Value::Number(number) => csv_text::Cell::Number(number),
                    Value::Blank => csv_text::Cell::Blank,
                }),
        );
    }
    csv.finish()
}
