//! Tables: order by order, change by change, and what each change does to each order.

use super::sentences::name;
use crate::report::answer::{Cell, Column, Form, Part, Table};
use crate::report::number::{Unit, number};
use crate::report::plain_text::capital;
use crate::studies::{Board, Chance, Estimate, OrderAhead};
use crate::units::Millis;
use crate::units::measure::Quantity;

/// The name of the table of changes.
pub(super) const CHANGES: &str = "changes";
/// The name of the table of lateness by cause.
pub(super) const LATENESS: &str = "lateness";
/// What is said below the orders on a screen.
pub(super) const LEGEND: &str =
    "Minutes to spare in the middle run (one run in ten has no more); below zero, too late.";
/// Orders and changes that a screen shows.
const ORDERS: usize = 7;
const TRIED: usize = 4;

/// Every order, the weakest first.
pub(super) fn orders(found: &Board) -> Table {
    let chance = |heading: &str, key: &str| Column::new(heading).without_interval().with_ends(key);
    let spare = |heading: &str, brief: &str, key: &str| {
        Column::new(heading)
            .brief(brief)
            .key(format!("{key}_middle_min"))
            .part(format!("{key}_one_in_ten_min"), Part::Low)
    };
    let mut table = Table::new(
        "orders",
        vec![
            Column::new("order").left().key("order"),
            Column::new("first load due").brief("due").key("due_min"),
            Column::file("volume_yd3"),
            chance("breaks", "breaks"),
            chance("late", "late"),
            chance("gap", "gap"),
            chance("not delivered", "undelivered").brief("missing"),
            spare(
                "first load: min to spare (1 in 10)",
                "spare, first",
                "first_spare",
            ),
            spare(
                "any load: min to spare (1 in 10)",
                "spare, any",
                "least_spare",
            ),
            Column::new("most of its lateness")
                .left()
                .page_only()
                .key("cause"),
            Column::file("runs"),
        ],
    );
    for (nth, order) in found.orders.iter().enumerate() {
        let written = &found.scenario.orders[order.order.at()];
        let due = written.first - Millis::midnight(written.first.day());
        let cause = order.causes.first();
        table
            .row([
                name(found, order).into(),
                Cell::worded(due.to_string(), Some(due.minutes())),
                Cell::number(Quantity::Volume.told(written.volume.yd3()), Unit::Plain, 1),
                seen(&order.breaks),
                share(&order.late),
                share(&order.gap),
                share(&order.undelivered),
                to_spare(order.first_spare),
                to_spare(order.least_spare),
                cause.map_or(Cell::Blank, |(cause, _)| cause.words().into()),
                (order.breaks.of as f64).into(),
            ])
            .marked(nth < found.troubled)
            .screen(nth < ORDERS);
    }
    table
}

/// A chance with its interval; what never was is a dot.
fn seen(chance: &Chance) -> Cell {
    match chance.times {
        0 => share(chance),
        _ => Cell::chance(chance, decimals(chance)),
    }
}

/// A share below 1% has a decimal.
fn decimals(chance: &Chance) -> usize {
    usize::from(chance.share() < 0.01)
}

/// A chance whose interval only files have.
fn share(chance: &Chance) -> Cell {
    let words = match chance.times {
        0 => "·".into(),
        _ => Unit::Share.show(chance.share(), decimals(chance)),
    };
    Cell::Worded {
        words,
        value: Some(chance.share()),
        low: Some(chance.interval.low),
        high: Some(chance.interval.high),
    }
}

/// `12 (−8)`: in the middle, and in one run in ten at most.
fn to_spare([middle, tenth]: [Option<f64>; 2]) -> Cell {
    let Some((middle, tenth)) = middle.zip(tenth) else {
        return Cell::unknown();
    };
    Cell::Worded {
        words: format!("{} ({})", number(middle, 0), number(tenth, 0)),
        value: Some(middle),
        low: Some(tenth),
        high: None,
    }
}

/// Every change, the best first.
pub(super) fn changes(found: &Board) -> Table {
    let mut table = Table::new(
        CHANGES,
        vec![
            Column::new("change").left().key("words"),
            Column::file("change"),
            Column::new("holds").key("holds"),
            Column::new("orders that break")
                .without_interval()
                .with_ends("broken"),
            Column::new("price").without_interval().with_ends("price"),
            Column::new("all costs")
                .without_interval()
                .page_only()
                .with_ends("cost"),
        ],
    );
    for (nth, tried) in found.changes.iter().enumerate() {
        let holds = match tried.holds {
            0 => Cell::worded("·", Some(0.0)),
            some => Cell::worded(format!("{some} of {}", found.troubled), Some(some as f64)),
        };
        table
            .row([
                capital(&tried.change.words(&found.scenario)).into(),
                tried.change.key().into(),
                holds,
                changed(&tried.broken, Unit::Plain),
                tried
                    .price
                    .as_ref()
                    .map_or(Cell::unknown(), |price| changed(price, Unit::Money)),
                changed(&tried.cost, Unit::Money),
            ])
            .marked(nth == 0 && tried.holds > 0)
            .screen(nth < TRIED);
    }
    table
}

/// A difference, with as many decimals as are sure.
fn changed(estimate: &Estimate, unit: Unit) -> Cell {
    let half = estimate.interval.half_width();
    let decimals = match unit {
        Unit::Plain => unit.decimals(half).max(1),
        _ => unit.decimals(half),
    };
    Cell::Estimate {
        value: estimate.mean,
        interval: estimate.interval,
        at_least: None,
        form: Form::new(unit, decimals).signed(),
    }
}

/// `tried.csv`: each order with each change.
pub(super) fn tried(found: &Board) -> Table {
    let columns = vec![
        Column::file("change"),
        Column::file("words"),
        Column::file("order"),
        Column::file("breaks_as_planned"),
        Column::new("").only_in_files().with_ends("breaks"),
        Column::file("difference_low"),
        Column::file("difference_high"),
        Column::file("held"),
    ];
    let mut table = Table::new("tried", columns);
    for tried in &found.changes {
        let both = found.orders.iter().zip(&tried.orders);
        for (order, held) in both {
            let planned = |order: &OrderAhead| order.breaks.share();
            table.row([
                tried.change.key().into(),
                tried.change.words(&found.scenario).into(),
                name(found, order).into(),
                planned(order).into(),
                Cell::chance(&held.breaks, 3),
                held.difference.low.into(),
                held.difference.high.into(),
                Cell::yes(held.held),
            ]);
        }
    }
    table
}

/// `lateness.csv`: minutes late of each order by cause.
pub(super) fn lateness(found: &Board) -> Table {
    let columns = ["order", "cause", "minutes_late"];
    let mut table = Table::new(LATENESS, columns.map(Column::file).into());
    for order in &found.orders {
        for (cause, minutes) in &order.causes {
            table.row([
                name(found, order).into(),
                cause.words().into(),
                (*minutes).into(),
            ]);
        }
    }
    table
}
