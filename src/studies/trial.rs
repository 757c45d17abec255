//! Days under rules, as something that can be replicated.

use crate::engine::Luck;
use crate::montecarlo::Trial;
use crate::observe::Figures;
use crate::plant::{Plan, World};
use crate::scenario::Scenario;

/// The rules of a scenario on the same luck: one case for each rule asked for.
#[derive(Debug)]
pub struct RuleTrial<'s> {
    plan: Plan,
    scenario: &'s Scenario,
    rules: Vec<usize>,
    seed: u64,
}

impl<'s> RuleTrial<'s> {
    /// These rules of the scenario (positions in its list, at least one) under the luck of this seed.
    pub fn new(scenario: &'s Scenario, rules: Vec<usize>, seed: u64) -> Self {
        Self {
            plan: Plan::new(scenario),
            scenario,
            rules,
            seed,
        }
    }
}

/// A warm world with its observer.
#[derive(Debug)]
pub struct Worker<'p> {
    world: World<'p>,
    figures: Figures<'p>,
}

impl<'t> Trial for &'t RuleTrial<'_> {
    type Worker = Worker<'t>;

    fn worker(&self) -> Worker<'t> {
        Worker {
            world: World::new(&self.plan),
            figures: Figures::new(&self.plan, &self.scenario.money),
        }
    }

    fn cases(&self) -> usize {
        self.rules.len()
    }

    fn width(&self) -> usize {
        crate::observe::columns(self.scenario).len()
    }

    fn run(&self, worker: &mut Worker<'t>, case: usize, replication: u64, row: &mut [f32]) {
        worker.figures.begin();
        worker.world.run(
            self.rules[case],
            Luck::new(self.seed, replication),
            &mut worker.figures,
        );
        worker.figures.row(row);
    }
}
