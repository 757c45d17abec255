//! An answer on one screen.

use super::table::{Cell, Column, Table};
use super::{Answer, Block};
use crate::report::plain_text::one_line;
use crate::report::table::{self, numbers_that_fit};
use crate::report::wrap::wrap;
use std::fmt::Write;

/// The answer for a terminal of this width: headline, decision, then what the screen has room for. To be printed through
/// `anstream`.
pub(super) fn terminal(answer: &Answer, width: u16) -> String {
    let mut screen = Screen {
        text: String::new(),
        width,
        gap: false,
    };
    for line in &answer.headline {
        screen.lines("", line);
    }
    screen.text.push('\n');
    if !answer.decision.is_empty() {
        screen.bold(&answer.decision);
        screen.text.push('\n');
    }
    for block in &answer.screen {
        screen.block(answer, block);
    }
    if let Some(first) = answer.doubts.first() {
        screen.lines("", &doubtful(answer.doubts.len(), first, &answer.doubts_by));
    }
    screen.text
}

/// A warning that the scenario may not say what is meant: the doubt itself if it stands alone, else where all are listed.
fn doubtful(doubts: usize, first: &str, listed_by: &str) -> String {
    match doubts {
        1 => format!("Legal but doubtful in the scenario: {first}."),
        many => format!(
            "Legal but doubtful in the scenario: {many} things; \"{listed_by}\" lists them."
        ),
    }
}

struct Screen {
    text: String,
    width: u16,
    /// Whether a paragraph that follows is set apart by an empty line.
    gap: bool,
}

impl Screen {
    fn block(&mut self, answer: &Answer, block: &Block) {
        match block {
            Block::Heading(heading) => {
                if !self.text.ends_with("\n\n") {
                    self.text.push('\n');
                }
                self.bold(heading);
                self.gap = false;
            }
            Block::Text(text) => {
                if std::mem::take(&mut self.gap) {
                    self.text.push('\n');
                }
                self.lines("", text);
            }
            Block::Note(text) => self.lines("", text),
            Block::List(items) => {
                for item in items {
                    self.lines("- ", item);
                }
            }
            Block::Table(name) => {
                self.table(answer.table(name));
                self.gap = true;
            }
            Block::Code(code) => {
                self.lines("  ", code);
            }
            Block::Lines(lines) => {
                for line in lines {
                    let _ = writeln!(self.text, "  {}", one_line(line.trim_end()));
                }
            }
            Block::Chart(_) | Block::Link { .. } => {}
        }
    }

    fn lines(&mut self, mark: &str, text: &str) {
        for line in wrap(mark, &one_line(text), self.width.into()) {
            let _ = writeln!(self.text, "{line}");
        }
    }

    fn bold(&mut self, text: &str) {
        let bold = anstyle::Style::new().bold();
        for line in wrap("", &one_line(text), self.width.into()) {
            let _ = writeln!(self.text, "{bold}{line}{bold:#}");
        }
    }

    fn table(&mut self, table: &Table) {
        let (columns, left_out) = columns_that_fit(table, self.width);
        let headings: Vec<(&str, table::Align)> = columns
            .iter()
            .map(|at| &table.columns[*at])
            .map(|column| {
                let brief = column.brief.as_ref().unwrap_or(&column.heading);
                (brief.as_str(), column.align)
            })
            .collect();
        let mut layout = table::Table::new(&headings);
        for row in table.rows.iter().filter(|row| row.screen) {
            let cells = columns.iter();
            layout.row(cells.map(|at| shown(&table.columns[*at], &row.cells[*at])));
        }
        self.text.push_str(&layout.render(self.width));
        if let Some(sentence) = left_out {
            self.lines("", &sentence);
        }
    }
}

fn shown(column: &Column, cell: &Cell) -> String {
    if column.without_interval {
        cell.brief()
    } else {
        cell.words()
    }
}

/// Places of the columns for this width, and what is said if some are left out.
fn columns_that_fit(table: &Table, width: u16) -> (Vec<usize>, Option<String>) {
    let all: Vec<usize> = (0..table.columns.len())
        .filter(|at| table.columns[*at].screen)
        .collect();
    let Some(narrow) = &table.narrow else {
        return (all, None);
    };
    let fit = numbers_that_fit(width);
    if narrow.keep.len() <= fit.max(narrow.always) {
        return (all, None);
    }
    // The best and what it is compared with, at least.
    let kept = &narrow.keep[..fit.max(2)];
    let columns = all
        .into_iter()
        .filter(|at| kept.contains(at) || !narrow.keep.contains(at))
        .collect();
    let shown = kept.len().to_string();
    (columns, Some(narrow.left_out.replace("{shown}", &shown)))
}
