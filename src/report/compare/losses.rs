//! Why drivers are stranded and concrete is dumped.

use super::side_by_side::by_rule;
use super::tables::{said_cells, said_columns};
use crate::observe::Loss;
use crate::report::answer::{Answer, Block, Cell, Column, Form, Table};
use crate::report::number::{Unit, level};
use crate::report::{period, statement};
use crate::statistics::{Interval, Statement};
use crate::studies::Comparison;

/// The losses that this scenario can have.
pub(in crate::report) fn known(found: &Comparison) -> impl Iterator<Item = Loss> {
    let computed = !found.per_hundred.is_empty();
    let known = move |loss: &Loss| {
        (computed || !loss.of_computed_concrete()) && found.columns[loss.figure()].is_told()
    };
    Loss::ALL.into_iter().filter(known)
}

/// How often, with the interval, which does not reach below none.
fn often(found: &Comparison, said: Statement) -> Cell {
    statement::cell(said, found.days, false, |mean, interval| {
        statement::estimate(mean, not_below_none(interval), Form::new(Unit::Plain, 3))
    })
}

/// The interval of the mean of a count.
pub(super) fn not_below_none(interval: Interval) -> Interval {
    match interval {
        Interval { low, high } if interval.is_bounded() => Interval {
            low: low.max(0.0),
            high,
        },
        unbounded => unbounded,
    }
}

/// `losses.csv`: drivers stranded and loads dumped, one line for each rule and cause, per replication.
fn table(found: &Comparison) -> Table {
    let columns = ["rule", "loss", "words"].map(Column::file).into_iter();
    let mut table = Table::new("losses", columns.chain(said_columns()).collect());
    for (place, rule) in found.rules.iter().enumerate() {
        for loss in known(found) {
            let name = [
                rule.name.as_str().into(),
                loss.key().into(),
                loss.words().into(),
            ];
            let said = match found.loss(place, loss) {
                Statement::Mean { mean, interval } => Statement::Mean {
                    mean,
                    interval: not_below_none(interval),
                },
                said => said,
            };
            table.row(name.into_iter().chain(said_cells(said)));
        }
    }
    table
}

/// The same for the page: losses that happen under some rule, one column for each rule.
pub(in crate::report) fn add_section(found: &Comparison, answer: &mut Answer) {
    answer.tables.push(table(found));
    let happens = |loss: &Loss| {
        let mut all = (0..found.rules.len()).map(|rule| found.loss(rule, *loss));
        all.any(|said| said.size() > 0.0)
    };
    let first = format!("average {}", period::per(found.days));
    let mut shown = Table::new("losses-side-by-side", by_rule(found, first));
    for loss in known(found).filter(happens) {
        let cells = (0..found.rules.len()).map(|rule| often(found, found.loss(rule, loss)));
        shown.row(std::iter::once(loss.words().into()).chain(cells));
    }
    if shown.rows.is_empty() {
        return;
    }
    answer.section(
        "Why drivers are stranded and concrete is dumped",
        vec![
            Block::Table(shown.name),
            Block::Note(format!(
                "Drivers and loads; in brackets the {} interval of each average. {}",
                level(found.level),
                statement::FEW
            )),
        ],
    );
    answer.tables.push(shown);
}
