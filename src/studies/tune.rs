//! `tune`: the parameters of a rule searched for the cheapest setting that meets service targets.
//!
//! Every setting is run in a search; a few finalists are run again in fresh replications, and only these decide ([`FinalRound`]).

use super::final_round::Judging;
use super::reach::{Trying, reach};
use super::{
    Block, FinalRound, Reach, RuleTrial, Searched, Target, Vary, kept_though_no_recommendation,
};
use crate::dispatch::Parameter;
use crate::montecarlo::{self, Rows, Watch};
use crate::observe::{Column, columns, figure};
use crate::scenario::Scenario;
use crate::statistics::{Interval, Paired};
use std::num::NonZeroUsize;

/// What is asked.
#[derive(Clone, Debug)]
pub struct Tuning {
    /// Position of the rule in the scenario.
    pub rule: usize,
    /// What is varied, at least one: every combination is tried. By default the first parameter, the ends of its range.
    pub vary: Vec<Vary>,
    /// What must be met.
    pub targets: Vec<Target>,
    /// The figure that judges: position in [`columns`], one of which less or more is better.
    pub judge: usize,
    /// A difference of the judging figure that does not matter, above zero; by default that of a day's cost
    /// ([`default_indifference`](super::default_indifference) of other figures and days).
    pub indifference: f64,
    /// Replications of every setting in the search, at least 2.
    pub search: u64,
    /// Fresh replications of the finalists, at least 2.
    pub last: u64,
    /// Seed.
    pub seed: u64,
    /// Threads; none: all there are.
    pub threads: Option<NonZeroUsize>,
    /// Confidence, between 0 and 1.
    pub level: f64,
}

impl Default for Tuning {
    fn default() -> Self {
        let parameter = Parameter::ALL[0];
        let (low, high) = parameter.range();
        Self {
            rule: 0,
            vary: vec![Vary::Number {
                parameter,
                values: vec![low, high],
            }],
            targets: Vec::new(),
            judge: figure::COST,
            indifference: 50.0,
            search: 200,
            last: 1_000,
            seed: 1,
            threads: None,
            level: 0.95,
        }
    }
}

/// One setting.
#[derive(Clone, Debug)]
pub struct Setting {
    /// For each of what is varied which of its values, by position; none for the rule as it is written.
    pub places: Option<Vec<usize>>,
    /// As the search saw it.
    pub seen: Searched,
    /// Whether it does, and the rule as written does not, what is there to show its cost and is never a recommendation: it is no
    /// finalist.
    pub never: bool,
}

/// What a parameter does to the judging figure, over all combinations of the others.
#[derive(Clone, Debug, PartialEq)]
pub struct Effect {
    /// Mean difference of each value from the first, the others averaged over.
    pub means: Vec<f64>,
    /// The hull of the intervals of all differences that only this parameter makes, whatever the others; all at once.
    pub reach: Interval,
    /// Whether the same holds of the figures of the targets, within their stated default indifference.
    pub targets_untouched: bool,
    /// Whether it may be left alone: the reach lies within ± the indifference, and the targets are untouched.
    pub does_not_matter: bool,
}

/// The answer.
#[derive(Clone, Debug)]
pub struct Tuned {
    /// Days in a replication.
    pub days: u32,
    /// Name of the rule.
    pub rule: String,
    /// What was asked.
    pub asked: Tuning,
    /// Replications of the search that were made.
    pub searched: u64,
    /// The judging figure.
    pub judge: Column,
    /// The figures of the targets.
    pub targets: Vec<Column>,
    /// Every setting, last parameter fastest; then the rule as written.
    pub settings: Vec<Setting>,
    /// The finalists in fresh replications: positions in `settings`, in the order of the search, the rule as written last.
    pub last: FinalRound,
    /// Where no finalist meets the targets: what else could, under the one that comes nearest.
    pub reach: Vec<Reach>,
    /// One for each parameter.
    pub effects: Vec<Effect>,
}

/// How many settings go into the final, beside the rule as written.
const FINALISTS: usize = 5;

