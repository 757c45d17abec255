//! What is said of a scenario that was made of somebody's tables: what is theirs, what was assumed, what was not used.

use super::wrap::wrap;
use crate::scenario::{Made, Scenario};
use std::fmt::Write;

/// The account, for a terminal of this width. `scenario` is what the written file holds, if it can be read.
pub fn account(made: &Made, scenario: Option<&Scenario>, file: &str, width: u16) -> String {
    let width = usize::from(width);
    let mut text = format!("{file} is written.\n");
    let mut list = |heading: &str, lines: &[String]| {
        if lines.is_empty() {
            return;
        }
        let _ = writeln!(text, "\n{heading}");
        for line in lines {
            for part in wrap("- ", line, width) {
                let _ = writeln!(text, "{part}");
            }
        }
    };
    list("Yours", &made.yours);
    list("Assumed: look it through", &assumed(made));
    let mut unused = made.unused.clone();
    if let Some(scenario) = scenario {
        let columns = scenario.ignored_columns.iter();
        let columns = columns.map(|(table, heading)| format!("{table}: the column \"{heading}\""));
        unused.extend(columns);
    }
    list("Not used", &unused);
    text
}

/// A line for each assumption, with its source.
pub fn assumed(made: &Made) -> Vec<String> {
    let lines = made.assumed.iter();
    lines
        .map(|one| format!("{} ({})", one.what, one.source))
        .collect()
}
