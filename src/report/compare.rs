//! The answer of `compare`, drawn: sentences, terminal, JSON, tables and charts.

mod causes;
mod charts;
mod json;
pub(in crate::report) mod page;
mod rules_shown;
mod sentences;
mod site_wait;
mod tables;
mod terminal;

pub use json::json;
pub use sentences::{decision, selection, sureness};
pub use terminal::terminal;

pub(super) use causes::{
    chart as lateness_chart, json as lateness_json, known_losses, losses as losses_csv,
    losses_section, sentences as lateness_sentences, table as lateness_csv,
};
pub(super) use json::losses as losses_json;
pub(super) use page::limits;
pub(super) use sentences::{percent, period, replications};

pub(super) use super::figure::{heading, unit};
use super::files::{self, FileError};
use crate::scenario::Scenario;
use crate::studies::{Comparison, Replay};
use std::path::{Path, PathBuf};

/// The page beside the report that plays the worst day on a moving map.
const WORST_PAGE: &str = "worst-day.html";

/// Every file of the answer, by name; `worst` is the replication that it holds most worth looking at, played again.
pub fn all(answer: &Comparison, worst: &Replay, scenario: &Scenario) -> Vec<(String, Vec<u8>)> {
    let charts = charts::all(answer);
    let page = page::page(answer, scenario, &charts);
    let mut all = vec![
        ("figures.csv".to_owned(), tables::figures(answer)),
        ("summary.csv".to_owned(), tables::summary(answer)),
        ("causes.csv".to_owned(), causes::table(answer)),
        ("losses.csv".to_owned(), causes::losses(answer)),
        ("site_wait.csv".to_owned(), site_wait::table(answer)),
        ("report.html".to_owned(), page.into_bytes()),
        (
            WORST_PAGE.to_owned(),
            super::replay::page(worst, scenario).into_bytes(),
        ),
    ];
    for chart in charts {
        #[cfg(feature = "png")]
        all.push((
            format!("{}.png", chart.name),
            super::chart::png(&chart.svg, 2.0).expect("a chart of our own is valid SVG"),
        ));
        all.push((format!("{}.svg", chart.name), chart.svg.into_bytes()));
    }
    all
}

/// Writes every file of the answer into a folder and returns their paths.
///
/// # Errors
/// The first file that could not be written.
pub fn write(
    answer: &Comparison,
    worst: &Replay,
    scenario: &Scenario,
    folder: &Path,
) -> Result<Vec<PathBuf>, FileError> {
    files::create_folder(folder)?;
    all(answer, worst, scenario)
        .into_iter()
        .map(|(name, content)| {
            let path = folder.join(name);
            files::write(&path, &content).map(|()| path)
        })
        .collect()
}
