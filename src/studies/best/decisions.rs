//! The decisions that may be put together, and a rule put together from them.

use crate::dispatch::{DriversWord, Habit, Override, Rule};
use crate::scenario::Scenario;

/// A decision that the rules of a scenario take in more than one way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Decidable {
    /// Which.
    pub habit: Habit,
    /// For each way of taking it the first rule that takes it so, by its position in the scenario; today's way first. At least two.
    pub ways: Vec<usize>,
}

impl Decidable {
    /// All, in the order of [`Habit::ALL`].
    pub(super) fn all(scenario: &Scenario, today: usize) -> Vec<Self> {
        let all = Habit::ALL.into_iter().map(|habit| {
            let mut ways = vec![today];
            for (rule, other) in scenario.rules.iter().enumerate() {
                if no_recommendation(habit, other) {
                    continue;
                }
                let new = |way: &usize| habit.differs(&scenario.rules[*way], other);
                if ways.iter().all(new) {
                    ways.push(rule);
                }
            }
            Self { habit, ways }
        });
        all.filter(|decision| decision.ways.len() > 1).collect()
    }
}

/// Whether a rule's way of a decision is there to show what a behavior of desks costs, and never a recommendation.
fn no_recommendation(habit: Habit, rule: &Rule) -> bool {
    match habit {
        Habit::DriversWord => rule.drivers_word == DriversWord::Overruled,
        Habit::HoursCheck => rule.override_gates != Override::Never,
        _ => false,
    }
}

/// What today's rule does that is never a recommendation, and that a rule keeps.
pub fn kept_though_no_recommendation(rule: &Rule) -> Vec<Habit> {
    let kept = [Habit::DriversWord, Habit::HoursCheck].into_iter();
    kept.filter(|habit| no_recommendation(*habit, rule))
        .collect()
}

/// One way of each decision; 0 is today's.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Combination(pub(super) Vec<usize>);

impl Combination {
    /// Today's way of everything.
    pub(super) fn todays(decisions: &[Decidable]) -> Self {
        Self(vec![0; decisions.len()])
    }

    /// What a rule as written decides; none if some of that is never a recommendation.
    pub(super) fn written(
        scenario: &Scenario,
        decisions: &[Decidable],
        rule: usize,
    ) -> Option<Self> {
        let way = |decision: &Decidable| {
            let same = |way: &usize| {
                let (one, other) = (&scenario.rules[*way], &scenario.rules[rule]);
                !decision.habit.differs(one, other)
            };
            decision.ways.iter().position(same)
        };
        let ways: Option<Vec<usize>> = decisions.iter().map(way).collect();
        ways.map(Self)
    }

    /// The way of each decision: positions in [`Decidable::ways`].
    pub fn ways(&self) -> &[usize] {
        &self.0
    }

    /// How many decisions are taken otherwise than today.
    pub fn changes(&self) -> usize {
        self.0.iter().filter(|way| **way != 0).count()
    }

    /// The decisions that are taken otherwise than today: positions in the list of decisions.
    pub fn changed(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.0.len()).filter(|decision| self.0[*decision] != 0)
    }

    /// Every combination that takes one decision otherwise.
    pub(super) fn neighbors<'a>(
        &'a self,
        decisions: &'a [Decidable],
    ) -> impl Iterator<Item = Self> + 'a {
        decisions
            .iter()
            .enumerate()
            .flat_map(move |(at, decision)| {
                let others = (0..decision.ways.len()).filter(move |way| *way != self.0[at]);
                others.map(move |way| self.with(at, way))
            })
    }

    /// Every combination that takes back one change.
    pub(super) fn with_one_less(&self) -> impl Iterator<Item = Self> + '_ {
        self.changed().map(|at| self.with(at, 0))
    }

    fn with(&self, decision: usize, way: usize) -> Self {
        let mut ways = self.0.clone();
        ways[decision] = way;
        Self(ways)
    }

    /// The rule that decides so, under the name of today's.
    pub fn rule(&self, scenario: &Scenario, decisions: &[Decidable]) -> Rule {
        let mut rule = scenario.rules[scenario.todays_rule()].clone();
        for (decision, way) in decisions.iter().zip(&self.0) {
            let from = &scenario.rules[decision.ways[*way]];
            decision.habit.take(from, &mut rule);
        }
        rule
    }

    /// The rule under its own name: as it is written, or else a new one that says from what it was made.
    pub fn named(&self, scenario: &Scenario, decisions: &[Decidable]) -> Rule {
        let rule = self.rule(scenario, decisions);
        let today = &scenario.rules[scenario.todays_rule()];
        let as_written = scenario
            .rules
            .iter()
            .find(|written| Habit::differing(written, &rule).is_empty());
        if let Some(written) = as_written {
            return written.clone();
        }
        let changes = self.changes();
        let plural = if changes == 1 { "" } else { "s" };
        let name = format!("{}, {changes} change{plural}", today.name);
        let taken = |name: &str| scenario.rules.iter().any(|rule| rule.name == name);
        let mut unique = name.clone();
        let mut number = 2;
        while taken(&unique) {
            unique = format!("{name} ({number})");
            number += 1;
        }
        Rule {
            name: unique,
            about: format!(
                "As \"{}\" with {changes} decision{plural} changed",
                today.name
            ),
            today: false,
            ..rule
        }
    }
}
