//! `causes`: the same days under one rule with one thing changed. What would not have happened, and what that is worth.

use super::beside_ledger::BesideLedger;
use super::compare::{Comparison, Question, compare};
use super::edited::Edited;
use super::price::{Payment, Price};
use crate::montecarlo::{self, Rows, Watch};
use crate::observe::{LateCause, figure};
use crate::scenario::{Scenario, WhatIf};
use crate::statistics::{Interval, Summary, mean_interval};
use std::num::NonZeroUsize;

/// What is asked.
#[derive(Clone, Debug)]
pub struct CounterfactualsQuestion {
    /// Position of the rule in the scenario.
    pub rule: usize,
    /// The changes to make, one at a time.
    pub changes: Vec<WhatIf>,
    /// What things cost; each of a name that [`WhatIf::priced`] has, once.
    pub prices: Vec<Price>,
    /// Replications, at least 1.
    pub replications: u64,
    /// Seed of all luck.
    pub seed: u64,
    /// Threads; none: all there are. Does not change the answer.
    pub threads: Option<NonZeroUsize>,
    /// Confidence of all intervals, between 0 and 1.
    pub level: f64,
}

impl Default for CounterfactualsQuestion {
    fn default() -> Self {
        Self {
            rule: 0,
            changes: WhatIf::ALL.to_vec(),
            prices: Vec::new(),
            replications: 400,
            seed: 1,
            threads: None,
            level: 0.95,
        }
    }
}

/// The answer.
#[derive(Clone, Debug)]
pub struct Counterfactuals {
    /// Title of the scenario.
    pub scenario: String,
    /// Days in a replication.
    pub days: u32,
    /// Seed.
    pub seed: u64,
    /// Confidence of the intervals.
    pub level: f64,
    /// Replications asked for.
    pub asked: u64,
    /// Name of the rule.
    pub rule: String,
    /// Whether that is today's.
    pub rule_is_today: bool,
    /// What happens as it is, mean of a replication.
    pub as_it_is: AsItIs,
    /// What things cost, as asked.
    pub prices: Vec<Price>,
    /// What was changed: what can be decided first, then what cannot, what is worth most (after its price) first.
    pub changes: Vec<Counterfactual>,
    /// Changes that do not apply, and why.
    pub not_applying: Vec<(WhatIf, &'static str)>,
    /// Every row: the figures [`figure`], those of queues, which a change may alter by itself, and the parts of the cost. Case 0
    /// as it is, then the applying changes in the order asked.
    pub rows: Rows,
    /// The change of each case but the first.
    pub cases: Vec<WhatIf>,
    /// The rule alone on the same replications: what made loads late, stranded drivers and wasted concrete.
    pub ledger: Comparison,
}

/// What happens as it is: means over the replications.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AsItIs {
    /// Cost of the period, in the scenario's currency.
    pub cost: f64,
    /// Late loads, undelivered ones included.
    pub late_loads: f64,
    /// Undelivered loads.
    pub undelivered: f64,
    /// Drivers stranded.
    pub stranded: f64,
    /// yd³ dumped.
    pub dumped_yd3: f64,
}

/// What one change does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Counterfactual {
    /// The change.
    pub change: WhatIf,
    /// What it is worth: cost that disappears in a replication.
    pub worth: Gone,
    /// Late loads that disappear.
    pub late_loads: Gone,
    /// Undelivered loads that disappear.
    pub undelivered: Gone,
    /// Strandings that disappear.
    pub stranded: Gone,
    /// yd³ dumped that disappear.
    pub dumped_yd3: Gone,
    /// The late loads that disappear by what the ledger had them late for, one for each of [`LateCause::ALL`]: they add up to
    /// all that disappear.
    pub by_cause: [Gone; LateCause::ALL.len()],
    /// What the change costs; none where no price of it was given.
    pub payment: Option<Payment>,
    /// What the ledger has for the causes that the change takes away or eases; none if there are no such causes.
    pub beside_ledger: Option<BesideLedger>,
}

/// How much of a figure disappears with a change: as it is, less changed, on the same days.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gone {
    /// Mean over the replications; below zero: there is more of it.
    pub mean: f64,
    /// Paired interval of the mean, simultaneous over the changes.
    pub interval: Interval,
    /// The mean as a share of what there is as it is; none if there is nothing.
    pub share: Option<f64>,
    /// Interval of the share, simultaneous over the changes. That of a ratio of means, by linearisation: W. G. Cochran,
    /// Sampling Techniques, 3rd ed. 1977, chapter 6.
    pub share_interval: Interval,
}

