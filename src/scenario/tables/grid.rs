//! Rows and columns of a table, every cell with its place.

use crate::scenario::decode;
use crate::scenario::problem::{Source, TableCell, visible};
use crate::scenario::tree::{Node, Span};
use std::sync::Arc;

/// The cells of a row: what stands there and where; none: it is blank.
pub(super) type Row = Vec<Option<(String, Span)>>;

/// A table as it stands in its file.
#[derive(Clone, Debug)]
pub(in crate::scenario) struct Rows {
    /// Its text; places of cells are within it.
    pub(super) text: String,
    /// Rows of cells.
    pub(super) rows: Vec<Row>,
    /// Whether numbers have a decimal comma.
    pub(super) comma: bool,
    /// Whether it is a sheet of a workbook.
    pub(super) sheet: bool,
    /// What is to be told of how it was read.
    pub(super) note: Option<String>,
    /// Whether its rows stand as columns in the file.
    pub(super) turned: bool,
}

/// The most columns of a table: with more it is no list of a scenario.
pub(super) const MOST_COLUMNS: usize = 500;
/// The most cells of a table, those counted that are blank with another behind them.
pub(super) const MOST_CELLS: usize = 4_000_000;
/// The most characters of a heading: the name of a place, and a band of the day.
const LONGEST_HEADING: usize = 300;

/// Where the headings may stand at the latest.
const LAST_HEADING: usize = 30;
/// What stands at the head of a row of sums.
const SUMS: [&str; 6] = [
    "total",
    "totals",
    "grand total",
    "sum",
    "subtotal",
    "sub total",
];

/// A table with its headings.
#[derive(Debug)]
pub(in crate::scenario) struct Grid {
    /// Its text, with the place of every cell.
    pub(super) source: Source,
    /// Whether numbers have a decimal comma.
    pub(super) comma: bool,
    /// What is to be told of how it was read.
    pub(super) notes: Vec<String>,
    /// The cells that are not blank: row, column, both from 0; in that order.
    cells: Vec<Row>,
}

impl Grid {
    /// Of the rows of a table that problems call `name`; its places begin at `start`. The headings stand in the first row that holds
    /// headings as `is_heading` knows them, else in the first with two cells; what is above, a title, is passed over, and so are rows
    /// of sums.
    pub(super) fn new(
        name: &str,
        table: Rows,
        start: usize,
        is_heading: &dyn Fn(&str) -> bool,
    ) -> Result<Self, String> {
        let rows = &table.rows;
        let cells = |row: &Row| row.iter().flatten().count();
        let known = |row: &Row| {
            let cells = row.iter().flatten();
            cells.filter(|(text, _)| is_heading(text)).count()
        };
        let first = |right: &dyn Fn(&Row) -> bool| rows.iter().position(right);
        let mut heads = rows.iter().take(LAST_HEADING);
        let first = heads
            .position(|row| known(row) >= 2 && 2 * known(row) >= cells(row))
            .or(first(&|row| cells(row) > 1))
            .or(first(&|row| cells(row) > 0));
        let Some(first) = first else {
            return Err("the table is empty".into());
        };
        let mut source = match table.sheet {
            true => Source::sheet(name, &table.text, start),
            false => Source::table(name, &table.text, start),
        };
        let mut notes: Vec<String> = table.note.into_iter().collect();
        let headings: Vec<Arc<str>> = rows[first]
            .iter()
            .map(|cell| cell.as_ref().map_or("", |(text, _)| text.as_str()).into())
            .collect();
        // Every cell below has it for a name.
        if let Some(long) = headings
            .iter()
            .find(|heading| heading.chars().nth(LONGEST_HEADING).is_some())
        {
            return Err(format!(
                "the heading \"{}\" has more than {LONGEST_HEADING} characters",
                visible(long, 40)
            ));
        }
        let nothing: Arc<str> = "".into();
        let below = &table.rows[first..];
        source
            .cells
            .reserve_exact(below.iter().flatten().flatten().count());
        let mut cells: Vec<Row> = Vec::with_capacity(below.len());
        for (number, row) in table.rows.into_iter().enumerate().skip(first) {
            let row: Row = row
                .into_iter()
                .map(|cell| cell.map(|(text, span)| (text, span.start + start..span.end + start)))
                .collect();
            for (column, cell) in row.iter().enumerate() {
                if let Some((_, span)) = cell {
                    let (row, column_there) = match table.turned {
                        true => (column + 1, number),
                        false => (number + 1, column),
                    };
                    source.cells.push(TableCell {
                        start: span.start,
                        row,
                        column: column_there,
                        heading: headings.get(column).unwrap_or(&nothing).clone(),
                    });
                }
            }
            let Some((head, _)) = row.iter().flatten().next() else {
                continue;
            };
            let plain = head.trim_end_matches(':').trim().to_lowercase();
            if SUMS.contains(&plain.as_str()) {
                notes.push(format!(
                    "{name}: row {}, \"{head}\", is a row of sums and not read",
                    number + 1
                ));
                continue;
            }
            cells.push(row);
        }
        source.cells.sort_by_key(|cell| cell.start);
        Ok(Self {
            source,
            comma: table.comma,
            notes,
            cells,
        })
    }

    /// The headings, blank ones empty.
    pub(super) fn headings(&self) -> impl ExactSizeIterator<Item = &str> {
        let cells = self.cells[0].iter();
        cells.map(|cell| cell.as_ref().map_or("", |(text, _)| text))
    }

    /// The rows below the headings that are not blank, by their number here.
    pub(super) fn rows(&self) -> std::ops::Range<usize> {
        1..self.cells.len()
    }

    /// A heading as a value; none if it is blank.
    pub(super) fn heading(&self, column: usize) -> Option<Node> {
        self.node(0, column)
    }

    /// Where a heading stands.
    pub(super) fn heading_span(&self, column: usize) -> Span {
        let cell = self.cells[0].get(column).and_then(Option::as_ref);
        cell.map_or(self.source.start()..self.source.start(), |(_, span)| {
            span.clone()
        })
    }

    /// The first column that has a heading.
    pub(super) fn first_column(&self) -> usize {
        self.cells[0].iter().position(Option::is_some).unwrap_or(0)
    }

    /// Where a cell stands; of a blank one its row.
    pub(super) fn cell_span(&self, row: usize, column: usize) -> Span {
        let cell = self.cells[row].get(column).and_then(Option::as_ref);
        cell.map_or_else(|| self.row_span(row), |(_, span)| span.clone())
    }

    /// From the first to the last cell of a row.
    pub(super) fn row_span(&self, row: usize) -> Span {
        let mut cells = self.cells[row].iter().flatten();
        let first = cells.next().map_or(0, |(_, span)| span.start);
        let last = self.cells[row].iter().flatten().last();
        first..last.map_or(first, |(_, span)| span.end)
    }

    /// What stands in a cell; none if it is blank.
    pub(super) fn text(&self, row: usize, column: usize) -> Option<&str> {
        let cell = self.cells[row].get(column)?.as_ref()?;
        Some(&cell.0)
    }

    /// A cell as a value: what is written as in a scenario (`Uniform(2, 5)`, `[1, 2]`) is read as there.
    pub(super) fn node(&self, row: usize, column: usize) -> Option<Node> {
        let (text, span) = self.cells[row].get(column)?.as_ref()?;
        Some(decode::value_in_cell(text, span, self.comma))
    }
}
