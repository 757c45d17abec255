//! `replay --tomorrow`: which orders of one day break, how often and why, what they have to spare, and which single change of the day
//! holds them.
//!
//! The days before are run as well, so that drivers come with the hours that they have worked by then.

use crate::engine::Luck;
use crate::montecarlo::{self, Rows, Trial, Watch};
use crate::observe::{CostPart, Figures, LateCause, MoneyKind, OrderSeen, OrderWatch};
use crate::plant::{Plan, World};
use crate::scenario::edit::fleet::days;
use crate::scenario::{DayChange, Scenario};
use crate::statistics::{Interval, Paired, chance_difference, quantile};
use crate::studies::{Block, Chance, Estimate};
use crate::units::{Millis, OrderId};
use std::num::NonZeroUsize;

/// An order that breaks in at least this share of the runs is likely to break.
pub const LIKELY: f64 = 0.5;
/// An order that breaks in at least this share of the runs is at risk; with a change that brings it below it is held.
pub const AT_RISK: f64 = 0.1;
/// How little is to spare in this share of the runs.
pub const WORST_TENTH: f64 = 0.1;
/// So many orders, the worst, are tried half an hour later.
const MOVED: usize = 3;

/// What is asked.
#[derive(Clone, Debug)]
pub struct BoardQuestion {
    /// Position of the rule in the scenario.
    pub rule: usize,
    /// The day, 0 for the first of the period.
    pub day: i64,
    /// Replications, at least 1.
    pub replications: u64,
    /// Seed of all luck.
    pub seed: u64,
    /// Threads; none: all there are. Does not change the answer.
    pub threads: Option<NonZeroUsize>,
    /// Confidence of all intervals, between 0 and 1.
    pub level: f64,
}

impl Default for BoardQuestion {
    fn default() -> Self {
        Self {
            rule: 0,
            day: 0,
            replications: 200,
            seed: 1,
            threads: None,
            level: 0.95,
        }
    }
}

/// The answer.
#[derive(Clone, Debug)]
pub struct Board {
    /// The period up to the end of the day, which is what was run.
    pub scenario: Scenario,
    /// Name of the rule.
    pub rule: String,
    /// Whether it is today's.
    pub today: bool,
    /// The day, 0 for the first.
    pub day: i64,
    /// Seed.
    pub seed: u64,
    /// Confidence of the intervals.
    pub level: f64,
    /// Replications asked for.
    pub asked: u64,
    /// Replications run as planned.
    pub replications: u64,
    /// Replications run with each change.
    pub tried: u64,
    /// The orders that take place in some run, the one that breaks most often first.
    pub orders: Vec<OrderAhead>,
    /// How many of them, from the first on, the changes are for.
    pub troubled: usize,
    /// The changes, the one that holds most of them first, of equals the cheapest; of those that hold none, the one with which fewest
    /// orders break.
    pub changes: Vec<TriedChange>,
    /// Changes that cannot be, and why.
    pub not_applying: Vec<(DayChange, &'static str)>,
}

/// One order of the day.
#[derive(Clone, Debug)]
pub struct OrderAhead {
    /// Which.
    pub order: OrderId,
    /// Runs in which anything of it breaks, of those in which it takes place.
    pub breaks: Chance,
    /// Runs with a late load.
    pub late: Chance,
    /// Runs with a gap in its pour.
    pub gap: Chance,
    /// Runs with a load that does not come on its day.
    pub undelivered: Chance,
    /// Minutes that the first load has to spare before it is late: in the middle, and what it has at most in one run in ten.
    pub first_spare: [Option<f64>; 2],
    /// The same of whichever load has least.
    pub least_spare: [Option<f64>; 2],
    /// Mean minutes of lateness by cause in a run in which it takes place, the most first; none where nothing is late.
    pub causes: Vec<(LateCause, f64)>,
}

/// What one change does.
#[derive(Clone, Debug)]
pub struct TriedChange {
    /// The change.
    pub change: DayChange,
    /// What it does to each of [`Board::orders`], in their order.
    pub orders: Vec<Held>,
    /// How many of the troubled orders it holds.
    pub holds: usize,
    /// What it does to the number of orders of the day that break: with it less as planned.
    pub broken: Estimate,
    /// What it costs: hours, driving, crews, and what is agreed with the customer; none if the scenario has no price of it.
    pub price: Option<Estimate>,
    /// What it does to all costs, lost sales and priced trouble included, before a price that the scenario does not have.
    pub cost: Estimate,
}

/// What a change does to one order.
#[derive(Clone, Copy, Debug)]
pub struct Held {
    /// Runs in which it breaks with the change.
    pub breaks: Chance,
    /// The difference of the chance to break, with the change less as planned; all changes at once.
    pub difference: Interval,
    /// Whether it was troubled, is no longer at risk, and that is no luck.
    pub held: bool,
}

impl Board {
    /// The orders that the changes are for: those likely to break or, without any, those at risk.
    pub fn troubled(&self) -> &[OrderAhead] {
        &self.orders[..self.troubled]
    }

