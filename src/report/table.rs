//! Tables for the terminal.

use std::fmt::Write;

use anstyle::Style;
use comfy_table::{
    Cell, CellAlignment, ColumnConstraint, ContentArrangement, ContentLineStyle, LineStyle,
    TableStyle, Width,
};

use super::plain_text::one_line;

/// What a table is laid out for if nobody looks at it on a terminal, so that a redirected answer is always the same.
const PIPED_WIDTH: u16 = 100;
const FIRST_COLUMN: u16 = 27;
/// No name of a figure needs more.
const FIRST_COLUMN_AT_MOST: u16 = 30;
/// Room for `+$1,234,567` and its padding.
const WIDE_ENOUGH: u16 = 13;
/// A blank on both sides of a cell.
const PADDING: u16 = 2;
const NARROWEST: u16 = 40;
const WIDEST: u16 = 160;

/// The number of columns to lay out for: the terminal's within reason, 100 if the output goes elsewhere.
pub fn terminal_width() -> u16 {
    sensible_width(terminal_size::terminal_size().map(|(width, _)| width.0))
}

/// How many columns of numbers stand whole beside the first at this width.
pub fn numbers_that_fit(width: u16) -> usize {
    usize::from(width.saturating_sub(FIRST_COLUMN) / WIDE_ENOUGH)
}

fn sensible_width(terminal: Option<u16>) -> u16 {
    match terminal {
        // Some terminals say that they have no columns at all.
        None | Some(0) => PIPED_WIDTH,
        Some(width) => width.clamp(NARROWEST, WIDEST),
    }
}

/// To which side the cells of a column go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// Text.
    Left,
    /// Numbers.
    Right,
}

/// A table under construction: a heading line, a rule, rows; long text wraps in its cell.
#[derive(Clone, Debug)]
pub struct Table {
    inner: comfy_table::Table,
}

impl Table {
    /// A table with these columns.
    pub fn new(columns: &[(&str, Align)]) -> Self {
        let mut inner = comfy_table::Table::new();
        inner
            .load_style(STYLE)
            .set_content_arrangement(ContentArrangement::Dynamic)
            .set_header(columns.iter().map(|(heading, _)| Cell::new(heading)));
        for (at, (_, align)) in columns.iter().enumerate() {
            let column = inner.column_mut(at).expect("the heading made this column");
            column.set_cell_alignment(match align {
                Align::Left => CellAlignment::Left,
                Align::Right => CellAlignment::Right,
            });
        }
        Self { inner }
    }

    /// Adds a row; cells that are missing stay blank.
    pub fn row<S: AsRef<str>>(&mut self, cells: impl IntoIterator<Item = S>) {
        let cells = cells.into_iter().map(|text| one_line(text.as_ref()));
        self.inner.add_row(cells);
    }

    /// The table laid out for `width` columns, heading in bold. To be printed through `anstream`, which takes the style
    /// away where it is not wanted.
    pub fn render(&self, width: u16) -> String {
        let mut table = self.inner.clone();
        table.set_width(width);
        let others = table.column_count() as u16 - 1;
        if others > 3 && width.saturating_sub(FIRST_COLUMN) >= others * WIDE_ENOUGH {
            // What the rows are about stays on one line, where that leaves room for the numbers.
            let room = (width - others * WIDE_ENOUGH).min(FIRST_COLUMN_AT_MOST);
            let longest = table.column_max_content_widths()[0] + PADDING;
            let room = room.min(longest);
            let first = table.column_mut(0).expect("more than four columns");
            first.set_constraint(ColumnConstraint::LowerBoundary(Width::Fixed(room)));
        }
        // Styled after the layout: style codes inside cells would count as columns.
        let bold = Style::new().bold();
        let mut text = String::new();
        let mut in_heading = true;
        for line in table.lines() {
            let line = line.trim_end();
            in_heading &= !(line.starts_with(RULE) && line.chars().all(|c| c == RULE));
            let written = if in_heading {
                writeln!(text, "{bold}{line}{bold:#}")
            } else {
                writeln!(text, "{line}")
            };
            written.expect("writing to a string does not fail");
        }
        text
    }
}

