//! A table in a text file: commas, semicolons or tabs between cells, quotes around those that hold them.

use super::grid::{MOST_CELLS, MOST_COLUMNS, Row, Rows};
use encoding_rs::{UTF_16BE, UTF_16LE, WINDOWS_1252};

/// A text with more lines is no list of a scenario.
const MOST_ROWS: usize = 1_000_000;

/// Reads a file's bytes.
pub(super) fn read(name: &str, bytes: Vec<u8>) -> Result<Rows, String> {
    let (text, note) = text(name, bytes)?;
    let mut from = text.len() - text.trim_start_matches('\u{feff}').len();
    let mut said = None;
    // A first line of its own that some programs write: `sep=;`.
    if let Some(line) = text[from..].lines().next()
        && let Some(between) = line.trim_end().strip_prefix("sep=")
        && let [byte @ (b',' | b';' | b'\t')] = between.as_bytes()
    {
        said = Some(*byte);
        from += line.len();
    }
    let delimiter = said.unwrap_or_else(|| delimiter(&text[from..]));
    let (mut rows, mut cells) = (Vec::new(), 0);
    // Like the library, but with the place of every cell: it tells that of the record only.
    let bytes = text.as_bytes();
    let mut at = from;
    // What is passed over is a row all the same.
    if said.is_some() {
        rows.push(Vec::new());
        at = text[at..].find('\n').map_or(text.len(), |end| at + end + 1);
    }
    while at < bytes.len() {
        let (mut row, next) = record(&text, at, delimiter)?;
        row.shrink_to_fit();
        cells += row.len();
        rows.push(row);
        at = next;
        if rows.len() > MOST_ROWS || cells > MOST_CELLS {
            return Err(format!(
                "{name} has more than {MOST_ROWS} rows or {MOST_CELLS} cells, the most that is read of a table (plantday help limits)"
            ));
        }
    }
    Ok(Rows {
        // Where cells are parted by semicolons, commas stand in numbers.
        comma: delimiter == b';',
        // As long as it was, so that places hold; a carriage return is nothing to be shown.
        text: text.replace('\r', " "),
        rows,
        sheet: false,
        note,
        turned: false,
    })
}

/// The text of bytes in whatever encoding spreadsheet programs save, and what is to be told of it.
fn text(name: &str, bytes: Vec<u8>) -> Result<(String, Option<String>), String> {
    if bytes.starts_with(&[0xD0, 0xCF, 0x11, 0xE0]) {
        return Err(format!(
            "{name} is a workbook of an old kind: save it as .xlsx"
        ));
    }
    for (mark, encoding) in [([0xFF, 0xFE], UTF_16LE), ([0xFE, 0xFF], UTF_16BE)] {
        if bytes.starts_with(&mark) {
            let (text, wrong) = encoding.decode_with_bom_removal(&bytes);
            return match wrong {
                true => Err(format!("{name} is not UTF-16, as its first bytes say")),
                false => Ok((text.into_owned(), None)),
            };
        }
    }
    if bytes.contains(&0) {
        return Err(format!("{name} is no text: save it as CSV in UTF-8"));
    }
    Ok(match String::from_utf8(bytes) {
        Ok(text) => (text, None),
        Err(error) => {
            let (text, _) = WINDOWS_1252.decode_without_bom_handling(error.as_bytes());
            let note =
                format!("{name} is not UTF-8 and read as Windows-1252: look at names with accents");
            (text.into_owned(), Some(note))
        }
    })
}

/// What parts the cells: of the lines at the beginning, that with the most cells says.
fn delimiter(text: &str) -> u8 {
    let most = |between: &u8| {
        let count = |line: &str| {
            let mut quoted = false;
            let bytes = line.bytes().filter(|byte| {
                quoted ^= *byte == b'"';
                byte == between && !quoted
            });
            bytes.count()
        };
        text.lines().take(20).map(count).max()
    };
    let between = [b';', b'\t', b','];
    between.into_iter().max_by_key(most).unwrap_or(b',')
}

/// One record from `at` on, up to its last cell that is not blank, and where the next begins.
fn record(text: &str, mut at: usize, delimiter: u8) -> Result<(Row, usize), String> {
    let bytes = text.as_bytes();
    let (mut row, mut column): (Row, usize) = (Vec::new(), 0);
    loop {
        let from = at;
        let mut cell = String::new();
        let blanks = text[at..].len() - text[at..].trim_start_matches([' ']).len();
        // `="0042"` keeps a spreadsheet program from making a number of it.
        let blanks = blanks + usize::from(text[at + blanks..].starts_with("=\""));
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
        // A cell of two lines says the same on one.
        let lines = cell.lines().map(str::trim);
        let cell = lines.filter(|line| !line.is_empty()).collect::<Vec<_>>();
        let cell = cell.join(" ");
        if !cell.is_empty() {
            if column >= MOST_COLUMNS {
                return Err(format!(
                    "something stands in column {} of a row; a table has at most {MOST_COLUMNS} columns (plantday help limits)",
                    column + 1
                ));
            }
            row.resize(column, None);
            row.push(Some((cell, from..end)));
        }
        column += 1;
        match bytes.get(at) {
            Some(byte) if *byte == delimiter => at += 1,
            Some(b'\r') if bytes.get(at + 1) == Some(&b'\n') => return Ok((row, at + 2)),
            Some(_) => return Ok((row, at + 1)),
            None => return Ok((row, at)),
        }
    }
}
