//! Files that are no scenario: what they look like, and where a newcomer finds one.

use std::path::Path;

use crate::scenario::problem::{Problem, nearest};

const NEW: &str = "`plantday new FILE` writes a short scenario to begin with";

/// The problems of a text whose syntax is broken, in words for someone who has never seen a scenario, if it looks like one of those.
pub(super) fn explained(text: &str, mut found: Vec<Problem>) -> Vec<Problem> {
    if let Some(table) = table(text) {
        return vec![table];
    }
    if text.trim_start_matches('\u{feff}').trim().is_empty() {
        found = found.into_iter().map(|problem| problem.help(NEW)).collect();
    }
    found
}

/// The file beside a path without one that is most likely meant, as the end of a message; or that there is no such folder.
pub(super) fn beside(path: &Path) -> String {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let Ok(entries) = std::fs::read_dir(folder) else {
        return format!("; there is no folder {}", folder.display());
    };
    let files = entries.flatten().filter(|entry| entry.path().is_file());
    let mut names: Vec<String> = files
        .filter_map(|entry| entry.file_name().into_string().ok())
        .filter(|name| !name.contains(char::is_control))
        .collect();
    names.sort();
    let written = path.file_name().unwrap_or_default().to_string_lossy();
    let stem = |name: &str| Path::new(name).file_stem().map(ToOwned::to_owned);
    let only_by_ending = |name: &&String| stem(name) == stem(&written) && name.ends_with(".ron");
    let meant = names.iter().find(only_by_ending).map(String::as_str);
    let meant = meant.or_else(|| nearest(&written, names.iter().map(String::as_str)));
    meant.map_or(String::new(), |meant| {
        format!(
            "; did you mean \"{}\"?",
            path.with_file_name(meant).display()
        )
    })
}

/// A table in text, such as a spreadsheet saves it, is no scenario.
fn table(text: &str) -> Option<Problem> {
    let body = text.trim_start_matches('\u{feff}');
    let start = text.len() - body.trim_start().len();
    let mut lines = body.lines().filter(|line| !line.trim().is_empty());
    let (head, row) = (lines.next()?, lines.next()?);
    // A scenario without its first bracket has fields, which a heading has not: `Spacing (min)` is one.
    if head.trim_start().starts_with('(') || head.contains(['[', '{', ':']) {
        return None;
    }
    let cells = |line: &str, between: char| {
        let mut quoted = false;
        let parts = line.chars().filter(|c| {
            quoted ^= *c == '"';
            *c == between && !quoted
        });
        1 + parts.count()
    };
    let is_between =
        |between: &char| cells(head, *between) > 1 && cells(head, *between) == cells(row, *between);
    [',', ';', '\t'].into_iter().find(is_between)?;
    let shown = head.trim();
    let mut problem = Problem::new(
        start..start + shown.len(),
        "this looks like a table, not like a scenario",
    )
    .label("expected `(`: a scenario looks like `(name: \"…\", plants: […], orders: […], …)`")
    .help(NEW)
    .help("`plantday new FILE --from TABLE …` makes one of the tables that you have");
    if shown.starts_with("driver") {
        problem = problem.help("a driver's log is read by `plantday hours`");
    }
    Some(problem)
}
