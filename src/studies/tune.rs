//! `tune`: the parameters of a rule searched for the cheapest setting that meets service targets.
//!
//! Every setting is run in a search; a few finalists are run again in fresh replications, and only these decide. The error
//! allowed (1 − level) is split: half for "meets the targets" (one-sided bounds, all at once), half for "the cheapest"
//! (paired intervals, all at once).

mod bounds;

use super::{Block, RuleTrial};
use crate::dispatch::Parameter;
use crate::montecarlo::{self, Progress, Rows};
use crate::observe::{Better, Column, columns, figure};
use crate::scenario::Scenario;
use crate::statistics::{Interval, Paired, Selection, Summary};
use std::num::NonZeroUsize;
use std::sync::atomic::AtomicBool;

/// A parameter and the values to try.
#[derive(Clone, Debug, PartialEq)]
pub struct Vary {
    /// Which.
    pub parameter: Parameter,
    /// Values, each once, within the parameter's range, at least one.
    pub values: Vec<f64>,
}

/// A service target on the mean of a figure: at most so much of one of which less is better, else at least.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Target {
    /// Position of the figure.
    pub column: usize,
    /// The bound, in the figure's unit.
    pub bound: f64,
}

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
            vary: vec![Vary {
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

/// One setting as the search saw it.
#[derive(Clone, Debug)]
pub struct Setting {
    /// A value for each parameter varied; none for the rule as it is written.
    pub values: Option<Vec<f64>>,
    /// The judging figure in the search.
    pub judged: Summary,
    /// The figure of each target in the search.
    pub targets: Vec<Summary>,
    /// Whether the means of the search meet all targets.
    pub seems_to_meet: bool,
}

/// One finalist in fresh replications.
#[derive(Clone, Debug)]
pub struct Finalist {
    /// Position in [`Tuned::settings`].
    pub setting: usize,
    /// The judging figure.
    pub judged: Summary,
    /// The figure of each target.
    pub targets: Vec<Summary>,
    /// For each target the one-sided bound of the mean: the target is met if the bound meets it, and leaves room for a fault.
    pub bounds: Vec<f64>,
    /// For each target whether every replication was without fault: none seen, or nothing missed. The bound is then exact, as
    /// far as the figure is a count or a share.
    pub never_missed: Vec<bool>,
    /// Whether all targets are met.
    pub meets: bool,
    /// Judging figure less that of the rule as written, interval with those of all finalists at once; without an end where too few
    /// replications differ to speak of a mean.
    pub against_written: Option<Interval>,
    /// Mean of that difference.
    pub saves: Option<f64>,
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
    /// Fresh replications that were made.
    pub decided_on: u64,
    /// The judging figure.
    pub judge: Column,
    /// The figures of the targets.
    pub targets: Vec<Column>,
    /// Every setting, last parameter fastest; then the rule as written.
    pub settings: Vec<Setting>,
    /// Finalists, in the order of the search; empty if the study was stopped before.
    pub finalists: Vec<Finalist>,
    /// Position in `finalists` of the cheapest that meets the targets; of equals the rule as written, else the first.
    pub chosen: Option<usize>,
    /// The other finalists that meet the targets and whose judging figure was that of the chosen one in every replication.
    pub as_good: Vec<usize>,
    /// Confidence of each single bound, so that all hold at once.
    pub bound_level: f64,
    /// How much worse than the best other finalist that meets the targets the chosen one may be, at most; 0: it is the best. Infinite
    /// where too few replications differ to speak of a mean.
    pub worse_by_at_most: f64,
    /// One for each parameter.
    pub effects: Vec<Effect>,
}

/// How many settings go into the final, beside the rule as written.
const FINALISTS: usize = 5;

/// Runs the search and the final. None if it was stopped before two replications of the search were finished.
///
/// # Panics
/// If a parameter has no value.
pub fn tune(
    scenario: &Scenario,
    asked: &Tuning,
    progress: &(dyn Fn(Progress) + Sync),
    stop: &AtomicBool,
) -> Option<Tuned> {
    let rule = &scenario.rules[asked.rule];
    let combinations = combinations(&asked.vary);
    let mut varied = scenario.clone();
    varied.rules = combinations
        .iter()
        .map(|values| {
            let parts = asked.vary.iter().zip(values);
            parts.fold(rule.clone(), |rule, (vary, value)| {
                vary.parameter.set(rule, *value)
            })
        })
        .chain([rule.clone()])
        .collect();
    let count = varied.rules.len();
    let trial = RuleTrial::new(&varied, (0..count).collect(), asked.seed);
    let from = Block::Search.first(asked.search);
    let rows = montecarlo::run(&&trial, from, asked.threads, progress, stop);
    if rows.len() < 2 {
        return None;
    }
    let all = columns(scenario);
    let sign = |column: usize| {
        if all[column].better == Better::More {
            -1.0
        } else {
            1.0
        }
    };
    let meets = |target: &Target, value: f64| sign(target.column) * (value - target.bound) <= 0.0;
    let summary = |rows: &Rows, case: usize, column: usize| Summary::of(rows.values(case, column));
    let settings: Vec<Setting> = (0..count)
        .map(|case| {
            let of_target = |target: &Target| summary(&rows, case, target.column);
            let targets: Vec<Summary> = asked.targets.iter().map(of_target).collect();
            let pairs = asked.targets.iter().zip(&targets);
            Setting {
                values: combinations.get(case).cloned(),
                judged: summary(&rows, case, asked.judge),
                seems_to_meet: pairs
                    .clone()
                    .all(|(target, s)| s.mean().is_some_and(|mean| meets(target, mean))),
                targets,
            }
        })
        .collect();
    let effects = (0..asked.vary.len())
        .map(|parameter| effect(asked, scenario.period.days, &all, &rows, parameter))
        .collect();

    // Short of a target by how many of its standard errors: what cannot meet it comes last.
    let short = |setting: &Setting| {
        let pairs = asked.targets.iter().zip(&setting.targets);
        pairs
            .map(|(target, s)| match s.mean() {
                Some(mean) => {
                    (sign(target.column) * (mean - target.bound)).max(0.0)
                        / s.standard_error().max(1e-9)
                }
                None => f64::INFINITY,
            })
            .fold(0.0, f64::max)
    };
    let cost = |setting: &Setting| {
        let mean = setting.judged.mean();
        mean.map_or(f64::INFINITY, |mean| sign(asked.judge) * mean)
    };
    let mut order: Vec<usize> = (0..count - 1).collect();
    order.sort_by(|a, b| {
        let (a, b) = (&settings[*a], &settings[*b]);
        let unmet = (!a.seems_to_meet).cmp(&!b.seems_to_meet);
        let shortfall = short(a).total_cmp(&short(b));
        unmet.then(shortfall).then(cost(a).total_cmp(&cost(b)))
    });
    order.truncate(FINALISTS);
    order.push(count - 1);

    let chosen_rules = order.iter().map(|setting| varied.rules[*setting].clone());
    let mut last = scenario.clone();
    last.rules = chosen_rules.collect();
    let trial = RuleTrial::new(&last, (0..order.len()).collect(), asked.seed);
    let searched = rows.len() as u64;
    let fresh = Block::Final.first(asked.last);
    let fresh = montecarlo::run(&&trial, fresh, asked.threads, progress, stop);
    let mut tuned = Tuned {
        days: scenario.period.days,
        rule: rule.name.clone(),
        asked: asked.clone(),
        searched,
        decided_on: fresh.len() as u64,
        judge: all[asked.judge].clone(),
        targets: asked
            .targets
            .iter()
            .map(|t| all[t.column].clone())
            .collect(),
        settings,
        finalists: Vec::new(),
        chosen: None,
        as_good: Vec::new(),
        bound_level: asked.level,
        worse_by_at_most: 0.0,
        effects,
    };
    if fresh.len() < 2 {
        return Some(tuned);
    }
    let half = (1.0 - asked.level) / 2.0;
    let bounds_made = (order.len() * asked.targets.len()).max(1) as f64;
    tuned.bound_level = 1.0 - half / bounds_made;
    let judged: Vec<Vec<f64>> = (0..order.len())
        .map(|case| {
            let values = fresh.values(case, asked.judge);
            values.map(|value| sign(asked.judge) * value).collect()
        })
        .collect();
    let written = order.len() - 1;
    // Over all finalists: which of them meet the targets is itself found in these replications.
    let systems: Vec<&[f64]> = judged.iter().map(Vec::as_slice).collect();
    let selection = Selection::of(&systems, 1.0 - half);
    for (case, setting) in order.iter().enumerate() {
        let of_target = |target: &Target| summary(&fresh, case, target.column);
        let targets: Vec<Summary> = asked.targets.iter().map(of_target).collect();
        let bounds: Vec<f64> = asked
            .targets
            .iter()
            .map(|target| {
                let values: Vec<f64> = fresh.values(case, target.column).collect();
                bounds::bound(&all[target.column], &values, tuned.bound_level)
            })
            .collect();
        let pairs = asked.targets.iter().zip(&bounds);
        let values = |case: usize| fresh.values(case, asked.judge).collect::<Vec<f64>>();
        let against = (case != written).then(|| Paired::of(&values(case), &values(written)));
        tuned.finalists.push(Finalist {
            setting: *setting,
            judged: summary(&fresh, case, asked.judge),
            meets: pairs.clone().all(|(target, bound)| {
                meets(target, *bound) && !bounds::without_fault(&all[target.column], target.bound)
            }),
            never_missed: asked
                .targets
                .iter()
                .zip(&targets)
                .map(|(target, s)| bounds::never_missed(&all[target.column], s))
                .collect(),
            targets,
            bounds,
            against_written: against.map(|_| {
                let turned = selection.difference(case, written);
                if sign(asked.judge) < 0.0 {
                    turned.turned().reach()
                } else {
                    turned.reach()
                }
            }),
            saves: against.and_then(|p| p.difference.mean()),
        });
    }
    let feasible: Vec<usize> = (0..order.len())
        .filter(|f| tuned.finalists[*f].meets)
        .collect();
    let mean = |f: &usize| {
        Summary::of(judged[*f].iter().copied())
            .mean()
            .unwrap_or(f64::INFINITY)
    };
    tuned.chosen = feasible.iter().copied().min_by(|a, b| {
        // Nobody changes a rule for one that does the same.
        let written_first = (*a != written).cmp(&(*b != written));
        mean(a).total_cmp(&mean(b)).then(written_first)
    });
    if let Some(chosen) = tuned.chosen {
        let others = feasible.iter().copied().filter(|f| *f != chosen);
        // Nobody changes a setting for one that does the same.
        let (same, others): (Vec<usize>, Vec<usize>) =
            others.partition(|f| judged[*f] == judged[chosen]);
        tuned.as_good = same;
        tuned.worse_by_at_most = others
            .into_iter()
            .map(|f| selection.difference(chosen, f).reach().high)
            .fold(0.0, f64::max);
    }
    Some(tuned)
}

/// Every combination of the values, the last parameter fastest.
fn combinations(vary: &[Vary]) -> Vec<Vec<f64>> {
    vary.iter().fold(vec![Vec::new()], |all, vary| {
        all.iter()
            .flat_map(|before| {
                vary.values.iter().map(|value| {
                    let mut next = before.clone();
                    next.push(*value);
                    next
                })
            })
            .collect()
    })
}

fn effect(asked: &Tuning, days: u32, all: &[Column], rows: &Rows, parameter: usize) -> Effect {
    let levels = asked.vary[parameter].values.len();
    let step: usize = asked.vary[parameter + 1..]
        .iter()
        .map(|v| v.values.len())
        .product();
    let settings: usize = asked.vary.iter().map(|v| v.values.len()).product();
    let firsts: Vec<usize> = (0..settings)
        .filter(|s| (s / step).is_multiple_of(levels))
        .collect();
    let figures = 1 + asked.targets.len();
    // All differences of all parameters and figures at once.
    let made: usize = asked
        .vary
        .iter()
        .map(|v| (v.values.len() - 1) * (settings / v.values.len()))
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
