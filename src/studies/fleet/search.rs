//! The search for the cheapest fleet that does what is asked, and for the smallest: all sizes on a few replications, then those
//! around the answer on fresh ones.

mod breakdown;

use super::by_hour;
use super::call::first_call;
use super::neighbor::{PerRun, TruckMore};
use super::own_cost::OwnCost;
use super::relief::reliefs;
use super::size::{self, Asked};
use super::timetable::{Timetable, Trips};
use super::tours::Tours;
use super::{FleetAnswer, FleetQuestion, FleetSize, PourPlan};
use crate::montecarlo::{self, Progress, Rows, Watch};
use crate::observe::PourSums;
use crate::plant::Plan;
use crate::scenario::edit::calm::Trouble;
use crate::scenario::edit::fleet::{self as edit, Fleet};
use crate::scenario::{Driver, LoadOnPaper, Scenario};
use crate::statistics::{Chance, Estimate};
use crate::studies::edited::Edited;
use crate::units::{Millis, OrderId, PlantId};
use std::cell::Cell;
use std::collections::BTreeMap;
use std::ops::Range;

/// Drivers are called in at most so long before the first load is due: from when the days simulated begin.
const EARLIEST_CALL: Millis = Millis(5 * Millis::HOUR.0);
/// Sizes of the final answer below the smallest and above the cheapest that the search points at.
const BELOW: usize = 2;
const ABOVE: usize = 3;

/// What all steps of one study share.
struct Study<'a> {
    question: &'a FleetQuestion,
    plants: Vec<PlantId>,
    days: (i64, i64),
    day: i64,
    watch: Watch<'a>,
    done: Cell<u64>,
    total: u64,
}

pub(super) fn answer(
    scenario: &Scenario,
    question: &FleetQuestion,
    watch: Watch<'_>,
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
        watch,
        done: Cell::new(0),
        total: pairs.len() as u64
            * (searched + question.replications)
            * if question.alone { 1 } else { 2 },
    };
    let plans: Option<Vec<PourPlan>> = pairs
        .iter()
        .map(|(first, spacing)| study.plan(scenario, *first, *spacing, searched))
        .collect();
    let Some(plans) = plans else {
        return Ok(None);
    };
    let best = best(&plans);
    let mut answer = FleetAnswer {
        scenario: scenario.name.clone(),
        order: order.name.clone(),
        volume_yd3: order.volume.yd3(),
        tolerated: question.gap.unwrap_or(order.gap),
        plant: scenario.plants[plant.at()].name.clone(),
        plant_id: plant,
        backup_id: question.backup,
        backup: question
            .backup
            .map(|plant| scenario.plants[plant.at()].name.clone()),
        alone: question.alone,
        rule: scenario.rules[question.rule].name.clone(),
        target: question.target,
        late_share: question.late_share,
        level: question.level,
        seed: question.seed,
        asked: question.replications,
        searched,
        stopped: false,
        midnight: study.midnight(),
        plans,
        best,
        without_trouble: Vec::new(),
        one_breakdown: Vec::new(),
    };
    answer.without_trouble = study.without_trouble(scenario, answer.shown(), searched);
    if question.breakdown {
        answer.one_breakdown = study.one_breakdown(scenario, answer.shown(), searched);
    }
    answer.stopped = watch.is_stopped();
    Ok(Some(answer))
}

