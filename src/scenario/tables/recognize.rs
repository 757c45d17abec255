//! Which list of a scenario a table is, by its headings.

use super::grid::{Grid, Rows};
use super::matrix::Known;
use super::workbook::Book;
use super::{band, csv_file, headings};
use crate::scenario::decode;
use crate::scenario::input_file;
use std::path::PathBuf;

/// A table of which the list is known.
#[derive(Debug)]
pub(in crate::scenario) struct Found {
    /// `orders`, `drivers`, `trucks`, `plants`, `sites` or `minutes`.
    pub(in crate::scenario) list: &'static str,
    /// The file as the user gave it.
    pub(in crate::scenario) file: PathBuf,
    /// Its sheet, of a workbook.
    pub(in crate::scenario) sheet: Option<String>,
    /// The table, and the field of each column.
    pub(in crate::scenario) grid: Grid,
    pub(in crate::scenario) fields: Vec<Option<String>>,
}

/// The tables of files, and what is to be said of those that are none.
#[derive(Debug, Default)]
pub(in crate::scenario) struct Search {
    pub(in crate::scenario) found: Vec<Found>,
    pub(in crate::scenario) unknown: Vec<String>,
}

/// A list is a table with all of some of these fields.
const LISTS: [(&str, &[&[&str]]); 5] = [
    (
        "orders",
        &[&["volume_yd3", "first"], &["volume_yd3", "site"]],
    ),
    ("drivers", &[&["name", "report"]]),
    ("trucks", &[&["name", "capacity_yd3"], &["name", "home"]]),
    (
        "plants",
        &[&["name", "hours"], &["name", "bays"], &["name", "mixes"]],
    ),
    ("sites", &[&["name", "at"], &["name", "parking"]]),
];

/// Looks through the files.
///
/// # Errors
/// One that cannot be read as a table.
pub(in crate::scenario) fn search(files: &[PathBuf]) -> Result<Search, String> {
    let mut search = Search::default();
    for file in files {
        let name = file.display().to_string();
        let bytes =
            input_file::read(file).map_err(|error| format!("cannot read {name}: {error}"))?;
        let mut tables: Vec<(Option<String>, String, Rows)> = Vec::new();
        if bytes.starts_with(b"PK") {
            let mut book = Book::open(&name, &bytes)?;
            for sheet in book.sheets() {
                let rows = book.rows(&sheet, false)?;
                tables.push((Some(sheet.clone()), book.called(&sheet), rows));
            }
        } else {
            tables.push((None, name.clone(), csv_file::read(&name, bytes)?));
        }
        for (sheet, called, rows) in tables {
            match recognized(&called, &rows) {
                Some((list, grid, fields)) => search.found.push(Found {
                    list,
                    file: file.clone(),
                    sheet,
                    grid,
                    fields,
                }),
                None => search.unknown.push(called),
            }
        }
    }
    Ok(search)
}

fn recognized(called: &str, rows: &Rows) -> Option<(&'static str, Grid, Vec<Option<String>>)> {
    for (list, needed) in LISTS {
        let is_heading = |text: &str| headings::is_known(list, text);
        let Ok(grid) = Grid::new(called, rows.clone(), 0, &is_heading) else {
            return None;
        };
        let fields = headings::fields(list, &grid, &[]);
        let has = |field: &&str| fields.iter().flatten().any(|has| has == field);
        if needed.iter().any(|fields| fields.iter().all(&has)) {
            return Some((list, grid, fields));
        }
    }
    let from_to = |text: &str| ["from", "to"].contains(&text.to_lowercase().as_str());
    let grid = Grid::new(called, rows.clone(), 0, &from_to).ok()?;
    is_minutes(&grid).then_some(("minutes", grid, Vec::new()))
}

/// Pairs, or a matrix: names down and across, minutes between them.
fn is_minutes(grid: &Grid) -> bool {
    let headings: Vec<&str> = grid.headings().collect();
    let has = |name: &str| {
        headings
            .iter()
            .any(|heading| heading.eq_ignore_ascii_case(name))
    };
    if has("from") && has("to") {
        return true;
    }
    let (mut minutes, mut others) = (0, 0);
    for row in grid.rows() {
        for column in 1..headings.len() {
            let Some(node) = grid.node(row, column) else {
                continue;
            };
            match decode::number_in_cell(&node) {
                Some(value) if (0.0..=1_440.0).contains(&value) => minutes += 1,
                _ => others += 1,
            }
        }
    }
    let across = headings
        .iter()
        .skip(1)
        .filter(|heading| !heading.is_empty());
    minutes > 0 && minutes >= 9 * others && across.count() > 0 && grid.rows().len() > 1
}

impl Found {
    /// What stands in the column of a field, row by row.
    pub(in crate::scenario) fn column(&self, field: &str) -> Option<Vec<Option<&str>>> {
        let is_it = |name: &Option<String>| name.as_deref() == Some(field);
        let column = self.fields.iter().position(is_it)?;
        let rows = self.grid.rows();
        Some(rows.map(|row| self.grid.text(row, column)).collect())
    }

    /// The heading of the column of a field.
    pub(in crate::scenario) fn heading(&self, field: &str) -> Option<&str> {
        let is_it = |name: &Option<String>| name.as_deref() == Some(field);
        let column = self.fields.iter().position(is_it)?;
        self.grid.headings().nth(column)
    }

    /// How many entries it has.
    pub(in crate::scenario) fn entries(&self) -> usize {
        self.grid.rows().len()
    }

    /// What problems call it.
    pub(in crate::scenario) fn called(&self) -> &str {
        &self.grid.source.name
    }

    /// Of minutes: the places that trips begin at and end at, in their order, without bands; and whether there are bands.
    pub(in crate::scenario) fn places(&self) -> (Vec<String>, Vec<String>, bool) {
        let mut across: Vec<String> = Vec::new();
        let mut down: Vec<String> = Vec::new();
        let mut bands = false;
        fn add(list: &mut Vec<String>, name: &str) {
            if !name.is_empty() && !list.iter().any(|known| known == name) {
                list.push(name.to_owned());
            }
        }
        let headings: Vec<&str> = self.grid.headings().collect();
        let find = |name: &str| headings.iter().position(|h| h.eq_ignore_ascii_case(name));
        if let (Some(from), Some(to)) = (find("from"), find("to")) {
            for row in self.grid.rows() {
                add(&mut across, self.grid.text(row, from).unwrap_or_default());
                add(&mut down, self.grid.text(row, to).unwrap_or_default());
            }
            bands = headings
                .iter()
                .any(|heading| band::behind(heading).is_some());
            return (across, down, bands);
        }
        let known = Known::default();
        for heading in headings.iter().skip(1) {
            let (name, band) = known.split(heading);
            bands |= band.is_some();
            add(&mut across, name);
        }
        for row in self.grid.rows() {
            let (name, band) = known.split(self.grid.text(row, 0).unwrap_or_default());
            bands |= band.is_some();
            add(&mut down, name);
        }
        (across, down, bands)
    }
}
