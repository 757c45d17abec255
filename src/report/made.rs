//! What is said of a scenario that was made of somebody's tables: what is theirs, what was assumed, what was not used.

use super::wrap::wrap;
use crate::scenario::Made;
use std::fmt::Write;

/// The account, for a terminal of this width. `unread` are columns that no field is named for: table and heading.
pub fn account(made: &Made, unread: &[(String, String)], file: &str, width: u16) -> String {
    let width = usize::from(width);
    let mut text = format!("{file} is written.\n");
    let mut list = |heading: &str, lines: &[String]| {
        if lines.is_empty() {
            return;
        }
        let _ = writeln!(text, "\n{heading}");
        for line in lines {
            for part in wrap("- ", line, width) {
                let _ = writeln!(text, "{part}");
            }
        }
    };
    list("Yours", &made.yours);
    list("Assumed: look it through", &assumed(made));
    let mut unused = made.unused.clone();
    let mut tables: Vec<&str> = unread.iter().map(|(table, _)| table.as_str()).collect();
    tables.dedup();
    for table in tables {
        let headings = unread.iter().filter(|(of, _)| of == table);
        let headings: Vec<String> = headings.map(|(_, name)| format!("\"{name}\"")).collect();
        let columns = match headings.len() {
            1 => "column",
            _ => "columns",
        };
        unused.push(format!("{table}: {columns} {}", headings.join(", ")));
    }
    list("Not used", &unused);
    text
}

/// A line for each assumption, with its source.
pub fn assumed(made: &Made) -> Vec<String> {
    let lines = made.assumed.iter();
    lines
        .map(|one| format!("{} ({})", one.what, one.source))
        .collect()
}
