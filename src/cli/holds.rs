//! `plantday holds`.

use super::input::{Error, position};
use super::judged::Judged;
use super::keeping::Resume;
use super::numbers::whole;
use super::study::{Shared, Study, Verdict, Work};
use crate::report::answer::Answer;
use crate::report::holds as report;
use crate::scenario::assume;
use crate::scenario::{ReadError, Scenario, Surprise};
use crate::studies::{self, HoldsQuestion, Question};
use std::sync::Arc;

/// Try a decision in changed worlds: where does another rule win, and which price turns it round?
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday holds scenarios/estuary_week.ron --rule \"Traffic, home, warned\" --replications 100\n  plantday holds --assume \"misread=Uniform(0.01, 0.04)\" --assume \"traffic=Triangular(0.9, 1, 1.3)\""
)]
#[command(mut_arg("out", |out| out.default_value("plantday-holds")))]
pub(super) struct Holds {
    /// The rule that shall hold, by name [default: the one that is the best as assumed]
    #[arg(long, value_name = "NAME")]
    rule: Option<String>,
    #[command(flatten)]
    judged: Judged,
    /// How many times to run the days in each world
    #[arg(long, short = 'n', default_value_t = 60, value_parser = whole::<u64>(2..=1_000_000))]
    replications: u64,
    /// What is known of an input, as a spread: `misread=Uniform(0.01, 0.04)`; may be repeated. "plantday help reading" lists the inputs
    #[arg(long, value_name = "INPUT=SPREAD")]
    assume: Vec<String>,
    /// How many worlds to draw from what is assumed; each gets all runs
    #[arg(long, value_name = "N", default_value_t = HoldsQuestion::default().outer, requires = "assume", value_parser = whole::<u32>(2..=1_000))]
    outer: u32,
    #[command(flatten)]
    shared: Shared,
    #[command(flatten)]
    resume: Resume,
}

impl Study for Holds {
    fn shared(&self) -> &Shared {
        &self.shared
    }

    fn resume(&self) -> Option<Resume> {
        Some(self.resume)
    }

    fn answer(
        &self,
        scenario: &Arc<Scenario>,
        work: &Work<'_>,
    ) -> Result<Option<(Answer, Verdict)>, Error> {
        if scenario.rules.len() < 2 {
            return Err(Error::Argument(
                "the scenario has one rule only: no other can win\n  expected two rules at least"
                    .into(),
            ));
        }
        let rule = match &self.rule {
            Some(name) => {
                let names = scenario.rules.iter().map(|rule| rule.name.as_str());
                Some(position("rule", name.trim(), names)?)
            }
            None => None,
        };
        let question = HoldsQuestion {
            compare: Question {
                judge: self.judged.figure(scenario)?,
                replications: self.replications,
                seed: self.shared.seed,
                threads: self.shared.threads,
                ..Question::default()
            },
            rule,
            surprises: Surprise::usual(scenario),
            assumptions: assume::read(&self.assume, scenario).map_err(ReadError::Faults)?,
            outer: self.outer,
        };
        let Some(found) = studies::holds(scenario, &question, work.watch) else {
            return Ok(None);
        };
        let drawn = found.under_assumptions.as_ref();
        let stopped = found.left > 0
            || found.assumed.replications() < self.replications
            || drawn.is_some_and(|drawn| drawn.worlds.len() < self.outer as usize);
        Ok(Some((
            report::answer(&found, scenario),
            Verdict::of(stopped, true),
        )))
    }
}
