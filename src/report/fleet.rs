//! The answer of `fleet`, drawn: sentences, terminal, JSON, tables, charts and page.

mod charts;
mod json;
mod page;
mod sentences;
mod tables;
mod terminal;

pub use json::json;
pub use sentences::decision;
pub use terminal::terminal;

use super::files::{self, FileError};
use crate::scenario::Scenario;
use crate::studies::FleetAnswer;
use std::path::{Path, PathBuf};

/// Every file of the answer, by name. `recipe` is the command that gives it again.
pub fn all(answer: &FleetAnswer, scenario: &Scenario, recipe: &str) -> Vec<(String, Vec<u8>)> {
    let charts = charts::all(answer);
    let page = page::page(answer, scenario, &charts, recipe);
    let mut all = vec![
        ("fleet.csv".to_owned(), tables::sizes(answer)),
        ("trucks-by-hour.csv".to_owned(), tables::hours(answer)),
        (
            "fleet.json".to_owned(),
            format!("{:#}\n", json(answer)).into_bytes(),
        ),
        ("report.html".to_owned(), page.into_bytes()),
    ];
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
    answer: &FleetAnswer,
    scenario: &Scenario,
    recipe: &str,
    folder: &Path,
) -> Result<Vec<PathBuf>, FileError> {
    files::create_folder(folder)?;
    all(answer, scenario, recipe)
        .into_iter()
        .map(|(name, content)| {
            let path = folder.join(name);
            files::write(&path, &content).map(|()| path)
        })
        .collect()
}
