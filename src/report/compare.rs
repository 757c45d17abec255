//! The answer of `compare`, drawn: sentences, terminal, JSON, tables and charts.

mod chart;
mod json;
mod sentences;
mod tables;
mod terminal;

pub use json::json;
pub use sentences::{decision, sureness};
pub use terminal::terminal;

use super::files::{self, FileError};
use super::number::Unit;
use crate::observe::Column;
use crate::studies::Comparison;
use std::path::{Path, PathBuf};

/// How the figures of a column are written.
fn unit(column: &Column) -> Unit {
    match column.unit {
        "$" | "$/yd³" => Unit::Money,
        "share" => Unit::Share,
        _ => Unit::Plain,
    }
}

/// The figure's name with its unit, where the numbers do not carry it: `wait for a bay, min`.
fn heading(column: &Column) -> String {
    match (unit(column), column.unit) {
        (Unit::Plain, unit) if !unit.is_empty() => format!("{}, {unit}", column.label),
        _ => column.label.clone(),
    }
}

/// Every file of the answer, by name.
pub fn all(answer: &Comparison) -> Vec<(&'static str, Vec<u8>)> {
    let mut all = vec![
        ("figures.csv", tables::figures(answer)),
        ("summary.csv", tables::summary(answer)),
    ];
    if let Some(svg) = chart::differences(answer) {
        #[cfg(feature = "png")]
        all.push((
            "differences.png",
            super::chart::png(&svg, 2.0).expect("a chart of our own is valid SVG"),
        ));
        all.push(("differences.svg", svg.into_bytes()));
    }
    all
}

/// Writes every file of the answer into a folder and returns their paths.
///
/// # Errors
/// The first file that could not be written.
pub fn write(answer: &Comparison, folder: &Path) -> Result<Vec<PathBuf>, FileError> {
    files::create_folder(folder)?;
    all(answer)
        .into_iter()
        .map(|(name, content)| {
            let path = folder.join(name);
            files::write(&path, &content).map(|()| path)
        })
        .collect()
}