/// The plan with the cheapest fleet that meets what is asked, among equals that with fewer trucks.
fn best(plans: &[PourPlan]) -> Option<usize> {
    let key = |plan: &PourPlan| {
        let size = &plan.sizes[plan.cheapest?];
        Some((size.cost_per_yd3.mean?, size.trucks))
    };
    let met = plans
        .iter()
        .enumerate()
        .filter_map(|(at, plan)| Some((key(plan)?, at)));
    met.min_by(|(one, _), (other, _)| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)))
        .map(|(_, at)| at)
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
        order.gap = self.question.gap.unwrap_or(order.gap);
        if let Some(rate) = self.question.rate_yd3_min {
            order.stay.times.discharge = None;
            for outlet in &mut order.stay.outlets {
                outlet.rate_yd3_min = rate;
            }
        }
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
        let carried = edit::carried(&base, order, plant, self.question.rule);
        let hand = LoadOnPaper::of(&base, plan.roads(), &carried, plant)
            .expect("a way was found before")
            .helped_by(&base, &carried, &self.plants[1..]);
        let trips = Trips::new(&plan);
        let variant = |trucks: u32| self.with_fleet((&base, pour), (&plan, &trips), &hand, trucks);
        let trucks: Vec<u32> = self.question.trucks.clone().collect();
        let own_cost = if self.question.alone {
            OwnCost::alone(&base, order.volume)
        } else {
            let without = Edited::new(
                vec![edit::without(&base, pour)],
                self.question.rule,
                self.question.seed,
                None,
            );
            let rows = self.run(&without, 0..searched + self.question.replications);
            OwnCost::beside(&without, &rows, order.volume)
        };
        let run = |sizes: Range<usize>, replications: Range<u64>, is_final: bool| {
            let scenarios: Vec<Scenario> =
                trucks[sizes.clone()].iter().map(|n| variant(*n)).collect();
            let at_plant = |scenario: &Scenario| {
                let home = |driver: &&Driver| scenario.trucks[driver.truck.at()].home == plant;
                scenario.drivers.iter().filter(home).count() as u32
            };
            let drivers: Vec<u32> = scenarios.iter().map(at_plant).collect();
            let trial = Edited::new(
                scenarios,
                self.question.rule,
                self.question.seed,
                Some(pour),
            );
            let rows = self.run(&trial, replications);
            let asked = Asked {
                base: &base,
                own_cost: &own_cost,
                finish_by: order.finish_by,
                level: self.question.level,
                is_final,
            };
            let size = |(case, sums): (usize, PourSums)| {
                let fleet = (trucks[sizes.start + case], drivers[case]);
                asked.size(&trial, &rows, (case, fleet), sums)
            };
            let sums = trial.sums().into_iter().enumerate();
            (!rows.is_empty()).then(|| sums.map(size).collect::<Vec<_>>())
        };
        let (mut sizes, in_search): (Vec<FleetSize>, Vec<PerRun>) =
            run(0..trucks.len(), 0..searched, false)?
                .into_iter()
                .unzip();
        let target = self.question.target;
        let met = |sizes: &[FleetSize], at: usize| {
            sizes[at].is_final && sizes[at].meets(target, self.question.late_share)
        };
        let fresh = searched..searched + self.question.replications;
        let mut in_final: BTreeMap<usize, PerRun> = BTreeMap::new();
        let mut wanted = self.window(&sizes);
        let (mut smallest, mut cheapest) = (None, None);
        let mut window = wanted.clone();
        while let Some(results) = run(wanted.clone(), fresh.clone(), true) {
            for (at, (size, per_run)) in wanted.clone().zip(results) {
                sizes[at] = size;
                in_final.insert(at, per_run);
            }
            smallest = window.clone().find(|at| met(&sizes, *at));
            cheapest = cheapest_of(&sizes, window.clone().filter(|at| met(&sizes, *at)));
            let last = window.end - 1;
            wanted = match (smallest, cheapest) {
                // The smallest may lie below all that were looked at, and the cheapest above.
                (Some(at), _) if at == window.start && at > 0 => at.saturating_sub(ABOVE)..at,
                (None, _) if window.end == sizes.len() => break,
                (_, Some(at)) if at < last || window.end == sizes.len() => break,
                _ => window.end..(window.end + ABOVE).min(sizes.len()),
            };
            window = window.start.min(wanted.start)..window.end.max(wanted.end);
        }
        let dearer = cheapest.map_or_else(Vec::new, |cheapest| {
            let more = |per_run: &PerRun| -> Vec<f64> {
                let pairs = per_run.cost.iter().zip(&in_final[&cheapest].cost);
                pairs.map(|(own, least)| own - least).collect()
            };
            let others = in_final.iter().filter(|(at, _)| **at != cheapest);
            let level = self.question.level;
            others
                .map(|(at, per_run)| (*at, Estimate::of_values(&more(per_run), level)))
                .collect()
        });
        for at in 1..sizes.len() {
            // Two sizes meet the same days in the final answer if both are in it, else in the search, which ran all.
            let pair = match (in_final.get(&at), in_final.get(&(at - 1))) {
                (Some(size), Some(fewer)) => (size, fewer),
                _ => (&in_search[at], &in_search[at - 1]),
            };
            sizes[at].truck_more = Some(TruckMore::of(pair.0, pair.1, self.question.level));
        }
        let mut found = PourPlan {
            first: order.first,
            spacing: order.spacing,
            finish_by: order.finish_by,
            planned_finish: order.first
                + hand.spacing.max(hand.least_on_site) * (hand.loads - 1)
                + hand.unloading,
            hand,
            sizes,
            smallest,
            cheapest,
            dearer,
            hours: Vec::new(),
            calls: Vec::new(),
        };
        let spoken_of = found.spoken_of();
        let fleet = variant(spoken_of.trucks);
        let timetable = Timetable::of(&base, &trips, order, &hand, None);
        let hours = by_hour::hours(&fleet, &timetable, &spoken_of.sums);
        (found.hours, found.calls) = (hours, by_hour::calls(&fleet));
        Some(found)
    }

    /// The days with so many trucks at the plant.
    fn with_fleet(
        &self,
        (base, pour): (&Scenario, OrderId),
        (plan, trips): (&Plan, &Trips<'_>),
        hand: &LoadOnPaper,
        trucks: u32,
    ) -> Scenario {
        let order = &base.orders[pour.at()];
        let rule = self.question.rule;
        let call = first_call(base, (plan, trips), rule, pour, hand);
        let tours = Tours::of(base, hand, trucks, order.first - call);
        let fleet = edit::with_fleet(
            base,
            &Fleet {
                plant: self.plants[0],
                trucks,
                only: self.question.alone,
                call,
                apart: hand.spacing,
                tours: tours.tours,
                tour: tours.tour,
                last_load: tours.last_load,
            },
        );
        if self.question.alone {
            return fleet;
        }
        let reliefs = reliefs(&fleet, trips, (rule, pour), hand, call);
        edit::with_relief(&fleet, &reliefs)
    }

    /// How often the pour would go without a gap with that many trucks if one kind of trouble were not there, on the same days as in the
    /// final answer; nothing for a kind that is not there.
    fn without_trouble(
        &self,
        scenario: &Scenario,
        plan: &PourPlan,
        searched: u64,
    ) -> Vec<(Trouble, Chance)> {
        let first = plan.first + Millis::midnight(self.days.0);
        let (base, pour) = self.edited(scenario, first, plan.spacing);
        let trucks = plan.spoken_of().trucks;
        let made = Plan::new(&base);
        let made = (&made, &Trips::new(&made));
        let fleet = self.with_fleet((&base, pour), made, &plan.hand, trucks);
        let left_out = Trouble::ALL
            .into_iter()
            .filter_map(|trouble| Some((trouble, trouble.left_out(&fleet, self.question.rule)?)));
        let (troubles, scenarios): (Vec<Trouble>, Vec<Scenario>) = left_out.unzip();
        if scenarios.is_empty() {
            return Vec::new();
        }
        let trial = Edited::new(
            scenarios,
            self.question.rule,
            self.question.seed,
            Some(pour),
        );
        let rows = self.run(&trial, searched..searched + self.question.replications);
        if rows.is_empty() {
            return Vec::new();
        }
        let no_gap = |case| size::no_gap(&trial, &rows, case, self.question.level);
        troubles
            .into_iter()
            .enumerate()
            .map(|(case, trouble)| (trouble, no_gap(case)))
            .collect()
    }

    /// The sizes that the search points at: from a little below the smallest that comes up to what is asked to a little above the
    /// cheapest that does; else around the best that it saw.
    fn window(&self, sizes: &[FleetSize]) -> Range<usize> {
        let target = self.question.target;
        let reached = |chance: &Chance| chance.share() >= target;
        let near = |at: &usize| {
            let size = &sizes[*at];
            let late = size.late_share.mean.unwrap_or(0.0);
            reached(&size.no_gap)
                && size.finished.as_ref().is_none_or(reached)
                && self.question.late_share.is_none_or(|share| late <= share)
        };
        let most = |best: usize, next: usize| {
            if sizes[next].reach() > sizes[best].reach() {
                next
            } else {
                best
            }
        };
        let all = 0..sizes.len();
        let smallest = all.clone().find(near);
        let smallest = smallest.unwrap_or_else(|| all.clone().fold(0, most));
        let cheapest = cheapest_of(sizes, all.filter(near)).unwrap_or(smallest);
        smallest.saturating_sub(BELOW)..(cheapest + ABOVE + 1).min(sizes.len())
    }

    fn run(&self, trial: &Edited, replications: Range<u64>) -> Rows {
        let before = self.done.get();
        let total = self
            .total
            .max(before + replications.end - replications.start);
        let progress = |run: Progress| (self.watch.progress)(run.within(before, total));
        let watch = self.watch.telling(&progress);
        let rows = montecarlo::run(&trial, replications, self.question.threads, watch);
        self.done.set(before + rows.len() as u64);
        rows
    }
}

/// The cheapest of these sizes, among equals the smallest.
fn cheapest_of(sizes: &[FleetSize], among: impl Iterator<Item = usize>) -> Option<usize> {
    let cost = |at: usize| Some((sizes[at].cost_per_yd3.mean?, at));
    among
        .filter_map(cost)
        .min_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)))
        .map(|(_, at)| at)
}
