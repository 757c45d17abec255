//! What a sheet holds, cell by cell: a table with the ends of its intervals in columns of their own.

use crate::report::answer::Part;
use crate::report::answer::table::Value;
use crate::report::answer::{Cell, Column, Form, Row, Table};
use crate::report::csv_text;

/// A sheet's heading line and rows.
#[derive(Debug)]
pub(super) struct Grid {
    /// Columns, from the left.
    pub(super) headings: Vec<Heading>,
    /// One entry for each column.
    pub(super) rows: Vec<Line>,
}

/// The head of a column.
#[derive(Clone, Debug)]
pub(super) struct Heading {
    /// What stands there.
    pub(super) text: String,
    /// The column of the table from which the values come, where it is these and not an end of an interval.
    pub(super) value_of: Option<usize>,
}

/// A row.
#[derive(Debug)]
pub(super) struct Line {
    /// Its cells.
    pub(super) entries: Vec<Entry>,
    /// Whether it stands out.
    pub(super) marked: bool,
    /// Its place in the table.
    pub(super) row: usize,
}

/// A cell.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Entry {
    Blank,
    Text(String),
    /// A finite number.
    Number(f64, Shown),
}

/// How a number is seen.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Shown {
    /// As many digits as fit.
    Whole,
    /// As on the page.
    Form(Form),
    /// These words in place of it.
    Words(String),
}

/// Where the entries of a sheet's column come from.
#[derive(Clone, Copy)]
enum Origin {
    /// What is read on the page.
    Shown,
    /// An end of the interval that is read on the page.
    End(Part),
    /// What people read as text, whose number is apart.
    Words,
    /// What files get.
    File(Part),
}

impl Grid {
    /// Of a table of the answer: what the page shows, with numbers as numbers, then what only files get.
    pub(super) fn of(table: &Table) -> Self {
        let rows: Vec<(usize, &Row)> = table
            .rows
            .iter()
            .enumerate()
            .filter(|(_, row)| row.page || row.file)
            .collect();
        let mut columns = Vec::new();
        for (at, column) in table.columns.iter().enumerate() {
            let cells = || rows.iter().map(|(_, row)| &row.cells[at]);
            for (text, from) in parts(column, &cells) {
                columns.push((at, from, text));
            }
        }
        let lines = rows.iter().map(|(place, row)| Line {
            entries: columns
                .iter()
                .map(|(at, from, _)| entry(&row.cells[*at], *from))
                .collect(),
            marked: row.marked,
            row: *place,
        });
        Self {
            rows: lines.collect(),
            headings: columns
                .iter()
                .map(|(at, from, text)| Heading {
                    text: text.clone(),
                    value_of: matches!(from, Origin::Shown | Origin::File(Part::Value))
                        .then_some(*at),
                })
                .collect(),
        }
    }

    /// Of text, each line with as many parts as there are headings.
    pub(super) fn of_text<'a>(
        headings: &[&str],
        lines: impl IntoIterator<Item = Vec<&'a str>>,
    ) -> Self {
        let rows = lines.into_iter().enumerate().map(|(row, parts)| Line {
            entries: parts
                .into_iter()
                .map(|part| Entry::Text(part.to_owned()))
                .collect(),
            marked: false,
            row,
        });
        Self {
            headings: headings.iter().map(|text| heading(text)).collect(),
            rows: rows.collect(),
        }
    }

    /// Of a CSV file of our own. A column holds numbers if each of its fields is one as we write it.
    pub(super) fn of_csv(content: &[u8]) -> Self {
        let records = csv_text::read(content);
        let (first, rest) = records.split_first().expect("a table has headings");
        let numeric: Vec<bool> = (0..first.len())
            .map(|at| {
                let mut fields = rest.iter().map(|record| record[at].as_str());
                fields.all(|field| field.is_empty() || number(field).is_some())
            })
            .collect();
        let rows = rest.iter().enumerate().map(|(row, record)| Line {
            entries: record
                .iter()
                .zip(&numeric)
                .map(|(field, numeric)| match number(field) {
                    _ if field.is_empty() => Entry::Blank,
                    Some(value) if *numeric => Entry::Number(value, Shown::Whole),
                    _ => Entry::Text(csv_text::plain(field).to_owned()),
                })
                .collect(),
            marked: false,
            row,
        });
        Self {
            headings: first
                .iter()
                .map(|key| heading(&in_words(csv_text::plain(key))))
                .collect(),
            rows: rows.collect(),
        }
    }

    /// How many cells it has.
    pub(super) fn cells(&self) -> usize {
        self.headings.len() * (self.rows.len() + 1)
    }
}

