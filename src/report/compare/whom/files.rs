//! The files: one line for each rule, each of whom it is told, and each figure.

use super::{Change, key};
use crate::report::answer::{Cell, Column, Table};
use crate::report::compare::tables::{
    difference_cells, difference_columns, said_cells, said_columns,
};
use crate::report::summary::words::moment;
use crate::scenario::Scenario;
use crate::statistics::{Contrast, Statement};
use crate::studies::{At, Comparison, Who};
use crate::units::OrderId;

/// `by_order.csv`, `by_customer.csv`, …: every rule and everybody.
pub(super) fn all(found: &Comparison, scenario: &Scenario, who: Who) -> Table {
    let name = match who {
        Who::Order => "by_order",
        Who::Customer => "by_customer",
        Who::Plant => "by_plant",
        Who::Weekday => "by_weekday",
        Who::Driver => "by_driver",
    };
    let mut lines = Lines::new(name, found, scenario, who);
    // Of orders there are so many that the JSON has those of the page alone.
    lines.table.json = who != Who::Order;
    for rule in 0..found.rules.len() {
        for line in 0..found.whom.names(who).len() {
            for figure in 0..found.whom.columns(who).len() {
                let at = At {
                    rule,
                    who,
                    line,
                    figure,
                };
                let difference = (rule != found.base).then(|| found.whom.difference(at));
                lines.add(
                    at,
                    Some(found.whom.total(at)),
                    found.whom.said(at),
                    difference,
                );
            }
        }
    }
    lines.table
}

/// A file in the making.
pub(super) struct Lines<'a> {
    pub(super) table: Table,
    found: &'a Comparison,
    scenario: &'a Scenario,
    who: Who,
}

impl<'a> Lines<'a> {
    pub(super) fn new(
        name: &'static str,
        found: &'a Comparison,
        scenario: &'a Scenario,
        who: Who,
    ) -> Self {
        let names = ["rule", key(who)].map(Column::file);
        let of_orders = match who {
            Who::Order => ["customer", "first_load"].map(Column::file).to_vec(),
            _ => Vec::new(),
        };
        let figure = ["figure", "unit", "total"].map(Column::file);
        let columns = names.into_iter().chain(of_orders).chain(figure);
        let columns = columns
            .chain(said_columns())
            .chain(difference_columns())
            .chain([Column::file("change")]);
        Self {
            table: Table::new(name, columns.collect()),
            found,
            scenario,
            who,
        }
    }

    /// A figure of a line; its difference from the base where it is not the base's.
    pub(super) fn add(
        &mut self,
        at: At,
        total: Option<f64>,
        said: Statement,
        difference: Option<Contrast>,
    ) {
        let whom = &self.found.whom;
        let column = &whom.columns(self.who)[at.figure];
        let rule = self.found.rules[at.rule].name.as_str();
        let mut cells: Vec<Cell> = vec![rule.into(), whom.names(self.who)[at.line].as_str().into()];
        if self.who == Who::Order {
            cells.extend(about_order(self.found, self.scenario, at.line));
        }
        cells.extend([
            column.key.as_str().into(),
            column.unit.text().into_owned().into(),
            total.into(),
        ]);
        cells.extend(said_cells(said));
        cells.extend(difference_cells(difference));
        cells.push(difference.map_or(Cell::Blank, |said| {
            Change::of(column.better, said).key().into()
        }));
        self.table.row(cells);
    }
}

/// Customer of a line of orders, and when its first load is due.
pub(super) fn about_order(found: &Comparison, scenario: &Scenario, line: usize) -> [Cell; 2] {
    let mut lines = found.whom.lines(Who::Order).iter();
    let first = lines.position(|other| *other == line).map(OrderId::new);
    let order = first.and_then(|first| scenario.orders.get(first.at()));
    let Some(order) = order else {
        return [Cell::Blank, Cell::Blank];
    };
    let customer = order.customer.as_deref();
    let period = &scenario.period;
    let due = (order.slot.is_none()).then(|| moment(order.first, period.first_day, period.days));
    [
        customer.map_or(Cell::Blank, Cell::from),
        due.map_or(Cell::Blank, Cell::from),
    ]
}
