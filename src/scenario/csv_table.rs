//! Tables that users write as CSV: columns by name, every cell with its place in the text.

use super::problem::{Problem, Problems, listed, nearest, visible};
use super::tree::Span;

/// No such table has as many.
const MOST_COLUMNS: usize = 500;

/// One row with its cells in the order of the columns that were asked for.
#[derive(Debug)]
pub(super) struct Row<'a> {
    text: &'a str,
    start: usize,
    line: usize,
    delimiter: u8,
    /// Where each column that was asked for stands in the row.
    positions: &'a [usize],
    cells: csv::StringRecord,
}

impl Row<'_> {
    /// The text of a cell, without blanks around it.
    pub(super) fn cell(&self, column: usize) -> &str {
        self.cells.get(self.positions[column]).unwrap_or("").trim()
    }

    /// Where a cell stands.
    pub(super) fn span(&self, column: usize) -> Span {
        cell_span(
            self.text,
            self.start,
            self.delimiter,
            self.positions[column],
        )
    }

    /// The line of the row, from 1.
    pub(super) fn line(&self) -> usize {
        self.line
    }
}

/// Reads a table with these columns, the last `optional` of which may be left out (then their cells are empty), in any order,
/// separated by commas or semicolons; each row that has a cell for every column goes to `each`.
pub(super) fn read(
    text: &str,
    columns: &[&str],
    optional: usize,
    problems: &Problems,
    mut each: impl FnMut(&Row<'_>),
) {
    let needed = columns.len() - optional;
    let bom = text.len() - text.trim_start_matches('\u{feff}').len();
    let heading = text[bom..].lines().next().unwrap_or("");
    let delimiter = if heading.contains(';') && !heading.contains(',') {
        b';'
    } else {
        b','
    };
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .has_headers(false)
        .flexible(true)
        .from_reader(&text.as_bytes()[bom..]);
    let mut positions: Option<Vec<usize>> = None;
    let mut expected = String::new();
    let mut width = 0;
    // Lines are counted on from row to row: from the start for each would take the square of the rows.
    let (mut counted_to, mut line) = (bom, 1);
    let mut record = csv::StringRecord::new();
    // Reading from memory that is valid UTF-8, in rows of any width, does not fail.
    while reader.read_record(&mut record).unwrap_or(false) {
        let start = bom + record.position().map_or(0, |at| at.byte() as usize);
        let start = start + blank_lines(&text[start..]);
        let passed = text.as_bytes()[counted_to..start].iter();
        line += passed.filter(|byte| **byte == b'\n').count();
        counted_to = start;
        let Some(positions) = &positions else {
            width = record.len();
            let headings: Vec<&str> = record.iter().map(str::trim).collect();
            expected = visible(&headings.join(", "), 200);
            match heading_positions(text, start, delimiter, &record, (columns, needed), problems) {
                Some(found) => positions = Some(found),
                None => return,
            }
            continue;
        };
        if record.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        if record.len() != width {
            let end = text[start..]
                .find(['\r', '\n'])
                .map_or(text.len(), |end| start + end);
            let title = format!("this row has {} cells", record.len());
            let label = format!("expected {width}: {expected}");
            problems.add::<()>(Problem::new(start..end, title).label(label));
            continue;
        }
        each(&Row {
            text,
            start,
            line,
            delimiter,
            positions,
            cells: record.clone(),
        });
    }
    if positions.is_none() {
        let label = format!("expected a heading: {}", columns[..needed].join(","));
        problems.add::<()>(Problem::new(bom..bom, "the file is empty").label(label));
    }
}

/// Line ends between records, which the library counts to the next one.
fn blank_lines(text: &str) -> usize {
    text.len() - text.trim_start_matches(['\r', '\n']).len()
}

fn heading_positions(
    text: &str,
    start: usize,
    delimiter: u8,
    heading: &csv::StringRecord,
    (columns, needed): (&[&str], usize),
    problems: &Problems,
) -> Option<Vec<usize>> {
    // Each is looked for from the start of the row.
    if heading.len() > MOST_COLUMNS {
        let title = format!("{} columns", heading.len());
        let label = format!("expected the columns {}", columns[..needed].join(", "));
        return problems.add(Problem::new(start..start, title).label(label));
    }
    let mut found: Vec<Option<usize>> = vec![None; columns.len()];
    let mut right = true;
    for (at, name) in heading.iter().enumerate() {
        let span = cell_span(text, start, delimiter, at);
        let name = name.trim();
        match columns
            .iter()
            .position(|column| column.eq_ignore_ascii_case(name))
        {
            Some(column) if found[column].is_none() => found[column] = Some(at),
            Some(column) => {
                right = false;
                let title = format!("there are two columns \"{}\"", columns[column]);
                problems.add::<()>(Problem::new(span, title).label("expected one"));
            }
            None => {
                right = false;
                let title = format!("there is no column \"{}\"", visible(name, 60));
                let mut problem = Problem::new(span.clone(), title)
                    .label("expected the name of a column")
                    .help(format!("the columns are {}", listed(columns)));
                if let Some(near) = nearest(name, columns.iter().copied()) {
                    problem = problem.replace(span, near, format!("a similar name exists: {near}"));
                }
                problems.add::<()>(problem);
            }
        }
    }
    if right {
        let missing = columns.iter().zip(&found).take(needed);
        for (column, _) in missing.filter(|(_, at)| at.is_none()) {
            right = false;
            let span = cell_span(text, start, delimiter, 0);
            let title = format!("the column \"{column}\" is missing");
            let label = format!("expected the columns {}", columns[..needed].join(", "));
            problems.add::<()>(Problem::new(span, title).label(label));
        }
    }
    // A column that is left out stands beyond every row.
    right.then(|| {
        found
            .into_iter()
            .map(|at| at.unwrap_or(usize::MAX))
            .collect()
    })
}

/// The bytes of a cell of the record that starts at `start`, without quotes around it.
fn cell_span(text: &str, start: usize, delimiter: u8, cell: usize) -> Span {
    let (mut at, mut quoted, mut from) = (0, false, start);
    let bytes = text.as_bytes();
    for (offset, byte) in bytes.iter().enumerate().skip(start) {
        match *byte {
            b'"' => quoted = !quoted,
            byte if quoted && byte != b'\n' => {}
            byte if byte == delimiter && at < cell => {
                at += 1;
                from = offset + 1;
            }
            byte if byte == delimiter || byte == b'\n' || byte == b'\r' => {
                return from..offset;
            }
            _ => {}
        }
    }
    from..text.len()
}