/// Runs the study. Ends early when it is stopped: the answer is then that of a whole shorter run, none if not one
/// replication was finished.
pub fn counterfactuals(
    scenario: &Scenario,
    question: &CounterfactualsQuestion,
    watch: Watch<'_>,
) -> Option<Counterfactuals> {
    let (mut cases, mut edited, mut not_applying) = (Vec::new(), Vec::new(), Vec::new());
    for change in &question.changes {
        match change.apply(scenario, question.rule) {
            Ok(scenario) => {
                cases.push(*change);
                edited.push(scenario);
            }
            Err(why) => not_applying.push((*change, why)),
        }
    }
    edited.insert(0, scenario.clone());
    let edited = Edited::new(edited, question.rule, question.seed, None).explained();
    let rows = montecarlo::run(&&edited, 0..question.replications, question.threads, watch);
    if rows.is_empty() {
        return None;
    }
    // A run that was stopped is finished as a whole shorter one.
    let ledger = compare(
        scenario,
        &Question {
            rules: vec![question.rule],
            replications: rows.len() as u64,
            seed: question.seed,
            threads: question.threads,
            level: question.level,
            ..Question::default()
        },
        watch.to_the_end().telling(&|_| ()),
    )?;
    let mean = |column| {
        Summary::of(rows.values(0, column))
            .mean()
            .unwrap_or_default()
    };
    let mut changes: Vec<Counterfactual> = cases
        .iter()
        .enumerate()
        .map(|(place, change)| {
            let gone = |column| Gone::of(&rows, place + 1, column, question.level, cases.len());
            Counterfactual {
                change: *change,
                worth: gone(figure::COST),
                late_loads: gone(figure::LATE_LOADS),
                undelivered: gone(figure::UNDELIVERED),
                stranded: gone(figure::STRANDED),
                dumped_yd3: gone(figure::DUMPED_YD3),
                by_cause: std::array::from_fn(|cause| gone(edited.causes() + cause)),
                payment: change.priced(scenario).and_then(|(of, pieces)| {
                    let price = question.prices.iter().find(|price| price.of == of)?;
                    Some(price.payment(pieces, scenario.period.days))
                }),
                beside_ledger: BesideLedger::of(
                    *change,
                    |causes| {
                        let late = |case| late_for(&rows, case, edited.causes(), causes);
                        let (before, after) = (late(0), late(place + 1));
                        let gone = Gone::between(&before, &after, question.level, cases.len());
                        (Summary::of(before), gone)
                    },
                    each_level(question.level, cases.len()),
                ),
            }
        })
        .collect();
    // What can be decided comes first, then what only shows what a mishap costs.
    changes.sort_by(|a, b| {
        let decided = |c: &Counterfactual| c.change.can_be_decided();
        let order = decided(b).cmp(&decided(a));
        order.then(b.ranked_by().total_cmp(&a.ranked_by()))
    });
    let rule = &scenario.rules[question.rule];
    Some(Counterfactuals {
        scenario: scenario.name.clone(),
        days: scenario.period.days,
        seed: question.seed,
        level: question.level,
        asked: question.replications,
        rule: rule.name.clone(),
        rule_is_today: question.rule == scenario.todays_rule(),
        as_it_is: AsItIs {
            cost: mean(figure::COST),
            late_loads: mean(figure::LATE_LOADS),
            undelivered: mean(figure::UNDELIVERED),
            stranded: mean(figure::STRANDED),
            dumped_yd3: mean(figure::DUMPED_YD3),
        },
        prices: question.prices.clone(),
        changes,
        not_applying,
        rows,
        cases,
        ledger,
    })
}

/// Late loads that the ledger has for these causes, by replication.
fn late_for(rows: &Rows, case: usize, first: usize, causes: &[LateCause]) -> Vec<f64> {
    let mut late = vec![0.0; rows.len()];
    for cause in causes {
        let of_cause = rows.values(case, first + *cause as usize);
        for (sum, loads) in late.iter_mut().zip(of_cause) {
            *sum += loads;
        }
    }
    late
}

/// The confidence of one interval where as many hold at once.
fn each_level(level: f64, changes: usize) -> f64 {
    1.0 - (1.0 - level) / changes.max(1) as f64
}

impl Gone {
    fn of(rows: &Rows, case: usize, column: usize, level: f64, changes: usize) -> Self {
        let before: Vec<f64> = rows.values(0, column).collect();
        let after: Vec<f64> = rows.values(case, column).collect();
        Self::between(&before, &after, level, changes)
    }

    fn between(before: &[f64], after: &[f64], level: f64, changes: usize) -> Self {
        let differences: Vec<f64> = before.iter().zip(after).map(|(b, a)| b - a).collect();
        let each = each_level(level, changes);
        let mean = Summary::of(differences.iter().copied()).mean();
        let mean = mean.unwrap_or_default();
        let there = Summary::of(before.iter().copied())
            .mean()
            .unwrap_or_default();
        let (mut share, mut share_interval) = (None, Interval::UNBOUNDED);
        if there > 0.0 {
            let ratio = mean / there;
            let rest = before.iter().zip(after).map(|(b, a)| b - a - ratio * b);
            let sums = Summary::of(rest).interval(each);
            let half = sums.half_width() / there;
            share = Some(ratio);
            share_interval = Interval::around(ratio, half);
        }
        Self {
            mean,
            interval: mean_interval(&differences, each),
            share,
            share_interval,
        }
    }

    /// Whether the interval excludes zero.
    pub fn told_apart(&self) -> bool {
        self.interval.excludes_zero()
    }
}

impl Counterfactuals {
    /// Replications that went in.
    pub fn replications(&self) -> u64 {
        self.rows.len() as u64
    }
}
