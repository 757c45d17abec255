//! Days under rules, as something that can be replicated.

use super::whom::{Adder, Belongs, ForWhom, Halves};
use crate::engine::Luck;
use crate::montecarlo::Trial;
use crate::observe::{Causes, Figures, Ledger, Profile, Profiler};
use crate::plant::{Observer, Plan, World};
use crate::scenario::Scenario;
use std::sync::{Mutex, PoisonError};

/// The rules of a scenario on the same luck: one case for each rule asked for.
#[derive(Debug)]
pub struct RuleTrial<'s> {
    plan: Plan,
    scenario: &'s Scenario,
    rules: Vec<usize>,
    seed: u64,
    profiles: Mutex<Vec<(Profile, Causes)>>,
    whom: Option<Whom>,
}

/// What is added up by order, customer, plant, weekday and driver, against a base.
#[derive(Debug)]
struct Whom {
    belongs: Belongs,
    base: usize,
    sums: Mutex<Halves>,
}

impl<'s> RuleTrial<'s> {
    /// These rules of the scenario (positions in its list, at least one) under the luck of this seed.
    pub fn new(scenario: &'s Scenario, rules: Vec<usize>, seed: u64) -> Self {
        Self {
            plan: Plan::new(scenario),
            scenario,
            profiles: Mutex::new(vec![Default::default(); rules.len()]),
            rules,
            seed,
            whom: None,
        }
    }

    /// Adds up as well for whom, against this case; only for runs of all cases in each replication.
    pub(super) fn for_whom(mut self, base: usize) -> Self {
        let belongs = Belongs::of(self.scenario);
        self.whom = Some(Whom {
            sums: Mutex::new(Halves::new(&belongs, self.rules.len())),
            belongs,
            base,
        });
        self
    }

    /// Who gains and who loses over all replications run so far, with intervals of this confidence; none if that was not added up.
    pub(super) fn whom(&self, level: f64) -> Option<ForWhom> {
        let whom = self.whom.as_ref()?;
        let sums = whom.sums.lock().unwrap_or_else(PoisonError::into_inner);
        Some(ForWhom::of(
            self.scenario,
            &whom.belongs,
            sums.clone(),
            level,
        ))
    }

    /// The sums over all replications run so far, one for each rule.
    pub fn profiles(&self) -> Vec<(Profile, Causes)> {
        self.profiles
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .clone()
    }

    /// One replication again under the rule of a case, told to an observer.
    pub fn play<O: Observer>(&self, case: usize, replication: u64, observer: &mut O) {
        World::new(&self.plan).run(self.rules[case], self.luck(replication), observer);
    }

    /// The seed of all luck.
    pub fn seed(&self) -> u64 {
        self.seed
    }

    /// The luck of a replication.
    pub fn luck(&self, replication: u64) -> Luck {
        Luck::new(self.seed, replication)
    }

    /// The scenario made ready.
    pub fn plan(&self) -> &Plan {
        &self.plan
    }
}

/// A warm world with its observer.
#[derive(Debug)]
pub struct Worker<'p> {
    world: World<'p>,
    figures: Figures<'p>,
    profilers: Vec<Profiler>,
    ledger: Ledger<'p>,
    causes: Vec<Causes>,
    whom: Option<Adder<'p>>,
}

impl<'t> Trial for &'t RuleTrial<'_> {
    type Worker = Worker<'t>;

    fn worker(&self) -> Worker<'t> {
        Worker {
            world: World::new(&self.plan),
            figures: Figures::new(&self.plan, &self.scenario.money),
            profilers: vec![Profiler::new(&self.plan); self.rules.len()],
            ledger: Ledger::new(&self.plan),
            causes: vec![Default::default(); self.rules.len()],
            whom: (self.whom.as_ref())
                .map(|whom| Adder::new(&whom.belongs, whom.base, self.rules.len())),
        }
    }

    fn cases(&self) -> usize {
        self.rules.len()
    }

    fn width(&self) -> usize {
        crate::observe::columns(self.scenario).len()
    }

    fn run(&self, worker: &mut Worker<'t>, case: usize, replication: u64, row: &mut [f32]) {
        let profiler = &mut worker.profilers[case];
        worker.figures.begin();
        profiler.begin();
        worker.ledger.begin();
        worker.world.run(
            self.rules[case],
            Luck::new(self.seed, replication),
            &mut (&mut worker.figures, (&mut *profiler, &mut worker.ledger)),
        );
        worker.figures.row(row);
        if let Some(whom) = &mut worker.whom {
            whom.add(case, replication, &worker.figures);
        }
        profiler.profile.add_cost(&worker.figures.cost_parts());
        profiler.profile.add_margins(worker.figures.tour_margins());
        worker.causes[case].merge(&std::mem::take(&mut worker.ledger.causes));
    }

    fn finish(&self, worker: Worker<'t>) {
        let mut profiles = self.profiles.lock().unwrap_or_else(PoisonError::into_inner);
        for ((sum, causes), (profiler, more)) in profiles
            .iter_mut()
            .zip(worker.profilers.iter().zip(&worker.causes))
        {
            sum.merge(&profiler.profile);
            causes.merge(more);
        }
        if let (Some(whom), Some(adder)) = (&self.whom, &worker.whom) {
            let mut sums = whom.sums.lock().unwrap_or_else(PoisonError::into_inner);
            sums.merge(&adder.sums);
        }
    }
}
