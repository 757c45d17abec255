//! CSV tables: every figure of every replication, and their summary.

use crate::report::csv_text::{Cell, Table};
use crate::studies::Comparison;

/// `figures.csv`: one line for each replication and rule.
pub(super) fn figures(answer: &Comparison) -> Vec<u8> {
    let mut headings = vec!["replication", "rule"];
    headings.extend(answer.columns.iter().map(|column| column.key.as_str()));
    let mut table = Table::new(&headings);
    for replication in answer.rows.replications() {
        for (case, rule) in answer.rules.iter().enumerate() {
            let figures = answer
                .rows
                .row(case, replication)
                .iter()
                .map(|value| Cell::Single(*value));
            table.row(
                [Cell::Number(replication as f64), Cell::Text(&rule.name)]
                    .into_iter()
                    .chain(figures),
            );
        }
    }
    table.finish()
}

/// `summary.csv`: one line for each rule and figure.
pub(super) fn summary(answer: &Comparison) -> Vec<u8> {
    let mut table = Table::new(&[
        "rule",
        "figure",
        "unit",
        "replications",
        "blanks",
        "mean",
        "mean_low",
        "mean_high",
        "sd",
        "median",
        "p95",
        "at_most_if_never",
        "difference_from_base",
        "difference_low",
        "difference_high",
        "variance_reduction",
        "median_low",
        "median_high",
        "p95_low",
        "p95_high",
    ]);
    for rule in &answer.rules {
        for (column, figure) in answer.columns.iter().zip(&rule.figures) {
            let difference = figure.difference.as_ref();
            // What never was is bounded, not estimated.
            let estimated = figure.at_most.is_none().then_some(figure.interval);
            table.row([
                Cell::Text(&rule.name),
                Cell::Text(&column.key),
                Cell::Text(column.unit.text()),
                Cell::Number(figure.summary.n() as f64),
                Cell::Number(figure.summary.blanks() as f64),
                figure.summary.mean().into(),
                estimated.map(|i| i.low).into(),
                estimated.map(|i| i.high).into(),
                figure.summary.sd().into(),
                figure.median.into(),
                figure.p95.into(),
                figure.at_most.into(),
                difference.and_then(|d| d.mean).into(),
                difference.map(|d| d.interval.low).into(),
                difference.map(|d| d.interval.high).into(),
                difference.and_then(|d| d.variance_reduction).into(),
                figure.median_interval.map(|i| i.low).into(),
                figure.median_interval.map(|i| i.high).into(),
                figure.p95_interval.map(|i| i.low).into(),
                figure.p95_interval.map(|i| i.high).into(),
            ]);
        }
    }
    table.finish()
}
