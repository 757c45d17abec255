//! `staff`: how many drivers, starting when, and whether overtime is cheaper than a hire.
//!
//! Drivers rostered on at least half of the days are counted; a driver more brings a truck.

mod absence;
mod haulers;
mod part_time;
mod rest;
mod sensitive;
mod sheet;
mod shown;
mod split;
mod turning;
mod variants;
mod year;

pub use absence::{Absence, SURE};
pub use haulers::{HaulerCase, Hired};
pub use part_time::PartTime;
pub use rest::exchange_starts;
pub use sensitive::{Sensitive, StaffedWorld, Stands};
pub use sheet::{CallIn, CallSheet, call_sheet};
pub use shown::Shown;
pub use split::{Part as StaffingPart, Saving};
pub use turning::{PriceChange, StaffPrice};
pub use year::{HeadCount, SeasonBest, StaffedYear, Year};

use super::edited::{self, Edited};
use super::until::default_indifference;
use crate::dispatch::Shift;
use crate::montecarlo::{self, Progress, Rows, Watch};
use crate::observe::{CostPart, columns, figure};
use crate::scenario::edit::roster::{self, OvertimeUse};
use crate::scenario::season::Season;
use crate::scenario::{Hauler, Scenario};
use crate::statistics::{Estimate, Interval, Paired, Summary};
use crate::units::Millis;
use std::cell::Cell;
use std::num::NonZeroUsize;
use std::ops::Range;

/// Staffings of the search that go into the final answer, beside today's.
const CANDIDATES: usize = 4;
/// Steps of one driver from the best candidate, at most.
const STEPS: usize = 8;
/// Drivers more than the answer's that are tried for each growth, and fewer where the book shrinks.
const GROWTH_STEPS: [u32; 6] = [0, 1, 2, 4, 6, 9];

/// What is asked.
#[derive(Clone, Debug)]
pub struct StaffQuestion {
    /// Numbers of regular drivers, each at least 1, increasing; empty: the [`usual_drivers`].
    pub drivers: Vec<u32>,
    /// Ways to start.
    pub starts: Vec<Shift>,
    /// Uses of overtime.
    pub overtime: Vec<OvertimeUse>,
    /// Mean share of loads late, at most.
    pub late_share: f64,
    /// Mean share of loads undelivered, at most.
    pub undelivered: f64,
    /// Drivers stranded in a period, at most; none: not asked.
    pub stranded: Option<f64>,
    /// What each driver more costs a week beyond the hours paid, and each fewer saves, currency units; none: not known, and not in
    /// the decision.
    pub hire_per_week: Option<f64>,
    /// The price of hired haulers; none: nobody more is hired by the hour.
    pub hauler: Option<Hauler>,
    /// Numbers of haulers to try beside those that the scenario has; looked at only with a price.
    pub haulers: Vec<u32>,
    /// Numbers of part-timers to try beside none, and the length of their tours. Empty: none.
    pub part_time: (Vec<u32>, Millis),
    /// Growth of the order book, per cent; below zero it shrinks.
    pub growth: Vec<f64>,
    /// The weeks of the year by their share of the book's orders; with them the staffing is decided for the year. Empty: for the book's
    /// own days.
    pub seasons: Vec<Season>,
    /// Whether the recommendation is tried in changed worlds.
    pub holds: bool,
    /// Position of the rule.
    pub rule: usize,
    /// Replications of the final answer; the search takes a fifth more, at least 20.
    pub replications: u64,
    /// Seed.
    pub seed: u64,
    /// Threads; none: all. Does not change the answer.
    pub threads: Option<NonZeroUsize>,
    /// Confidence.
    pub level: f64,
}

