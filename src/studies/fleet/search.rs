//! The search for the smallest fleet: all sizes on a few replications, then those around the answer on fresh ones.

use super::call::first_call;
use super::{FleetAnswer, FleetQuestion, FleetSize, PourPlan};
use crate::montecarlo::{self, Progress, Rows};
use crate::observe::{PourSums, columns, figure, pour};
use crate::plant::Plan;
use crate::scenario::edit::fleet::{self as edit, Fleet};
use crate::scenario::{LoadOnPaper, Scenario};
use crate::statistics::{Chance, Estimate, Summary};
use crate::studies::edited::Edited;
use crate::units::{Millis, OrderId, PlantId};
use std::ops::Range;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

/// Drivers are called in at most so long before the first load is due: from when the days simulated begin.
const EARLIEST_CALL: Millis = Millis(5 * Millis::HOUR.0);
/// Sizes of the final answer below and above the one that the search points at.
const BELOW: usize = 2;
const ABOVE: usize = 3;

/// What all steps of one study share.
struct Study<'a> {
    question: &'a FleetQuestion,
    plants: Vec<PlantId>,
    days: (i64, i64),
    day: i64,
    progress: &'a (dyn Fn(Progress) + Sync),
    done: AtomicU64,
    total: AtomicU64,
    stop: &'a AtomicBool,
}

pub(super) fn answer(
    scenario: &Scenario,
    question: &FleetQuestion,
    progress: &(dyn Fn(Progress) + Sync),
    stop: &AtomicBool,
) -> Result<Option<FleetAnswer>, String> {
    let order = &scenario.orders[question.order.at()];
    let whole = Plan::new(scenario);
    let plant = question
        .plant
        .or_else(|| LoadOnPaper::nearest(scenario, whole.roads(), order).map(|load| load.plant))
        .ok_or_else(|| format!("no plant makes the mix {:?}", order.mix))?;
    let plants: Vec<PlantId> = std::iter::once(plant).chain(question.backup).collect();
    for plant in &plants {
        let made_at = &scenario.plants[plant.at()];
        if !made_at.makes(&order.mix) {
            return Err(format!(
                "{:?} does not make the mix {:?}",
                made_at.name, order.mix
            ));
        }
        if LoadOnPaper::of(scenario, whole.roads(), order, *plant).is_none() {
            return Err(format!(
                "no way leads from {:?} to the site of {:?}",
                made_at.name, order.name
            ));
        }
    }
    let day = order.first.day();
    let firsts: Vec<Millis> = if question.first_loads.is_empty() {
        vec![order.first]
    } else {
        let at = |time: &Millis| Millis::midnight(day) + *time;
        question.first_loads.iter().map(at).collect()
    };
    let spacings = if question.spacings.is_empty() {
        vec![order.spacing]
    } else {
        question.spacings.clone()
    };
    let pairs: Vec<(Millis, Millis)> = firsts
        .iter()
        .flat_map(|first| spacings.iter().map(move |spacing| (*first, *spacing)))
        .collect();
    let earliest = firsts.iter().copied().min().unwrap_or(order.first) - EARLIEST_CALL;
    let loads = order.volume.loads_of(order.load) - 1;
    let last = pairs
        .iter()
        .map(|(first, spacing)| (*first + *spacing * loads).day())
        .max()
        .unwrap_or(day);
    let searched = (question.replications / 5).max(50);
    let study = Study {
        question,
        plants,
        days: (earliest.day().clamp(0, day), last.max(day)),
        day,
        progress,
        done: AtomicU64::new(0),
        total: AtomicU64::new(pairs.len() as u64 * (searched + question.replications)),
        stop,
    };
    let plans: Option<Vec<PourPlan>> = pairs
        .iter()
        .map(|(first, spacing)| study.plan(scenario, *first, *spacing, searched))
        .collect();
    let Some(plans) = plans else {
        return Ok(None);
    };
    let best = best(&plans);
    Ok(Some(FleetAnswer {
        scenario: scenario.name.clone(),
        order: order.name.clone(),
        volume_yd3: order.volume.yd3(),
        tolerated: order.gap,
        plant: scenario.plants[plant.at()].name.clone(),
        backup: question
            .backup
            .map(|plant| scenario.plants[plant.at()].name.clone()),
        alone: question.alone,
        rule: scenario.rules[question.rule].name.clone(),
        target: question.target,
        level: question.level,
        seed: question.seed,
        asked: question.replications,
        searched,
        stopped: stop.load(Ordering::Relaxed),
        midnight: study.midnight(),
        plans,
        best,
    }))
}

