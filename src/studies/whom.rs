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
use serde::{Deserialize, Serialize};
use std::sync::{Arc, Mutex, PoisonError};

/// Sums over replications of one case, and of its differences from the base.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
struct Sums {
    replications: u64,
    own: Vec<Tally>,
    /// Empty of the base.
    against: Vec<PairTally>,
}

impl Sums {
    /// Of the base nothing ever differs.
    fn against(&self, place: usize) -> PairTally {
        self.against.get(place).copied().unwrap_or_default()
    }

    fn add(&mut self, values: &[i64], base: &[i64]) {
        self.replications += 1;
        for (sum, value) in self.own.iter_mut().zip(values) {
            sum.add(*value);
        }
        let pairs = values.iter().zip(base);
        for (sum, (value, base)) in self.against.iter_mut().zip(pairs) {
            sum.add(*value, *base);
        }
    }
}

/// The sums of even and of odd replications of one case.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(super) struct CaseSums([Sums; 2]);

impl CaseSums {
    /// `against` a base, if it is not the base.
    pub(super) fn new(belongs: &Belongs, against: bool) -> Self {
        let pairs = if against { belongs.figures } else { 0 };
        let sums = Sums {
            replications: 0,
            own: vec![Tally::default(); belongs.figures],
            against: vec![PairTally::default(); pairs],
        };
        Self([sums.clone(), sums])
    }

    /// How many replications went in.
    pub(super) fn replications(&self) -> u64 {
        self.0.iter().map(|half| half.replications).sum()
    }

    /// Whether others are sums of the same figures.
    pub(super) fn is_like(&self, other: &Self) -> bool {
        let shape = |half: &Sums| (half.own.len(), half.against.len());
        self.0.iter().map(shape).eq(other.0.iter().map(shape))
    }

    /// Adds the sums of other replications.
    pub(super) fn merge(&mut self, other: &Self) {
        for (half, more) in self.0.iter_mut().zip(&other.0) {
            half.replications += more.replications;
            for (sum, more) in half.own.iter_mut().zip(&more.own) {
                sum.merge(more);
            }
            for (sum, more) in half.against.iter_mut().zip(&more.against) {
                sum.merge(more);
            }
        }
    }
}

/// The values of one replication, to be added to the sums.
#[derive(Debug)]
pub(super) struct Adder<'b> {
    belongs: &'b Belongs,
    base: usize,
    /// Case by case.
    values: Vec<i64>,
}

impl<'b> Adder<'b> {
    pub(super) fn new(belongs: &'b Belongs, base: usize, cases: usize) -> Self {
        Self {
            belongs,
            base,
            values: vec![0; belongs.figures * cases],
        }
    }

    /// A case of the present replication is done.
    pub(super) fn note(&mut self, case: usize, figures: &Figures<'_>) {
        let width = self.belongs.figures;
        let values = &mut self.values[case * width..(case + 1) * width];
        values.fill(0);
        self.belongs.add(figures, values);
    }

    /// Adds the replication to the sums of its cases, all of which are done.
    pub(super) fn add(&self, replication: u64, sums: &[Mutex<CaseSums>]) {
        let mut values = self.values.chunks_exact(self.belongs.figures);
        let base = values.clone().nth(self.base).unwrap_or_default();
        for sums in sums {
            let mut sums = sums.lock().unwrap_or_else(PoisonError::into_inner);
            let half = &mut sums.0[(replication % 2) as usize];
            half.add(values.next().unwrap_or_default(), base);
        }
    }
}

/// Who gains and who loses under each rule.
#[derive(Clone, Debug)]
pub struct ForWhom {
    belongs: Arc<Belongs>,
    columns: [Vec<Column>; 3],
    level: f64,
    /// One for each rule.
    sums: Vec<CaseSums>,
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
    pub(super) fn of(
        scenario: &Scenario,
        belongs: Arc<Belongs>,
        sums: Vec<CaseSums>,
        level: f64,
    ) -> Self {
        Self {
            belongs,
            columns: whom_columns(scenario),
            level,
            sums,
        }
    }

    /// Their names.
    pub fn names(&self, who: Who) -> &[String] {
        &self.belongs.tables[who as usize].names
    }