impl Default for StaffQuestion {
    fn default() -> Self {
        Self {
            drivers: Vec::new(),
            starts: vec![
                Shift::Rostered,
                Shift::Staggered { minutes: None },
                Shift::Matched { spare: 1 },
            ],
            overtime: OvertimeUse::ALL.to_vec(),
            late_share: 0.1,
            undelivered: 0.005,
            stranded: None,
            hire_per_week: None,
            hauler: None,
            haulers: vec![1, 2, 4],
            part_time: (Vec::new(), Millis::ZERO),
            growth: Vec::new(),
            seasons: Vec::new(),
            holds: false,
            rule: 0,
            replications: 200,
            seed: 1,
            threads: None,
            level: 0.95,
        }
    }
}

/// The head counts that are tried where none are named: today's, and up to 6 fewer and 4 more in steps of 2.
pub fn usual_drivers(scenario: &Scenario) -> Vec<u32> {
    let today = roster::regulars(scenario).len() as i64;
    [-6, -4, -2, 0, 2, 4]
        .into_iter()
        .filter_map(|change| u32::try_from(today + change).ok())
        .filter(|drivers| *drivers > 0)
        .collect()
}

/// One way to staff.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Staffing {
    /// Regular drivers.
    pub drivers: u32,
    /// When they start: the rule's decision, as a scenario writes it.
    pub starts: Shift,
    /// How long they stay.
    pub overtime: OvertimeUse,
    /// Hired haulers beside them.
    pub hired: Hired,
    /// Those of them who work short tours.
    pub part_time: PartTime,
}

/// What is known of a staffing. Money and counts are per period.
#[derive(Clone, Debug)]
pub struct StaffResult {
    /// Which.
    pub staffing: Staffing,
    /// Whether it stands on the replications of the final answer.
    pub is_final: bool,
    /// Whether the bounds meet the service targets.
    pub meets: bool,
    /// All costs, with what is asked for a hire for each driver more than today.
    pub cost: Estimate,
    /// What of it is for the drivers more than today; below zero for fewer.
    pub hire: f64,
    /// Costs by part, means.
    pub parts: [f64; CostPart::ALL.len()],
    /// Pay at the plain rate for hours without work, on duty or not: mean.
    pub idle_pay: f64,
    /// Share of loads late.
    pub late_share: Estimate,
    /// Share of loads undelivered.
    pub undelivered: Estimate,
    /// Drivers stranded.
    pub stranded: Estimate,
    /// Closest to the hours-of-service limit, minutes.
    pub margin_min: Estimate,
    /// Overtime hours.
    pub overtime_h: Estimate,
    /// Paid hours.
    pub paid_h: Estimate,
    /// Hours paid and not worked: guaranteed hours, short tours, show-up pay.
    pub unworked_h: Estimate,
    /// Days on which haulers are paid, their hours, and driver days off: means.
    pub hired_days: f64,
    /// See `hired_days`.
    pub hired_h: f64,
    /// See `hired_days`.
    pub days_off: f64,
    costs: Vec<f64>,
    /// What of them is pay with its taxes, and what haulers are paid.
    pays: Vec<f64>,
    bills: Vec<f64>,
    overtimes: Vec<f64>,
}

/// One driver more or less than the answer's staffing, on the same days.
#[derive(Clone, Debug)]
pub struct OneMore {
    /// The staffing.
    pub result: StaffResult,
    /// Its cost less the answer's, per period, with what is asked for a hire.
    pub cost: (f64, Interval),
    /// Its overtime less the answer's, hours per period.
    pub overtime_h: f64,
}

/// The cheapest number of drivers for a grown order book.
#[derive(Clone, Debug)]
pub struct Grown {
    /// Per cent more orders; below zero fewer.
    pub per_cent: f64,
    /// The fewest drivers tried that meet the targets; else none.
    pub fewest: Option<StaffResult>,
    /// With as many drivers as now.
    pub as_now: StaffResult,
}

