//! Charts: what makes each order late, and what each change does.

use super::{sentences, tables};
use crate::observe::LateCause;
use crate::report::answer::Answer;
use crate::report::chart::differences::{self, Better, Difference, Differences};
use crate::report::chart::stacked::{self, Stacked};
use crate::report::number::{Unit, count, level};
use crate::report::period::runs;
use crate::report::plain_text::capital;
use crate::studies::Board;

/// Orders and changes that a chart has room for.
const DRAWN: usize = 10;
/// Causes that are drawn by themselves.
const CAUSES: usize = 5;
const OTHERS: &str = "other causes";

/// Lateness by order and cause, of the orders that are late at all.
pub(super) fn add_lateness(found: &Board, to: &mut Answer) {
    let mut sums: Vec<(LateCause, f64)> = Vec::new();
    for (cause, minutes) in found.orders.iter().flat_map(|order| &order.causes) {
        match sums.iter_mut().find(|(known, _)| known == cause) {
            Some((_, sum)) => *sum += minutes,
            None => sums.push((*cause, *minutes)),
        }
    }
    if sums.is_empty() {
        return;
    }
    sums.sort_by(|a, b| b.1.total_cmp(&a.1));
    let own: Vec<LateCause> = sums.iter().take(CAUSES).map(|(cause, _)| *cause).collect();
    let mut parts: Vec<String> = own.iter().map(|cause| cause.words().to_owned()).collect();
    if sums.len() > own.len() {
        parts.push(OTHERS.into());
    }
    let late = found.orders.iter().filter(|order| !order.causes.is_empty());
    let drawn = parts.len();
    let bars = late.take(DRAWN).map(|order| {
        let mut values = vec![0.0; drawn];
        for (cause, minutes) in &order.causes {
            let part = own.iter().position(|own| own == cause);
            values[part.unwrap_or(own.len())] += minutes;
        }
        (sentences::name(found, order).to_owned(), values)
    });
    let title = format!("Most minutes late: {}", sums[0].0.words());
    let svg = stacked::svg(&Stacked {
        title: title.clone(),
        subtitle: format!(
            "Minutes that late loads of an order are late in a run, by cause; means of {}",
            runs(found.replications)
        ),
        axis: "minutes late in a run".into(),
        unit: Unit::Plain,
        parts,
        bars: bars.collect(),
    });
    to.tables.push(tables::lateness(found));
    to.add_chart(
        "lateness",
        "What makes them late",
        title,
        svg,
        tables::LATENESS,
    );
}

/// What each change does to the number of orders that break.
pub(super) fn add_changes(found: &Board, to: &mut Answer) {
    let rows = found.changes.iter().take(DRAWN).map(|tried| Difference {
        name: capital(&tried.change.words(&found.scenario)),
        mean: tried.broken.mean,
        interval: tried.broken.interval,
        begins: None,
    });
    let title = sentences::decision(found);
    let svg = differences::svg(&Differences {
        title: title.clone(),
        subtitle: format!(
            "One thing changed at a time, on the same {} runs; lines: {} intervals, for all changes at once",
            count(found.tried),
            level(found.level)
        ),
        baseline: "as planned".into(),
        axis: "change in the number of orders that break".into(),
        unit: Unit::Plain,
        better: Better::Lower,
        rows: rows.collect(),
    });
    to.add_chart(
        "changes",
        "What each change does to the orders that break",
        title,
        svg,
        tables::CHANGES,
    );
}
