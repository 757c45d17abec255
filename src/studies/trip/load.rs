//! May this load go with this driver?

use super::super::{Chance, Estimate};
use super::TripQuestion;
use super::base::{Base, Forks, cost};
use super::fate::{self, Fate, column};
use super::legal::{self, Legal};
use super::unsaid::{WouldDo, what_would_do};
use crate::dispatch::Refusal;
use crate::hours::Clock;
use crate::montecarlo::{self, Progress, Rows, Trial};
use crate::observe::{Figures, TripWatch};
use crate::plant::{DriverNow, NextLoad, Plan};
use crate::scenario::Scenario;
use crate::statistics::Summary;
use crate::units::{DriverId, Millis, OrderId, PlantId};
use std::ops::Range;
use std::sync::atomic::AtomicBool;

/// Trials that every driver and plant gets, and those that are left then.
const FIRST_LOOK: u64 = 8;
const SECOND_LOOK: u64 = 32;
/// Drivers beside the asked one in the second look, and in the final answer.
const IN_SECOND_LOOK: usize = 8;
const IN_FINAL: usize = 4;
/// A driver who is out longer than this after the hour of account is not waited for.
const LONGEST_WAIT: Millis = Millis(30 * Millis::HOUR.0);

/// Working days in a month. Common practice, no source.
const WORKING_DAYS: f64 = 21.0;

/// What is said of the load and the driver asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LoadVerdict {
    /// It may go: the bound meets the chance asked for.
    Yes,
    /// The driver may not take it; the reason, and whether it is the law's, the company's or of the thing itself.
    Refused(Refusal),
    /// The load would be late or too old too often.
    No,
    /// The chance is about what is asked for; the trials do not tell which.
    NotTold,
    /// The driver would pass a limit, or be stranded, more often than is borne.
    TooRisky,
    /// It is not shown that the driver passes a limit, and is stranded, no more often than is borne.
    RiskNotShown,
}

/// A driver with a plant for the load.
#[derive(Clone, Debug)]
pub struct Candidate {
    /// Who.
    pub driver: DriverId,
    /// Where it would load.
    pub plant: PlantId,
    /// What the driver is doing now.
    pub now: DriverNow,
    /// What becomes of it.
    pub fate: Fate,
    /// What it costs more than if the desk goes on without the asked driver, on the same luck.
    pub cost_more: Estimate,
    /// Whether the numbers are those of the final answer; else of the search.
    pub is_final: bool,
}

/// The answer.
#[derive(Clone, Debug)]
pub struct LoadAnswer {
    /// The order.
    pub order: OrderId,
    /// Its load that asks next.
    pub load: NextLoad,
    /// The driver asked for, with the best plant.
    pub asked: Candidate,
    /// What is said of it.
    pub verdict: LoadVerdict,
    /// What it does to the driver's hours; none where the driver is refused.
    pub legal: Option<Legal>,
    /// What would make a yes of a no, where the file says too little of the driver.
    pub would_do: Option<WouldDo>,
    /// Loads that the desk sends in a month, those of drawn orders left out.
    pub loads_a_month: f64,
    /// The clock that binds most often, with its margin behind it or as the reason.
    pub clock: Option<Clock>,
    /// What becomes of load and driver if this driver does not take it and the desk goes on as usual.
    pub without: Fate,
    /// Who takes it then most often, and how often.
    pub without_taken_by: Option<(DriverId, Chance)>,
    /// The others, best first.
    pub others: Vec<Candidate>,
    /// If nobody meets the chance: who is on site first within age and clocks, though late.
    pub first: Option<Candidate>,
    /// Trials of the final answer that were run.
    pub trials: u64,
    /// Trials of the search, all candidates together.
    pub searched: u64,
    /// Whether it was interrupted.
    pub stopped: bool,
}

/// A choice that is tried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Case {
    Take(DriverId, PlantId),
    Leave(DriverId),
}

impl Case {
    fn driver(self) -> DriverId {
        match self {
            Self::Take(driver, _) | Self::Leave(driver) => driver,
        }
    }
}

struct LoadTrial<'b, 'p> {
    base: &'b Base<'p>,
    order: OrderId,
    number: u32,
    cases: Vec<Case>,
}

struct Bench<'p> {
    forks: Forks<'p>,
    figures: Figures<'p>,
    watch: TripWatch,
}

impl<'b, 'p> Trial for LoadTrial<'b, 'p> {
    type Worker = Bench<'p>;

