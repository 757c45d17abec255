//! The files: one line for each rule, each of whom it is told, and each figure.

use super::{Change, key};
use crate::report::answer::csv::Growing;
use crate::report::answer::{Cell, Column, Content, Table};
use crate::report::compare::tables::{
    difference_cells, difference_columns, said_cells, said_columns,
};
use crate::report::summary::words::moment;
use crate::scenario::Scenario;
use crate::statistics::{Contrast, Statement};
use crate::studies::{At, Comparison, Who};
use crate::units::OrderId;
use std::io::Write;
use std::sync::Arc;

/// `by_customer.csv`, `by_plant.csv`, …: every rule and everybody.
pub(super) fn all(found: &Comparison, scenario: &Scenario, who: Who) -> Table {
    let mut lines = Lines::new(name(who), found, scenario, who);
    all_at(found, who).for_each(|at| lines.add_all(at));
    lines.table
}

/// `by_order.csv`: every rule and every order. Of orders there may be so many that they are written line by line when that is wanted, and
/// the JSON has those of the page alone.
pub(super) fn orders(found: &Arc<Comparison>, scenario: &Arc<Scenario>) -> (String, Content) {
    let table = Lines::new(name(Who::Order), found, scenario, Who::Order).table;
    let rows = 1 + all_at(found, Who::Order).count();
    let (found, scenario) = (Arc::clone(found), Arc::clone(scenario));
    let write = move |to: &mut dyn Write| {
        let mut lines = Lines::new(name(Who::Order), &found, &scenario, Who::Order);
        let mut text = Growing::to(to, &lines.table)?;
        for at in all_at(&found, Who::Order) {
            lines.add_all(at);
            text.add(&lines.table)?;
            lines.table.rows.clear();
        }
        text.end()
    };
    let cells = rows * table.keys().count();
    (table.file_name(), Content::table(cells, write))
}

fn name(who: Who) -> &'static str {
    match who {
        Who::Order => "by_order",
        Who::Customer => "by_customer",
        Who::Plant => "by_plant",
        Who::Weekday => "by_weekday",
        Who::Driver => "by_driver",
    }
}

/// Every figure of everybody under every rule.
fn all_at(found: &Comparison, who: Who) -> impl Iterator<Item = At> {
    let (lines, figures) = (found.whom.names(who).len(), found.whom.columns(who).len());
    let all = 0..found.rules.len() * lines * figures;
    all.map(move |at| At {
        rule: at / figures / lines,
        who,
        line: at / figures % lines,
        figure: at % figures,
    })
}

/// A file in the making.
pub(super) struct Lines<'a> {
    pub(super) table: Table,
    found: &'a Comparison,
    scenario: &'a Scenario,
    who: Who,
    /// The line told last, and what is told of its order.
    about: Option<(usize, [Cell; 2])>,
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
            about: None,
        }
    }

    /// A figure of a line, with its difference from the base and its sum, over all replications.
    fn add_all(&mut self, at: At) {
        let (found, whom) = (self.found, &self.found.whom);
        let difference = (at.rule != found.base).then(|| whom.difference(at));
        self.add(at, Some(whom.total(at)), whom.said(at), difference);
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
            let (_, about) = match self.about.take() {
                Some(known) if known.0 == at.line => known,
                _ => (at.line, about_order(self.found, self.scenario, at.line)),
            };
            cells.extend(about.clone());
            self.about = Some((at.line, about));
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
