//! The answer of `replay`, drawn: sentences, terminal, JSON, the page with its player, the table of events.

mod data;
mod events;
mod json;
mod late;
mod map;
mod page;
mod refusals;
mod sentences;
mod terminal;

pub use json::json;
pub(super) use page::page;
pub use terminal::terminal;

use super::day::{self, Day};
use super::files::{self, FileError};
use crate::scenario::Scenario;
use crate::studies::Replay;
use std::path::Path;

/// Every file of the answer, by name.
pub fn all(answer: &Replay, scenario: &Scenario) -> Vec<(String, Vec<u8>)> {
    let names: Vec<String> = scenario.trucks.iter().map(|t| t.name.clone()).collect();
    let worst = answer.timeline.worst_day();
    let svg = day::svg(&Day {
        timeline: &answer.timeline,
        trucks: &names,
        day: worst,
        days: answer.days,
        replication: (answer.replication, answer.seed),
        opening: format!("Under {}", sentences::rule(answer)),
    });
    let mut all = vec![
        ("events.csv".to_owned(), events::table(answer, scenario)),
        (
            "replay.html".to_owned(),
            page(answer, scenario).into_bytes(),
        ),
    ];
    #[cfg(feature = "png")]
    all.push((
        "trucks.png".to_owned(),
        super::chart::png(&svg, 2.0).expect("a chart of our own is valid SVG"),
    ));
    all.push(("trucks.svg".to_owned(), svg.into_bytes()));
    all
}

/// Writes every file of the answer into a folder.
///
/// # Errors
/// The first file that could not be written.
pub fn write(answer: &Replay, scenario: &Scenario, folder: &Path) -> Result<(), FileError> {
    files::create_folder(folder)?;
    for (name, content) in all(answer, scenario) {
        files::write(&folder.join(name), &content)?;
    }
    Ok(())
}
