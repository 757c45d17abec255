//! The answer of `staff`, drawn: sentences, terminal, JSON, tables, charts and page.

mod charts;
mod json;
mod page;
mod sentences;
mod sheet;
mod tables;
mod terminal;

pub use json::json;
pub use sentences::decision;
pub use terminal::terminal;

use super::files::{self, FileError};
use crate::scenario::Scenario;
use crate::studies::{CallSheet, StaffAnswer};
use std::path::{Path, PathBuf};

/// Every file of the answer, by name. `recipe` is the command that gives it again.
pub fn all(
    answer: &StaffAnswer,
    sheet: Option<&CallSheet>,
    scenario: &Scenario,
    recipe: &str,
) -> Vec<(String, Vec<u8>)> {
    let charts = charts::all(answer);
    let page = page::page(answer, sheet, scenario, &charts, recipe);
    let mut all = vec![
        ("staff.csv".to_owned(), tables::staffings(answer)),
        ("growth.csv".to_owned(), tables::growth(answer)),
        (
            "staff.json".to_owned(),
            format!("{:#}\n", json(answer, sheet)).into_bytes(),
        ),
        ("report.html".to_owned(), page.into_bytes()),
    ];
    if let Some(sheet) = sheet {
        all.push(("call-in.csv".to_owned(), sheet::table(sheet)));
    }
    for (name, _, svg) in charts {
        #[cfg(feature = "png")]
        all.push((
            format!("{name}.png"),
            super::chart::png(&svg, 2.0).expect("a chart of our own is valid SVG"),
        ));
        all.push((format!("{name}.svg"), svg.into_bytes()));
    }
    all
}

/// Writes every file of the answer into a folder and returns their paths.
///
/// # Errors
/// The first file that could not be written.
pub fn write(
    answer: &StaffAnswer,
    sheet: Option<&CallSheet>,
    scenario: &Scenario,
    recipe: &str,
    folder: &Path,
) -> Result<Vec<PathBuf>, FileError> {
    files::create_folder(folder)?;
    all(answer, sheet, scenario, recipe)
        .into_iter()
        .map(|(name, content)| {
            let path = folder.join(name);
            files::write(&path, &content).map(|()| path)
        })
        .collect()
}
