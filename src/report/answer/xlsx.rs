//! An answer as a workbook for a spreadsheet program: the answer in words, its charts, one sheet for each table, the assumptions, the
//! doubts, and every figure of every run.
//!
//! Cells hold whole numbers with all their digits; how many a reader sees is a matter of format, and the same as on the page.

mod charts;
mod formats;
mod grid;
mod lines;
mod names;
mod rounding;
mod sheet;

use super::{Answer, Block, Table};
use grid::Grid;
use names::Names;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook};

/// A larger table stays in its CSV file: spreadsheet programs open a few hundred thousand cells at once, not millions.
const MOST_CELLS: usize = 200_000;

/// What may go wrong in the library is a name or a size that no sheet has, and neither is used.
const WITHIN: &str = "names and sizes are within those of a sheet";

/// One sheet of the workbook, before it is written.
struct Sheet {
    name: String,
    /// What it holds, for the list on the first sheet.
    about: String,
    grid: Grid,
}

/// The workbook's bytes: the same answer, the same bytes.
pub(super) fn workbook(answer: &Answer) -> Vec<u8> {
    let mut names = Names::default();
    let front = names.unique("Answer");
    let drawn = names.unique("Charts");
    let mut left_out = Vec::new();
    let mut tables: Vec<(&Table, Sheet)> = Vec::new();
    for table in answer.tables.iter().filter(|table| told(answer, table)) {
        let grid = Grid::of(table);
        if grid.rows.is_empty() {
            continue;
        }
        match grid.cells() <= MOST_CELLS {
            true => tables.push((
                table,
                Sheet {
                    name: names.unique(table.name),
                    about: about(answer, table),
                    grid,
                },
            )),
            false => left_out.push(too_large(&table.file_name())),
        }
    }
    let mut others = Vec::new();
    if !answer.assumptions.is_empty() {
        others.push(Sheet {
            name: names.unique("Assumptions"),
            about: "What was assumed, whose value it is, and where the usual value comes from"
                .into(),
            grid: lines::assumptions(answer),
        });
    }
    if !answer.doubts.is_empty() {
        others.push(Sheet {
            name: names.unique("Doubts"),
            about: crate::report::summary::DOUBTFUL.into(),
            grid: lines::doubts(answer),
        });
    }
    for (file, content) in &answer.beside {
        let Some(name) = file.strip_suffix(".csv") else {
            continue;
        };
        match content.cells() <= MOST_CELLS {
            true => others.push(Sheet {
                name: names.unique(name),
                about: format!("The same as {file}"),
                grid: Grid::of_csv(&content.bytes()),
            }),
            false => left_out.push(too_large(file)),
        }
    }

    let charts = charts::of(answer, &tables);
    let mut list: Vec<(&str, &str)> = Vec::new();
    if !charts.is_empty() {
        list.push((&drawn, "Charts of numbers in this workbook"));
    }
    let sheets = || tables.iter().map(|(_, sheet)| sheet).chain(&others);
    list.extend(sheets().map(|sheet| (sheet.name.as_str(), sheet.about.as_str())));

    let mut book = Workbook::new();
    book.set_properties(&properties(answer));
    let mut formats = formats::Formats::default();
    let first = lines::front(answer, &list, &left_out);
    sheet::write_lines(book.add_worksheet(), &front, &first);
    if !charts.is_empty() {
        charts::write(book.add_worksheet(), &drawn, &charts);
    }
    for one in sheets() {
        sheet::write(book.add_worksheet(), &one.name, &one.grid, &mut formats);
    }
    book.save_to_buffer().expect(WITHIN)
}

/// Whether people or programs get the table anywhere but on the screen.
fn told(answer: &Answer, table: &Table) -> bool {
    table.is_filed() || heading_of(answer, table).is_some()
}

/// The heading on the page under which the table stands.
fn heading_of<'a>(answer: &'a Answer, table: &Table) -> Option<&'a str> {
    let mut heading = "";
    for section in &answer.sections {
        if !section.heading.is_empty() {
            heading = &section.heading;
        }
        if section.blocks.contains(&Block::Table(table.name)) {
            return Some(heading);
        }
    }
    None
}

/// What a table holds, for people.
fn about(answer: &Answer, table: &Table) -> String {
    let chart = answer.charts.iter().find(|chart| chart.table == table.name);
    let heading = heading_of(answer, table).filter(|heading| !heading.is_empty());
    match heading.or(chart.map(|chart| chart.heading.as_str())) {
        Some(heading) => heading.to_owned(),
        None => format!("The same as {}", table.file_name()),
    }
}

fn too_large(file: &str) -> String {
    format!("{file} has more cells than a workbook should; it stands beside this file.")
}

/// Without the time of writing, which would make every file another one.
fn properties(answer: &Answer) -> DocProperties {
    let fixed = ExcelDateTime::from_ymd(2000, 1, 1).expect("a date");
    DocProperties::new()
        .set_title(crate::report::plain_text::one_line(&answer.page_title))
        .set_author(concat!("plantday ", env!("CARGO_PKG_VERSION")))
        .set_creation_datetime(&fixed)
}