/// The answer.
#[derive(Clone, Debug)]
pub struct StaffAnswer {
    /// Title of the scenario.
    pub scenario: String,
    /// Days in a period.
    pub days: u32,
    /// The rule.
    pub rule: String,
    /// What was asked.
    pub question: StaffQuestion,
    /// Today's staffing.
    pub today: Staffing,
    /// Every staffing, in the order of the question, then those one driver away from the answer.
    pub results: Vec<StaffResult>,
    /// Position of the one recommended: of those that meet the targets and cost the least, or so little more that it does not matter, the
    /// one that changes least. With seasons that is so over the year, where one meets the targets in every season.
    pub best: Option<usize>,
    /// Positions of the others that meet the targets and whose cost differs by so little; empty with seasons.
    pub equal: Vec<usize>,
    /// What it saves against today's staffing, and by which change; none without a recommendation, or where today's is it.
    pub saving: Option<Saving>,
    /// One driver less, and one more, than the answer's.
    pub less: Option<OneMore>,
    /// See `less`.
    pub more: Option<OneMore>,
    /// One for each growth asked for.
    pub grown: Vec<Grown>,
    /// One hired hauler more, against one driver more; none without a price.
    pub haulers: Option<HaulerCase>,
    /// What absence does; none where nobody is off.
    pub absence: Option<Absence>,
    /// What is recommended where prices are others.
    pub prices: Vec<PriceChange>,
    /// The year by its seasons, if they were given.
    pub year: Option<Year>,
    /// The recommendation in changed worlds, if it was asked for.
    pub sensitive: Option<Sensitive>,
    /// Replications of the search.
    pub searched: u64,
    /// Whether it was interrupted.
    pub stopped: bool,
}

impl StaffAnswer {
    /// Working weeks in a period: of five to seven days one, else days ÷ 5 or 7.
    pub fn weeks(&self) -> f64 {
        weeks(self.days)
    }

    /// Whether a staffing is recommended that meets the targets, with seasons in every one of them.
    pub fn meets(&self) -> bool {
        self.best.is_some() && self.year.as_ref().is_none_or(|year| year.best.is_some())
    }

    /// Today's result.
    pub fn todays(&self) -> Option<&StaffResult> {
        self.results
            .iter()
            .find(|result| result.staffing == self.today)
    }
}

/// Working weeks in a period of so many days: see [`StaffAnswer::weeks`].
fn weeks(days: u32) -> f64 {
    match days {
        0..=4 => f64::from(days) / 5.0,
        5..=7 => 1.0,
        days => f64::from(days) / 7.0,
    }
}

/// The scenario staffed this way under a rule: the roster with these drivers, haulers and tours, and the rule's `shift`. Written into
/// a file so, it is the same staffing.
pub fn staffed(scenario: &Scenario, rule: usize, staffing: Staffing) -> Scenario {
    let drivers = roster::with_drivers(scenario, staffing.drivers);
    let Hired { haulers, terms } = staffing.hired;
    let hired = roster::with_haulers(&drivers, haulers, terms);
    let tours = roster::with_overtime(&hired, staffing.overtime);
    let tours = staffing.part_time.on(tours);
    roster::with_shift(&tours, rule, staffing.starts)
}

struct Study<'a> {
    scenario: &'a Scenario,
    question: &'a StaffQuestion,
    watch: Watch<'a>,
    done: Cell<u64>,
    total: u64,
}

