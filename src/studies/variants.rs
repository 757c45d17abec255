//! One rule on the same days, as they are and changed: something that can be replicated.

use crate::engine::Luck;
use crate::montecarlo::Trial;
use crate::observe::{Figures, figure};
use crate::plant::{Plan, World};
use crate::scenario::Scenario;

/// Variants of a scenario that meet the same luck under one rule: one case for each. A row holds the figures of
/// [`figure`], without those of queues, which variants need not share.
#[derive(Debug)]
pub struct Variants<'s> {
    cases: Vec<(&'s Scenario, Plan)>,
    rule: usize,
    seed: u64,
}

impl<'s> Variants<'s> {
    /// These scenarios under the rule at this position of each, with the luck of this seed.
    pub fn new(scenarios: impl IntoIterator<Item = &'s Scenario>, rule: usize, seed: u64) -> Self {
        let ready = |scenario| (scenario, Plan::new(scenario));
        Self {
            cases: scenarios.into_iter().map(ready).collect(),
            rule,
            seed,
        }
    }
}

/// A warm world for each variant, with its observer.
#[derive(Debug)]
pub struct VariantWorlds<'p> {
    worlds: Vec<(World<'p>, Figures<'p>)>,
    /// A whole row, queues included.
    row: Vec<f32>,
}

impl<'t> Trial for &'t Variants<'_> {
    type Worker = VariantWorlds<'t>;

    fn worker(&self) -> VariantWorlds<'t> {
        let warm = |(scenario, plan): &'t (&Scenario, Plan)| {
            (World::new(plan), Figures::new(plan, &scenario.money))
        };
        VariantWorlds {
            worlds: self.cases.iter().map(warm).collect(),
            row: Vec::new(),
        }
    }

    fn cases(&self) -> usize {
        self.cases.len()
    }

    fn width(&self) -> usize {
        figure::COUNT
    }

    fn run(&self, worker: &mut VariantWorlds<'t>, case: usize, replication: u64, row: &mut [f32]) {
        let (world, figures) = &mut worker.worlds[case];
        figures.begin();
        world.run(self.rule, Luck::new(self.seed, replication), figures);
        worker.row.clear();
        worker.row.resize(figures.width(), 0.0);
        figures.row(&mut worker.row);
        row.copy_from_slice(&worker.row[..figure::COUNT]);
    }
}
