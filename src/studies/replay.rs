//! `replay`: one replication under one rule again, exactly, with all that is needed to look at it.

use super::compare::Comparison;
use super::{Block, RuleTrial, Worst, WorstReplication};
use crate::montecarlo::{self, Rows, Watch};
use crate::observe::{
    Column, Deliveries, Delivery, Figures, Happening, LateLoad, LateLoads, Never, Playback,
    RefusedCandidate, Stint, Stranding, ToldRefusals, columns,
};
use crate::plant::Plan;
use crate::scenario::Scenario;
use crate::statistics::Summary;
use crate::units::{Millis, OrderId, PlaceId};
use std::num::NonZeroUsize;

/// What is asked.
#[derive(Clone, Debug)]
pub struct Question {
    /// Position of the rule in the scenario.
    pub rule: usize,
    /// Which replication.
    pub which: Which,
    /// Replications that the means are taken over, and the worst is looked for in; at least 1.
    pub replications: u64,
    /// Which refused candidates are told, if any.
    pub refusals: Option<ToldRefusals>,
    /// Seed of all luck.
    pub seed: u64,
    /// Threads; none: all there are. Does not change the answer.
    pub threads: Option<NonZeroUsize>,
}

impl Default for Question {
    fn default() -> Self {
        Self {
            rule: 0,
            which: Which::Worst(Worst::Lateness),
            replications: 200,
            refusals: None,
            seed: 1,
            threads: None,
        }
    }
}

/// Which replication is played again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// The one of this number, from 0.
    Number(u64),
    /// The worst of those that are run.
    Worst(Worst),
}

/// One replication, looked at closely.
#[derive(Clone, Debug)]
pub struct Replay {
    /// Title of the scenario.
    pub scenario: String,
    /// Name of the rule.
    pub rule: String,
    /// Whether it is today's.
    pub today: bool,
    /// Days in the replication.
    pub days: u32,
    /// Seed.
    pub seed: u64,
    /// The number of the replication.
    pub replication: u64,
    /// Why this one, if it was looked for.
    pub worst: Option<Worst>,
    /// Replications that were run for the means and the worst.
    pub searched: u64,
    /// Replications asked for.
    pub asked: u64,
    /// Every figure.
    pub columns: Vec<Column>,
    /// The figures of this replication; a blank is not a number.
    pub row: Vec<f32>,
    /// The mean of each figure over the replications searched; none without a value.
    pub means: Vec<Option<f64>>,
    /// Everything that happened, in order.
    pub happenings: Vec<Happening>,
    /// What every truck did, in the order in which it ended.
    pub stints: Vec<Stint>,
    /// Loads that came late beyond tolerance, in the order of arrival.
    pub late: Vec<LateLoad>,
    /// Loads that did not come on their day.
    pub never: Vec<Never>,
    /// Every load that its site took, late or not, in the order in which their discharge began.
    pub delivered: Vec<Delivery>,
    /// When each load was placed, in order; also those that came after their day.
    pub placed: Vec<Millis>,
    /// Orders that were turned down when they were called in.
    pub turned_down: Vec<OrderId>,
    /// Which refused candidates were asked for, if any.
    pub told: Option<ToldRefusals>,
    /// Who was refused for which load and why, each candidate once until the reason changes; empty if none were asked for.
    pub refused: Vec<RefusedCandidate>,
    /// Drivers stranded.
    pub stranded: Vec<Stranding>,
    /// The places of each order, by id.
    pub sites: Vec<Vec<PlaceId>>,
    /// Minutes of the empty road between two places that orders use or that are plants, by id, there and back on average; none without
    /// a way that is known, or where a place is not used.
    pub minutes: Vec<Vec<Option<f64>>>,
}

/// Plays one replication again. Looks no further for the worst when it is stopped: it is then the worst of those that were
/// run; none if not one was finished.
pub fn replay(scenario: &Scenario, question: &Question, watch: Watch<'_>) -> Option<Replay> {
    let mut played = played(scenario, &[question.rule], question, watch)?;
    played.pop()
}

/// The same replication under each of these rules: if it is to be the worst, of those that were run, it is that of the first.
pub(super) fn played(
    scenario: &Scenario,
    rules: &[usize],
    question: &Question,
    watch: Watch<'_>,
) -> Option<Vec<Replay>> {
    let trial = RuleTrial::new(scenario, rules.to_vec(), question.seed);
    let rows = montecarlo::run(
        &&trial,
        Block::Compared.first(question.replications),
        question.threads,
        watch,
    );
    if rows.is_empty() {
        return None;
    }
    let (replication, worst) = match question.which {
        Which::Number(number) => (number, None),
        Which::Worst(by) => {
            let worst = WorstReplication::of(by, &rows, 0);
            (worst.map_or(0, |worst| worst.replication), Some(by))
        }
    };
    let under = |(case, rule): (usize, &usize)| {
        let searched = Searched {
            rows: &rows,
            case,
            asked: question.replications,
        };
        let played = (case, *rule, replication);
        Replay {
            worst: worst.filter(|_| case == 0),
            ..play(scenario, &trial, played, &searched, question.refusals)
        }
    };
    Some(rules.iter().enumerate().map(under).collect())
}

