//! A whole scenario in a workbook: a sheet for each list, the rest as settings.
//!
//! ```text
//! Plants, Sites, Trucks, Drivers, Helpers, Orders, Drawn, Endless, Worlds   a row is an entry
//! Minutes                                                                  minutes between places
//! Rules                                                                    a row is a rule, or a column
//! Settings                                                                 name, value: `money.overtime_after_h`, 40
//! ```
//!
//! A value is what stands in a scenario's text. Other sheets are not read, and told.

use super::grid::{self, Grid, Rows};
use super::matrix::{self, Known};
use super::workbook::Book;
use super::{Loader, entry, headings, names};
use crate::scenario::decode;
use crate::scenario::problem::{Problem, Problems, Source, listed, nearest};
use crate::scenario::tree::{self, Field, Kind, Node, Span};

/// Sheets that are lists, and where a scenario writes them.
pub(in crate::scenario) const SHEETS: [(&str, &str); 11] = [
    ("Plants", "plants"),
    ("Sites", "sites"),
    ("Minutes", "roads.minutes"),
    ("Trucks", "trucks"),
    ("Drivers", "drivers"),
    ("Helpers", "helpers"),
    ("Orders", "orders"),
    ("Drawn", "drawn"),
    ("Endless", "endless"),
    ("Rules", "rules"),
    ("Worlds", "worlds"),
];
/// The sheet of all else.
pub(in crate::scenario) const SETTINGS: &str = "Settings";

/// No scenario has as many fields outside its lists.
const MOST_SETTINGS: usize = 5_000;

/// The tree of a workbook, and the texts that its places are of: first the list of its sheets.
pub(in crate::scenario) fn read(
    name: &str,
    bytes: &[u8],
    problems: &Problems,
) -> (Option<Node>, Vec<Source>) {
    let refuse = |why: String| {
        problems.tables_from(2);
        problems.add::<()>(Problem::new(0..1, why).label("expected a workbook (.xlsx)"));
        (None, vec![Source::text(name, " ")])
    };
    let mut book = match Book::open(name, bytes) {
        Ok(book) => book,
        Err(why) => return refuse(why),
    };
    let sheets = book.sheets();
    let text = format!("sheets: {}", listed(&sheets));
    problems.tables_from(text.len() + 1);
    let mut loader = Loader {
        folder: None,
        problems,
        sources: vec![Source::text(name, &text)],
    };
    let mut root = Root {
        span: 0..text.len(),
        fields: Vec::new(),
        problems,
    };
    let asked = |sheet: &String| sheet.trim().to_lowercase();
    let settings = sheets
        .iter()
        .find(|sheet| asked(sheet) == SETTINGS.to_lowercase());
    if let Some(sheet) = settings {
        match rows(&mut book, sheet) {
            Ok(Some(rows)) => loader.settings(&book.called(sheet), rows, &mut root),
            Ok(None) => {}
            Err(why) => return refuse(why),
        }
    }
    let mut known = Known::default();
    let mut found = settings.is_some();
    for (title, path) in SHEETS {
        let sheet = sheets
            .iter()
            .find(|sheet| asked(sheet) == title.to_lowercase());
        let Some(sheet) = sheet else { continue };
        found = true;
        let rows = match rows(&mut book, sheet) {
            Ok(Some(rows)) => rows,
            Ok(None) => continue,
            Err(why) => return refuse(why),
        };
        let list = path.rsplit('.').next().unwrap_or(path);
        let called = book.called(sheet);
        let Some((span, kind)) = loader.list(list, &called, rows, &mut known) else {
            continue;
        };
        root.put(
            path,
            &span,
            Node {
                span: span.clone(),
                kind,
            },
        );
    }
    let others: Vec<&String> = sheets
        .iter()
        .filter(|sheet| {
            let named = |title: &str| asked(sheet) == title.to_lowercase();
            !named(SETTINGS) && !named("Assumed") && !SHEETS.iter().any(|(title, _)| named(title))
        })
        .collect();
    if !found {
        let titles = SHEETS.iter().map(|(title, _)| *title);
        let mut problem = Problem::new(root.span.clone(), "no sheet of this workbook is a list of a scenario")
            .label(format!("expected sheets called {}, {SETTINGS}", listed(titles)))
            .help("`plantday new FILE.xlsx` writes such a workbook; `plantday new FILE --from TABLE …` makes a scenario of tables that you have");
        let near = others
            .iter()
            .find_map(|sheet| nearest(sheet, SHEETS.iter().map(|(title, _)| *title)));
        if let Some(near) = near {
            problem = problem.help(format!("a similar name exists: {near}"));
        }
        problems.add::<()>(problem);
        return (None, loader.sources);
    }
    for sheet in others {
        problems.note(format!("{}: this sheet is not read", book.called(sheet)));
    }
    let node = Node {
        span: root.span.clone(),
        kind: Kind::Fields(root.fields),
    };
    (Some(node), loader.sources)
}

