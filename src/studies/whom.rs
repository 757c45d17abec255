//! For whom: who gains and who loses under each rule against the base, on the same days, by order, customer, plant, weekday and driver.
//!
//! Each replication's figures are whole numbers, of which only exact sums are kept: memory does not grow with the replications, and the
//! sums are the same on any number of threads. Even and odd replications have sums of their own, so that what is picked for having
//! changed most in the one half is told from the other, which picking does not flatter.

mod belongs;

pub(super) use belongs::Belongs;
pub use belongs::Who;

use crate::observe::{Column, Figures, whom_columns, whom_unit};
use crate::scenario::Scenario;
use crate::statistics::{Contrast, PairTally, Statement, Tally};
use belongs::FIGURES;

/// Sums over replications: of every case, and of its differences from the base.
#[derive(Clone, Debug, Default)]
struct Sums {
    replications: u64,
    own: Vec<Tally>,
    against: Vec<PairTally>,
}

impl Sums {
    fn new(figures: usize) -> Self {
        Self {
            replications: 0,
            own: vec![Tally::default(); figures],
            against: vec![PairTally::default(); figures],
        }
    }

    fn merge(&mut self, other: &Self) {
        self.replications += other.replications;
        for (sum, more) in self.own.iter_mut().zip(&other.own) {
            sum.merge(more);
        }
        for (sum, more) in self.against.iter_mut().zip(&other.against) {
            sum.merge(more);
        }
    }
}

/// The sums of even and of odd replications.
#[derive(Clone, Debug)]
pub(super) struct Halves([Sums; 2]);

impl Halves {
    pub(super) fn new(belongs: &Belongs, cases: usize) -> Self {
        let sums = Sums::new(belongs.figures * cases);
        Self([sums.clone(), sums])
    }

    pub(super) fn merge(&mut self, other: &Self) {
        for (sum, more) in self.0.iter_mut().zip(&other.0) {
            sum.merge(more);
        }
    }
}

/// Adds replications to the sums.
#[derive(Debug)]
pub(super) struct Adder<'b> {
    belongs: &'b Belongs,
    base: usize,
    cases: usize,
    /// Of the present replication, case by case.
    values: Vec<i64>,
    pub(super) sums: Halves,
}

impl<'b> Adder<'b> {
    pub(super) fn new(belongs: &'b Belongs, base: usize, cases: usize) -> Self {
        Self {
            belongs,
            base,
            cases,
            values: vec![0; belongs.figures * cases],
            sums: Halves::new(belongs, cases),
        }
    }

    /// The replication of a case is done. The cases of a replication come one after the other, all of them.
    pub(super) fn add(&mut self, case: usize, replication: u64, figures: &Figures<'_>) {
        let width = self.belongs.figures;
        let values = &mut self.values[case * width..(case + 1) * width];
        values.fill(0);
        self.belongs.add(figures, values);
        if case + 1 < self.cases {
            return;
        }
        let half = &mut self.sums.0[(replication % 2) as usize];
        half.replications += 1;
        let base = &self.values[self.base * width..(self.base + 1) * width];
        for (case, values) in self.values.chunks_exact(width).enumerate() {
            let at = case * width..(case + 1) * width;
            for (sum, value) in half.own[at.clone()].iter_mut().zip(values) {
                sum.add(*value);
            }
            if case != self.base {
                let pairs = values.iter().zip(base);
                for (sum, (value, base)) in half.against[at].iter_mut().zip(pairs) {
                    sum.add(*value, *base);
                }
            }
        }
    }
}

/// Who gains and who loses under each rule.
#[derive(Clone, Debug)]
pub struct ForWhom {
    belongs: Belongs,
    columns: [Vec<Column>; 2],
    level: f64,
    rules: usize,
    all: Sums,
    halves: Halves,
}

/// One figure of a line under a rule.
#[derive(Clone, Copy, Debug)]
pub struct At {
    /// Position of the rule.
    pub rule: usize,
    /// Whose.
    pub who: Who,
    /// Position among their names.
    pub line: usize,
    /// Position of the figure among the columns.
    pub figure: usize,
}