/// Runs the search and the final. None if it was stopped before two replications of the search were finished.
///
/// # Panics
/// If a parameter has no value.
pub fn tune(scenario: &Scenario, asked: &Tuning, watch: Watch<'_>) -> Option<Tuned> {
    let rule = &scenario.rules[asked.rule];
    let combinations = combinations(&asked.vary);
    let mut varied = scenario.clone();
    varied.rules = combinations
        .iter()
        .map(|places| {
            let parts = asked.vary.iter().zip(places);
            parts.fold(rule.clone(), |rule, (vary, at)| vary.set(rule, *at))
        })
        .chain([rule.clone()])
        .collect();
    let count = varied.rules.len();
    let trial = RuleTrial::new(&varied, (0..count).collect(), asked.seed);
    let from = Block::Search.first(asked.search);
    let rows = montecarlo::run(&&trial, from, asked.threads, watch);
    if rows.len() < 2 {
        return None;
    }
    let all = columns(scenario);
    let judging = Judging {
        columns: &all,
        judge: asked.judge,
        targets: &asked.targets,
        indifference: asked.indifference,
        level: asked.level,
    };
    let settings: Vec<Setting> = (0..count)
        .map(|case| Setting {
            places: combinations.get(case).cloned(),
            seen: Searched::of(&rows, case, judging),
            never: kept_though_no_recommendation(&varied.rules[case])
                .iter()
                .any(|habit| habit.differs(rule, &varied.rules[case])),
        })
        .collect();
    let effects = (0..asked.vary.len())
        .map(|parameter| effect(asked, scenario.period.days, &all, &rows, parameter))
        .collect();

    let may_be_chosen = |setting: &usize| !settings[*setting].never;
    let mut order: Vec<usize> = (0..count - 1).filter(may_be_chosen).collect();
    order.sort_by(|a, b| settings[*a].seen.order(&settings[*b].seen));
    order.truncate(FINALISTS);
    order.push(count - 1);

    let chosen_rules = order.iter().map(|setting| varied.rules[*setting].clone());
    let mut last = scenario.clone();
    last.rules = chosen_rules.collect();
    let trial = RuleTrial::new(&last, (0..order.len()).collect(), asked.seed);
    let fresh = Block::Final.first(asked.last);
    let fresh = montecarlo::run(&&trial, fresh, asked.threads, watch);
    let last = FinalRound::of(&fresh, &order, |_| 0, judging);
    let trying = Trying {
        replications: rows.len() as u64,
        seed: asked.seed,
        threads: asked.threads,
        watch,
    };
    let nearest = last
        .short_of()
        .map(|nearest| last.finalists[nearest].setting);
    let reach = nearest.map_or_else(Vec::new, |setting| {
        reach(scenario, varied.rules[setting].clone(), judging, trying)
    });
    Some(Tuned {
        days: scenario.period.days,
        rule: rule.name.clone(),
        asked: asked.clone(),
        searched: rows.len() as u64,
        judge: all[asked.judge].clone(),
        targets: asked
            .targets
            .iter()
            .map(|t| all[t.column].clone())
            .collect(),
        settings,
        last,
        reach,
        effects,
    })
}

/// Every combination of the values by their positions, the last of what is varied fastest.
fn combinations(vary: &[Vary]) -> Vec<Vec<usize>> {
    vary.iter().fold(vec![Vec::new()], |all, vary| {
        all.iter()
            .flat_map(|before| {
                (0..vary.count()).map(|at| {
                    let mut next = before.clone();
                    next.push(at);
                    next
                })
            })
            .collect()
    })
}

fn effect(asked: &Tuning, days: u32, all: &[Column], rows: &Rows, parameter: usize) -> Effect {
    let levels = asked.vary[parameter].count();
    let step: usize = asked.vary[parameter + 1..]
        .iter()
        .map(|v| v.count())
        .product();
    let settings: usize = asked.vary.iter().map(|v| v.count()).product();
    let firsts: Vec<usize> = (0..settings)
        .filter(|s| (s / step).is_multiple_of(levels))
        .collect();
    let figures = 1 + asked.targets.len();
    // All differences of all parameters and figures at once.
    let made: usize = asked
        .vary
        .iter()
        .map(|v| (v.count() - 1) * (settings / v.count()))
        .sum();
    let made = made * figures;
    let values: Vec<Vec<Vec<f64>>> = std::iter::once(asked.judge)
        .chain(asked.targets.iter().map(|target| target.column))
        .map(|column| {
            (0..settings)
                .map(|s| rows.values(s, column).collect())
                .collect()
        })
        .collect();
    let hull = |figure: usize| {
        let pairs = firsts
            .iter()
            .flat_map(|first| (1..levels).map(move |level| (*first, first + level * step)));
        pairs
            .map(|(first, other)| {
                Paired::of(&values[figure][other], &values[figure][first])
                    .simultaneous(asked.level, made)
            })
            .fold(
                Interval {
                    low: 0.0,
                    high: 0.0,
                },
                |a, b| Interval {
                    low: a.low.min(b.low),
                    high: a.high.max(b.high),
                },
            )
    };
    let within = |interval: Interval, delta: f64| -delta <= interval.low && interval.high <= delta;
    let mean_of = |level: usize| {
        let differences = firsts.iter().filter_map(|first| {
            Paired::of(&values[0][first + level * step], &values[0][*first])
                .difference
                .mean()
        });
        let (sum, n) = differences.fold((0.0, 0.0), |(sum, n), d| (sum + d, n + 1.0));
        if n > 0.0 { sum / n } else { f64::NAN }
    };
    let reach = hull(0);
    let targets_untouched = asked.targets.iter().enumerate().all(|(n, target)| {
        let delta = super::default_indifference(&all[target.column], days);
        within(hull(n + 1), delta)
    });
    Effect {
        means: (0..levels).map(mean_of).collect(),
        does_not_matter: within(reach, asked.indifference) && targets_untouched,
        reach,
        targets_untouched,
    }
}