fn heading(text: &str) -> Heading {
    Heading {
        text: text.to_owned(),
        value_of: None,
    }
}

/// A number that is written as we write it, so that `007` stays text.
fn number(field: &str) -> Option<f64> {
    let value: f64 = field.parse().ok()?;
    (value.is_finite() && value.to_string() == field).then_some(value)
}

/// `late_loads` for people.
fn in_words(key: &str) -> String {
    key.replace('_', " ")
}

/// The columns of the sheet that a table's column becomes.
fn parts<'a, I: Iterator<Item = &'a Cell>>(
    column: &Column,
    cells: &impl Fn() -> I,
) -> Vec<(String, Origin)> {
    let filed = || {
        let keys = column.keys.iter();
        keys.map(|(key, part)| (in_words(key), Origin::File(*part)))
    };
    if !(column.page || column.screen && !column.keys.is_empty()) {
        return filed().collect();
    }
    let is_number = |cell: &Cell| matches!(cell, Cell::Number { .. } | Cell::Estimate { .. });
    let is_told = |cell: &Cell| matches!(cell, Cell::Worded { value: Some(_), .. });
    // Times of day and lengths read as text, and sort as numbers.
    if !column.keys.is_empty() && cells().any(is_told) && !cells().any(is_number) {
        let words = std::iter::once((column.heading.clone(), Origin::Words));
        return words.chain(filed()).collect();
    }
    let mut all = vec![(column.heading.clone(), Origin::Shown)];
    for (part, name) in [
        (Part::Low, "low"),
        (Part::High, "high"),
        (Part::AtLeast, "at least"),
    ] {
        if cells().any(|cell| matches!(cell.part(part), Value::Number(_))) {
            all.push((format!("{}: {name}", column.heading), Origin::End(part)));
        }
    }
    all
}

fn entry(cell: &Cell, from: Origin) -> Entry {
    let in_form = |value: Value<'_>, shown: Shown| match value {
        Value::Text(text) => Entry::Text(text.to_owned()),
        Value::Number(value) => Entry::Number(value, shown),
        Value::Blank => Entry::Blank,
    };
    // What there is no figure for is blank, as in every file.
    let words = |words: &str| match words {
        "" | "–" => Entry::Blank,
        words => Entry::Text(words.to_owned()),
    };
    match (from, cell) {
        (Origin::Words, cell) => words(&cell.words()),
        (Origin::File(part), cell) => in_form(cell.part(part), Shown::Whole),
        (Origin::End(part), Cell::Estimate { form, .. }) => {
            in_form(cell.part(part), Shown::Form(*form))
        }
        (Origin::End(part), cell) => in_form(cell.part(part), Shown::Whole),
        (Origin::Shown, Cell::Number { form, .. } | Cell::Estimate { form, .. }) => {
            in_form(cell.part(Part::Value), Shown::Form(*form))
        }
        (
            Origin::Shown,
            Cell::Worded {
                words: told, value, ..
            },
        ) => match value {
            Some(value) if value.is_finite() => Entry::Number(*value, Shown::Words(told.clone())),
            _ => words(told),
        },
        (Origin::Shown, cell) => in_form(cell.part(Part::Value), Shown::Whole),
    }
}
