//! What the ledger has for a cause beside what is avoided without it, and why the two differ.

use super::sentences::amount;
use crate::observe::LateCause;
use crate::report::answer::{Answer, Block, Cell, Column, Form, Part, Table};
use crate::report::number::Unit;
use crate::report::plain_text::capital;
use crate::statistics::Interval;
use crate::studies::{BesideLedger, Counterfactual, Counterfactuals, Gone};

/// Other causes that a sentence names.
const NAMED: usize = 2;

/// Late loads below which a part of a difference is not worth a word.
const SMALL: f64 = 0.05;

/// Why the two need not agree.
const TWO_WAYS: &str = "The two are counted in different ways. Without a delay the trucks, bays and drivers behind it are free \
     earlier as well, and what one thing no longer holds up may meet the next. Where they differ by more than 15%, this is how:";

/// Adds the section of the page, and `lateness_avoided.csv`.
pub(super) fn add(answer: &Counterfactuals, to: &mut Answer) {
    to.tables.push(by_cause(answer));
    if answer.as_it_is.late_loads == 0.0
        || !answer.changes.iter().any(|c| c.beside_ledger.is_some())
    {
        return;
    }
    let table = side_by_side(answer);
    let mut blocks = vec![Block::Table(table.name), Block::Note(TWO_WAYS.into())];
    to.tables.push(table);
    let sentences: Vec<String> = answer.changes.iter().filter_map(why).collect();
    blocks.extend(sentences.into_iter().map(Block::Note));
    to.section(
        "What late loads are put down to, and what is avoided",
        blocks,
    );
}

fn side_by_side(answer: &Counterfactuals) -> Table {
    let mut table = Table::new(
        "beside_ledger",
        vec![
            Column::new("changed").left(),
            Column::new("late loads put down to").left(),
            Column::new("today"),
            Column::new("of these avoided"),
            Column::new("others avoided"),
            Column::new("avoided in all"),
        ],
    );
    for change in &answer.changes {
        let Some(ledger) = &change.beside_ledger else {
            continue;
        };
        table.row([
            change.change.words().into(),
            words(ledger).into(),
            give_or_take(ledger.there, ledger.there_interval),
            give_or_take(ledger.own.mean, ledger.own.interval),
            Cell::number(change.late_loads.mean - ledger.own.mean, Unit::Plain, 1),
            give_or_take(change.late_loads.mean, change.late_loads.interval),
        ]);
    }
    table
}

/// `5.2 ± 0.4`.
fn give_or_take(value: f64, interval: Interval) -> Cell {
    let decimals = |value: f64| if value.abs() >= 99.95 { 0 } else { 1 };
    let mut words = Unit::Plain.show(value, decimals(value));
    if interval.is_bounded() {
        let half = interval.half_width();
        words = format!("{words} ± {}", Unit::Plain.show(half, decimals(value)));
    }
    Cell::Worded {
        words,
        value: Some(value),
        low: Some(interval.low),
        high: Some(interval.high),
    }
}

fn words(ledger: &BesideLedger) -> String {
    let words: Vec<&str> = ledger.causes.iter().map(|cause| cause.words()).collect();
    words.join("; ")
}

/// Why the two differ, if they do notably; none if they agree or the difference may be luck.
pub(super) fn why(change: &Counterfactual) -> Option<String> {
    let ledger = change.beside_ledger.as_ref()?;
    let avoided = change.late_loads.mean;
    let both_sure = ledger.there_interval.is_bounded() && change.late_loads.interval.is_bounded();
    let apart = ledger.there_interval.low > change.late_loads.interval.high
        || change.late_loads.interval.low > ledger.there_interval.high;
    if !(both_sure && apart && ledger.differs(avoided)) {
        return None;
    }
    let mut parts = Vec::new();
    let stay = ledger.there - ledger.own.mean;
    if stay > SMALL {
        parts.push(format!(
            "{} of them stay late for the same cause",
            amount(stay)
        ));
    }
    let others = avoided - ledger.own.mean;
    if others > SMALL {
        parts.push(format!(
            "{} more are avoided that are put down to other causes{}",
            amount(others),
            named(change, ledger, |gone| gone.mean)
        ));
    } else if others < -SMALL {
        parts.push(format!(
            "{} are late for other causes instead{}",
            amount(-others),
            named(change, ledger, |gone| -gone.mean)
        ));
    }
    if parts.is_empty() {
        return None;
    }
    Some(format!(
        "{}: {} late loads are put down to what it changes, and {} are avoided. {}.",
        capital(change.change.words()),
        amount(ledger.there),
        if avoided < 0.0 {
            "none".into()
        } else {
            amount(avoided)
        },
        capital(&parts.join("; "))
    ))
}

/// ` (2.1 no truck free, 1.0 waiting to load)`: the other causes with most.
fn named(change: &Counterfactual, ledger: &BesideLedger, size: impl Fn(&Gone) -> f64) -> String {
    let mut others: Vec<(f64, LateCause)> = LateCause::ALL
        .into_iter()
        .zip(&change.by_cause)
        .filter(|(cause, _)| !ledger.causes.contains(cause))
        .map(|(cause, gone)| (size(gone), cause))
        .filter(|(size, _)| *size > SMALL)
        .collect();
    others.sort_by(|a, b| b.0.total_cmp(&a.0));
    let named: Vec<String> = others
        .iter()
        .take(NAMED)
        .map(|(size, cause)| format!("{} {}", amount(*size), cause.words()))
        .collect();
    if named.is_empty() {
        return String::new();
    }
    format!(" ({})", named.join(", "))
}

/// `lateness_avoided.csv`: one line for each change and cause of the ledger, late loads of a mean replication.
fn by_cause(answer: &Counterfactuals) -> Table {
    let mut table = Table::new(
        "lateness_avoided",
        vec![
            Column::file("change"),
            Column::file("words"),
            Column::file("cause"),
            Column::file("cause_words"),
            Column::file("late_loads"),
            Column::file("avoided")
                .part("low", Part::Low)
                .part("high", Part::High),
        ],
    );
    let n = answer.replications().max(1) as f64;
    let causes = &answer.ledger.rules[0].causes;
    for change in &answer.changes {
        for (cause, gone) in LateCause::ALL.into_iter().zip(&change.by_cause) {
            table.row([
                change.change.key().into(),
                change.change.words().into(),
                cause.key().into(),
                cause.words().into(),
                (causes.loads_of(cause) / n).into(),
                Cell::Estimate {
                    value: Some(gone.mean),
                    interval: gone.interval,
                    at_least: None,
                    form: Form::new(Unit::Plain, 2),
                },
            ]);
        }
    }
    table
}
