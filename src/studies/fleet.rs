//! `fleet`: one pour, and with how many trucks it is done as asked for the least money.

mod by_hour;
mod call;
mod neighbor;
mod own_cost;
mod relief;
mod search;
mod size;
mod timetable;
mod tours;

pub use by_hour::{DriverCall, PourHour};
pub use neighbor::TruckMore;

use crate::montecarlo::Watch;
use crate::observe::CostPart;
use crate::scenario::edit::calm::Trouble;
use crate::scenario::{LoadOnPaper, Scenario};
use crate::statistics::{Chance, Estimate, Summary, trials_without_event};
use crate::units::{Millis, OrderId, PlantId};
use std::num::NonZeroUsize;
use std::ops::RangeInclusive;

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
    /// The longest pause that is tolerated; none: as the order says.
    pub gap: Option<Millis>,
    /// What each of its outlets takes, yd³ a minute; none: as the order says.
    pub rate_yd3_min: Option<f64>,
    /// When the pour should be finished, since midnight before the order's day; none: as the order says, if it does. It must then
    /// be met with the target's chance too.
    pub finish_by: Option<Millis>,
    /// The share of its loads that may be late on average, 0 to 1; none: not asked.
    pub late_share: Option<f64>,
    /// Whether it is asked what one truck that breaks down does.
    pub breakdown: bool,
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
            gap: None,
            rate_yd3_min: None,
            finish_by: None,
            late_share: None,
            breakdown: false,
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
    /// Which it is.
    pub plant_id: PlantId,
    /// The backup.
    pub backup: Option<String>,
    /// Which it is.
    pub backup_id: Option<PlantId>,
    /// Whether the pour was alone.
    pub alone: bool,
    /// The rule.
    pub rule: String,
    /// The chance asked for.
    pub target: f64,
    /// The share of late loads that is allowed, if it is asked.
    pub late_share: Option<f64>,
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
    /// Position of the plan with the cheapest fleet of all that meet what is asked.
    pub best: Option<usize>,
    /// How often the [`shown`](Self::shown) plan would go without a gap, with the fleet that is [spoken of](PourPlan::spoken_of), were
    /// one kind of trouble not there.
    pub without_trouble: Vec<(Trouble, Chance)>,
    /// What it does if one truck breaks down with a full drum on its way: with that fleet and with a truck more. Empty: not asked.
    pub one_breakdown: Vec<OneBreakdown>,
}

/// A pour on the same days without a breakdown and with one: in every replication one of its loads, drawn, breaks down on its way.
#[derive(Clone, Debug)]
pub struct OneBreakdown {
    /// Trucks.
    pub trucks: u32,
    /// The days as they are.
    pub without: WithOrWithout,
    /// The same with the breakdown.
    pub with: WithOrWithout,
    /// What the breakdown costs, $ per yd³ ordered.
    pub dearer_per_yd3: Estimate,
}

/// What a pour comes to.
#[derive(Clone, Debug)]
pub struct WithOrWithout {
    /// It went without a gap beyond tolerance and was finished.
    pub no_gap: Chance,
    /// Minutes of its longest pause.
    pub worst_pause_min: Estimate,
    /// When it was finished, minutes since midnight before the days simulated; without those where it was not.
    pub finished_min: Estimate,
}

/// Pauses that are looked at whatever the pour tolerates: the longer, the more a cold joint is to be feared, the sooner the hotter
/// the day. Common practice, no source: how long a layer stays live depends on mix and weather.
pub const JOINT_RISK: [Millis; 4] = [
    Millis(20 * Millis::MINUTE.0),
    Millis(30 * Millis::MINUTE.0),
    Millis(45 * Millis::MINUTE.0),
    Millis(60 * Millis::MINUTE.0),
];

/// One way to pour.
#[derive(Clone, Debug)]
pub struct PourPlan {
    /// When the first load is due, since midnight before the days simulated.
    pub first: Millis,
    /// Time between loads.
    pub spacing: Millis,
    /// When it should be finished.
    pub finish_by: Option<Millis>,
    /// When it is finished if every load comes as ordered and unloads as on paper.
    pub planned_finish: Millis,
    /// The formula by hand.
    pub hand: LoadOnPaper,
    /// One for each fleet size, in order.
    pub sizes: Vec<FleetSize>,
    /// Position in `sizes` of the smallest that meets what is asked.
    pub smallest: Option<usize>,
    /// Position in `sizes` of the cheapest that does, among equals the smallest.
    pub cheapest: Option<usize>,
    /// For each of the sizes in the final answer what it costs more than the cheapest, by position in `sizes`, $ per yd³ ordered,
    /// on the same days.
    pub dearer: Vec<(usize, Estimate)>,
    /// Hour by hour what the plan needs, and what is there with the fleet that is [spoken of](Self::spoken_of).
    pub hours: Vec<PourHour>,
    /// Who is called in for it, the first shift first; empty where all are rostered.
    pub calls: Vec<DriverCall>,
}

