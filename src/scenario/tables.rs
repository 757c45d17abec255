//! Lists that stand in tables: `orders: Table("tuesday.csv")`, `trucks: Table("yard.xlsx", "Trucks")`. A table becomes the same tree with
//! places as the text of a scenario, so that every reader, check and default holds for it unchanged.
//!
//! ```text
//! Table("file.csv")  Table("file.xlsx", "sheet")
//! Table(file: "…", sheet?: "…", columns?: {"heading of the file": "field"}, sites_within?: true)
//! ```
//!
//! Paths are relative to the scenario. The first row of headings holds names of fields, or what people call them (`headings.rs`); titles
//! above it and rows of sums are passed over. A row is an entry; a blank cell is a field that is not written. What no field is named for
//! is ignored, and told. With `sites_within` an order's site is the one known name that stands in what is written.
//! `minutes` are a matrix: places down, plants across (or the other way round), or columns from, to, minutes, and back; a heading may
//! carry a band of the day (`band.rs`).

mod band;
mod csv_file;
mod entry;
mod grid;
mod headings;
mod matrix;
pub(super) mod recognize;
mod whole;
mod workbook;

pub(super) use headings::meant;
pub(super) use whole::{SETTINGS, SHEETS, read as workbook_tree};

use super::input_file;
use super::problem::{Problem, Problems, Source, nearest};
use super::tree::{Kind, Node, Span};
use grid::{Grid, Rows};
use matrix::Known;
use std::path::Path;
use workbook::Book;

/// Puts what stands in tables into the tree of a scenario, whose text is `text`. Gives every text that the places in the tree then are
/// of: that of the scenario first, each table after it.
pub(super) fn put_in(
    node: &mut Node,
    name: &str,
    text: &str,
    folder: Option<&Path>,
    problems: &Problems,
) -> Vec<Source> {
    problems.tables_from(text.len() + 1);
    let mut loader = Loader {
        folder,
        problems,
        sources: vec![Source::text(name, text)],
    };
    loader.walk(node, "", &mut Known::default());
    loader.sources
}

/// What a table is asked for by.
struct Asked {
    file: String,
    file_span: Span,
    sheet: Option<(String, Span)>,
    /// Heading of the file, field.
    columns: Vec<(String, String)>,
    sites_within: bool,
}

struct Loader<'a> {
    folder: Option<&'a Path>,
    problems: &'a Problems,
    sources: Vec<Source>,
}

impl Loader<'_> {
    /// Goes through the tree; `key` is the field in which a node stands, `known` the names of places once they are.
    fn walk(&mut self, node: &mut Node, key: &str, known: &mut Known) {
        if let Kind::Tagged(tag, inside) = &node.kind
            && tag.name == "Table"
        {
            let made = self.asked(inside).and_then(|asked| {
                let grid = self.grid(key, &asked, known)?;
                Some(self.kind(key, &asked, grid, known))
            });
            // What is wrong has been told; an empty list would be wrong besides.
            node.kind = made.unwrap_or(Kind::Unread);
            return;
        }
        match &mut node.kind {
            Kind::Fields(fields) => {
                // Places first: minutes are between them.
                fields.sort_by_key(|field| !matches!(field.key.as_str(), "plants" | "sites"));
                for field in fields {
                    self.walk(&mut field.value, &field.key, known);
                    match field.key.as_str() {
                        "plants" => known.plants = names(&field.value),
                        "sites" => known.sites = names(&field.value),
                        _ => {}
                    }
                }
            }
            Kind::List(items) => items.iter_mut().for_each(|item| self.walk(item, "", known)),
            Kind::Tagged(_, inside) => self.walk(inside, "", known),
            _ => {}
        }
    }

    fn kind(&mut self, key: &str, asked: &Asked, grid: Grid, known: &Known) -> Kind {
        let mut made = if key == "minutes" {
            matrix::minutes(&grid, known, self.problems)
        } else {
            let headings = headings::fields(key, &grid, &asked.columns);
            entry::entries(key, &grid, &headings, self.problems)
        };
        if key == "orders" && asked.sites_within {
            let count = entry::sites_within(&mut made, known);
            if count > 0 {
                self.problems.note(format!(
                    "{}: {count} orders name their site within a longer text, \"Mill lane footings\" for \"Mill lane\"",
                    grid.source.name
                ));
            }
        }
        if key == "rules" {
            // A decision that is misspelt is no remark.
            self.problems.strict(&grid.source);
        }
        self.keep(grid);
        made
    }

    /// Keeps the text of a table, for the places in it, and what is to be told of it.
    fn keep(&mut self, grid: Grid) {
        for note in grid.notes {
            self.problems.note(note);
        }
        self.sources.push(grid.source);
    }

    fn asked(&self, inside: &Node) -> Option<Asked> {
        let wrong = |node: &Node| {
            self.problems.add(
                Problem::new(node.span.clone(), "a table that is not asked for like this")
                    .label("expected Table(\"file.csv\"), Table(\"file.xlsx\", \"sheet\") or Table(file: \"…\", sheet: \"…\", columns: {\"heading\": \"field\"})"),
            )
        };
        let mut asked = Asked {
            file: String::new(),
            file_span: inside.span.clone(),
            sheet: None,
            columns: Vec::new(),
            sites_within: false,
        };
        let named: Vec<(&str, &Node)> = match &inside.kind {
            Kind::List(items) if items.len() <= 3 => ["file", "sheet", "columns"]
                .into_iter()
                .zip(items)
                .collect(),
            Kind::Fields(fields) => {
                let fields = fields.iter();
                fields
                    .map(|field| (field.key.as_str(), &field.value))
                    .collect()
            }
            _ => return wrong(inside),
        };
        for (name, node) in named {
            match (name, &node.kind) {
                ("file", Kind::Text(text)) => {
                    (asked.file, asked.file_span) = (text.clone(), node.span.clone());
                }
                ("sheet", Kind::Text(text)) => {
                    asked.sheet = Some((text.clone(), node.span.clone()));
                }
                ("columns", Kind::Fields(fields)) => {
                    for field in fields {
                        let Kind::Text(to) = &field.value.kind else {
                            return wrong(&field.value);
                        };
                        asked.columns.push((field.key.clone(), to.clone()));
                    }
                }
                ("sites_within", Kind::Bool(within)) => asked.sites_within = *within,
                _ => return wrong(node),
            }
        }
        if asked.file.is_empty() {
            return wrong(inside);
        }
        Some(asked)
    }

    /// The table that is asked for.
    fn grid(&self, key: &str, asked: &Asked, known: &Known) -> Option<Grid> {
        let refuse = |title: String, label: &str| {
            self.problems
                .add(Problem::new(asked.file_span.clone(), title).label(label))
        };
        let Some(folder) = self.folder else {
            return refuse(
                "a table is read beside a scenario's file, and this scenario is none".into(),
                "expected the list itself",
            );
        };
        let path = folder.join(&asked.file);
        let bytes = match input_file::read(&path) {
            Ok(bytes) => bytes,
            Err(error) => {
                let title = format!("cannot read {}: {error}", path.display());
                let mut problem = Problem::new(asked.file_span.clone(), title)
                    .label("expected a file beside the scenario");
                let there = neighbors(&path);
                let name = path
                    .file_name()
                    .map(|name| name.to_string_lossy().into_owned());
                if let Some(near) =
                    nearest(&name.unwrap_or_default(), there.iter().map(String::as_str))
                {
                    problem = problem.help(format!("there is {near}"));
                }
                return self.problems.add(problem);
            }
        };
        let start = self.sources.last().map_or(0, Source::end) + 1;
        let name = path.display().to_string();
        let of_minutes = |text: &str| known.is_heading(text);
        let of_list = |text: &str| {
            let given = asked.columns.iter();
            headings::is_known(key, text) || given.into_iter().any(|(heading, _)| heading == text)
        };
        let is_heading: &dyn Fn(&str) -> bool = match key {
            "minutes" => &of_minutes,
            _ => &of_list,
        };
        let sheet = asked.sheet.as_ref().map(|(sheet, _)| sheet.as_str());
        let read = table(&name, bytes, sheet, false);
        let upright = |rows: Rows| match key {
            "rules" => whole::upright(rows),
            _ => rows,
        };
        match read.and_then(|(called, rows)| Grid::new(&called, upright(rows), start, is_heading)) {
            Ok(grid) => Some(grid),
            Err(why) => refuse(why, "expected a table: .csv, or .xlsx"),
        }
    }
}

