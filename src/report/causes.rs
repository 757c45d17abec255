//! The answer of `causes`, drawn: sentences, terminal, JSON, tables, chart and page.

mod chart;
mod json;
mod page;
mod sentences;
mod tables;
mod terminal;

pub use json::json;
pub use sentences::finding;
pub use terminal::terminal;

use super::files::{self, FileError};
use crate::scenario::Scenario;
use crate::studies::Counterfactuals;
use std::path::{Path, PathBuf};

/// Every file of the answer, by name.
pub fn all(answer: &Counterfactuals, scenario: &Scenario) -> Vec<(String, Vec<u8>)> {
    let chart = chart::worth(answer);
    let mut all = vec![
        ("worth.csv".to_owned(), tables::worth(answer)),
        ("figures.csv".to_owned(), tables::figures(answer, scenario)),
        (
            "causes.html".to_owned(),
            page::page(answer, scenario, &chart).into_bytes(),
        ),
    ];
    #[cfg(feature = "png")]
    all.push((
        "worth.png".to_owned(),
        super::chart::png(&chart, 2.0).expect("a chart of our own is valid SVG"),
    ));
    all.push(("worth.svg".to_owned(), chart.into_bytes()));
    all
}

/// Writes every file of the answer into a folder and returns their paths.
///
/// # Errors
/// The first file that could not be written.
pub fn write(
    answer: &Counterfactuals,
    scenario: &Scenario,
    folder: &Path,
) -> Result<Vec<PathBuf>, FileError> {
    files::create_folder(folder)?;
    all(answer, scenario)
        .into_iter()
        .map(|(name, content)| {
            let path = folder.join(name);
            files::write(&path, &content).map(|()| path)
        })
        .collect()
}