/// The rows of a sheet; none if nothing stands in it.
fn rows(book: &mut Book<'_>, sheet: &str) -> Result<Option<Rows>, String> {
    let rows = book.rows(sheet, false)?;
    let blank = rows.rows.iter().all(|row| row.iter().all(Option::is_none));
    Ok((!blank).then_some(rows))
}

/// The scenario that is put together.
struct Root<'a> {
    span: Span,
    fields: Vec<Field>,
    problems: &'a Problems,
}

impl Root<'_> {
    /// Puts a value at a path: `money.overtime_after_h`.
    fn put(&mut self, path: &str, key_span: &Span, value: Node) {
        let mut names = path.split('.');
        let last = names.next_back().unwrap_or(path);
        let mut fields = &mut self.fields;
        for name in names {
            let known = fields.iter().position(|field| field.key == name);
            let at = known.unwrap_or_else(|| {
                fields.push(Field {
                    key: name.to_owned(),
                    key_span: key_span.clone(),
                    value: Node {
                        span: key_span.clone(),
                        kind: Kind::Fields(Vec::new()),
                    },
                });
                fields.len() - 1
            });
            let here = fields[at].key_span.clone();
            match &mut fields[at].value.kind {
                Kind::Fields(inside) => fields = inside,
                _ => {
                    let title = format!("`{name}` is written as a whole, and in parts");
                    self.problems.add::<()>(
                        Problem::new(key_span.clone(), title)
                            .label("expected one of the two")
                            .also(here, "as a whole here"),
                    );
                    return;
                }
            }
        }
        fields.push(Field {
            key: last.to_owned(),
            key_span: key_span.clone(),
            value,
        });
    }
}

