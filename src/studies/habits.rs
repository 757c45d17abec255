//! `habits`: what each decision in which two rules differ brings, on the same days.
//!
//! Three values of each: added alone to the first rule, taken alone from the second, and its fair share of the whole difference, which
//! is what it adds when it comes, averaged over the orders in which the decisions may be added ([`Shapley`]). Up to
//! [`COUNTED`] decisions all orders are counted; beyond, drawn ones stand for all, and the intervals hold that as well.

use super::{Block, RuleTrial};
use crate::dispatch::{Habit, Rule};
use crate::engine::{Entity, Luck};
use crate::montecarlo::{self, Rows, Watch};
use crate::observe::figure;
use crate::scenario::Scenario;
use crate::statistics::{Interval, Parts, Shapley, Summary, mean_interval};
use crate::units::Purpose;
use std::num::NonZeroUsize;

/// Up to so many decisions all orders of adding them are counted.
pub const COUNTED: usize = 5;

/// What is asked.
#[derive(Clone, Debug)]
pub struct HabitsQuestion {
    /// Position of the first rule in the scenario.
    pub from: usize,
    /// Position of the second; it differs from the first in at least one decision and at most 32 ([`Habit::differing`]).
    pub to: usize,
    /// Replications, at least 1.
    pub replications: u64,
    /// Orders of adding that are drawn where there are too many, each with its reverse; at least 1.
    pub orders: usize,
    /// Seed of all luck.
    pub seed: u64,
    /// Threads; none: all there are. Does not change the answer.
    pub threads: Option<NonZeroUsize>,
    /// Confidence of all intervals, between 0 and 1.
    pub level: f64,
}

impl Default for HabitsQuestion {
    fn default() -> Self {
        Self {
            from: 0,
            to: 1,
            replications: 100,
            orders: 8,
            seed: 1,
            threads: None,
            level: 0.95,
        }
    }
}

/// The figures that are shared out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Valued {
    /// Cost with lost sales and priced trouble, in the scenario's currency.
    Cost,
    /// Cash paid.
    CashPaid,
    /// Lost sales.
    LostSales,
    /// Priced trouble.
    Trouble,
    /// Late loads, undelivered ones included.
    LateLoads,
    /// Undelivered loads.
    Undelivered,
    /// Drivers stranded.
    Stranded,
}

impl Valued {
    /// All, in the order of their positions.
    pub const ALL: [Self; 7] = [
        Self::Cost,
        Self::CashPaid,
        Self::LostSales,
        Self::Trouble,
        Self::LateLoads,
        Self::Undelivered,
        Self::Stranded,
    ];

    /// Position of the figure.
    pub fn column(self) -> usize {
        match self {
            Self::Cost => figure::COST,
            Self::CashPaid => figure::CASH_PAID,
            Self::LostSales => figure::LOST_SALES,
            Self::Trouble => figure::TROUBLE,
            Self::LateLoads => figure::LATE_LOADS,
            Self::Undelivered => figure::UNDELIVERED,
            Self::Stranded => figure::STRANDED,
        }
    }
}

/// A change of a figure: second less first, so that below zero is less of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// Mean over the replications.
    pub mean: f64,
    /// Its interval, simultaneous over the decisions.
    pub interval: Interval,
}

/// What one decision changes of one figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HabitValue {
    /// Added alone to the first rule.
    pub alone: Change,
    /// The second rule against itself without it.
    pub last: Change,
    /// Its fair share of the whole difference.
    pub share: Change,
}

/// One decision.
#[derive(Clone, Debug, PartialEq)]
pub struct HabitResult {
    /// Which.
    pub habit: Habit,
    /// One for each of [`Valued::ALL`].
    pub values: [HabitValue; Valued::ALL.len()],
}

impl HabitResult {
    /// What it changes of a figure.
    pub fn of(&self, valued: Valued) -> &HabitValue {
        &self.values[valued as usize]
    }
}

/// The answer.
#[derive(Clone, Debug)]
pub struct Habits {
    /// Title of the scenario.
    pub scenario: String,
    /// Days in a replication.
    pub days: u32,
    /// What was asked.
    pub asked: HabitsQuestion,
    /// The first rule.
    pub from: Rule,
    /// Whether that is today's.
    pub from_is_today: bool,
    /// The second rule.
    pub to: Rule,
    /// The decisions, the one whose share saves most first; equal ones in their order.
    pub habits: Vec<HabitResult>,
    /// The whole difference of each of [`Valued::ALL`].
    pub whole: [Change; Valued::ALL.len()],
    /// What there is of each of [`Valued::ALL`] under the first rule, mean of a replication.
    pub first: [f64; Valued::ALL.len()],
    /// Orders of adding that stand for all; none: all were counted.
    pub orders: Option<usize>,
    /// How many rules were run.
    pub rules_run: usize,
    /// Replications that went in.
    pub replications: u64,
}

impl Habits {
    /// The whole difference of a figure.
    pub fn whole(&self, valued: Valued) -> Change {
        self.whole[valued as usize]
    }
}