    fn worker(&self) -> Bench<'p> {
        Bench {
            forks: Forks::new(self.base.plan),
            figures: self.base.figures.clone(),
            watch: TripWatch::new(self.base.plan),
        }
    }

    fn cases(&self) -> usize {
        self.cases.len()
    }

    fn width(&self) -> usize {
        column::COUNT
    }

    fn run(&self, bench: &mut Bench<'p>, case: usize, trial: u64, row: &mut [f32]) {
        let Bench {
            forks,
            figures,
            watch,
        } = bench;
        let base = self.base;
        let world = forks.with(base, base.luck(0, trial));
        figures.clone_from(&base.figures);
        let driver = self.cases[case].driver();
        watch.begin((self.order, self.number), driver, base.moment.wheel());
        let mut observer = (&mut *figures, &mut *watch);
        match self.cases[case] {
            Case::Take(driver, plant) => world.force_take(driver, self.order, plant, &mut observer),
            Case::Leave(driver) => world.force_leave(driver, self.order),
        }
        let account = base.account();
        world.go_on_to(account, &mut observer);
        let paid = cost(figures) - base.paid();
        let mut until = account;
        while !watch.is_home() && until < account + LONGEST_WAIT {
            until += Millis::HOUR;
            world.go_on_to(until, watch);
        }
        fate::write(watch.seen(), base.plan.age_limit(self.order), row);
        row[column::COST] = paid.units() as f32;
    }
}

/// Answers whether the next load of an order may go with a driver. None if nothing was finished before `stop` became true.
///
/// # Errors
/// In words, if the order has no load to ask for, or the driver is neither on duty nor due before the order's day is over.
pub fn may_load_go(
    scenario: &Scenario,
    question: &TripQuestion,
    (driver, order): (DriverId, OrderId),
    progress: &(dyn Fn(Progress) + Sync),
    stop: &AtomicBool,
) -> Result<Option<LoadAnswer>, String> {
    let plan = Plan::new(scenario);
    let base = Base::start(&plan, scenario, question)?;
    let found = answer(&base, scenario, question, (driver, order), progress, stop)?;
    Ok(found.map(|found| LoadAnswer {
        would_do: what_would_do(&plan, scenario, question, &found, (progress, stop)),
        ..found
    }))
}

/// Answers who should take the next load of an order: the best of all who could, the others after.
///
/// # Errors
/// In words, if the order has no load to ask for, or nobody is on duty or due before its day is over.
pub fn who_takes(
    scenario: &Scenario,
    question: &TripQuestion,
    order: OrderId,
    progress: &(dyn Fn(Progress) + Sync),
    stop: &AtomicBool,
) -> Result<Option<LoadAnswer>, String> {
    let plan = Plan::new(scenario);
    let base = Base::start(&plan, scenario, question)?;
    let mut drivers = (0..plan.driver_count()).map(DriverId::new);
    if !drivers.any(|driver| serves(&base, driver, order)) {
        return Err(format!(
            "nobody is on duty at that time or due before the day of order \"{}\" is over",
            scenario.orders[order.at()].name
        ));
    }
    let load = next_load(&base, scenario, order)?;
    let search = Search {
        base: &base,
        question,
        order,
        load,
        loads_a_month: loads_a_month(scenario),
        progress,
        stop,
    };
    Ok(search.answer(None))
}

/// What becomes of the load in each case.
pub(super) fn run(
    base: &Base<'_>,
    (order, number): (OrderId, u32),
    cases: &[Case],
    trials: Range<u64>,
    question: &TripQuestion,
    (progress, stop): (&(dyn Fn(Progress) + Sync), &AtomicBool),
) -> Vec<Fate> {
    let trial = LoadTrial {
        base,
        order,
        number,
        cases: cases.to_vec(),
    };
    let rows = montecarlo::run(&trial, trials, question.threads, progress, stop);
    (0..cases.len())
        .map(|case| Fate::of(&rows, case, question.level))
        .collect()
}

/// Loads that a desk sends in a month like the scenario's period, of orders with a volume.
fn loads_a_month(scenario: &Scenario) -> f64 {
    let loads = scenario.orders.iter().map(|order| {
        let chance = if order.slot.is_some() { 0.0 } else { 1.0 };
        chance * (order.volume.yd3() / order.load.yd3()).ceil()
    });
    WORKING_DAYS * loads.sum::<f64>() / f64::from(scenario.period.days)
}

/// The same from a world at the moment.
pub(super) fn answer(
    base: &Base<'_>,
    scenario: &Scenario,
    question: &TripQuestion,
    (driver, order): (DriverId, OrderId),
    progress: &(dyn Fn(Progress) + Sync),
    stop: &AtomicBool,
) -> Result<Option<LoadAnswer>, String> {
    let load = next_load(base, scenario, order)?;
    if !serves(base, driver, order) {
        return Err(format!(
            "driver \"{}\" is not on duty at that time and not due before the day of order \"{}\" is over",
            scenario.drivers[driver.at()].name,
            scenario.orders[order.at()].name
        ));
    }
    let search = Search {
        base,
        question,
        order,
        load,
        loads_a_month: loads_a_month(scenario),
        progress,
        stop,
    };
    Ok(search.answer(Some(driver)))
}

