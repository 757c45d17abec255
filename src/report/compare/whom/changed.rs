//! The orders and the drivers that change most: picked in one half of the replications, told from the other, so that picking does not
//! flatter.

use super::files::{Lines, about_order};
use super::shown::{amount, change_in, difference, under_base};
use super::{average, key};
use crate::observe::{of_driver, of_order};
use crate::report::answer::{Answer, Block, Column, Table};
use crate::report::number::{count, level};
use crate::report::period;
use crate::scenario::Scenario;
use crate::studies::{At, Comparison, Who};

/// So many are shown.
const MOST: usize = 10;

/// A list of those that change most.
struct List {
    who: Who,
    /// By what they are picked.
    figure: usize,
    /// Figures that are shown.
    figures: &'static [usize],
    heading: &'static str,
    by: &'static str,
    file: &'static str,
    shown: &'static str,
}

const LISTS: [List; 2] = [
    List {
        who: Who::Order,
        figure: of_order::LATENESS,
        figures: &[of_order::LATENESS, of_order::LATE, of_order::UNDELIVERED],
        heading: "The orders that change most",
        by: "lateness",
        file: "orders_that_change",
        shown: "orders-that-change-shown",
    },
    List {
        who: Who::Driver,
        figure: of_driver::DUTY,
        figures: &[
            of_driver::DUTY,
            of_driver::OVERTIME,
            of_driver::STRANDED,
            of_driver::EARLY,
            of_driver::LATE,
        ],
        heading: "The drivers whose hours change most",
        by: "time on duty",
        file: "drivers_that_change",
        shown: "drivers-that-change-shown",
    },
];

pub(super) fn add(found: &Comparison, scenario: &Scenario, rule: usize, answer: &mut Answer) {
    for list in &LISTS {
        list.add(found, scenario, rule, answer);
    }
}

impl List {
    fn add(&self, found: &Comparison, scenario: &Scenario, rule: usize, answer: &mut Answer) {
        let Some(lines) = found.whom.most_changed(self.who, self.figure, rule, MOST) else {
            let text = "To pick those that change most in one half of the runs and tell them from the other takes four runs.";
            answer.section(self.heading, vec![Block::Note(text.into())]);
            return;
        };
        if lines.is_empty() {
            let text = format!("No {} changes in {}.", key(self.who), self.by);
            answer.section(self.heading, vec![Block::Text(text)]);
            return;
        }
        let mut file = Lines::new(self.file, found, scenario, self.who);
        let named = scenario.orders.iter().any(|order| order.customer.is_some());
        let any = |figure: &usize| found.whom.any(self.who, *figure);
        let figures: Vec<usize> = self.figures.iter().copied().filter(any).collect();
        let mut table = Table::new(self.shown, self.columns(found, named, &figures));

        for line in &lines {
            let mut cells = vec![found.whom.names(self.who)[*line].as_str().into()];
            if self.who == Who::Order {
                let [customer, first_load] = about_order(found, scenario, *line);
                cells.extend(named.then_some(customer).into_iter().chain([first_load]));
            }
            for (place, figure) in (0..).zip(&figures) {
                let column = &found.whom.columns(self.who)[*figure];
                let at = |rule: usize| At {
                    rule,
                    who: self.who,
                    line: *line,
                    figure: *figure,
                };
                let (base, _) = found.whom.in_odd_half(at(found.base), 1);
                let (said, change) = found.whom.in_odd_half(at(rule), lines.len());
                file.add(at(found.base), None, base, None);
                file.add(at(rule), None, said, Some(change));
                if place == 0 {
                    cells.push(amount(found, column, base));
                }
                cells.push(difference(column, change));
            }
            table.row(cells);
        }
        let odd = period::simulated(found.whom.odd_replications(), found.days);
        answer.section(
            self.heading,
            vec![
                Block::Table(table.name),
                Block::Note(format!(
                    "{} {}s, picked by the change of {} in the even-numbered runs; what is told is seen in the {odd} with odd numbers, which \
                     had no part in picking. {}, with the {} interval for all of them at once.",
                    count(lines.len() as u64),
                    key(self.who),
                    self.by,
                    average(found),
                    level(found.level)
                )),
            ],
        );
        answer.tables.extend([table, file.table]);
    }

    fn columns(&self, found: &Comparison, named: bool, figures: &[usize]) -> Vec<Column> {
        let mut columns = vec![Column::new(key(self.who)).left()];
        if self.who == Who::Order {
            let headings = named
                .then_some("customer")
                .into_iter()
                .chain(["first load"]);
            columns.extend(headings.map(|name| Column::new(name).left()));
        }
        let all = found.whom.columns(self.who);
        columns.push(under_base(found, &all[self.figure]));
        columns.extend(figures.iter().map(|figure| change_in(&all[*figure])));
        columns
    }
}
