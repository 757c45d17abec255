//! Why drivers are stranded and concrete is dumped.

use super::side_by_side::by_rule;
use crate::observe::Loss;
use crate::report::answer::{Answer, Block, Cell, Column, Form, Part, Table};
use crate::report::number::{Unit, level};
use crate::report::period;
use crate::statistics::Interval;
use crate::studies::Comparison;

/// The losses that this scenario can have.
pub(in crate::report) fn known(found: &Comparison) -> impl Iterator<Item = Loss> {
    let computed = !found.per_hundred.is_empty();
    let known = move |loss: &Loss| computed || !loss.of_computed_concrete();
    Loss::ALL.into_iter().filter(known)
}

/// How often in the mean replication, with its interval, which does not reach below none.
fn often(found: &Comparison, rule: usize, loss: Loss) -> Cell {
    let (mean, interval) = found.loss(rule, loss);
    let interval = match interval {
        Interval { low, high } if interval.is_bounded() => Interval {
            low: low.max(0.0),
            high,
        },
        unbounded => unbounded,
    };
    Cell::Estimate {
        value: Some(mean),
        interval,
        at_least: None,
        form: Form::new(Unit::Plain, 3),
    }
}

/// `losses.csv`: drivers stranded and loads dumped, one line for each rule and cause, per replication.
fn table(found: &Comparison) -> Table {
    let mean = Column::file("mean")
        .part("mean_low", Part::Low)
        .part("mean_high", Part::High);
    let mut table = Table::new(
        "losses",
        vec![
            Column::file("rule"),
            Column::file("loss"),
            Column::file("words"),
            mean,
            Column::file("at_most_if_never"),
        ],
    );
    for (place, rule) in found.rules.iter().enumerate() {
        for loss in known(found) {
            let never = found.loss(place, loss).0 == 0.0;
            table.row([
                rule.name.as_str().into(),
                loss.key().into(),
                loss.words().into(),
                often(found, place, loss),
                never.then(|| found.at_most_if_never()).into(),
            ]);
        }
    }
    table
}

/// The same for the page: losses that happen under some rule, one column for each rule.
pub(in crate::report) fn add_section(found: &Comparison, answer: &mut Answer) {
    answer.tables.push(table(found));
    let happens = |loss: &Loss| (0..found.rules.len()).any(|rule| found.loss(rule, *loss).0 > 0.0);
    let first = format!("average {}", period::per(found.days));
    let mut shown = Table::new("losses-side-by-side", by_rule(found, first));
    for loss in known(found).filter(happens) {
        let cells = (0..found.rules.len()).map(|rule| match found.loss(rule, loss) {
            (0.0, _) => Cell::none(),
            _ => often(found, rule, loss),
        });
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
                "Drivers and loads; in brackets the {} interval of each average.",
                level(found.level)
            )),
        ],
    );
    answer.tables.push(shown);
}