/// Runs the study. Ends early when it is stopped; none if nothing was finished by then.
pub fn staff(
    scenario: &Scenario,
    question: &StaffQuestion,
    watch: Watch<'_>,
) -> Option<StaffAnswer> {
    let usual;
    let question = if question.drivers.is_empty() {
        usual = StaffQuestion {
            drivers: usual_drivers(scenario),
            ..question.clone()
        };
        &usual
    } else {
        question
    };
    let mut study = Study {
        scenario,
        question,
        watch,
        done: Cell::new(0),
        total: 0,
    };
    let searched = study.searched();
    study.total = searched + question.replications * (4 + question.growth.len() as u64);
    let today = Staffing {
        drivers: roster::regulars(scenario).len() as u32,
        starts: scenario.rules[question.rule].shift,
        overtime: OvertimeUse::Rostered,
        hired: Hired {
            haulers: study.today_hired(),
            terms: None,
        },
        part_time: PartTime::default(),
    };
    let mut all = Vec::new();
    for overtime in &question.overtime {
        for starts in &question.starts {
            for drivers in &question.drivers {
                all.push(Staffing {
                    drivers: *drivers,
                    starts: *starts,
                    overtime: *overtime,
                    ..today
                });
            }
        }
    }
    if !all.contains(&today) {
        all.push(today);
    }
    let mut results = study.run(scenario, &all, 0..searched, false)?;
    let variants = study.variants(&results, today);
    if !variants.is_empty() {
        results.extend(study.run(scenario, &variants, 0..searched, false)?);
        all.extend(variants);
    }
    let fresh = searched..searched + question.replications;
    let candidates = study.candidates(&results, today);
    let staffings: Vec<Staffing> = candidates.iter().map(|at| all[*at]).collect();
    let finals = study.run(scenario, &staffings, fresh.clone(), true);
    for (at, result) in candidates.iter().zip(finals.into_iter().flatten()) {
        results[*at] = result;
    }
    let meeting = |results: &[StaffResult]| {
        let equal = study.equal(results);
        equal
            .into_iter()
            .min_by_key(|at| changed(results[*at].staffing, today))
    };
    let mut best = meeting(&results);
    let (mut less, mut more, mut grown) = (None, None, Vec::new());
    // One driver less and more: where that is cheaper and meets the targets too, it is the answer and its neighbours are next.
    for _ in 0..STEPS {
        let Some(at) = best else { break };
        let Some(beside) = study.beside(&mut results, at, fresh.clone()) else {
            break;
        };
        (less, more) = beside;
        let next = meeting(&results);
        if next == best {
            break;
        }
        best = next;
    }
    let next = fresh.end + question.replications;
    let year = study.year(&results, best, today, next);
    if let Some(staffing) = year.as_ref().and_then(Year::decided)
        && best.is_none_or(|at| results[at].staffing != staffing)
        && let Some(found) = study.run(scenario, &[staffing], fresh.clone(), true)
    {
        let at = put(&mut results, found.into_iter().next()?);
        best = Some(at);
        (less, more) = study
            .beside(&mut results, at, fresh.clone())
            .unwrap_or_default();
    }
    if let Some(best) = best {
        let chosen = results[best].staffing;
        let after = fresh.end..fresh.end + question.replications;
        for per_cent in &question.growth {
            grown.extend(study.grown(chosen, *per_cent, after.clone()));
        }
    }
    let hauled = best
        .zip(more.as_ref())
        .and_then(|(at, hire)| study.hauler_case(&results[at], &hire.result, fresh.clone()));
    let absence = best.and_then(|at| study.absence(&results[at], fresh.clone()));
    let todays = results.iter().find(|result| result.staffing == today);
    let prices = todays.map_or(Vec::new(), |today| study.price_changes(&results, today));
    let mut equal = study.equal(&results);
    equal.retain(|at| Some(*at) != best && year.is_none());
    let saving = best.and_then(|at| study.saving(&results[at], today, fresh.clone()));
    let sensitive = best
        .filter(|_| question.holds)
        .and_then(|at| study.sensitive(&results, at, today, fresh.start));
    Some(StaffAnswer {
        scenario: scenario.name.clone(),
        days: scenario.period.days,
        rule: scenario.rules[question.rule].name.clone(),
        question: question.clone(),
        today,
        results,
        best,
        equal,
        saving,
        less,
        more,
        grown,
        haulers: hauled,
        absence,
        prices,
        year,
        sensitive,
        searched,
        stopped: watch.is_stopped(),
    })
}