    /// The change to make first: it holds most, and of equals it is the cheapest. None if no change holds any order.
    pub fn best(&self) -> Option<&TriedChange> {
        self.changes.first().filter(|change| change.holds > 0)
    }

    /// Where no change holds any order, the one with which fewest break, if that is no luck.
    pub fn nearest(&self) -> Option<&TriedChange> {
        let first = self.changes.first().filter(|change| change.holds == 0);
        first.filter(|change| change.broken.interval.high < 0.0)
    }
}

impl OrderAhead {
    /// Whether it is likely to break.
    pub fn is_likely(&self) -> bool {
        self.breaks.share() >= LIKELY
    }

    /// Whether it is at risk at least.
    pub fn is_at_risk(&self) -> bool {
        self.breaks.share() >= AT_RISK
    }
}

/// Runs the study. Ends early when it is stopped: the answer is then that of a whole shorter run, none if not one
/// replication was finished.
pub fn tomorrow(scenario: &Scenario, question: &BoardQuestion, watch: Watch<'_>) -> Option<Board> {
    let base = days(scenario, 0, question.day);
    let from = Millis::midnight(question.day);
    let of_day: Vec<OrderId> = (0..base.orders.len())
        .filter(|at| base.orders[*at].first >= from)
        .map(OrderId::new)
        .collect();
    let run = |scenarios: &[Scenario]| {
        let trial = Days::new(scenarios, &of_day, question);
        let block = Block::Compared.first(question.replications);
        montecarlo::run(&&trial, block, question.threads, watch)
    };
    let planned = run(std::slice::from_ref(&base));
    if planned.is_empty() {
        return None;
    }
    let ahead = |(at, order): (usize, &OrderId)| {
        OrderAhead::of(*order, &planned, at, question.level).map(|ahead| (at, ahead))
    };
    let mut orders: Vec<(usize, OrderAhead)> =
        of_day.iter().enumerate().filter_map(ahead).collect();
    orders.sort_by(|(_, a), (_, b)| {
        let order = b.breaks.share().total_cmp(&a.breaks.share());
        order.then_with(|| least(a).total_cmp(&least(b)))
    });
    let likely = orders.iter().filter(|(_, order)| order.is_likely()).count();
    let at_risk = orders
        .iter()
        .filter(|(_, order)| order.is_at_risk())
        .count();
    let troubled = if likely > 0 { likely } else { at_risk };

    let (mut cases, mut edited, mut not_applying) = (Vec::new(), Vec::new(), Vec::new());
    if troubled > 0 {
        let worst: Vec<OrderId> = orders
            .iter()
            .take(troubled.min(MOVED))
            .map(|(_, o)| o.order)
            .collect();
        for change in DayChange::usual(&base, &worst) {
            match change.apply(&base, question.rule) {
                Ok(scenario) => {
                    cases.push(change);
                    edited.push(scenario);
                }
                Err(why) => not_applying.push((change, why)),
            }
        }
    }
    let mut changes = Vec::new();
    let mut tried = 0;
    if !edited.is_empty() && planned.len() as u64 == question.replications {
        let changed = run(&edited);
        tried = changed.len() as u64;
        if tried > 0 {
            let trying = Trying {
                planned: &planned,
                changed: &changed,
                orders: &orders,
                of_day: of_day.len(),
                troubled,
                level: question.level,
            };
            changes = cases
                .iter()
                .enumerate()
                .map(|(case, change)| trying.tried(case, *change, &base))
                .collect();
        }
    }
    changes.sort_by(|a, b| {
        let broken = |tried: &TriedChange| tried.broken.mean.unwrap_or(0.0);
        let price = |tried: &TriedChange| tried.price.and_then(|price| price.mean);
        let (one, other) = (price(a), price(b));
        if (a.holds, b.holds) == (0, 0) {
            return broken(a).total_cmp(&broken(b));
        }
        (b.holds.cmp(&a.holds))
            // What has no price comes behind what has one.
            .then(one.is_none().cmp(&other.is_none()))
            .then(one.unwrap_or(0.0).total_cmp(&other.unwrap_or(0.0)))
    });
    let rule = &scenario.rules[question.rule];
    Some(Board {
        rule: rule.name.clone(),
        today: question.rule == scenario.todays_rule(),
        day: question.day,
        seed: question.seed,
        level: question.level,
        asked: question.replications,
        replications: planned.len() as u64,
        tried,
        orders: orders.into_iter().map(|(_, order)| order).collect(),
        troubled,
        changes,
        not_applying,
        scenario: base,
    })
}

fn least(order: &OrderAhead) -> f64 {
    order.least_spare[1].unwrap_or(f64::INFINITY)
}

/// Figures of an order in a row, before the lateness by cause.
const FIGURES: usize = 6;
const BROKE: usize = 0;
const LATE: usize = 1;
const GAPS: usize = 2;
const UNDELIVERED: usize = 3;
const FIRST_SPARE: usize = 4;
const LEAST_SPARE: usize = 5;
const WIDTH: usize = FIGURES + LateCause::ALL.len();

/// Edited days under one rule, as something that can be replicated: a row holds the figures of each order of the day, not a number where
/// it does not take place, then what the period costs and the part of it that a change is paid with.
struct Days<'s> {
    scenarios: &'s [Scenario],
    plans: Vec<Plan>,
    orders: &'s [OrderId],
    rule: usize,
    seed: u64,
}

