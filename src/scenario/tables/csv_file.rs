//! A table in a text file: commas, semicolons or tabs between cells, quotes around those that hold them.

use super::grid::{Grid, Row};
use crate::scenario::problem::Source;

/// Reads a file's bytes; the grid's places begin at `start`.
pub(super) fn read(name: &str, bytes: Vec<u8>, start: usize) -> Result<Grid, String> {
    let text = String::from_utf8(bytes)
        .map_err(|_| format!("{name} is not UTF-8: save it as CSV in UTF-8"))?;
    let bom = text.len() - text.trim_start_matches('\u{feff}').len();
    let heading = text[bom..].lines().find(|line| !line.trim().is_empty());
    let heading = heading.unwrap_or("");
    let between = [b';', b'\t', b','];
    let count = |byte: &u8| heading.bytes().filter(|b| b == byte).count();
    let delimiter = between.into_iter().max_by_key(count).unwrap_or(b',');
    let mut rows = Vec::new();
    // Like the library, but with the place of every cell: it tells that of the record only.
    let bytes = text.as_bytes();
    let mut at = bom;
    while at < bytes.len() {
        let (row, next) = record(&text, at, delimiter)?;
        rows.push(row);
        at = next;
    }
    // Where cells are parted by semicolons, commas stand in numbers.
    let comma = delimiter == b';';
    // As long as it was, so that places hold; a carriage return is nothing to be shown.
    let shown = text.replace('\r', " ");
    Grid::new(Source::table(name, &shown, start), comma, rows)
}

/// One record from `at` on, and where the next begins.
fn record(text: &str, mut at: usize, delimiter: u8) -> Result<(Row, usize), String> {
    let bytes = text.as_bytes();
    let mut row: Row = Vec::new();
    loop {
        let from = at;
        let mut cell = String::new();
        let blanks = text[at..].len() - text[at..].trim_start_matches([' ']).len();
        if bytes.get(at + blanks) == Some(&b'"') {
            at += blanks + 1;
            loop {
                let Some(end) = text[at..].find('"') else {
                    return Err("a quote is opened in the file and never closed".into());
                };
                cell += &text[at..at + end];
                at += end + 1;
                if bytes.get(at) != Some(&b'"') {
                    break;
                }
                cell.push('"');
                at += 1;
            }
        }
        let end = text[at..].find([delimiter as char, '\n', '\r']);
        let end = end.map_or(text.len(), |end| at + end);
        cell += &text[at..end];
        at = end;
        let trimmed = cell.trim();
        row.push((!trimmed.is_empty()).then(|| (trimmed.to_owned(), from..end)));
        match bytes.get(at) {
            Some(byte) if *byte == delimiter => at += 1,
            Some(b'\r') if bytes.get(at + 1) == Some(&b'\n') => return Ok((row, at + 2)),
            Some(_) => return Ok((row, at + 1)),
            None => return Ok((row, at)),
        }
    }
}