fn next_load(base: &Base<'_>, scenario: &Scenario, order: OrderId) -> Result<NextLoad, String> {
    base.moment.next_load(order).ok_or_else(|| {
        format!(
            "order \"{}\" has no load that could go at that time: all are promised or placed, it is cancelled or not called in yet, \
             or its day is over",
            scenario.orders[order.at()].name
        )
    })
}

/// Whether a driver is at work, or will be before the order's day is over.
fn serves(base: &Base<'_>, driver: DriverId, order: OrderId) -> bool {
    let now = base.moment.driver(driver);
    let over = base.plan.orders[order.at()].day_over;
    (now.on_duty && !now.away) || now.due.is_some_and(|due| due < over)
}

struct Search<'a, 'p> {
    base: &'a Base<'p>,
    question: &'a TripQuestion,
    order: OrderId,
    load: NextLoad,
    loads_a_month: f64,
    progress: &'a (dyn Fn(Progress) + Sync),
    stop: &'a AtomicBool,
}

impl Search<'_, '_> {
    fn run(&self, cases: &[Case], trials: Range<u64>) -> Rows {
        let trial = LoadTrial {
            base: self.base,
            order: self.order,
            number: self.load.number,
            cases: cases.to_vec(),
        };
        montecarlo::run(
            &trial,
            trials,
            self.question.threads,
            self.progress,
            self.stop,
        )
    }

    /// Of the driver asked for; none: the best.
    fn answer(&self, asked: Option<DriverId>) -> Option<LoadAnswer> {
        let level = self.question.level;
        let drivers = (0..self.base.plan.driver_count()).map(DriverId::new);
        let makers = self.base.plan.makers(self.order);
        let all: Vec<Case> = drivers
            .filter(|driver| Some(*driver) == asked || serves(self.base, *driver, self.order))
            .flat_map(|driver| makers.iter().map(move |plant| Case::Take(driver, *plant)))
            .collect();
        let rows = self.run(&all, 0..FIRST_LOOK);
        if rows.is_empty() {
            return None;
        }
        let first = ranked(&rows, &all, level);
        let best = |ranked: &[(Case, Fate)]| asked.unwrap_or_else(|| ranked[0].0.driver());
        let second_cases: Vec<Case> = with_asked(&first, best(&first), IN_SECOND_LOOK);
        let second_trials = FIRST_LOOK..FIRST_LOOK + SECOND_LOOK;
        let rows = self.run(&second_cases, second_trials.clone());
        if rows.is_empty() {
            return None;
        }
        let second = ranked(&rows, &second_cases, level);
        let asked = best(&second);
        let mut cases = with_asked(&second, asked, IN_FINAL);
        cases.insert(0, Case::Leave(asked));
        let rows = self.run(
            &cases,
            second_trials.end..second_trials.end + self.question.trials,
        );
        if rows.is_empty() {
            return None;
        }
        let candidate = |at: usize| match cases[at] {
            Case::Leave(_) => None,
            Case::Take(driver, plant) => Some(Candidate {
                driver,
                plant,
                now: self.base.moment.driver(driver),
                fate: Fate::of(&rows, at, level),
                cost_more: difference(&rows, at, level),
                is_final: true,
            }),
        };
        let asked = candidate(1)?;
        let mut others: Vec<Candidate> = (2..cases.len()).filter_map(candidate).collect();
        others.sort_by(|a, b| best_first(&a.fate, &b.fate));
        let refused = refused(&asked.fate);
        let legal = refused.is_none().then(|| {
            let load = (self.order, self.load.number);
            let case = (asked.driver, load, asked.plant);
            legal::legal(self.base, self.question, case, self.progress, self.stop)
        });
        let enough = |fate: &Fate| fate.all.at_least >= self.question.probability;
        let nobody = !enough(&asked.fate) && !others.iter().any(|other| enough(&other.fate));
        let without = Fate::of(&rows, 0, level);
        Some(LoadAnswer {
            order: self.order,
            load: self.load,
            verdict: self.verdict(&asked.fate, refused, legal.as_ref()),
            legal,
            would_do: None,
            loads_a_month: self.loads_a_month,
            clock: clock(&asked.fate),
            without_taken_by: taker(&rows, level),
            without,
            first: nobody.then(|| self.first(&second)).flatten(),
            asked,
            others,
            trials: rows.len() as u64,
            searched: FIRST_LOOK * all.len() as u64 + SECOND_LOOK * second_cases.len() as u64,
            stopped: (rows.len() as u64) < self.question.trials,
        })
    }