const RULE: char = '─';

const STYLE: TableStyle = TableStyle::new()
    .header_lines(ContentLineStyle::none())
    .header_separator(LineStyle::none().fill(RULE).junction(RULE))
    .content_lines(ContentLineStyle::none());

#[cfg(test)]
mod tests {
    use super::*;

    fn sample() -> Table {
        let mut table = Table::new(&[("Rule", Align::Left), ("Cost per yd³", Align::Right)]);
        table.row(["Nearest truck", "$101.20"]);
        table.row(["Longest idle truck first, then by seniority", "$99.80"]);
        table
    }

    fn plain(table: &Table, width: u16) -> String {
        anstream::adapter::strip_str(&table.render(width)).to_string()
    }

    #[test]
    fn heading_rule_rows() {
        let text = plain(&sample(), 100);
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines.len(), 4, "{text}");
        assert!(lines[1].chars().all(|c| c == RULE), "{text}");
        assert!(lines[2].ends_with("$101.20"), "{text}");
        assert_eq!(lines[2].chars().count(), lines[3].chars().count(), "{text}");
    }

    #[test]
    fn only_the_heading_is_bold() {
        let text = sample().render(100);
        let bold: Vec<bool> = text.lines().map(|line| line.contains('\u{1b}')).collect();
        assert_eq!(bold, [true, false, false, false]);
    }

    #[test]
    fn a_narrow_terminal_wraps_instead_of_cutting() {
        let text = plain(&sample(), 40);
        assert!(
            text.lines().all(|line| line.chars().count() <= 40),
            "{text}"
        );
        for word in ["Longest", "seniority", "$99.80"] {
            assert!(text.contains(word), "{text}");
        }
    }

    #[test]
    fn numbers_of_many_columns_stay_whole() {
        let names: Vec<String> = (0..8)
            .map(|n| format!("Rule with a long name {n}"))
            .collect();
        let mut columns = vec![("mean of", Align::Left)];
        columns.extend(names.iter().map(|name| (name.as_str(), Align::Right)));
        let mut table = Table::new(&columns);
        table.row(std::iter::once("cost").chain(["$135,764"; 8]));
        assert_eq!(plain(&table, 100).matches("$135,764").count(), 8);
    }

    #[test]
    fn widths_that_terminals_report() {
        for (reported, expected) in [
            (None, 100),
            (Some(0), 100),
            (Some(7), 40),
            (Some(80), 80),
            (Some(500), 160),
        ] {
            assert_eq!(sensible_width(reported), expected);
        }
    }

    /// Ideographs take two columns each, a combining accent none (Unicode Standard Annex #11); Hebrew letters one.
    #[test]
    fn columns_stand_under_each_other_in_every_script() {
        let mut table = Table::new(&[("Rule", Align::Left), ("Cost", Align::Right)]);
        let names = [
            ("abcdefgh", 0),
            ("\u{6771}\u{4eac}\u{6771}\u{4eac}", 4),
            ("abcdefge\u{301}", -1),
            ("\u{5d0}\u{5e0}\u{5e4}\u{5d4}", 0),
            ("\u{1f69a}", 1),
        ];
        for (name, _) in names {
            table.row([name, "$1"]);
        }
        let text = plain(&table, 60);
        let rows: Vec<i64> = text
            .lines()
            .skip(2)
            .map(|row| row.chars().count() as i64)
            .collect();
        for ((name, wider), row) in names.iter().zip(&rows) {
            assert_eq!(row + wider, rows[0], "{name}: {text}");
        }
    }

    #[test]
    fn names_cannot_steer_the_terminal() {
        let mut table = Table::new(&[("Rule", Align::Left)]);
        table.row(["red\u{1b}[31m\rname\n\u{202e}x"]);
        let rows = plain(&table, 60);
        let text = table.render(60);
        assert!(
            text.lines()
                .last()
                .is_some_and(|line| !line.contains(['\u{1b}', '\r', '\u{202e}']))
        );
        assert_eq!(rows.lines().count(), 3);
    }
}
