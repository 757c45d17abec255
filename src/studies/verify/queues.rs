//! Queueing theory against the whole program: textbook queues written as ordinary scenarios, read, run by `compare`, and judged by the
//! figures that it writes.
//!
//! The world is switched down: no legal clock, rosters of the whole period, plants always open, loads made on demand, first come first
//! served, every stage a spread of its own. Every expected value is exact: a formula, or the product form.

mod closed_fleet;
mod networks;
mod repair;
mod without_luck;

pub use closed_fleet::Fleet;
pub use networks::BY_FLEET_SIZE;

use super::check::{Basis, Check, Expected, Found, Sheet};
use super::{Family, Work};
use crate::observe::figure::COST;
use crate::scenario::{Scenario, parse};
use crate::statistics::Estimate;
use crate::studies::{Comparison, Question, compare};
use std::borrow::Cow;

/// How far the interval of a mean may reach to either side, as a share of the expected value. The runs of each queue are so many that with any
/// seed it reaches about two thirds as far.
pub const WIDEST: f64 = 0.015;

/// How many times the runs a thorough check makes.
const THOROUGH: u64 = 4;

/// A scenario with luck in it, and what theory says of its figures.
struct Queue {
    about: Cow<'static, str>,
    basis: Basis,
    source: &'static str,
    fleet: Fleet,
    /// What the scenario has in place of a part of the fleet's text.
    instead: Option<(&'static str, &'static str)>,
    /// Runs that make the intervals narrow enough.
    replications: u64,
    figures: Vec<Figure>,
}

/// A figure of a scenario, and what it should be.
struct Figure {
    /// Its name in files.
    key: &'static str,
    /// What it is, in words.
    words: Cow<'static, str>,
    /// What brings it to the unit of the source.
    factor: f64,
    value: f64,
}

fn figure(
    key: &'static str,
    words: impl Into<Cow<'static, str>>,
    factor: f64,
    value: f64,
) -> Figure {
    Figure {
        key,
        words: words.into(),
        factor,
        value,
    }
}

fn queues() -> Vec<Queue> {
    let mut all = repair::queues();
    all.extend(networks::queues());
    all
}

/// How many figures have luck in them.
pub(super) fn figures() -> usize {
    queues().iter().map(|queue| queue.figures.len()).sum()
}

/// How many scenarios are run.
pub(super) fn cases() -> u64 {
    (queues().len() + without_luck::CASES) as u64
}

pub(super) fn checks(work: &Work<'_>) -> Option<Vec<Check>> {
    let mut sheet = Sheet::new(Family::Queues);
    for queue in queues() {
        queue.check(work, &mut sheet)?;
        work.done(1)?;
    }
    without_luck::check(work, &mut sheet)?;
    Some(sheet.into_checks())
}

impl Queue {
    fn check(&self, work: &Work<'_>, sheet: &mut Sheet) -> Option<()> {
        let mut text = self.fleet.text();
        if let Some((from, to)) = self.instead {
            text = text.replace(from, to);
        }
        let runs = match work.question.thorough {
            true => THOROUGH * self.replications,
            false => self.replications,
        };
        let found = study(&scenario(&text), runs, work)?;
        sheet.about(self.about.clone(), self.basis, self.source);
        for figure in &self.figures {
            let at = place(&found, figure.key);
            let values = found.rows.values(0, at).map(|value| value * figure.factor);
            let values: Vec<f64> = values.collect();
            let expected = Expected::Number {
                value: figure.value,
                within: WIDEST * figure.value.abs(),
            };
            let mean = Estimate::of_values(&values, work.level);
            sheet.check(figure.words.clone(), expected, Found::Mean(mean));
        }
        Some(())
    }
}

/// The scenario of a text of ours.
fn scenario(text: &str) -> Scenario {
    parse("check", text)
        .unwrap_or_else(|faults| panic!("a scenario of the program's own: {faults}"))
}

/// The study that a user would run.
fn study(scenario: &Scenario, replications: u64, work: &Work<'_>) -> Option<Comparison> {
    let question = Question {
        rules: vec![0],
        judge: COST,
        replications,
        seed: work.question.seed,
        threads: work.question.threads,
        level: 0.95,
        ..Question::default()
    };
    compare(scenario, &question, work.watch.telling(&|_| ()))
}

/// The position of a figure by its name in files.
fn place(found: &Comparison, key: &str) -> usize {
    let at = found.columns.iter().position(|column| column.key == key);
    at.unwrap_or_else(|| panic!("no figure {key}"))
}