    /// The law first: no chance of being on time makes up for a limit that is passed.
    fn verdict(&self, fate: &Fate, refused: Option<Refusal>, legal: Option<&Legal>) -> LoadVerdict {
        if let Some(why) = refused {
            return LoadVerdict::Refused(why);
        }
        let probability = self.question.probability;
        if legal.is_some_and(Legal::is_too_much) {
            LoadVerdict::TooRisky
        } else if fate.good.interval.high < probability {
            LoadVerdict::No
        } else if !legal.is_some_and(Legal::is_shown) {
            LoadVerdict::RiskNotShown
        } else if fate.good.at_least >= probability {
            LoadVerdict::Yes
        } else {
            LoadVerdict::NotTold
        }
    }

    /// Who is on site first within age and clocks.
    fn first(&self, looked_at: &[(Case, Fate)]) -> Option<Candidate> {
        let chance = |fate: &Fate| fate.within_age.share().min(fate.back.share());
        let lawful = looked_at
            .iter()
            .filter(|(_, fate)| chance(fate) >= self.question.probability);
        let on_site = |fate: &Fate| fate.on_site.map_or(f64::INFINITY, |span| span.middle);
        let (case, fate) = lawful.min_by(|a, b| on_site(&a.1).total_cmp(&on_site(&b.1)))?;
        let Case::Take(driver, plant) = *case else {
            return None;
        };
        Some(Candidate {
            driver,
            plant,
            now: self.base.moment.driver(driver),
            cost_more: Estimate::of(&Summary::of([]), self.question.level),
            fate: fate.clone(),
            is_final: false,
        })
    }
}

/// Why the driver may not take the load, in most of the trials.
pub(super) fn refused(fate: &Fate) -> Option<Refusal> {
    let most = fate.refused.first();
    most.filter(|(_, times)| 2 * times > fate.trials)
        .map(|(why, _)| *why)
}

fn best_first(a: &Fate, b: &Fate) -> std::cmp::Ordering {
    let lawful = |fate: &Fate| fate.within_age.share().min(fate.back.share());
    let mean = |fate: &Fate| fate.cost.mean.unwrap_or(f64::INFINITY);
    b.all
        .share()
        .total_cmp(&a.all.share())
        .then(lawful(b).total_cmp(&lawful(a)))
        .then(b.in_time.share().total_cmp(&a.in_time.share()))
        .then(b.taken.share().total_cmp(&a.taken.share()))
        .then(mean(a).total_cmp(&mean(b)))
}

/// Choices with what becomes of them, best first.
fn ranked(rows: &Rows, cases: &[Case], level: f64) -> Vec<(Case, Fate)> {
    let mut all: Vec<(Case, Fate)> = cases
        .iter()
        .enumerate()
        .map(|(at, case)| (*case, Fate::of(rows, at, level)))
        .collect();
    all.sort_by(|a, b| best_first(&a.1, &b.1));
    all
}

/// The asked driver's best choice, then the same driver's next best plant, then so many other drivers, each with the best plant.
fn with_asked(ranked: &[(Case, Fate)], asked: DriverId, others: usize) -> Vec<Case> {
    let mut cases: Vec<Case> = Vec::new();
    let own = ranked.iter().filter(|(case, _)| case.driver() == asked);
    cases.extend(own.take(2).map(|(case, _)| *case));
    let most = cases.len() + others;
    for (case, _) in ranked {
        if cases.len() < most && cases.iter().all(|other| other.driver() != case.driver()) {
            cases.push(*case);
        }
    }
    cases
}

/// What a case costs more than the first, trial by trial.
fn difference(rows: &Rows, case: usize, level: f64) -> Estimate {
    let pairs = rows
        .values(case, column::COST)
        .zip(rows.values(0, column::COST));
    Estimate::of(&Summary::of(pairs.map(|(this, other)| this - other)), level)
}

/// Who takes the load most often in the first case.
fn taker(rows: &Rows, level: f64) -> Option<(DriverId, Chance)> {
    let mut counts = std::collections::BTreeMap::new();
    for driver in rows
        .values(0, column::TAKER)
        .filter(|driver| *driver >= 0.0)
    {
        *counts.entry(driver as u32).or_insert(0_u64) += 1;
    }
    let (driver, times) = counts
        .into_iter()
        .max_by_key(|(driver, times)| (*times, std::cmp::Reverse(*driver)))?;
    Some((
        DriverId(driver as _),
        Chance::of(times, rows.len() as u64, level),
    ))
}

fn clock(fate: &Fate) -> Option<Clock> {
    let refused = fate.refused.first().and_then(|(why, _)| why.clock());
    refused.or(fate.binds.first().map(|(rule, _)| *rule))
}