/// Runs the study. Ends early when it is stopped: the answer is then that of a whole shorter run, none if not one
/// replication was finished.
///
/// # Panics
/// If the rules decide alike in everything.
pub fn habits(scenario: &Scenario, question: &HabitsQuestion, watch: Watch<'_>) -> Option<Habits> {
    let (from, to) = (&scenario.rules[question.from], &scenario.rules[question.to]);
    let differing = Habit::differing(from, to);
    let shapley = if differing.len() <= COUNTED {
        Shapley::exact(differing.len())
    } else {
        let luck = Luck::new(question.seed, 0);
        let purpose = Purpose::AddedDecisions;
        let mut random = luck.stream(purpose, Entity::named("orders"), 0);
        Shapley::sampled(differing.len(), question.orders, &mut random)
    };
    let whole = shapley.whole();
    let mut sets = shapley.sets();
    for part in 0..differing.len() {
        sets.extend([1 << part, whole & !(1 << part)]);
    }
    sets.sort_unstable();
    sets.dedup();
    let mut mixed = scenario.clone();
    mixed.rules = sets
        .iter()
        .map(|set| {
            let taken = differing.iter().enumerate();
            let taken = taken.filter(|(part, _)| set & (1 << part) != 0);
            Habit::mixed(from, to, taken.map(|(_, habit)| habit))
        })
        .collect();
    let trial = RuleTrial::new(&mixed, (0..sets.len()).collect(), question.seed);
    let replications = Block::Compared.first(question.replications);
    let rows = montecarlo::run(&&trial, replications, question.threads, watch);
    if rows.is_empty() {
        return None;
    }

    let valuer = Valuer {
        sets: &sets,
        rows: &rows,
        shapley: &shapley,
        // one interval of each kind for each decision, and the whole
        each: 1.0 - (1.0 - question.level) / (differing.len() + 1) as f64,
    };
    let mut by_habit: Vec<Vec<HabitValue>> = vec![Vec::new(); differing.len()];
    for valued in Valued::ALL {
        for (values, value) in by_habit.iter_mut().zip(valuer.values(valued.column())) {
            values.push(value);
        }
    }
    let mut habits: Vec<HabitResult> = differing
        .iter()
        .zip(by_habit)
        .map(|(habit, values)| HabitResult {
            habit: *habit,
            values: values.try_into().expect("one for each figure"),
        })
        .collect();
    habits.sort_by(|a, b| {
        let share = |result: &HabitResult| result.of(Valued::Cost).share.mean;
        share(a).total_cmp(&share(b))
    });
    Some(Habits {
        scenario: scenario.name.clone(),
        days: scenario.period.days,
        asked: question.clone(),
        from: from.clone(),
        from_is_today: question.from == scenario.todays_rule(),
        to: to.clone(),
        habits,
        whole: Valued::ALL.map(|valued| valuer.change(valued.column(), whole, 0)),
        first: Valued::ALL.map(|valued| mean(&valuer.values_of(valued.column(), 0))),
        orders: shapley.orders(),
        rules_run: sets.len(),
        replications: rows.len() as u64,
    })
}

fn mean(values: &[f64]) -> f64 {
    let mean = Summary::of(values.iter().copied()).mean();
    mean.unwrap_or_default()
}

/// Values sets of decisions.
struct Valuer<'a> {
    /// In the order of the rows' cases, rising.
    sets: &'a [Parts],
    rows: &'a Rows,
    shapley: &'a Shapley,
    /// Confidence of one interval.
    each: f64,
}

impl Valuer<'_> {
    fn case(&self, set: Parts) -> usize {
        self.sets.binary_search(&set).expect("a set that was run")
    }

    fn values_of(&self, column: usize, set: Parts) -> Vec<f64> {
        self.rows.values(self.case(set), column).collect()
    }

    /// Set `a` less set `b`.
    fn change(&self, column: usize, a: Parts, b: Parts) -> Change {
        let pairs = self
            .values_of(column, a)
            .into_iter()
            .zip(self.values_of(column, b));
        let differences: Vec<f64> = pairs.map(|(a, b)| a - b).collect();
        Change {
            mean: mean(&differences),
            interval: mean_interval(&differences, self.each),
        }
    }

    /// What each decision changes of this figure.
    fn values(&self, column: usize) -> Vec<HabitValue> {
        let whole = self.shapley.whole();
        let shares = self.shares(column);
        let parts = shares.into_iter().enumerate();
        parts
            .map(|(part, share)| {
                let alone = 1 << part;
                HabitValue {
                    alone: self.change(column, alone, 0),
                    last: self.change(column, whole, whole & !alone),
                    share,
                }
            })
            .collect()
    }

    /// Each decision's fair share: its interval holds the luck of the days and that of the drawn orders.
    fn shares(&self, column: usize) -> Vec<Change> {
        let by_replication: Vec<Vec<f64>> = self
            .rows
            .replications()
            .map(|replication| {
                let value = |set| {
                    let row = self.rows.row(self.case(set), replication);
                    f64::from(row[column])
                };
                self.shapley.shares(value)
            })
            .collect();
        let mean_of: Vec<f64> = self
            .sets
            .iter()
            .map(|set| mean(&self.values_of(column, *set)))
            .collect();
        let by_pair = self.shapley.shares_by_pair(|set| mean_of[self.case(set)]);
        let parts = by_replication.first().map_or(0, Vec::len);
        (0..parts)
            .map(|part| {
                let shares = by_replication.iter().map(|shares| shares[part]);
                let shares: Vec<f64> = shares.collect();
                let orders = if by_pair.is_empty() {
                    0.0
                } else {
                    let scatter = Summary::of(by_pair.iter().map(|shares| shares[part]));
                    scatter.half_width(self.each)
                };
                let mean = mean(&shares);
                let luck = mean_interval(&shares, self.each);
                let wider = |end: f64| (end - mean).hypot(orders);
                let interval = if luck.is_bounded() {
                    Interval {
                        low: mean - wider(luck.low),
                        high: mean + wider(luck.high),
                    }
                } else {
                    luck
                };
                Change { mean, interval }
            })
            .collect()
    }
}
