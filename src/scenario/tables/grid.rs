//! Rows and columns of a table, every cell with its place.

use crate::scenario::problem::{Source, TableCell};
use crate::scenario::tree::{self, Kind, Node, Span};

/// The cells of a row: what stands there and where; none: it is blank.
pub(super) type Row = Vec<Option<(String, Span)>>;

/// A table as it was read: its first row that is not blank holds the headings.
#[derive(Debug)]
pub(super) struct Grid {
    /// Its text, with the place of every cell.
    pub(super) source: Source,
    /// Whether numbers have a decimal comma.
    pub(super) comma: bool,
    /// The cells that are not blank: row, column, both from 0; in that order.
    cells: Vec<Row>,
}

impl Grid {
    /// Of rows of cells, a text and where it stands each; spans within `source`'s text, which stands at its start.
    pub(super) fn new(mut source: Source, comma: bool, rows: Vec<Row>) -> Result<Self, String> {
        let first = rows.iter().position(|row| row.iter().any(Option::is_some));
        let Some(first) = first else {
            return Err("the table is empty".into());
        };
        let start = source.start();
        let headings: Vec<String> = rows[first]
            .iter()
            .map(|cell| {
                cell.as_ref()
                    .map_or(String::new(), |(text, _)| text.clone())
            })
            .collect();
        let mut cells: Vec<Row> = Vec::new();
        for (number, row) in rows.into_iter().enumerate().skip(first) {
            let row: Row = row
                .into_iter()
                .map(|cell| cell.map(|(text, span)| (text, span.start + start..span.end + start)))
                .collect();
            for (column, cell) in row.iter().enumerate() {
                if let Some((_, span)) = cell {
                    source.cells.push(TableCell {
                        start: span.start,
                        row: number + 1,
                        column,
                        heading: headings.get(column).cloned().unwrap_or_default(),
                    });
                }
            }
            if row.iter().any(Option::is_some) {
                cells.push(row);
            }
        }
        Ok(Self {
            source,
            comma,
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
        let written =
            text.starts_with(['(', '[', '{']) || text.ends_with(')') && text.contains('(');
        let made_of_parts = |node: &Node| {
            matches!(
                node.kind,
                Kind::Fields(_) | Kind::List(_) | Kind::Tagged(..)
            )
        };
        let parsed = written.then(|| tree::parse(text).ok()).flatten();
        if let Some(mut node) = parsed.filter(made_of_parts) {
            at(&mut node, span);
            return Some(node);
        }
        Some(Node {
            span: span.clone(),
            kind: Kind::Cell {
                text: text.clone(),
                comma: self.comma,
            },
        })
    }
}

/// All of a node stands at one place: that of its cell.
fn at(node: &mut Node, place: &Span) {
    node.span = place.clone();
    match &mut node.kind {
        Kind::Fields(fields) => {
            for field in fields {
                field.key_span = place.clone();
                at(&mut field.value, place);
            }
        }
        Kind::List(items) => items.iter_mut().for_each(|item| at(item, place)),
        Kind::Tagged(tag, inside) => {
            tag.span = place.clone();
            at(inside, place);
        }
        _ => {}
    }
}
