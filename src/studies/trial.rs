//! Days under rules, as something that can be replicated.

use super::whom::{Adder, Belongs, CaseSums, ForWhom};
use crate::engine::Luck;
use crate::montecarlo::{Besides, Trial};
use crate::observe::{Causes, Figures, Ledger, Profile, Profiler};
use crate::plant::{Observer, Plan, World};
use crate::scenario::Scenario;
use crate::units::Millis;
use std::sync::{Arc, Mutex, PoisonError};

/// Simulated time between two steps of a replication: the busiest of a large company take a moment, and a small one is not held up.
const STEP: Millis = Millis(2 * Millis::HOUR.0);

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

/// All that is added up, as it is kept in a file: over all of each rule, and by whom.
type Sums = (Vec<(Profile, Causes)>, Vec<CaseSums>);

/// What is added up by order, customer, plant, weekday and driver, against a base.
#[derive(Debug)]
struct Whom {
    belongs: Arc<Belongs>,
    base: usize,
    /// One for each rule, which all threads add to: a sum for each thread would be most of what a large order book takes.
    sums: Vec<Mutex<CaseSums>>,
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
        let belongs = Arc::new(Belongs::of(self.scenario));
        let sums = |case| Mutex::new(CaseSums::new(&belongs, case != base));
        self.whom = Some(Whom {
            sums: (0..self.rules.len()).map(sums).collect(),
            belongs,
            base,
        });
        self
    }

    /// Hands over who gains and who loses over all replications run so far, with intervals of this confidence; none if that was not
    /// added up. They are large, and not kept twice.
    pub(super) fn take_whom(&mut self, level: f64) -> Option<ForWhom> {
        let whom = self.whom.take()?;
        let sums = whom.sums.into_iter();
        let sums = sums.map(|sums| sums.into_inner().unwrap_or_else(PoisonError::into_inner));
        Some(ForWhom::of(
            self.scenario,
            whom.belongs,
            sums.collect(),
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
    /// What the profilers and causes of the replications that are kept come to.
    kept: Vec<(Profile, Causes)>,
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
            kept: vec![Default::default(); self.rules.len()],
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
        self.run_in_steps(worker, case, replication, row, &mut |_| true);
    }

    fn run_in_steps(
        &self,
        worker: &mut Worker<'t>,
        case: usize,
        replication: u64,
        row: &mut [f32],
        step: &mut dyn FnMut(u64) -> bool,
    ) -> bool {
        let profiler = &mut worker.profilers[case];
        worker.figures.begin();
        profiler.begin();
        worker.ledger.begin();
        let mut observer = (&mut worker.figures, (&mut *profiler, &mut worker.ledger));
        let (rule, luck) = (self.rules[case], Luck::new(self.seed, replication));
        let last = self.plan.sent_until.max(Millis(1));
        let goes_on = |at: Millis| step((1_000 * at.0 / last.0) as u64);
        let world = &mut worker.world;
        if (world.run_in_steps(rule, luck, &mut observer, STEP, goes_on)).is_none() {
            return false;
        }
        worker.figures.row(row);
        if let Some(whom) = &mut worker.whom {
            whom.note(case, &worker.figures);
        }
        profiler.profile.add_cost(&worker.figures.cost_parts());
        profiler.profile.add_margins(worker.figures.tour_margins());
        worker.causes[case].merge(&std::mem::take(&mut worker.ledger.causes));
        true
    }

    fn besides(&self) -> Option<&dyn Besides<Worker<'t>>> {
        Some(self)
    }
}

impl<'t> Besides<Worker<'t>> for &'t RuleTrial<'_> {
    fn keep(&self, worker: &mut Worker<'t>, replication: u64) {
        let news = worker.profilers.iter_mut().zip(&mut worker.causes);
        for ((profile, causes), (profiler, more)) in worker.kept.iter_mut().zip(news) {
            profile.merge(&std::mem::take(&mut profiler.profile));
            causes.merge(&std::mem::take(more));
        }
        if let (Some(whom), Some(adder)) = (&self.whom, &worker.whom) {
            adder.add(replication, &whom.sums);
        }
    }

    fn take_over(&self, worker: &mut Worker<'t>) {
        let mut profiles = self.profiles.lock().unwrap_or_else(PoisonError::into_inner);
        for ((sum, causes), kept) in profiles.iter_mut().zip(&mut worker.kept) {
            let (profile, more) = std::mem::take(kept);
            sum.merge(&profile);
            causes.merge(&more);
        }
    }
    fn sums(&self) -> Vec<u8> {
        let profiles = self.profiles.lock().unwrap_or_else(PoisonError::into_inner);
        // Those by whom may be most of the memory that is taken.
        let whom = self.whom.iter().flat_map(|whom| &whom.sums);
        let whom = whom.map(|sums| sums.lock().unwrap_or_else(PoisonError::into_inner));
        let whom: Vec<_> = whom.collect();
        let whom: Vec<&CaseSums> = whom.iter().map(|sums| &**sums).collect();
        postcard::to_stdvec(&(&*profiles, whom)).expect("whole numbers can be written")
    }

    fn add_sums(&self, bytes: &[u8], replications: u64) -> Option<()> {
        let ((more, more_whom), []) = postcard::take_from_bytes::<Sums>(bytes).ok()? else {
            return None;
        };
        let whom = self.whom.as_ref().map_or(&[][..], |whom| &whom.sums);
        let mut profiles = self.profiles.lock().unwrap_or_else(PoisonError::into_inner);
        let mut whom: Vec<_> = whom
            .iter()
            .map(|sums| sums.lock().unwrap_or_else(PoisonError::into_inner))
            .collect();
        let is_of = |of: u64| of == replications;
        let fits = (more.len(), more_whom.len()) == (profiles.len(), whom.len())
            && (more.iter()).all(|(profile, _)| is_of(profile.replications))
            && (more_whom.iter().zip(&whom))
                .all(|(more, sums)| is_of(more.replications()) && sums.is_like(more));
        if !fits {
            return None;
        }
        for ((profile, causes), (more, more_causes)) in profiles.iter_mut().zip(&more) {
            profile.merge(more);
            causes.merge(more_causes);
        }
        for (sums, more) in whom.iter_mut().zip(&more_whom) {
            sums.merge(more);
        }
        Some(())
    }
}
