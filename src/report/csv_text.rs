//! CSV tables whose text cannot become a formula in the spreadsheet that opens them.

use crate::units::measure;
use std::borrow::Cow;
use std::io::{self, Write};

/// Text as a CSV cell: an apostrophe goes before what a spreadsheet would take for a formula.
///
/// Rule: OWASP, "CSV Injection" (cells beginning with = + − @ tab, carriage return or line feed, also their full-width
/// forms). Quoting alone does not help. Numbers stay numbers.
pub fn cell(text: &str) -> Cow<'_, str> {
    if is_risky(text) {
        Cow::Owned(format!("'{text}"))
    } else {
        Cow::Borrowed(text)
    }
}

/// The text of a cell without the apostrophe.
pub fn plain(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(text) if is_risky(text) => text,
        _ => cell,
    }
}

/// Whether a spreadsheet could take the text for a formula.
pub fn is_risky(text: &str) -> bool {
    let begins = text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠']);
    begins && !is_number(text)
}

/// The fields of a table of our own, the line of headings first, cell by cell as they are written.
///
/// # Panics
/// If it is none.
pub fn read(table: &[u8]) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(table);
    let records = reader.records().map(|record| {
        let record = record.expect("a table of our own has rows of one length");
        record.iter().map(str::to_owned).collect()
    });
    records.collect()
}

/// How many cells such a table has at most.
pub fn cells(table: &[u8]) -> usize {
    let count = |bytes: &[u8], of: u8| bytes.iter().filter(|byte| **byte == of).count();
    let first = table.split(|byte| *byte == b'\n').next();
    count(table, b'\n') * (first.map_or(0, |line| count(line, b',')) + 1)
}

fn is_number(text: &str) -> bool {
    text.parse::<f64>().is_ok_and(f64::is_finite)
}

/// One value of a table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cell<'a> {
    /// Text, written so that it is no formula.
    Text(&'a str),
    /// A number, with the fewest digits that read back the same; blank if it is not finite.
    Number(f64),
    /// A four-byte number, likewise.
    Single(f32),
    /// Nothing.
    Blank,
}

impl<'a> From<&'a str> for Cell<'a> {
    fn from(text: &'a str) -> Self {
        Self::Text(text)
    }
}

impl From<Option<f64>> for Cell<'_> {
    fn from(number: Option<f64>) -> Self {
        number.map_or(Self::Blank, Self::Number)
    }
}

impl From<f64> for Cell<'_> {
    fn from(number: f64) -> Self {
        Self::Number(number)
    }
}

/// A CSV table under construction: commas, UTF-8, a quote only where one is needed.
#[derive(Debug)]
pub struct Table<W: Write = Vec<u8>> {
    writer: csv::Writer<W>,
}

impl<W: Write> Table<W> {
    /// A table that is written there, with these column headings, which are names of the program's own and end with the unit of what is
    /// in them.
    ///
    /// # Errors
    /// It cannot be written.
    pub fn to(writer: W, headings: &[&str]) -> io::Result<Self> {
        let mut table = Self {
            writer: csv::Writer::from_writer(writer),
        };
        let told: Vec<Cow<'_, str>> = headings.iter().map(|name| measure::key(name).0).collect();
        table.add(told.iter().map(|name| Cell::Text(name)))?;
        Ok(table)
    }

    /// Adds a row.
    ///
    /// # Errors
    /// It cannot be written, or has not as many cells as there are headings.
    pub fn add<'a>(&mut self, cells: impl IntoIterator<Item = Cell<'a>>) -> io::Result<()> {
        let cells = cells.into_iter().map(|value| match value {
            Cell::Text(text) => cell(text),
            Cell::Number(number) if number.is_finite() => Cow::Owned(number.to_string()),
            Cell::Single(number) if number.is_finite() => Cow::Owned(number.to_string()),
            Cell::Number(_) | Cell::Single(_) | Cell::Blank => Cow::Borrowed(""),
        });
        self.writer
            .write_record(cells.map(|text| text.into_owned().into_bytes()))?;
        Ok(())
    }

    /// Nothing more comes.
    ///
    /// # Errors
    /// The last of it cannot be written.
    pub fn end(mut self) -> io::Result<()> {
        self.writer.flush()
    }
}

impl Table {
    /// A table in memory.
    pub fn new(headings: &[&str]) -> Self {
        Self::to(Vec::new(), headings).expect("writing to memory does not fail")
    }

    /// Adds a row.
    ///
    /// # Panics
    /// If it has not as many cells as there are headings.
    pub fn row<'a>(&mut self, cells: impl IntoIterator<Item = Cell<'a>>) {
        self.add(cells)
            .expect("a row has as many cells as the table has headings");
    }

    /// The bytes of the finished table.
    pub fn finish(self) -> Vec<u8> {
        self.writer
            .into_inner()
            .expect("writing to memory does not fail")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_no_formula_and_numbers_stay_numbers() {
        for (text, expected) in [
            ("=HYPERLINK(\"x\")", "'=HYPERLINK(\"x\")"),
            ("+cmd", "'+cmd"),
            ("-2+3", "'-2+3"),
            ("@SUM(A1)", "'@SUM(A1)"),
            ("\t=1", "'\t=1"),
            ("-inf", "'-inf"),
            ("-12.5", "-12.5"),
            ("+3e4", "+3e4"),
            ("Mix 4000 = A", "Mix 4000 = A"),
            ("", ""),
        ] {
            assert_eq!(cell(text), expected);
            assert_eq!(plain(expected), text);
        }
    }

    #[test]
    fn rows_read_back_the_same() {
        let mut table = Table::new(&["rule", "cost", "note"]);
        table.row(["nearest, \"first\"".into(), (-0.1).into(), "=1+1".into()]);
        table.row(["b".into(), f64::NAN.into(), Cell::Blank]);
        let bytes = table.finish();
        let read: Vec<csv::StringRecord> = csv::Reader::from_reader(&bytes[..])
            .records()
            .map(Result::unwrap)
            .collect();
        assert_eq!(read[0], vec!["nearest, \"first\"", "-0.1", "'=1+1"]);
        assert_eq!(read[1], vec!["b", "", ""]);
        assert_eq!(super::read(&bytes)[2], ["b", "", ""]);
        assert_eq!(cells(&bytes), 9);
    }
}