/// How much a staffing changes: decisions, then drivers.
fn changed(staffing: Staffing, today: Staffing) -> (usize, u32) {
    let decisions = [
        staffing.starts != today.starts,
        staffing.overtime != today.overtime,
        staffing.hired != today.hired,
        staffing.part_time != today.part_time,
        staffing.drivers != today.drivers,
    ];
    let decisions = decisions.into_iter().filter(|changed| *changed).count();
    let people = staffing.drivers.abs_diff(today.drivers)
        + staffing.hired.haulers.abs_diff(today.hired.haulers);
    (decisions, people)
}

/// The cheapest of the final answer that meets the targets, these left out.
fn runner_up<'a>(results: &'a [StaffResult], but: &[Staffing]) -> Option<&'a StaffResult> {
    let cost = |result: &StaffResult| result.cost.mean.unwrap_or(f64::INFINITY);
    let others = results
        .iter()
        .filter(|result| result.is_final && result.meets && !but.contains(&result.staffing));
    others.min_by(|one, other| cost(one).total_cmp(&cost(other)))
}

/// Puts a result in the place of that of the same staffing, or at the end, and says where.
fn put(results: &mut Vec<StaffResult>, result: StaffResult) -> usize {
    let same = |other: &StaffResult| other.staffing == result.staffing;
    match results.iter().position(same) {
        Some(at) => {
            results[at] = result;
            at
        }
        None => {
            results.push(result);
            results.len() - 1
        }
    }
}