impl<'s> Days<'s> {
    fn new(scenarios: &'s [Scenario], orders: &'s [OrderId], question: &BoardQuestion) -> Self {
        Self {
            plans: scenarios.iter().map(Plan::new).collect(),
            scenarios,
            orders,
            rule: question.rule,
            seed: question.seed,
        }
    }
}

/// Whether a part of the cost is what a change is paid with: hours, driving, crews, helpers. The material of concrete that is placed
/// after all is no price of the change.
fn pays(part: CostPart) -> bool {
    match part {
        CostPart::Material | CostPart::Dumped => false,
        part => matches!(part.kind(), MoneyKind::Cash | MoneyKind::Capacity),
    }
}

impl<'t> Trial for &'t Days<'_> {
    type Worker = Vec<(World<'t>, Figures<'t>, OrderWatch<'t>)>;

    fn worker(&self) -> Self::Worker {
        let bench = |(plan, scenario): (&'t Plan, &'t Scenario)| {
            let figures = Figures::new(plan, &scenario.money);
            (World::new(plan), figures, OrderWatch::new(plan))
        };
        self.plans.iter().zip(self.scenarios).map(bench).collect()
    }

    fn cases(&self) -> usize {
        self.plans.len()
    }

    fn width(&self) -> usize {
        self.orders.len() * WIDTH + 2
    }

    fn run(&self, worker: &mut Self::Worker, case: usize, replication: u64, row: &mut [f32]) {
        let (world, figures, watch) = &mut worker[case];
        figures.begin();
        watch.begin();
        let luck = Luck::new(self.seed, replication);
        world.run(self.rule, luck, &mut (&mut *figures, &mut *watch));
        for (order, row) in self.orders.iter().zip(row.chunks_exact_mut(WIDTH)) {
            told(watch.seen(*order), row);
        }
        let (mut cost, mut paid) = (0.0, 0.0);
        for (part, amount) in CostPart::ALL.into_iter().zip(figures.cost_parts()) {
            cost += amount.units();
            if pays(part) {
                paid += amount.units();
            }
        }
        let money = self.orders.len() * WIDTH;
        (row[money], row[money + 1]) = (cost as f32, paid as f32);
    }
}

fn told(seen: &OrderSeen, row: &mut [f32]) {
    if !seen.takes_place() {
        row.fill(f32::NAN);
        return;
    }
    let minutes = |spare: Option<Millis>| spare.map_or(f32::NAN, |spare| spare.minutes() as f32);
    row[BROKE] = f32::from(seen.broke());
    row[LATE] = seen.late as f32;
    row[GAPS] = seen.gaps as f32;
    row[UNDELIVERED] = seen.undelivered as f32;
    row[FIRST_SPARE] = minutes(seen.first_spare);
    row[LEAST_SPARE] = minutes(seen.least_spare);
    for (cell, time) in row[FIGURES..].iter_mut().zip(seen.causes) {
        *cell = time.minutes() as f32;
    }
}