/// The replication of the base rule that a comparison holds most worth looking at, against the comparison's own means.
pub fn worst_of(scenario: &Scenario, answer: &Comparison) -> Replay {
    let name = &answer.rules[answer.base].name;
    let rule = scenario.rules.iter().position(|rule| rule.name == *name);
    let rule = rule.expect("the rules compared are the scenario's");
    let trial = RuleTrial::new(scenario, vec![rule], answer.seed);
    let searched = Searched {
        rows: &answer.rows,
        case: answer.base,
        asked: answer.asked,
    };
    play(scenario, &trial, (0, rule, answer.worst), &searched, None)
}

/// The replications with which one is compared.
struct Searched<'r> {
    rows: &'r Rows,
    /// The rule's case in the rows.
    case: usize,
    asked: u64,
}

/// Plays a replication of a case of a trial, which is that of this rule.
fn play(
    scenario: &Scenario,
    trial: &RuleTrial<'_>,
    (case, rule, replication): (usize, usize, u64),
    searched: &Searched<'_>,
    told: Option<ToldRefusals>,
) -> Replay {
    let plan = trial.plan();
    let mut figures = Figures::new(plan, &scenario.money);
    figures.begin();
    let mut playback = Playback::new(scenario, plan).telling(told);
    let mut loads = LateLoads::new(plan);
    let mut deliveries = Deliveries::new(plan);
    let mut observers = (&mut figures, (&mut playback, (&mut loads, &mut deliveries)));
    trial.play(case, replication, &mut observers);
    playback.finish();
    let refused = playback.refused().to_vec();
    let columns = columns(scenario);
    let mut row = vec![0.0; columns.len()];
    figures.row(&mut row);
    let mean = |column: usize| Summary::of(searched.rows.values(searched.case, column)).mean();
    Replay {
        scenario: scenario.name.clone(),
        rule: scenario.rules[rule].name.clone(),
        today: rule == scenario.todays_rule(),
        days: scenario.period.days,
        seed: trial.seed(),
        replication,
        worst: None,
        searched: searched.rows.len() as u64,
        asked: searched.asked,
        means: (0..columns.len()).map(mean).collect(),
        columns,
        row,
        happenings: playback.happenings,
        stints: playback.stints,
        late: loads.late,
        never: loads.never,
        delivered: deliveries.loads,
        placed: deliveries.placed,
        turned_down: deliveries.turned_down,
        told,
        refused,
        stranded: playback.stranded,
        minutes: minutes(scenario, plan),
        sites: sites(plan),
    }
}

fn sites(plan: &Plan) -> Vec<Vec<PlaceId>> {
    let spots = |order: &crate::plant::OrderPlan| {
        let spots = order.spots.start as usize..order.spots.end as usize;
        plan.spots[spots].iter().map(|spot| spot.place).collect()
    };
    plan.orders.iter().map(spots).collect()
}

fn minutes(scenario: &Scenario, plan: &Plan) -> Vec<Vec<Option<f64>>> {
    let places = scenario.plants.len() + scenario.sites.len();
    let mut used = vec![false; places];
    used[..scenario.plants.len()].fill(true);
    for spot in &plan.spots {
        used[spot.place.at()] = true;
    }
    let way = |from: usize, to: usize| {
        let found = plan.free_flow(PlaceId::new(from), PlaceId::new(to));
        found.map(Millis::minutes)
    };
    let between = |from: usize, to: usize| match (used[from] && used[to], from == to) {
        (false, _) => None,
        (true, true) => Some(0.0),
        (true, false) => match (way(from, to), way(to, from)) {
            (Some(out), Some(back)) => Some((out + back) / 2.0),
            (out, back) => out.or(back),
        },
    };
    (0..places)
        .map(|from| (0..places).map(|to| between(from, to)).collect())
        .collect()
}

impl Replay {
    /// One figure of this replication.
    pub fn figure(&self, figure: usize) -> f64 {
        f64::from(self.row[figure])
    }

    /// How many loads are late: came late, or did not come on their day.
    pub fn late_loads(&self) -> usize {
        self.late.len() + self.never.len()
    }

    /// How many loads came late on a day, 0 for the first, and how many drivers were stranded.
    pub fn trouble_on(&self, day: i64) -> (usize, usize) {
        let late = self.late.iter().filter(|late| late.at.day() == day);
        let stranded = self.stranded.iter().filter(|one| one.at.day() == day);
        (late.count(), stranded.count())
    }

    /// The day on which most loads came late (with equal numbers most drivers were stranded, or else the first), 0 for the first
    /// of the period.
    pub fn worst_day(&self) -> i64 {
        let late = self.late.iter().map(|late| late.at);
        let all = late.chain(self.stranded.iter().map(|one| one.at));
        let last = all.map(Millis::day).max().unwrap_or(0);
        (0..=last)
            .max_by_key(|day| (self.trouble_on(*day), -day))
            .unwrap_or(0)
    }
}
