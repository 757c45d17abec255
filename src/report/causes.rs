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

use super::compare;
use super::files::{self, FileError};
use crate::scenario::Scenario;
use crate::studies::Counterfactuals;
use std::path::{Path, PathBuf};

/// Every file of the answer, by name.
pub fn all(answer: &Counterfactuals, scenario: &Scenario) -> Vec<(String, Vec<u8>)> {
    let worth = chart::worth(answer);
    let lateness = compare::lateness_chart(&answer.ledger);
    let page = page::page(answer, scenario, &worth, lateness.as_deref());
    let mut all = vec![
        ("worth.csv".to_owned(), tables::worth(answer)),
        ("figures.csv".to_owned(), tables::figures(answer, scenario)),
        (
            "lateness.csv".to_owned(),
            compare::lateness_csv(&answer.ledger),
        ),
        ("losses.csv".to_owned(), compare::losses_csv(&answer.ledger)),
        ("causes.html".to_owned(), page.into_bytes()),
    ];
    let charts = [("worth", Some(worth)), ("lateness", lateness)];
    for (name, chart) in charts {
        let Some(chart) = chart else { continue };
        #[cfg(feature = "png")]
        all.push((
            format!("{name}.png"),
            super::chart::png(&chart, 2.0).expect("a chart of our own is valid SVG"),
        ));
        all.push((format!("{name}.svg"), chart.into_bytes()));
    }
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