impl OrderAhead {
    /// The order at this place of the rows; none if it takes place in no run.
    fn of(order: OrderId, rows: &Rows, at: usize, level: f64) -> Option<Self> {
        let column = |figure: usize| {
            let values = rows.values(0, at * WIDTH + figure);
            values.filter(|value| !value.is_nan())
        };
        let runs = column(BROKE).count() as u64;
        if runs == 0 {
            return None;
        }
        let chance = |figure: usize| {
            let times = column(figure).filter(|value| *value > 0.0).count();
            Chance::of(times as u64, runs, level)
        };
        let spare = |figure: usize| [0.5, WORST_TENTH].map(|share| quantile(column(figure), share));
        let mut causes: Vec<(LateCause, f64)> = LateCause::ALL
            .into_iter()
            .map(|cause| {
                let minutes: f64 = column(FIGURES + cause as usize).sum();
                (cause, minutes / runs as f64)
            })
            .filter(|(_, minutes)| *minutes > 0.0)
            .collect();
        causes.sort_by(|a, b| b.1.total_cmp(&a.1));
        Some(Self {
            order,
            breaks: chance(BROKE),
            late: chance(LATE),
            gap: chance(GAPS),
            undelivered: chance(UNDELIVERED),
            first_spare: spare(FIRST_SPARE),
            least_spare: spare(LEAST_SPARE),
            causes,
        })
    }
}

/// The same runs as planned and with changes.
struct Trying<'a> {
    planned: &'a Rows,
    changed: &'a Rows,
    /// The orders, with their places in the rows.
    orders: &'a [(usize, OrderAhead)],
    of_day: usize,
    troubled: usize,
    level: f64,
}

impl Trying<'_> {
    fn tried(&self, case: usize, change: DayChange, scenario: &Scenario) -> TriedChange {
        let orders: Vec<Held> = self
            .orders
            .iter()
            .enumerate()
            .map(|(nth, (at, order))| self.held(case, *at, order, nth < self.troubled))
            .collect();
        let money = self.of_day * WIDTH;
        let broken = |rows: &Rows, case: usize| -> Vec<f64> {
            let mut sums = vec![0.0; self.changed.len()];
            for at in 0..self.of_day {
                let broke = rows.values(case, at * WIDTH + BROKE);
                for (sum, broke) in sums.iter_mut().zip(broke) {
                    *sum += if broke > 0.0 { 1.0 } else { 0.0 };
                }
            }
            sums
        };
        let agreed = change.agreed(scenario);
        TriedChange {
            change,
            holds: orders.iter().filter(|order| order.held).count(),
            orders,
            broken: self.difference(&broken(self.planned, 0), &broken(self.changed, case)),
            price: agreed.map(|agreed| {
                let paid = self.of_column(case, money + 1);
                moved_by(paid, agreed.units())
            }),
            cost: moved_by(
                self.of_column(case, money),
                agreed.map_or(0.0, |agreed| agreed.units()),
            ),
        }
    }

    fn of_column(&self, case: usize, column: usize) -> Estimate {
        let planned: Vec<f64> = self
            .planned
            .values(0, column)
            .take(self.changed.len())
            .collect();
        let changed: Vec<f64> = self.changed.values(case, column).collect();
        self.difference(&planned, &changed)
    }

    fn difference(&self, planned: &[f64], changed: &[f64]) -> Estimate {
        let paired = Paired::of(changed, planned);
        Estimate {
            mean: paired.difference.mean(),
            interval: paired.simultaneous(self.level, self.changed.cases()),
        }
    }

    fn held(&self, case: usize, at: usize, order: &OrderAhead, troubled: bool) -> Held {
        let column = at * WIDTH + BROKE;
        let pairs = self
            .planned
            .values(0, column)
            .zip(self.changed.values(case, column));
        let (mut runs, mut times, mut more, mut less) = (0, 0, 0, 0);
        for (planned, changed) in pairs {
            if planned.is_nan() || changed.is_nan() {
                continue;
            }
            let (planned, changed) = (planned > 0.0, changed > 0.0);
            runs += 1;
            times += u64::from(changed);
            more += u64::from(changed && !planned);
            less += u64::from(planned && !changed);
        }
        let each = 1.0 - (1.0 - self.level) / self.changed.cases() as f64;
        let breaks = Chance::of(times, runs, self.level);
        let difference = chance_difference(more, less, runs, each);
        debug_assert!(runs <= order.breaks.of);
        Held {
            breaks,
            difference,
            held: troubled && runs > 0 && breaks.share() < AT_RISK && difference.high < 0.0,
        }
    }
}

/// An estimate of something that is so much more.
fn moved_by(estimate: Estimate, by: f64) -> Estimate {
    Estimate {
        mean: estimate.mean.map(|mean| mean + by),
        interval: Interval {
            low: estimate.interval.low + by,
            high: estimate.interval.high + by,
        },
    }
}
