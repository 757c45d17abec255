//! Who could take a load: many tried a little, the best few again, and those in the final answer.

use super::tried::{Case, LoadTrial};
use super::{Candidate, LoadAnswer, LoadVerdict, serves};
use crate::dispatch::Refusal;
use crate::hours::Clock;
use crate::montecarlo::{self, Rows, Watch};
use crate::plant::NextLoad;
use crate::statistics::Summary;
use crate::studies::trip::TripQuestion;
use crate::studies::trip::base::Base;
use crate::studies::trip::fate::{Fate, column};
use crate::studies::trip::legal::{self, Legal};
use crate::studies::{Chance, Estimate};
use crate::units::{DriverId, OrderId};
use std::ops::Range;

/// Trials that every driver and plant gets, and those that are left then.
const FIRST_LOOK: u64 = 8;
const SECOND_LOOK: u64 = 32;
/// Drivers beside the asked one in the second look, and in the final answer.
const IN_SECOND_LOOK: usize = 8;
const IN_FINAL: usize = 4;
/// By so much of the second look's runs two choices may differ and count as alike: two of 32.
const ALIKE: f64 = 2.0 / SECOND_LOOK as f64;

/// The search for whom is asked about, or the best, and the final answer on runs of its own.
pub(super) struct Search<'a, 'p> {
    pub(super) base: &'a Base<'p>,
    pub(super) question: &'a TripQuestion,
    pub(super) order: OrderId,
    pub(super) load: NextLoad,
    pub(super) loads_a_month: f64,
    pub(super) watch: Watch<'a>,
}

impl Search<'_, '_> {
    fn run(&self, cases: &[Case], trials: Range<u64>) -> Rows {
        let trial = LoadTrial {
            base: self.base,
            order: self.order,
            number: self.load.number,
            cases: cases.to_vec(),
        };
        montecarlo::run(&trial, trials, self.question.threads, self.watch)
    }

    /// Of the driver asked for; none: the best.
    pub(super) fn answer(&self, asked: Option<DriverId>) -> Option<LoadAnswer> {
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
        let asked = asked.unwrap_or_else(|| cheapest_of_the_best(&second));
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
            legal::legal(self.base, self.question, case, self.watch)
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
pub(in crate::studies::trip) fn refused(fate: &Fate) -> Option<Refusal> {
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

/// Of those who do as well as the best within the luck of the second look, the cheapest: what they cost differs less by luck, as all
/// are tried on the same days.
fn cheapest_of_the_best(ranked: &[(Case, Fate)]) -> DriverId {
    let share = |fate: &Fate| fate.all.share();
    let lawful = |fate: &Fate| fate.within_age.share().min(fate.back.share());
    let (_, best) = &ranked[0];
    let like = |fate: &Fate| share(fate) >= share(best) - ALIKE && lawful(fate) >= lawful(best);
    let cost = |fate: &Fate| fate.cost.mean.unwrap_or(f64::INFINITY);
    let alike = ranked.iter().filter(|(_, fate)| like(fate));
    let cheapest = alike.min_by(|a, b| cost(&a.1).total_cmp(&cost(&b.1)));
    cheapest.map_or(ranked[0].0.driver(), |(case, _)| case.driver())
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