    /// Their figures.
    pub fn columns(&self, who: Who) -> &[Column] {
        &self.columns[match who {
            Who::Order | Who::Customer | Who::Weekday => 0,
            Who::Plant => 1,
            Who::Driver => 2,
        }]
    }

    /// The line of each order, plant or driver by its position.
    pub fn lines(&self, who: Who) -> &[usize] {
        &self.belongs.tables[who as usize].of
    }

    fn place(&self, at: At) -> usize {
        let lines = &self.belongs.tables[at.who as usize];
        lines.first + at.line * FIGURES + at.figure
    }

    /// Replications that went in, and the sums of a figure over them.
    fn own(&self, at: At) -> (u64, Tally) {
        let (place, [even, odd]) = (self.place(at), &self.sums[at.rule].0);
        let mut sum = even.own[place];
        sum.merge(&odd.own[place]);
        (even.replications + odd.replications, sum)
    }

    fn column(&self, at: At) -> &Column {
        &self.columns(at.who)[at.figure]
    }

    /// The sum over all replications, in the figure's unit.
    pub fn total(&self, at: At) -> f64 {
        self.own(at).1.sum() as f64 * whom_unit(self.column(at))
    }

    fn said_of(&self, at: At, (of, sum): (u64, Tally)) -> Statement {
        let column = self.column(at);
        match column.lacks {
            Some(_) => Statement::NotLookedAt,
            None => sum.statement(of, whom_unit(column), self.level),
        }
    }

    fn difference_of(&self, at: At, (of, sum): (u64, PairTally), comparisons: usize) -> Contrast {
        let column = self.column(at);
        match column.lacks {
            Some(_) => Contrast::NotLookedAt,
            None => sum.contrast(of, whom_unit(column), self.level, comparisons),
        }
    }

    /// What is said of it.
    pub fn said(&self, at: At) -> Statement {
        self.said_of(at, self.own(at))
    }

    /// What is said of the rule less the base, with confidence for all rules and all lines of the table at once.
    pub fn difference(&self, at: At) -> Contrast {
        let comparisons = (self.sums.len() - 1) * self.names(at.who).len();
        let (place, [even, odd]) = (self.place(at), &self.sums[at.rule].0);
        let mut sum = even.against(place);
        sum.merge(&odd.against(place));
        self.difference_of(at, (even.replications + odd.replications, sum), comparisons)
    }

    /// Whether any replication has any of it, under any rule.
    fn has(&self, who: Who, line: usize, figure: usize) -> bool {
        (0..self.sums.len()).any(|rule| {
            let at = At {
                rule,
                who,
                line,
                figure,
            };
            self.own(at).1 != Tally::default()
        })
    }

    /// Whether anybody ever has any of a figure.
    pub fn any(&self, who: Who, figure: usize) -> bool {
        (0..self.names(who).len()).any(|line| self.has(who, line, figure))
    }

    /// Whether a line ever has any figure.
    pub fn is_told(&self, who: Who, line: usize) -> bool {
        (0..FIGURES).any(|figure| self.has(who, line, figure))
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
        let [even, odd] = &self.sums[rule].0;
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
            even.against(self.place(at)).sum().unsigned_abs()
        };
        let mut changed: Vec<usize> = (0..self.names(who).len()).collect();
        changed.retain(|line| change(line) > 0);
        changed.sort_by_key(|line| std::cmp::Reverse(change(line)));
        changed.truncate(most);
        Some(changed)
    }

    /// What the odd-numbered replications say of it, and of the rule less the base with confidence for so many comparisons at once.
    pub fn in_odd_half(&self, at: At, comparisons: usize) -> (Statement, Contrast) {
        let (place, odd) = (self.place(at), &self.sums[at.rule].0[1]);
        let (own, against) = (odd.own[place], odd.against(place));
        (
            self.said_of(at, (odd.replications, own)),
            self.difference_of(at, (odd.replications, against), comparisons),
        )
    }

    /// Replications with odd numbers.
    pub fn odd_replications(&self) -> u64 {
        self.sums.first().map_or(0, |sums| sums.0[1].replications)
    }
}
