//! A scenario as a workbook that can be filled in and read again: a sheet for each list, with notes at its headings and lists of choices,
//! and one for all else.

mod columns;
mod minutes;
mod settings;
mod sheet;
mod words;

use super::tables::{SETTINGS, SHEETS};
use super::tree::{Field, Kind, Node};
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, XlsxError};
use sheet::Sheet;

/// What may go wrong in the library is a name or a size that no sheet has, and neither is used.
const WITHIN: &str = "names and sizes are within those of a sheet";

/// The bytes of a workbook with this scenario, whose tables have been put in; `assumed` are lines for a sheet that is not read. The same
/// scenario, the same bytes. None: a value is longer than a cell of a workbook can hold.
pub(super) fn workbook(scenario: &Node, assumed: &[String]) -> Option<Vec<u8>> {
    match written(scenario, assumed) {
        Err(XlsxError::MaxStringLengthExceeded) => None,
        bytes => Some(bytes.expect(WITHIN)),
    }
}

fn written(scenario: &Node, assumed: &[String]) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let fixed = ExcelDateTime::from_ymd(2000, 1, 1)?;
    book.set_properties(
        &DocProperties::new()
            .set_title("Scenario")
            .set_author(concat!("plantday ", env!("CARGO_PKG_VERSION")))
            .set_creation_datetime(&fixed),
    );
    let names = |path: &str| at(scenario, path).map_or(0, entries);
    let places = columns::Places {
        plants: names("plants"),
        sites: names("sites"),
    };
    for (title, path) in SHEETS {
        let Some(list) = at(scenario, path) else {
            continue;
        };
        let sheet = match path {
            "roads.minutes" => minutes::minutes(list),
            _ => columns::list(path, list, places),
        };
        if let Some(sheet) = sheet {
            sheet.write(book.add_worksheet(), title)?;
        }
    }
    let mut rest = Vec::new();
    if let Kind::Fields(fields) = &scenario.kind {
        settings::flat(fields, "", &mut rest);
    }
    settings::sheet(&rest).write(book.add_worksheet(), SETTINGS)?;
    if !assumed.is_empty() {
        let mut sheet = Sheet::new(&[("What plantday assumed: look it through", "", 110.0)]);
        for line in assumed {
            sheet.row(vec![sheet::Cell::Text(line.clone())]);
        }
        sheet.write(book.add_worksheet(), "Assumed")?;
    }
    book.save_to_buffer()
}

/// What stands at a path, if it is a list or a map that a sheet can hold.
fn at<'a>(scenario: &'a Node, path: &str) -> Option<&'a Node> {
    let mut node = scenario;
    for name in path.split('.') {
        node = &field(node, name)?.value;
    }
    let holds = match (&node.kind, path) {
        (Kind::Fields(_), "roads.minutes") => true,
        (Kind::List(items), _) => items
            .iter()
            .all(|item| matches!(item.kind, Kind::Fields(_))),
        _ => false,
    };
    holds.then_some(node)
}

fn field<'a>(node: &'a Node, name: &str) -> Option<&'a Field> {
    match &node.kind {
        Kind::Fields(fields) => fields.iter().find(|field| field.key == name),
        _ => None,
    }
}

fn entries(list: &Node) -> u32 {
    match &list.kind {
        Kind::List(items) => items.len() as u32,
        _ => 0,
    }
}
