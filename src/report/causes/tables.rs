//! CSV tables: what each change does, and every figure of every replication.

use crate::observe::{columns, figure};
use crate::report::csv_text::{Cell, Table};
use crate::scenario::Scenario;
use crate::studies::{Counterfactual, Counterfactuals, Gone};

/// The figures of a change, by name.
pub(super) fn figures_of(change: &Counterfactual) -> [(&'static str, Gone); 5] {
    [
        ("worth", change.worth),
        ("late_loads", change.late_loads),
        ("undelivered", change.undelivered),
        ("stranded", change.stranded),
        ("dumped_yd3", change.dumped_yd3),
    ]
}

/// `worth.csv`: one line for each change and figure, means of a replication.
pub(super) fn worth(answer: &Counterfactuals) -> Vec<u8> {
    let mut table = Table::new(&[
        "change",
        "words",
        "figure",
        "gone",
        "low",
        "high",
        "share",
        "share_low",
        "share_high",
    ]);
    for change in &answer.changes {
        for (key, gone) in figures_of(change) {
            table.row([
                Cell::Text(change.change.key()),
                Cell::Text(change.change.words()),
                Cell::Text(key),
                Cell::Number(gone.mean),
                Cell::Number(gone.interval.low),
                Cell::Number(gone.interval.high),
                gone.share.into(),
                Cell::Number(gone.share_interval.low),
                Cell::Number(gone.share_interval.high),
            ]);
        }
    }
    table.finish()
}

/// `figures.csv`: one line for each replication and change, `as_it_is` first.
pub(super) fn figures(answer: &Counterfactuals, scenario: &Scenario) -> Vec<u8> {
    let columns = columns(scenario);
    let mut headings = vec!["replication", "change"];
    headings.extend(columns[..figure::COUNT].iter().map(|c| c.key.as_str()));
    let mut table = Table::new(&headings);
    for replication in answer.rows.replications() {
        let changed = answer.cases.iter().map(|change| change.key());
        for (case, key) in std::iter::once("as_it_is").chain(changed).enumerate() {
            let row = &answer.rows.row(case, replication)[..figure::COUNT];
            table.row(
                [Cell::Number(replication as f64), Cell::Text(key)]
                    .into_iter()
                    .chain(row.iter().map(|value| Cell::Single(*value))),
            );
        }
    }
    table.finish()
}
