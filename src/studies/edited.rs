//! Edited scenarios on the same luck, under one rule, as something that can be replicated.

use crate::engine::Luck;
use crate::montecarlo::{Besides, Trial};
use crate::observe::{
    CostPart, Figures, LateCause, Ledger, POUR_FIGURES, PourSums, PourWatch, columns,
};
use crate::plant::{Plan, World};
use crate::scenario::Scenario;
use crate::scenario::edit::fleet;
use crate::units::OrderId;
use std::sync::{Mutex, PoisonError};

/// Among what is told of people: hours that hired haulers are paid for.
pub(super) const HIRED_H: usize = 0;
/// Days on which they are.
pub(super) const HIRED_DAYS: usize = 1;
/// Driver days off.
pub(super) const DAYS_OFF: usize = 2;
const PEOPLE: usize = 3;

/// One case for each edited scenario; all have the same plants and orders, so that their figures have the same columns.
#[derive(Debug)]
pub(super) struct Edited {
    scenarios: Vec<Scenario>,
    plans: Vec<Plan>,
    rule: usize,
    seed: u64,
    /// The pour that is watched, if one is.
    pour: Option<OrderId>,
    /// Whether late loads are told by cause.
    explained: bool,
    /// Whether haulers and days off are told.
    people: bool,
    figures: usize,
    sums: Mutex<Vec<PourSums>>,
}

impl Edited {
    /// At least one scenario. A row holds the figures of every column, the parts of the cost, and the figures of the pour if
    /// one is watched.
    pub(super) fn new(
        scenarios: Vec<Scenario>,
        rule: usize,
        seed: u64,
        pour: Option<OrderId>,
    ) -> Self {
        Self {
            plans: scenarios.iter().map(Plan::new).collect(),
            figures: columns(&scenarios[0]).len(),
            sums: Mutex::new(vec![PourSums::default(); scenarios.len()]),
            scenarios,
            rule,
            seed,
            pour,
            explained: false,
            people: false,
        }
    }

    /// A row ends with what haulers are paid for and with days off: see [`HIRED_H`].
    pub(super) fn people(self) -> Self {
        Self {
            people: true,
            ..self
        }
    }

    /// A row ends with the late loads of each cause.
    pub(super) fn explained(self) -> Self {
        Self {
            explained: true,
            ..self
        }
    }

    /// Position of the first part of the cost in a row.
    pub(super) fn cost_parts(&self) -> usize {
        self.figures
    }

    /// Position of the first figure of the pour in a row.
    pub(super) fn pour_figures(&self) -> usize {
        self.figures + CostPart::ALL.len()
    }

    /// Position of the late loads of the first cause in a row, where they are told.
    pub(super) fn causes(&self) -> usize {
        self.pour_figures() + if self.pour.is_some() { POUR_FIGURES } else { 0 }
    }

    /// Position of [`HIRED_H`] in a row, where it is told.
    pub(super) fn people_at(&self) -> usize {
        let causes = if self.explained {
            LateCause::ALL.len()
        } else {
            0
        };
        self.causes() + causes
    }

    /// What was added up of the pour, one for each variant.
    pub(super) fn sums(&self) -> Vec<PourSums> {
        self.sums
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .clone()
    }
}

/// A warm world of one of them with its observers.
#[derive(Debug)]
pub(super) struct Bench<'p> {
    world: World<'p>,
    figures: Figures<'p>,
    watch: Option<PourWatch>,
    ledger: Option<Ledger<'p>>,
}

impl<'t> Trial for &'t Edited {
    type Worker = Vec<Bench<'t>>;

    fn worker(&self) -> Self::Worker {
        let bench = |(plan, scenario): (&'t Plan, &'t Scenario)| Bench {
            world: World::new(plan),
            figures: Figures::new(plan, &scenario.money),
            watch: self
                .pour
                .map(|pour| PourWatch::new(plan, pour, fleet::duties(scenario))),
            ledger: self.explained.then(|| Ledger::new(plan)),
        };
        self.plans.iter().zip(&self.scenarios).map(bench).collect()
    }

    fn cases(&self) -> usize {
        self.plans.len()
    }

    fn width(&self) -> usize {
        self.people_at() + if self.people { PEOPLE } else { 0 }
    }

    fn run(&self, worker: &mut Self::Worker, case: usize, replication: u64, row: &mut [f32]) {
        let bench = &mut worker[case];
        let luck = Luck::new(self.seed, replication);
        bench.figures.begin();
        match (&mut bench.watch, &mut bench.ledger) {
            (Some(watch), ledger) => {
                debug_assert!(ledger.is_none(), "no study of a pour asks for causes");
                watch.begin();
                let mut observer = (&mut bench.figures, &mut *watch);
                bench.world.run(self.rule, luck, &mut observer);
                watch.end(&mut row[self.pour_figures()..]);
            }
            (None, Some(ledger)) => {
                ledger.begin();
                let mut observer = (&mut bench.figures, &mut *ledger);
                bench.world.run(self.rule, luck, &mut observer);
                let causes = std::mem::take(&mut ledger.causes);
                for (cell, cause) in row[self.causes()..].iter_mut().zip(LateCause::ALL) {
                    *cell = causes.loads_of(cause) as f32;
                }
            }
            (None, None) => {
                bench.world.run(self.rule, luck, &mut bench.figures);
            }
        }
        bench.figures.row(&mut row[..self.figures]);
        let parts = &mut row[self.figures..self.pour_figures()];
        for (cell, part) in parts.iter_mut().zip(bench.figures.cost_parts()) {
            *cell = part.units() as f32;
        }
        if self.people {
            let (hours, days) = bench.figures.hired();
            let people = &mut row[self.people_at()..];
            people[HIRED_H] = hours.hours() as f32;
            people[HIRED_DAYS] = days as f32;
            people[DAYS_OFF] = bench.figures.days_off() as f32;
        }
    }

    fn besides(&self) -> Option<&dyn Besides<Self::Worker>> {
        self.pour.map(|_| self as _)
    }
}

impl<'t> Besides<Vec<Bench<'t>>> for &'t Edited {
    fn take_over(&self, worker: &mut Vec<Bench<'t>>) {
        let mut sums = self.sums.lock().unwrap_or_else(PoisonError::into_inner);
        for (sum, bench) in sums.iter_mut().zip(worker) {
            if let Some(watch) = &mut bench.watch {
                sum.merge(&watch.take_sums());
            }
        }
    }
    fn sums(&self) -> Vec<u8> {
        postcard::to_stdvec(&Edited::sums(self)).expect("whole numbers can be written")
    }

    fn add_sums(&self, bytes: &[u8], replications: u64) -> Option<()> {
        let (more, []) = postcard::take_from_bytes::<Vec<PourSums>>(bytes).ok()? else {
            return None;
        };
        let mut sums = self.sums.lock().unwrap_or_else(PoisonError::into_inner);
        let fits = more.len() == sums.len()
            && (more.iter()).all(|more| more.replications == replications && more.is_whole());
        if !fits {
            return None;
        }
        for (sum, more) in sums.iter_mut().zip(&more) {
            sum.merge(more);
        }
        Some(())
    }
}