/// What is known of one fleet size.
#[derive(Clone, Debug)]
pub struct FleetSize {
    /// Trucks.
    pub trucks: u32,
    /// Drivers at the plant, one after the other on a truck where a pour takes longer than one may work.
    pub drivers: u32,
    /// Replications behind it in which the pour took place.
    pub replications: u64,
    /// Whether they are those of the final answer; else of the search.
    pub is_final: bool,
    /// The pour went without a gap beyond tolerance and was finished.
    pub no_gap: Chance,
    /// It was finished by the hour asked for.
    pub finished: Option<Chance>,
    /// How often no pause is longer than each of [`JOINT_RISK`].
    pub no_pause_beyond: [Chance; JOINT_RISK.len()],
    /// Minutes of its longest pause.
    pub worst_pause_min: Estimate,
    /// Minutes in all that unloading stands still between its first and its last.
    pub stands_min: Estimate,
    /// Share of its loads that are late.
    pub late_share: Estimate,
    /// When it was finished, minutes since midnight before the days simulated; without those where it was not.
    pub finished_min: Estimate,
    /// Minutes that a load's truck waited for a bay and a place.
    pub wait_min: Estimate,
    /// What the pour costs, $ per yd³ ordered: if it is alone, all of it, with the plant's crew from the first truck at the bay to the
    /// last one back; else what the day costs more with the pour and these trucks than without the pour and with the trucks as they are.
    pub cost_per_yd3: Estimate,
    /// Its parts on average, $ per yd³ ordered; together the mean of `cost_per_yd3`.
    pub parts: Vec<(CostPart, f64)>,
    /// Productive over paid minutes of all trucks.
    pub truck_use: Estimate,
    /// Means of every figure, in the order of [`columns`](crate::observe::columns).
    pub figures: Vec<Summary>,
    /// Trucks at work for the pour and round trips.
    pub sums: crate::observe::PourSums,
    /// What it changes against one truck fewer, in the same runs; none for the smallest size tried.
    pub truck_more: Option<TruckMore>,
}

impl PourPlan {
    /// The fleet size that its sentences are about: the cheapest that does what is asked, else the one that comes nearest to it.
    pub fn spoken_of(&self) -> &FleetSize {
        let nearest = || {
            let nearer = |best: usize, next: usize| {
                let reach = |at: usize| (self.sizes[at].is_final, self.sizes[at].reach());
                if reach(next) > reach(best) {
                    next
                } else {
                    best
                }
            };
            (0..self.sizes.len()).fold(0, nearer)
        };
        &self.sizes[self.cheapest.unwrap_or_else(nearest)]
    }
}

impl FleetSize {
    /// Whether the bounds meet what is asked: the chances the target, the late share what may be late.
    pub fn meets(&self, target: f64, late_share: Option<f64>) -> bool {
        let met = |chance: &Chance| chance.at_least >= target;
        met(&self.no_gap)
            && self.finished.as_ref().is_none_or(met)
            && late_share.is_none_or(|share| self.late_share.interval.high <= share)
    }

    /// How near it comes to what is asked: more is nearer. How often there is no gap, then how little the site stands in all, then how
    /// short the worst pause is.
    pub fn reach(&self) -> (f64, f64, f64) {
        (
            self.no_gap.share(),
            -self.stands_min.mean.unwrap_or(f64::INFINITY),
            -self.worst_pause_min.mean.unwrap_or(f64::INFINITY),
        )
    }

    /// How much later than planned it is finished on average, where it is finished; below zero: earlier.
    pub fn behind(&self, plan: &PourPlan) -> Option<Millis> {
        let finished = self.finished_min.mean?;
        Some(Millis::from_minutes(finished) - plan.planned_finish)
    }
}

impl FleetAnswer {
    /// The best plan and its cheapest fleet, if what is asked is met.
    pub fn recommended(&self) -> Option<(&PourPlan, &FleetSize)> {
        let plan = &self.plans[self.best?];
        Some((plan, &plan.sizes[plan.cheapest?]))
    }

    /// The plan that a reader looks at first: the best, else the one whose best size comes nearest to the target.
    pub fn shown(&self) -> &PourPlan {
        let reach = |plan: &PourPlan| {
            let reached = plan.sizes.iter().map(FleetSize::reach);
            reached.fold((0.0, f64::NEG_INFINITY, 0.0), |best, next| {
                if next > best { next } else { best }
            })
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

/// Sizes the fleet. Ends early when it is stopped; none if nothing was finished by then.
///
/// # Errors
/// In words, if no plant makes the pour, or there is no way from it to the site, or if so few replications cannot show the target
/// whatever they find.
pub fn fleet(
    scenario: &Scenario,
    question: &FleetQuestion,
    watch: Watch<'_>,
) -> Result<Option<FleetAnswer>, String> {
    let fewest = trials_without_event(1.0 - question.target, question.level).unwrap_or(u64::MAX);
    if question.replications < fewest {
        return Err(format!(
            "{} replications cannot show a chance of {}% with {}% confidence, even if all go well\n  expected {fewest} at least, or a lower target",
            question.replications,
            100.0 * question.target,
            100.0 * question.level,
        ));
    }
    search::answer(scenario, question, watch)
}