impl Study<'_> {
    /// Replications of the search.
    fn searched(&self) -> u64 {
        (self.question.replications / 5).max(20)
    }

    /// One driver less and one more than that of a position, which are put among the results; none if it was interrupted.
    fn beside(
        &self,
        results: &mut Vec<StaffResult>,
        at: usize,
        replications: Range<u64>,
    ) -> Option<(Option<OneMore>, Option<OneMore>)> {
        let chosen = results[at].staffing;
        let fewer = (chosen.drivers > 1).then(|| chosen.drivers - 1);
        let neighbours: Vec<Staffing> = fewer
            .into_iter()
            .chain([chosen.drivers + 1])
            .map(|drivers| Staffing { drivers, ..chosen })
            .collect();
        let found = self.run(self.scenario, &neighbours, replications, true)?;
        let mut compared = found
            .iter()
            .map(|result| self.one_more(result.clone(), &results[at]));
        let less = fewer.and_then(|_| compared.next());
        let more = compared.next();
        for result in found {
            put(results, result);
        }
        Some((less, more))
    }

    /// Those of the final answer that meet the targets and cost the least, or more by so little that it does not matter, in their order.
    fn equal(&self, results: &[StaffResult]) -> Vec<usize> {
        let good = |at: &usize| results[*at].is_final && results[*at].meets;
        let cost = |at: usize| results[at].cost.mean.unwrap_or(f64::INFINITY);
        let least = (0..results.len())
            .filter(good)
            .map(cost)
            .fold(f64::INFINITY, f64::min);
        let within = least + self.indifference();
        let among = (0..results.len()).filter(good);
        among.filter(|at| cost(*at) <= within).collect()
    }

    /// By how much costs may differ in a period without mattering.
    fn indifference(&self) -> f64 {
        let cost = &columns(self.scenario)[figure::COST];
        default_indifference(cost, self.scenario.period.days)
    }

    /// How many haulers the scenario has.
    fn today_hired(&self) -> u32 {
        roster::haulers(self.scenario).len() as u32
    }

    /// What each driver more than today costs in the period, with what is asked for a hire.
    fn hire(&self, drivers: u32) -> f64 {
        let more = f64::from(drivers) - roster::regulars(self.scenario).len() as f64;
        self.question.hire_per_week.unwrap_or(0.0) * weeks(self.scenario.period.days) * more
    }

    /// Whether the means are within the service targets, which the bounds of few runs need not be.
    fn seems(&self, result: &StaffResult) -> bool {
        let within = |estimate: &Estimate, most: f64| estimate.mean.is_none_or(|mean| mean <= most);
        within(&result.late_share, self.question.late_share)
            && within(&result.undelivered, self.question.undelivered)
            && self
                .question
                .stranded
                .is_none_or(|most| within(&result.stranded, most))
    }

    /// The cheapest that seem to meet the targets, then those with the fewest late loads.
    fn ranked(&self, results: &[StaffResult]) -> Vec<usize> {
        let mut order: Vec<usize> = (0..results.len()).collect();
        let key = |at: &usize| {
            let result = &results[*at];
            let measure = if self.seems(result) {
                result.cost.mean
            } else {
                result.late_share.mean
            };
            (!self.seems(result), measure.unwrap_or(f64::INFINITY))
        };
        order.sort_by(|a, b| {
            let (a, b) = (key(a), key(b));
            a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
        });
        order
    }

    /// What the final answer looks at: the first of them, and today's.
    fn candidates(&self, results: &[StaffResult], today: Staffing) -> Vec<usize> {
        let mut order = self.ranked(results);
        order.truncate(CANDIDATES);
        let today = results.iter().position(|result| result.staffing == today);
        order.extend(today.filter(|at| !order.contains(at)));
        order
    }

    fn run(
        &self,
        scenario: &Scenario,
        staffings: &[Staffing],
        replications: Range<u64>,
        is_final: bool,
    ) -> Option<Vec<StaffResult>> {
        let scenarios = staffings
            .iter()
            .map(|staffing| staffed(scenario, self.question.rule, *staffing))
            .collect();
        self.run_staffed(scenarios, staffings, replications, is_final)
    }

    /// The same of scenarios that are staffed so.
    fn run_staffed(
        &self,
        scenarios: Vec<Scenario>,
        staffings: &[Staffing],
        replications: Range<u64>,
        is_final: bool,
    ) -> Option<Vec<StaffResult>> {
        let trial = Edited::new(scenarios, self.question.rule, self.question.seed, None).people();
        let before = self.done.get();
        let total = (self.total).max(before + replications.end - replications.start);
        let progress = |run: Progress| (self.watch.progress)(run.within(before, total));
        let watch = self.watch.telling(&progress);
        let rows = montecarlo::run(&&trial, replications, self.question.threads, watch);
        self.done.set(before + rows.len() as u64);
        let result = |(case, staffing): (usize, &Staffing)| {
            let places = (trial.cost_parts(), trial.people_at());
            self.result(*staffing, &rows, case, places, is_final)
        };
        (!rows.is_empty()).then(|| staffings.iter().enumerate().map(result).collect())
    }

    fn result(
        &self,
        staffing: Staffing,
        rows: &Rows,
        case: usize,
        (parts_at, people_at): (usize, usize),
        is_final: bool,
    ) -> StaffResult {
        let level = self.question.level;
        let summary = |column: usize| Summary::of(rows.values(case, column));
        let estimate = |column: usize| Estimate::of(&summary(column), level);
        // Late loads ÷ share late = loads judged.
        let undelivered = Summary::of(rows.replications().map(|replication| {
            let row = rows.row(case, replication);
            let at = |figure: usize| f64::from(row[figure]);
            if at(figure::UNDELIVERED) > 0.0 {
                at(figure::UNDELIVERED) * at(figure::LATE_SHARE) / at(figure::LATE_LOADS)
            } else {
                0.0
            }
        }));
        let late = summary(figure::LATE_SHARE);
        let stranded = summary(figure::STRANDED);
        let within =
            |summary: &Summary, most: f64| summary.n() < 1 || summary.at_most(level) <= most;
        let mut parts = [0.0; CostPart::ALL.len()];
        for (nth, part) in parts.iter_mut().enumerate() {
            *part = summary(parts_at + nth).mean().unwrap_or(0.0);
        }
        let idle = rows.replications().map(|replication| {
            let row = rows.row(case, replication);
            let used = f64::from(row[figure::TRUCK_USE]);
            let part = |part: CostPart| f64::from(row[parts_at + part as usize]);
            let pay = part(CostPart::Pay) + part(CostPart::Unworked);
            if used.is_nan() {
                0.0
            } else {
                pay * (1.0 - used)
            }
        });
        let sum_of = |parts: &[CostPart]| -> Vec<f64> {
            let of_row = |replication: u64| {
                let row = rows.row(case, replication);
                let part = |part: &CostPart| f64::from(row[parts_at + *part as usize]);
                parts.iter().map(part).sum()
            };
            rows.replications().map(of_row).collect()
        };
        let mean = |column: usize| summary(people_at + column).mean().unwrap_or(0.0);
        let hire = self.hire(staffing.drivers);
        let costs: Vec<f64> = rows
            .values(case, figure::COST)
            .map(|cost| cost + hire)
            .collect();
        StaffResult {
            staffing,
            is_final,
            meets: within(&late, self.question.late_share)
                && within(&undelivered, self.question.undelivered)
                && self
                    .question
                    .stranded
                    .is_none_or(|most| within(&stranded, most)),
            cost: Estimate::of_values(&costs, level),
            hire,
            parts,
            idle_pay: Summary::of(idle).mean().unwrap_or(0.0),
            late_share: Estimate::of(&late, level),
            undelivered: Estimate::of(&undelivered, level),
            stranded: Estimate::of(&stranded, level),
            margin_min: estimate(figure::MARGIN_MIN),
            overtime_h: estimate(figure::OVERTIME_H),
            paid_h: estimate(figure::PAID_H),
            unworked_h: estimate(figure::UNWORKED_H),
            hired_h: mean(edited::HIRED_H),
            hired_days: mean(edited::HIRED_DAYS),
            days_off: mean(edited::DAYS_OFF),
            costs,
            pays: sum_of(&[
                CostPart::Pay,
                CostPart::Overtime,
                CostPart::Unworked,
                CostPart::PayrollTax,
            ]),
            bills: sum_of(&[CostPart::Haulers]),
            overtimes: rows.values(case, figure::OVERTIME_H).collect(),
        }
    }

    /// Compared on the same replications; those that only one of the two has, after an interruption, are left out.
    fn one_more(&self, result: StaffResult, chosen: &StaffResult) -> OneMore {
        let n = result.costs.len().min(chosen.costs.len());
        let cost = Paired::of(&result.costs[..n], &chosen.costs[..n]);
        let overtime = Paired::of(&result.overtimes[..n], &chosen.overtimes[..n]);
        OneMore {
            cost: (
                cost.difference.mean().unwrap_or(0.0),
                cost.simultaneous(self.question.level, 2),
            ),
            overtime_h: overtime.difference.mean().unwrap_or(0.0),
            result,
        }
    }

    /// What the second costs less than the first in the same replications, those left out that only one of them has.
    fn saved(&self, first: &StaffResult, second: &StaffResult) -> Estimate {
        let pairs = first.costs.iter().zip(&second.costs);
        let saved: Vec<f64> = pairs.map(|(first, second)| first - second).collect();
        Estimate::of_values(&saved, self.question.level)
    }

    fn grown(&self, chosen: Staffing, per_cent: f64, replications: Range<u64>) -> Option<Grown> {
        let scenario = roster::with_growth(self.scenario, per_cent);
        let staffings = GROWTH_STEPS.map(|step| Staffing {
            drivers: match per_cent < 0.0 {
                true => chosen.drivers.saturating_sub(step).max(1),
                false => chosen.drivers + step,
            },
            ..chosen
        });
        let results = self.run(&scenario, &staffings, replications, true)?;
        let meeting = results.iter().filter(|result| result.meets);
        Some(Grown {
            per_cent,
            fewest: meeting
                .min_by_key(|result| result.staffing.drivers)
                .cloned(),
            as_now: results.into_iter().next()?,
        })
    }
}