impl Loader<'_> {
    /// A sheet with settings: their names in the column `name`, their values in the column `value`.
    fn settings(&mut self, called: &str, rows: Rows, root: &mut Root<'_>) {
        let is_heading = |text: &str| {
            let text = text.to_lowercase();
            ["name", "setting", "value"].contains(&text.as_str())
        };
        let Some(grid) = self.headed(called, rows, &is_heading) else {
            return;
        };
        if grid.rows().len() > MOST_SETTINGS {
            let title = format!("{called}: more than {MOST_SETTINGS} settings");
            let label = "expected fewer (plantday help limits)";
            self.problems
                .add::<()>(Problem::new(0..1, title).label(label));
            return;
        }
        let column = |names: &[&str], usual: usize| {
            let mut headings = grid.headings();
            headings
                .position(|heading| names.contains(&heading.to_lowercase().as_str()))
                .unwrap_or(usual)
        };
        let (name, value) = (column(&["name", "setting"], 0), column(&["value"], 1));
        for row in grid.rows() {
            let Some(node) = grid.text(row, value) else {
                continue;
            };
            let span = grid.cell_span(row, value);
            let Some(name_text) = grid.text(row, name) else {
                self.problems.add::<()>(
                    Problem::new(span, "a value without the name of its setting")
                        .label("expected a name such as `money.pay_per_h` beside it"),
                );
                continue;
            };
            let path: Vec<String> = name_text
                .split('.')
                .map(|part| part.trim().to_lowercase().replace([' ', '-'], "_"))
                .collect();
            let node = setting(node, &span, grid.comma);
            root.put(&path.join("."), &grid.cell_span(row, name), node);
        }
        self.problems.strict(&grid.source);
        self.keep(grid);
    }

    /// A sheet with a list: the place of its headings, and the list.
    fn list(
        &mut self,
        list: &str,
        called: &str,
        rows: Rows,
        known: &mut Known,
    ) -> Option<(Span, Kind)> {
        let rows = match list {
            "rules" => upright(rows),
            _ => rows,
        };
        let of_minutes = |text: &str| known.is_heading(text);
        let of_list = |text: &str| headings::is_known(list, text);
        let grid = match list {
            "minutes" => self.headed(called, rows, &of_minutes)?,
            _ => self.headed(called, rows, &of_list)?,
        };
        let span = grid.heading_span(grid.first_column());
        let kind = match list {
            "minutes" => matrix::minutes(&grid, known, self.problems),
            _ => entry::entries(
                list,
                &grid,
                &headings::fields(list, &grid, &[]),
                self.problems,
            ),
        };
        if list == "rules" {
            // A decision that is misspelt is no remark.
            self.problems.strict(&grid.source);
        }
        let node = Node {
            span: span.clone(),
            kind,
        };
        match list {
            "plants" => known.plants = names(&node),
            "sites" => known.sites = names(&node),
            _ => {}
        }
        self.keep(grid);
        Some((span, node.kind))
    }

    fn headed(&self, called: &str, rows: Rows, is_heading: &dyn Fn(&str) -> bool) -> Option<Grid> {
        let start = self.sources.last().map_or(0, Source::end) + 1;
        match Grid::new(called, rows, start, is_heading) {
            Ok(grid) => Some(grid),
            Err(why) => self
                .problems
                .add(Problem::new(0..1, format!("{called}: {why}"))),
        }
    }
}

/// A setting as a value: in the words of a scenario, or as in any cell.
fn setting(text: &str, span: &Span, comma: bool) -> Node {
    if text.starts_with('"')
        && let Ok(mut node) = tree::parse(text)
    {
        decode::all_at(&mut node, span);
        return node;
    }
    decode::value_in_cell(text, span, comma)
}

/// Rules stand in rows; where they stand in columns, names of decisions stand in the first.
pub(super) fn upright(mut table: Rows) -> Rows {
    let head = |row: &grid::Row| row.first().cloned().flatten();
    let decision = |text: &str| headings::is_known("rules", text);
    let down = table.rows.iter().filter_map(head);
    let down = down.filter(|(text, _)| decision(text)).count();
    let across = table.rows.iter().map(|row| {
        let cells = row.iter().flatten();
        cells.filter(|(text, _)| decision(text)).count()
    });
    if down <= across.max().unwrap_or(0) {
        return table;
    }
    let columns = table.rows.iter().map(Vec::len).max().unwrap_or(0);
    let turned = (0..columns).map(|column| {
        let cells = table.rows.iter();
        cells
            .map(|row| row.get(column).cloned().flatten())
            .collect()
    });
    table.rows = turned.collect();
    table.turned = true;
    // Above the decisions stand the names of the rules, under a heading of any kind or none.
    let Some(heads) = table.rows.first_mut() else {
        return table;
    };
    let first = heads.iter().position(|cell| {
        let said = cell.as_ref();
        said.is_some_and(|(text, _)| decision(text))
    });
    let above = first.and_then(|first| first.checked_sub(1));
    let named = heads
        .iter()
        .flatten()
        .any(|(text, _)| text.eq_ignore_ascii_case("name"));
    if let Some(above) = above.filter(|_| !named) {
        let span = heads[above].take().map_or(0..0, |(_, span)| span);
        heads[above] = Some(("name".to_owned(), span));
    }
    table
}
