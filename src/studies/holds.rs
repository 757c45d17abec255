//! `holds`: does the decision hold if the world is not as assumed? The same comparison in the scenario's own changed worlds and under one
//! surprise at a time, the prices at which another rule would be the best, and the saving where inputs are known by a spread only.

use super::Barred;
use super::assumed::{self, UnderAssumptions};
use super::break_even::{BreakEven, break_even};
use super::compare::{Comparison, Decision, Question, compare};
use crate::montecarlo::{Progress, Watch};
use crate::scenario::assume::Assumption;
use crate::scenario::{Otherwise, Scenario, Surprise};
use crate::statistics::{Contrast, Interval, Paired};
use std::cmp::Ordering;

/// What is asked.
#[derive(Clone, Debug)]
pub struct HoldsQuestion {
    /// Which rules are compared, by what, how often in each world. Replications are never added.
    pub compare: Question,
    /// Position in the scenario of the rule that shall hold; none: the one that the comparison as assumed decides for.
    pub rule: Option<usize>,
    /// The surprises, one at a time, after the scenario's own worlds; those that do not apply are told as such.
    pub surprises: Vec<Surprise>,
    /// Inputs that are known by a spread only; none: the rule is not tried in drawn worlds.
    pub assumptions: Vec<Assumption>,
    /// Worlds drawn from these spreads, at least 2 to say anything.
    pub outer: u32,
}

impl Default for HoldsQuestion {
    fn default() -> Self {
        Self {
            compare: Question {
                replications: 60,
                ..Question::default()
            },
            rule: None,
            surprises: Vec::new(),
            assumptions: Vec::new(),
            outer: 20,
        }
    }
}

/// How the rule stands in a world.
#[derive(Clone, Debug, PartialEq)]
pub enum Standing {
    /// Better than every other.
    Wins,
    /// Not shown to be worse than any other, nor better than all.
    NotToldApart,
    /// Another is better: its position among the rules, and by how much in the judging figure, above zero.
    Loses {
        /// The one that is best by most.
        to: usize,
        /// By how much: mean.
        by: f64,
        /// Its interval, simultaneous over the rules.
        interval: Interval,
    },
    /// It could not be recommended there.
    Barred(Barred),
}

/// One world.
#[derive(Clone, Debug)]
pub struct TriedWorld {
    /// What is otherwise.
    pub otherwise: Otherwise,
    /// How the rule stands.
    pub standing: Standing,
    /// The rule less the one that it is compared with (today's), mean of the judging figure.
    pub against_base: f64,
    /// Its interval, simultaneous over the rules.
    pub interval: Interval,
}

/// The answer.
#[derive(Clone, Debug)]
pub struct Holds {
    /// The comparison as assumed.
    pub assumed: Comparison,
    /// Position of the rule in `assumed.rules`.
    pub rule: usize,
    /// Whether it was asked for, not decided for.
    pub asked_for: bool,
    /// The world as assumed.
    pub as_assumed: TriedWorld,
    /// The others: the user's own as they are written, then the one farthest from the world as assumed first.
    pub worlds: Vec<TriedWorld>,
    /// Worlds that do not apply, and why.
    pub not_applying: Vec<(Otherwise, &'static str)>,
    /// Worlds that were asked for and not tried, as the study was stopped before.
    pub left: usize,
    /// The rule in worlds drawn from assumptions, where some were given.
    pub under_assumptions: Option<UnderAssumptions>,
    /// Prices at which another rule would be better than this, by the averages of the world as assumed.
    pub break_even: Vec<BreakEven>,
}

impl Holds {
    /// In how many of the changed worlds it holds: only where it loses it does not.
    pub fn held(&self) -> usize {
        let held = self.worlds.iter().filter(|world| world.holds());
        held.count()
    }

