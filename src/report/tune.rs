//! The answer of `tune`, drawn: sentences, terminal, JSON, tables, chart and page.

mod charts;
mod json;
mod never;
mod page;
mod sentences;
mod tables;

pub use json::json;
pub use sentences::{decision, notes};
pub use tables::terminal;

use super::files::{self, FileError};
use crate::scenario::Scenario;
use crate::studies::Tuned;
use std::path::Path;

/// Writes `tune.html`, `surface.csv`, `final.csv` and the chart into a folder.
///
/// # Errors
/// The first file that could not be written.
pub fn write(answer: &Tuned, scenario: &Scenario, folder: &Path) -> Result<(), FileError> {
    let chart = charts::surface(answer);
    let page = page::page(answer, scenario, &chart);
    let mut all = vec![
        ("surface.csv", tables::surface(answer)),
        ("final.csv", tables::last(answer)),
        ("tune.html", page.into_bytes()),
    ];
    #[cfg(feature = "png")]
    all.push((
        "surface.png",
        super::chart::png(&chart, 2.0).expect("a chart of our own is valid SVG"),
    ));
    all.push(("surface.svg", chart.into_bytes()));
    files::create_folder(folder)?;
    all.iter()
        .try_for_each(|(name, content)| files::write(&folder.join(name), content))
}
