//! What a rule saves where some inputs are known by a spread only: worlds drawn from the spreads, the same replications in each, and the
//! uncertainty of both put together. What is drawn is what the days have in common, not their luck.

use super::Barred;
use super::compare::Comparison;
use super::holds::HoldsQuestion;
use crate::engine::{Entity, Luck};
use crate::scenario::Scenario;
use crate::scenario::assume::Assumption;
use crate::statistics::{Contrast, Correlation, Interval, Paired, TwoWay};
use crate::units::Purpose;

/// A world drawn from the assumptions.
#[derive(Clone, Debug)]
pub struct DrawnWorld {
    /// The value of each input, in the order of the assumptions.
    pub values: Vec<f64>,
    /// What the rule saves in the judging figure, mean of a replication: above zero is better. None without a replication that tells.
    pub saving: Option<f64>,
    /// Its interval: luck alone, of this world alone.
    pub interval: Interval,
    /// Why the rule could not be recommended there.
    pub barred: Option<Barred>,
}

/// A rule in the drawn worlds.
#[derive(Clone, Debug)]
pub struct UnderAssumptions {
    /// The inputs with their spreads.
    pub assumptions: Vec<Assumption>,
    /// The values that the scenario has written, in the same order.
    pub written: Vec<f64>,
    /// Position in the comparison as assumed of the rule.
    pub rule: usize,
    /// Position of the one that it is set against: today's; for today's rule itself the best other one.
    pub against: usize,
    /// What it saves as assumed.
    pub as_assumed: Option<f64>,
    /// Its interval.
    pub as_assumed_interval: Interval,
    /// The drawn worlds, in the order drawn.
    pub worlds: Vec<DrawnWorld>,
    /// So many were asked for.
    pub asked: u32,
    /// Luck and assumptions apart. None with fewer than two worlds or replications.
    pub table: Option<TwoWay>,
}

impl UnderAssumptions {
    /// In how many of the drawn worlds the rule saves, on average.
    pub fn saves(&self) -> usize {
        let saves = |world: &&DrawnWorld| world.saving.is_some_and(|saving| saving > 0.0);
        self.worlds.iter().filter(saves).count()
    }

    /// In how many it is shown to lose.
    pub fn shown_to_lose(&self) -> usize {
        let loses = |world: &&DrawnWorld| world.interval.high < 0.0;
        self.worlds.iter().filter(loses).count()
    }

    /// How the saving goes with each input over the drawn worlds, for all inputs at once.
    pub fn correlations(&self, level: f64) -> Vec<Option<Correlation>> {
        let of = |input: usize| {
            let pair = |world: &DrawnWorld| Some((world.values[input], world.saving?));
            let pairs: Vec<(f64, f64)> = self.worlds.iter().filter_map(pair).collect();
            Correlation::of(&pairs, level, self.assumptions.len())
        };
        (0..self.assumptions.len()).map(of).collect()
    }

    /// In how many it could not be recommended.
    pub fn barred(&self) -> usize {
        let barred = self.worlds.iter().filter(|world| world.barred.is_some());
        barred.count()
    }
}

/// What is drawn for.
pub(super) struct Of<'a> {
    pub(super) scenario: &'a Scenario,
    /// The comparison as assumed.
    pub(super) found: &'a Comparison,
    /// Position in it of the rule.
    pub(super) rule: usize,
    /// Position in it of the one that it is set against.
    pub(super) against: usize,
}

impl Of<'_> {
    /// Draws the worlds; `run` compares the two rules in one of them, the one that the rule is set against first, and gives nothing when it is
    /// stopped.
    pub(super) fn run(
        &self,
        question: &HoldsQuestion,
        run: &dyn Fn(&Scenario, u64) -> Option<Comparison>,
    ) -> UnderAssumptions {
        let level = question.compare.level;
        let mut worlds = Vec::new();
        let mut rows = Vec::new();
        for outer in 0..question.outer {
            let values = draw(&question.assumptions, question.compare.seed, outer);
            let Some(found) = run(
                &self.world(&question.assumptions, &values),
                u64::from(outer),
            ) else {
                break;
            };
            let savings = savings(&found, 1, 0);
            worlds.push(DrawnWorld {
                values,
                saving: savings.mean,
                interval: savings.said(level).reach(),
                barred: found.barred[1],
            });
            rows.push(savings.each);
        }
        let as_assumed = savings(self.found, self.rule, self.against);
        let written = question.assumptions.iter();
        UnderAssumptions {
            written: written
                .map(|one| one.input.as_written(self.scenario).unwrap_or(f64::NAN))
                .collect(),
            assumptions: question.assumptions.clone(),
            rule: self.rule,
            against: self.against,
            as_assumed: as_assumed.mean,
            as_assumed_interval: as_assumed.said(level).reach(),
            worlds,
            asked: question.outer,
            table: TwoWay::of(&rows),
        }
    }

    /// The scenario with these values; an input that it does not have is left as it is.
    fn world(&self, assumptions: &[Assumption], values: &[f64]) -> Scenario {
        let mut world = self.scenario.clone();
        for (one, value) in assumptions.iter().zip(values) {
            if let Ok(edited) = one.input.set(&world, *value) {
                world = edited;
            }
        }
        world
    }
}

/// The values of a drawn world: each has an address of its own, so that one more input, rule or world shakes no other.
fn draw(assumptions: &[Assumption], seed: u64, outer: u32) -> Vec<f64> {
    let luck = Luck::new(seed, 0);
    let value = |one: &Assumption| {
        let entity = Entity::named(one.input.name());
        let block = luck.block(Purpose::AssumedInput, entity, outer, 0);
        let (least, most) = one.input.limits();
        one.spread.quantile(block.wide(0)).clamp(least, most)
    };
    assumptions.iter().map(value).collect()
}

/// What a rule saves against another in each replication: above zero is better.
struct Savings {
    own: Vec<f64>,
    other: Vec<f64>,
    each: Vec<f64>,
    mean: Option<f64>,
}

fn savings(found: &Comparison, rule: usize, against: usize) -> Savings {
    let turned = |rule: usize| -> Vec<f64> {
        let values = found.rows.values(rule, found.judge);
        values.map(|value| found.turned() * value).collect()
    };
    let (own, other) = (turned(rule), turned(against));
    Savings {
        each: own
            .iter()
            .zip(&other)
            .map(|(own, other)| other - own)
            .collect(),
        mean: Paired::of(&other, &own).difference.mean(),
        own,
        other,
    }
}

impl Savings {
    fn said(&self, level: f64) -> Contrast {
        Contrast::of(&self.other, &self.own, level)
    }
}