impl ForWhom {
    pub(super) fn of(scenario: &Scenario, belongs: &Belongs, halves: Halves, level: f64) -> Self {
        let mut all = halves.0[0].clone();
        all.merge(&halves.0[1]);
        Self {
            belongs: belongs.clone(),
            columns: whom_columns(scenario),
            level,
            rules: all.own.len() / belongs.figures.max(1),
            all,
            halves,
        }
    }

    /// Their names.
    pub fn names(&self, who: Who) -> &[String] {
        &self.belongs.tables[who as usize].names
    }

    /// Their figures.
    pub fn columns(&self, who: Who) -> &[Column] {
        &self.columns[usize::from(who.is_driver())]
    }

    /// The line of each order, plant or driver by its position.
    pub fn lines(&self, who: Who) -> &[usize] {
        &self.belongs.tables[who as usize].of
    }

    fn place(&self, at: At) -> usize {
        let lines = &self.belongs.tables[at.who as usize];
        at.rule * self.belongs.figures + lines.first + at.line * FIGURES + at.figure
    }

    fn column(&self, at: At) -> &Column {
        &self.columns(at.who)[at.figure]
    }

    /// The sum over all replications, in the figure's unit.
    pub fn total(&self, at: At) -> f64 {
        self.all.own[self.place(at)].sum() as f64 * whom_unit(self.column(at))
    }

    fn said_in(&self, sums: &Sums, at: At) -> Statement {
        let column = self.column(at);
        match column.lacks {
            Some(_) => Statement::NotLookedAt,
            None => {
                sums.own[self.place(at)].statement(sums.replications, whom_unit(column), self.level)
            }
        }
    }

    fn difference_in(&self, sums: &Sums, at: At, comparisons: usize) -> Contrast {
        let column = self.column(at);
        match column.lacks {
            Some(_) => Contrast::NotLookedAt,
            None => sums.against[self.place(at)].contrast(
                sums.replications,
                whom_unit(column),
                self.level,
                comparisons,
            ),
        }
    }

    /// What is said of it.
    pub fn said(&self, at: At) -> Statement {
        self.said_in(&self.all, at)
    }

    /// What is said of the rule less the base, with confidence for all rules and all lines of the table at once.
    pub fn difference(&self, at: At) -> Contrast {
        let comparisons = (self.rules - 1) * self.names(at.who).len();
        self.difference_in(&self.all, at, comparisons)
    }

    /// Whether any replication has it under any rule.
    pub fn any(&self, who: Who, figure: usize) -> bool {
        let lines = 0..self.names(who).len();
        let mut all = lines.flat_map(|line| (0..self.rules).map(move |rule| (line, rule)));
        all.any(|(line, rule)| {
            let at = At {
                rule,
                who,
                line,
                figure,
            };
            self.all.own[self.place(at)] != Tally::default()
        })
    }

    /// Those of whom a rule changes a figure most in the even-numbered replications, at most so many, the largest change first; none if
    /// there are not two replications of each half.
    pub fn most_changed(
        &self,
        who: Who,
        figure: usize,
        rule: usize,
        most: usize,
    ) -> Option<Vec<usize>> {
        let [even, odd] = &self.halves.0;
        if even.replications.min(odd.replications) < 2 {
            return None;
        }
        let change = |line: &usize| {
            let at = At {
                rule,
                who,
                line: *line,
                figure,
            };
            even.against[self.place(at)].sum().unsigned_abs()
        };
        let mut changed: Vec<usize> = (0..self.names(who).len()).collect();
        changed.retain(|line| change(line) > 0);
        changed.sort_by_key(|line| std::cmp::Reverse(change(line)));
        changed.truncate(most);
        Some(changed)
    }

    /// What the odd-numbered replications say of it, and of the rule less the base with confidence for so many comparisons at once.
    pub fn in_odd_half(&self, at: At, comparisons: usize) -> (Statement, Contrast) {
        let odd = &self.halves.0[1];
        (
            self.said_in(odd, at),
            self.difference_in(odd, at, comparisons),
        )
    }

    /// Replications with odd numbers.
    pub fn odd_replications(&self) -> u64 {
        self.halves.0[1].replications
    }
}
