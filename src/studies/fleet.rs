//! `fleet`: one pour, and how many trucks it takes that it never stops.

mod call;
mod search;

use crate::montecarlo::Progress;
use crate::scenario::{LoadOnPaper, Scenario};
use crate::statistics::{Chance, Estimate, Summary};
use crate::units::{Millis, OrderId, PlantId};
use std::num::NonZeroUsize;
use std::ops::RangeInclusive;
use std::sync::atomic::AtomicBool;

/// What is asked.
#[derive(Clone, Debug)]
pub struct FleetQuestion {
    /// The pour.
    pub order: OrderId,
    /// The plant that makes it and whose trucks are counted; none: the nearest that makes its mix.
    pub plant: Option<PlantId>,
    /// A second plant at which the same trucks may load.
    pub backup: Option<PlantId>,
    /// Without the day's other orders and trucks.
    pub alone: bool,
    /// Fleet sizes, from at least 1.
    pub trucks: RangeInclusive<u32>,
    /// Spacings to try; empty: as ordered.
    pub spacings: Vec<Millis>,
    /// First-load times to try, since midnight before the order's day; empty: as ordered.
    pub first_loads: Vec<Millis>,
    /// Bays of the plant; none: as they are.
    pub bays: Option<u32>,
    /// When the pour should be finished, since midnight before the order's day. It must then be met with the target's
    /// chance too.
    pub finish_by: Option<Millis>,
    /// Position of the rule under which the desk works.
    pub rule: usize,
    /// The chance that the pour never stops, above 0, below 1.
    pub target: f64,
    /// Replications of the final answer, at least 1; the search takes a fifth more, at least 50.
    pub replications: u64,
    /// Seed of all luck.
    pub seed: u64,
    /// Threads; none: all there are. Does not change the answer.
    pub threads: Option<NonZeroUsize>,
    /// Confidence of two-sided intervals and of the one-sided bound, between 0 and 1.
    pub level: f64,
}

impl Default for FleetQuestion {
    fn default() -> Self {
        Self {
            order: OrderId::new(0),
            plant: None,
            backup: None,
            alone: false,
            trucks: 1..=20,
            spacings: Vec::new(),
            first_loads: Vec::new(),
            bays: None,
            finish_by: None,
            rule: 0,
            target: 0.95,
            replications: 1_000,
            seed: 1,
            threads: None,
            level: 0.95,
        }
    }
}

/// The answer.
#[derive(Clone, Debug)]
pub struct FleetAnswer {
    /// Title of the scenario.
    pub scenario: String,
    /// The pour.
    pub order: String,
    /// Its volume, yd³.
    pub volume_yd3: f64,
    /// The longest pause that it tolerates.
    pub tolerated: Millis,
    /// The plant.
    pub plant: String,
    /// The backup.
    pub backup: Option<String>,
    /// Whether the pour was alone.
    pub alone: bool,
    /// The rule.
    pub rule: String,
    /// The chance asked for.
    pub target: f64,
    /// Confidence.
    pub level: f64,
    /// Seed.
    pub seed: u64,
    /// Replications of the final answer that were asked for.
    pub asked: u64,
    /// Replications that the search took.
    pub searched: u64,
    /// Whether it was interrupted.
    pub stopped: bool,
    /// Midnight before the order's day, less midnight before the days simulated: subtract it to get times of the day.
    pub midnight: Millis,
    /// One for each pair of first-load time and spacing.
    pub plans: Vec<PourPlan>,
    /// Position of the plan that meets the target with the fewest trucks, among equals the cheapest.
    pub best: Option<usize>,
}

/// One way to pour.
#[derive(Clone, Debug)]
pub struct PourPlan {
    /// When the first load is due, since midnight before the days simulated.
    pub first: Millis,
    /// Time between loads.
    pub spacing: Millis,
    /// When it should be finished.
    pub finish_by: Option<Millis>,
    /// The formula by hand.
    pub hand: LoadOnPaper,
    /// One for each fleet size, in order.
    pub sizes: Vec<FleetSize>,
    /// Position in `sizes` of the smallest that meets the target.
    pub smallest: Option<usize>,
}

/// What is known of one fleet size.
#[derive(Clone, Debug)]
pub struct FleetSize {
    /// Trucks.
    pub trucks: u32,
    /// Replications behind it in which the pour took place.
    pub replications: u64,
    /// Whether they are those of the final answer; else of the search.
    pub is_final: bool,
    /// The pour went without a gap beyond tolerance and was finished.
    pub no_gap: Chance,
    /// It was finished by the hour asked for.
    pub finished: Option<Chance>,
    /// Minutes of its longest pause.
    pub worst_pause_min: Estimate,
    /// When it was finished, minutes since midnight before the days simulated; without those where it was not.
    pub finished_min: Estimate,
    /// Minutes that a load's truck waited for a bay and a place.
    pub wait_min: Estimate,
    /// Cost per yd³ placed: of the pour if it is alone, else of the whole day.
    pub cost_per_yd3: Estimate,
    /// Productive over paid minutes of all trucks.
    pub truck_use: Estimate,
    /// Means of every figure, in the order of [`columns`](crate::observe::columns).
    pub figures: Vec<Summary>,
    /// Trucks at work for the pour and round trips.
    pub sums: crate::observe::PourSums,
}

impl FleetSize {
    /// Whether the bounds meet the target.
    pub fn meets(&self, target: f64) -> bool {
        let met = |chance: &Chance| chance.at_least >= target;
        met(&self.no_gap) && self.finished.as_ref().is_none_or(met)
    }
}

impl FleetAnswer {
    /// The best plan and its smallest fleet, if the target is met.
    pub fn recommended(&self) -> Option<(&PourPlan, &FleetSize)> {
        let plan = &self.plans[self.best?];
        Some((plan, &plan.sizes[plan.smallest?]))
    }

    /// The plan that a reader looks at first: the best, else the one whose best size comes nearest to the target.
    pub fn shown(&self) -> &PourPlan {
        let reach = |plan: &PourPlan| {
            let shares = plan.sizes.iter().map(|size| size.no_gap.share());
            shares.fold(0.0, f64::max)
        };
        match self.best {
            Some(best) => &self.plans[best],
            None => self
                .plans
                .iter()
                .reduce(|best, next| {
                    if reach(next) > reach(best) {
                        next
                    } else {
                        best
                    }
                })
                .expect("there is a plan for each time and spacing"),
        }
    }
}

/// Sizes the fleet. Stops early when `stop` becomes true; none if nothing was finished by then.
///
/// # Errors
/// In words, if no plant makes the pour, or there is no way from it to the site.
pub fn fleet(
    scenario: &Scenario,
    question: &FleetQuestion,
    progress: &(dyn Fn(Progress) + Sync),
    stop: &AtomicBool,
) -> Result<Option<FleetAnswer>, String> {
    search::answer(scenario, question, progress, stop)
}
