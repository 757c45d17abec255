//! Lists that stand in tables: `orders: Table("tuesday.csv")`, `trucks: Table("yard.xlsx", "Trucks")`. A table becomes the same tree with
//! places as the text of a scenario, so that every reader, check and default holds for it unchanged.
//!
//! ```text
//! Table("file.csv")  Table("file.xlsx", "sheet")  Table(file: "…", sheet?: "…", columns?: {"heading of the file": "field"})
//! ```
//!
//! Paths are relative to the scenario. The first row that is not blank holds the headings: names of fields, or what people call them
//! (`headings.rs`). A row is an entry; a blank cell is a field that is not written. What no field is named for is ignored, and told.
//! `minutes` are a matrix: places down, plants across (or the other way round), or three columns from, to, minutes, and back.

mod csv_file;
mod grid;
mod headings;
mod matrix;
mod workbook;

use super::problem::{Problem, Problems, Source, nearest};
use super::tree::{Field, Kind, Node, Span};
use grid::Grid;
use std::path::Path;

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
    loader.walk(node, "", &mut Vec::new());
    loader.sources
}

/// What a table is asked for by.
struct Asked {
    file: String,
    file_span: Span,
    sheet: Option<(String, Span)>,
    /// Heading of the file, field.
    columns: Vec<(String, String)>,
}

struct Loader<'a> {
    folder: Option<&'a Path>,
    problems: &'a Problems,
    sources: Vec<Source>,
}

impl Loader<'_> {
    /// Goes through the tree; `key` is the field in which a node stands, `plants` the plants' names once they are known.
    fn walk(&mut self, node: &mut Node, key: &str, plants: &mut Vec<String>) {
        if let Kind::Tagged(tag, inside) = &node.kind
            && tag.name == "Table"
        {
            let made = self.asked(inside).and_then(|asked| {
                let grid = self.grid(&asked)?;
                Some(self.kind(key, &asked, grid, plants))
            });
            // What is wrong has been told; an empty list would be wrong besides.
            node.kind = made.unwrap_or(Kind::Unread);
            return;
        }
        match &mut node.kind {
            Kind::Fields(fields) => {
                // Plants first: minutes are between them and the rest.
                fields.sort_by_key(|field| field.key != "plants");
                for field in fields {
                    self.walk(&mut field.value, &field.key, plants);
                    if field.key == "plants" {
                        *plants = names(&field.value);
                    }
                }
            }
            Kind::List(items) => items
                .iter_mut()
                .for_each(|item| self.walk(item, "", plants)),
            Kind::Tagged(_, inside) => self.walk(inside, "", plants),
            _ => {}
        }
    }

    fn kind(&mut self, key: &str, asked: &Asked, grid: Grid, plants: &[String]) -> Kind {
        let made = if key == "minutes" {
            matrix::minutes(&grid, plants)
        } else {
            let headings = headings::fields(key, &grid, &asked.columns);
            Kind::List(
                grid.rows()
                    .map(|row| entry(&grid, row, &headings))
                    .collect(),
            )
        };
        self.sources.push(grid.source);
        made
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
                _ => return wrong(node),
            }
        }
        if asked.file.is_empty() {
            return wrong(inside);
        }
        Some(asked)
    }

    /// The table that is asked for.
    fn grid(&self, asked: &Asked) -> Option<Grid> {
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
        let bytes = match std::fs::read(&path) {
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
        let read = if bytes.starts_with(b"PK") {
            let sheet = asked.sheet.as_ref().map(|(sheet, _)| sheet.as_str());
            workbook::read(&name, &bytes, sheet, start, false)
        } else if asked.sheet.is_some() {
            Err("a sheet is asked for, and the file is no .xlsx workbook".to_owned())
        } else {
            csv_file::read(&name, bytes, start)
        };
        match read {
            Ok(grid) => Some(grid),
            Err(why) => refuse(why, "expected a table: .csv in UTF-8, or .xlsx"),
        }
    }
}

/// A table that stands alone, beside no scenario.
pub(super) struct Alone {
    /// Its text with the place of every cell.
    pub(super) source: Source,
    /// Its rows as entries.
    pub(super) rows: Vec<Node>,
    /// The fields that columns stand for.
    pub(super) fields: Vec<String>,
}

/// The table in a file, as one of this list; places in it begin at 1. Times have their seconds.
///
/// # Errors
/// The file is no table.
pub(super) fn alone(
    name: &str,
    bytes: Vec<u8>,
    sheet: Option<&str>,
    list: &str,
) -> Result<Alone, String> {
    let grid = if bytes.starts_with(b"PK") {
        workbook::read(name, &bytes, sheet, 1, true)?
    } else if sheet.is_some() {
        return Err(format!("{name} is no .xlsx workbook, so it has no sheets"));
    } else {
        csv_file::read(name, bytes, 1)?
    };
    let headings = headings::fields(list, &grid, &[]);
    Ok(Alone {
        rows: grid
            .rows()
            .map(|row| entry(&grid, row, &headings))
            .collect(),
        fields: headings.into_iter().flatten().collect(),
        source: grid.source,
    })
}

/// One row as an entry.
fn entry(grid: &Grid, row: usize, headings: &[Option<String>]) -> Node {
    let mut fields: Vec<Field> = Vec::new();
    for (column, heading) in headings.iter().enumerate() {
        let Some(key) = heading else { continue };
        let Some(value) = grid.node(row, column) else {
            continue;
        };
        fields.push(Field {
            key: key.clone(),
            key_span: grid.heading_span(column),
            value,
        });
    }
    Node {
        span: grid.row_span(row),
        kind: Kind::Fields(fields),
    }
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