/// The table in the bytes of a file, and what problems call it.
fn table(
    name: &str,
    bytes: Vec<u8>,
    sheet: Option<&str>,
    seconds: bool,
) -> Result<(String, Rows), String> {
    if bytes.starts_with(b"PK") {
        let mut book = Book::open(name, &bytes)?;
        let sheet = book.sheet(sheet)?;
        let rows = book.rows(&sheet, seconds)?;
        return Ok((book.called(&sheet), rows));
    }
    if sheet.is_some() {
        return Err("a sheet is asked for, and the file is no .xlsx workbook".to_owned());
    }
    Ok((name.to_owned(), csv_file::read(name, bytes)?))
}

/// A table that stands alone, beside no scenario.
pub(super) struct Alone {
    list: &'static str,
    grid: Grid,
    headings: Vec<Option<String>>,
}

impl Alone {
    /// Its text with the place of every cell.
    pub(super) fn source(&self) -> &Source {
        &self.grid.source
    }

    /// The same alone.
    pub(super) fn into_source(self) -> Source {
        self.grid.source
    }

    /// The fields that columns stand for.
    pub(super) fn fields(&self) -> impl Iterator<Item = &str> {
        self.headings.iter().flatten().map(String::as_str)
    }

    /// Its rows as entries, each made when it is its turn: all at once would be many times the size of the file.
    pub(super) fn rows(&self) -> impl ExactSizeIterator<Item = Node> {
        let entry = |row| entry::entry(self.list, &self.grid, row, &self.headings);
        self.grid.rows().map(entry)
    }
}

/// The table in a file, as one of this list; places in it begin at 1. Times have their seconds.
///
/// # Errors
/// The file is no table.
pub(super) fn alone(
    name: &str,
    bytes: Vec<u8>,
    sheet: Option<&str>,
    list: &'static str,
) -> Result<Alone, String> {
    let (called, rows) = table(name, bytes, sheet, true)?;
    let grid = Grid::new(&called, rows, 1, &|text| headings::is_known(list, text))?;
    let headings = headings::fields(list, &grid, &[]);
    Ok(Alone {
        list,
        grid,
        headings,
    })
}

/// The names of a list of entries.
fn names(list: &Node) -> Vec<String> {
    let Kind::List(items) = &list.kind else {
        return Vec::new();
    };
    let name = |item: &Node| {
        let Kind::Fields(fields) = &item.kind else {
            return None;
        };
        let name = fields.iter().find(|field| field.key == "name")?;
        match &name.value.kind {
            Kind::Text(text) | Kind::Cell { text, .. } => Some(text.clone()),
            _ => None,
        }
    };
    items.iter().filter_map(name).collect()
}

/// The names of the files beside a path that is not there.
fn neighbors(path: &Path) -> Vec<String> {
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    let entries = std::fs::read_dir(folder.unwrap_or(Path::new(".")));
    let entries = entries.into_iter().flatten().flatten();
    let mut names: Vec<String> = entries
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}