/// The plan with the smallest fleet that meets the target, among equals the cheapest.
fn best(plans: &[PourPlan]) -> Option<usize> {
    let key = |plan: &PourPlan| {
        let size = &plan.sizes[plan.smallest?];
        Some((size.trucks, size.cost_per_yd3.mean.unwrap_or(f64::INFINITY)))
    };
    let mut best: Option<(usize, (u32, f64))> = None;
    for (at, plan) in plans.iter().enumerate() {
        if let Some(key) = key(plan)
            && best.is_none_or(|(_, least)| key.0 < least.0 || key.0 == least.0 && key.1 < least.1)
        {
            best = Some((at, key));
        }
    }
    best.map(|(at, _)| at)
}

impl Study<'_> {
    fn midnight(&self) -> Millis {
        Millis::midnight(self.day - self.days.0)
    }

    /// The days simulated with the pour as this plan has it, and its position there.
    fn edited(&self, scenario: &Scenario, first: Millis, spacing: Millis) -> (Scenario, OrderId) {
        let mut moved = scenario.clone();
        let order = &mut moved.orders[self.question.order.at()];
        if order.first != first {
            order.first = first;
            order.called = Millis::ZERO;
        }
        order.spacing = spacing;
        if let Some(finish_by) = self.question.finish_by {
            order.finish_by = Some(Millis::midnight(self.day) + finish_by);
        }
        if let Some(bays) = self.question.bays {
            moved.plants[self.plants[0].at()].bays = bays;
        }
        let moved = edit::made_by(&moved, self.question.order, &self.plants);
        let name = &scenario.orders[self.question.order.at()].name;
        let cut = edit::days(&moved, self.days.0, self.days.1);
        let place = |scenario: &Scenario| {
            let mut orders = scenario.orders.iter();
            OrderId::new(
                orders
                    .position(|order| order.name == *name)
                    .expect("the pour is on the days simulated"),
            )
        };
        if self.question.alone {
            let alone = edit::alone(&cut, place(&cut));
            (alone, OrderId::new(0))
        } else {
            let pour = place(&cut);
            (cut, pour)
        }
    }

    /// None if it was stopped before one replication was finished.
    fn plan(
        &self,
        scenario: &Scenario,
        first: Millis,
        spacing: Millis,
        searched: u64,
    ) -> Option<PourPlan> {
        let (base, pour) = self.edited(scenario, first, spacing);
        let plan = Plan::new(&base);
        let plant = self.plants[0];
        let order = &base.orders[pour.at()];
        let hand = LoadOnPaper::of(&base, plan.roads(), order, plant)
            .expect("a way was found before")
            .helped_by(&base, order, &self.plants[1..]);
        let call = first_call(&base, &plan, self.question.rule, pour, &hand);
        let variant = |trucks: u32| {
            edit::with_fleet(
                &base,
                &Fleet {
                    plant,
                    trucks,
                    only: self.question.alone,
                    call,
                    apart: order.spacing,
                },
            )
        };
        let trucks: Vec<u32> = self.question.trucks.clone().collect();
        let run = |sizes: Range<usize>, replications: Range<u64>, is_final: bool| {
            let scenarios = trucks[sizes.clone()].iter().map(|n| variant(*n)).collect();
            let trial = Edited::new(
                scenarios,
                self.question.rule,
                self.question.seed,
                Some(pour),
            );
            let rows = self.run(&trial, replications);
            let sums = trial.sums();
            let size = |(case, sums): (usize, PourSums)| {
                self.size(
                    &trial,
                    &base,
                    &rows,
                    case,
                    trucks[sizes.start + case],
                    sums,
                    is_final,
                )
            };
            (!rows.is_empty()).then(|| sums.into_iter().enumerate().map(size).collect::<Vec<_>>())
        };
        let mut sizes = run(0..trucks.len(), 0..searched, false)?;
        // Where the search first comes up to the target; else the best that it saw.
        let target = self.question.target;
        let near = |size: &FleetSize| {
            let reached = |chance: &Chance| chance.share() >= target;
            reached(&size.no_gap) && size.finished.as_ref().is_none_or(reached)
        };
        let share = |at: &usize| sizes[*at].no_gap.share();
        let most = |best: usize, next: usize| {
            if share(&next) > share(&best) {
                next
            } else {
                best
            }
        };
        let points_at = sizes
            .iter()
            .position(near)
            .unwrap_or_else(|| (0..sizes.len()).fold(0, most));
        let mut window = points_at.saturating_sub(BELOW)..(points_at + ABOVE + 1).min(sizes.len());
        let mut wanted = window.clone();
        let fresh = searched..searched + self.question.replications;
        let smallest = loop {
            let Some(results) = run(wanted.clone(), fresh.clone(), true) else {
                break None; // stopped
            };
            for (at, result) in wanted.clone().zip(results) {
                sizes[at] = result;
            }
            let smallest = window.clone().find(|at| sizes[*at].meets(target));
            wanted = match smallest {
                // The answer lies inside, or there is nothing below it.
                Some(at) if at > window.start || at == 0 => break smallest,
                Some(at) => at.saturating_sub(ABOVE)..at,
                None if window.end == sizes.len() => break None,
                None => window.end..(window.end + ABOVE).min(sizes.len()),
            };
            window = window.start.min(wanted.start)..window.end.max(wanted.end);
        };
        Some(PourPlan {
            first: order.first,
            spacing: order.spacing,
            finish_by: order.finish_by,
            hand,
            sizes,
            smallest,
        })
    }

    fn run(&self, trial: &Edited, replications: Range<u64>) -> Rows {
        let progress = |_: Progress| {
            let done = 1 + self.done.fetch_add(1, Ordering::Relaxed);
            let total = self.total.fetch_max(done, Ordering::Relaxed).max(done);
            (self.progress)(Progress { done, total });
        };
        montecarlo::run(
            &trial,
            replications,
            self.question.threads,
            &progress,
            self.stop,
        )
    }

    #[expect(
        clippy::too_many_arguments,
        reason = "what one row of the answer is made of"
    )]
    fn size(
        &self,
        trial: &Edited,
        base: &Scenario,
        rows: &Rows,
        case: usize,
        trucks: u32,
        sums: PourSums,
        is_final: bool,
    ) -> FleetSize {
        let level = self.question.level;
        let figures: Vec<Summary> = (0..columns(base).len())
            .map(|column| Summary::of(rows.values(case, column)))
            .collect();
        let at = |figure: usize| trial.pour_figures() + figure;
        let took_place = |value: &f64| !value.is_nan();
        let stopped: Vec<f64> = rows
            .values(case, at(pour::STOPPED))
            .filter(took_place)
            .collect();
        let of = stopped.len() as u64;
        let without = stopped.iter().filter(|stopped| **stopped == 0.0).count() as u64;
        let finished = self.question.finish_by.map(|by| {
            let by = (self.midnight() + by).minutes();
            let in_time = rows
                .values(case, at(pour::FINISHED_MIN))
                .filter(|finished| *finished <= by)
                .count();
            Chance::of(in_time as u64, of, level)
        });
        let estimate = |column: usize| Estimate::of(&Summary::of(rows.values(case, column)), level);
        FleetSize {
            trucks,
            replications: of,
            is_final,
            no_gap: Chance::of(without, of, level),
            finished,
            worst_pause_min: estimate(at(pour::WORST_PAUSE_MIN)),
            finished_min: estimate(at(pour::FINISHED_MIN)),
            wait_min: estimate(at(pour::WAIT_MIN)),
            cost_per_yd3: estimate(figure::COST_PER_YD3),
            truck_use: estimate(figure::TRUCK_USE),
            figures,
            sums,
        }
    }
}