    /// The names of the user's own worlds among the changed ones.
    pub fn own(&self) -> Vec<&str> {
        let own = self
            .worlds
            .iter()
            .filter_map(|world| match &world.otherwise {
                Otherwise::Own(own) => Some(own.name.as_str()),
                _ => None,
            });
        own.collect()
    }
}

impl TriedWorld {
    /// Whether the decision holds there: it is not shown to be worse than another.
    pub fn holds(&self) -> bool {
        matches!(self.standing, Standing::Wins | Standing::NotToldApart)
    }
}

/// Runs the study. Ends early when it is stopped: the answer is then that of the worlds tried so far, none if not even the world
/// as assumed was.
pub fn holds(scenario: &Scenario, question: &HoldsQuestion, watch: Watch<'_>) -> Option<Holds> {
    let asked = &question.compare;
    let mut applying = Vec::new();
    let mut not_applying = Vec::new();
    let own = scenario.worlds.iter().cloned().map(Otherwise::Own);
    let surprises = question.surprises.iter().copied().map(Otherwise::Surprise);
    for otherwise in own.chain(surprises) {
        match otherwise.apply(scenario) {
            Ok(edited) => applying.push((otherwise, edited)),
            Err(why) => not_applying.push((otherwise, why)),
        }
    }
    let drawn = match question.assumptions.as_slice() {
        [] => 0,
        _ => u64::from(question.outer),
    };
    let worlds = applying.len() as u64 + 1 + drawn;
    let run = |scenario: &Scenario, asked: &Question, nth: u64| {
        let told = |within: Progress| {
            (watch.progress)(within.within(nth * within.total, worlds * within.total));
        };
        let found = compare(scenario, asked, watch.telling(&told))?;
        (found.replications() == asked.replications || nth == 0).then_some(found)
    };
    let assumed = run(scenario, asked, 0)?;
    let rules: Vec<usize> = if asked.rules.is_empty() {
        (0..scenario.rules.len()).collect()
    } else {
        asked.rules.clone()
    };
    let named = question
        .rule
        .and_then(|rule| rules.iter().position(|r| *r == rule));
    let rule = named.unwrap_or_else(|| decided(&assumed));
    let as_assumed = tried(Otherwise::Nothing, &assumed, rule);
    let mut tried_worlds = Vec::new();
    for (nth, (otherwise, edited)) in applying.iter().enumerate() {
        let Some(found) = run(edited, asked, nth as u64 + 1) else {
            break;
        };
        tried_worlds.push(tried(otherwise.clone(), &found, rule));
    }
    let left = applying.len() - tried_worlds.len();
    let before = applying.len() as u64 + 1;
    let under_assumptions = (drawn > 0).then(|| {
        let against = if rule == assumed.base {
            assumed.best_other_than(rule)
        } else {
            Some(assumed.base)
        };
        let of = assumed::Of {
            scenario,
            found: &assumed,
            rule,
            against: against.unwrap_or(assumed.base),
        };
        let pair = Question {
            rules: vec![rules[of.against], rules[rule]],
            ..asked.clone()
        };
        of.run(question, &|edited, nth| run(edited, &pair, before + nth))
    });
    let away = |world: &TriedWorld| (world.against_base - as_assumed.against_base).abs();
    // In the order written, before the others.
    let own = |world: &TriedWorld| world.otherwise.is_own();
    tried_worlds.sort_by(|a, b| match (own(a), own(b)) {
        (true, true) => Ordering::Equal,
        (false, false) => away(b).total_cmp(&away(a)),
        (a, b) => b.cmp(&a),
    });
    Some(Holds {
        under_assumptions,
        break_even: break_even(scenario, &assumed, rule),
        rule,
        asked_for: named.is_some(),
        as_assumed,
        worlds: tried_worlds,
        not_applying,
        left,
        assumed,
    })
}

/// The rule that a comparison decides for, or the best by its mean that may be recommended.
fn decided(found: &Comparison) -> usize {
    match found.decision {
        Decision::Best(rule) | Decision::Selected(rule) => rule,
        Decision::Alone => found.base,
        Decision::NotToldApart(_) => found.best_other_than(usize::MAX).unwrap_or(found.base),
    }
}

fn tried(otherwise: Otherwise, found: &Comparison, rule: usize) -> TriedWorld {
    let mean = |rule: usize| found.judged(rule).summary.mean();
    let difference = found.judged(rule).difference;
    let nothing = Interval::around(0.0, 0.0);
    TriedWorld {
        otherwise,
        standing: standing(found, rule),
        against_base: mean(rule)
            .zip(mean(found.base))
            .map_or(0.0, |(own, base)| own - base),
        interval: difference.map_or(nothing, |difference| difference.said.reach()),
    }
}

/// Against every other rule that may be recommended, on the same days.
fn standing(found: &Comparison, rule: usize) -> Standing {
    if let Some(barred) = found.barred[rule] {
        return Standing::Barred(barred);
    }
    let values = |rule: usize| -> Vec<f64> {
        let values = found.rows.values(rule, found.judge);
        values.map(|value| found.turned() * value).collect()
    };
    let own = values(rule);
    let others = (0..found.rules.len()).filter(|other| *other != rule);
    let others: Vec<usize> = others
        .filter(|other| found.barred[*other].is_none())
        .collect();
    let comparisons = found.rules.len().saturating_sub(1);
    let worse_than = others.iter().map(|other| {
        let other_values = values(*other);
        let said = Contrast::simultaneous(&own, &other_values, found.level, comparisons);
        let paired = Paired::of(&own, &other_values);
        let mean = paired.difference.mean().unwrap_or_default();
        (*other, mean, said)
    });
    let worse_than: Vec<(usize, f64, Contrast)> = worse_than.collect();
    let is = |told: Ordering| move |said: &Contrast| said.told() == Some(told);
    let worse = is(Ordering::Greater);
    let lost = worse_than.iter().filter(|(_, _, said)| worse(said));
    let better = is(Ordering::Less);
    match lost.max_by(|a, b| a.1.total_cmp(&b.1)) {
        Some(&(to, by, said)) => Standing::Loses {
            to,
            by,
            interval: said.reach(),
        },
        None if worse_than.iter().all(|(_, _, said)| better(said)) => Standing::Wins,
        None => Standing::NotToldApart,
    }
}
