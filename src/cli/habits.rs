//! `plantday habits`.

use super::input::{Error, position};
use super::keeping::Resume;
use super::numbers::whole;
use super::study::{Shared, Study, Verdict, Work};
use crate::dispatch::Habit;
use crate::report::answer::Answer;
use crate::report::habits as report;
use crate::scenario::Scenario;
use crate::studies::{self, Block, HabitsQuestion, Question};
use std::sync::Arc;

/// Take the difference of two rules apart: what each decision in which they differ brings
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday habits scenarios/estuary_week.ron --from \"Empty road, lend on call\" --to \"Traffic, home, warned\""
)]
#[command(mut_arg("out", |out| out.default_value("plantday-habits")))]
pub(super) struct Habits {
    /// The rule to begin with, by name [default: today's]
    #[arg(long, value_name = "NAME")]
    from: Option<String>,
    /// The rule to arrive at, by name [default: the best of the others, picked on days of its own]
    #[arg(long, value_name = "NAME")]
    to: Option<String>,
    /// How many times to run the days under each mix of the two rules
    #[arg(long, short = 'n', default_value_t = HabitsQuestion::default().replications, value_parser = whole::<u64>(1..=1_000_000))]
    replications: u64,
    /// Orders of adding the decisions that are drawn where more than five differ, each with its reverse
    #[arg(long, value_name = "N", default_value_t = HabitsQuestion::default().orders as u32, value_parser = whole::<u32>(1..=10_000))]
    orders: u32,
    #[command(flatten)]
    shared: Shared,
    #[command(flatten)]
    resume: Resume,
}

impl Study for Habits {
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
        let named = |name: &str| {
            let names = scenario.rules.iter().map(|rule| rule.name.as_str());
            position("rule", name.trim(), names)
        };
        let from = match &self.from {
            Some(name) => named(name)?,
            None => scenario.todays_rule(),
        };
        let to = match &self.to {
            Some(name) => named(name)?,
            None => match self.best(scenario, from, work)? {
                Some(best) => best,
                None => return Ok(None),
            },
        };
        let (a, b) = (&scenario.rules[from], &scenario.rules[to]);
        if Habit::differing(a, b).is_empty() {
            return Err(Error::Argument(format!(
                "\"{}\" and \"{}\" decide alike in everything: there is nothing to take apart",
                a.name, b.name
            )));
        }
        let question = HabitsQuestion {
            from,
            to,
            replications: self.replications,
            orders: self.orders as usize,
            seed: self.shared.seed,
            threads: self.shared.threads,
            ..HabitsQuestion::default()
        };
        let Some(found) = studies::habits(scenario, &question, work.watch) else {
            return Ok(None);
        };
        let stopped = found.replications < self.replications;
        Ok(Some((
            report::answer(&found, scenario),
            Verdict::of(stopped, true),
        )))
    }
}

impl Habits {
    /// The best of the other rules, by a comparison on days of its own; none if it was interrupted.
    fn best(
        &self,
        scenario: &Scenario,
        from: usize,
        work: &Work<'_>,
    ) -> Result<Option<usize>, Error> {
        if scenario.rules.len() < 2 {
            return Err(Error::Argument(
                "the scenario has one rule only: there is nothing to compare it with".into(),
            ));
        }
        // The first is the one that the others are compared with, unless today's is among them.
        let others = (0..scenario.rules.len()).filter(|rule| *rule != from);
        let mut rules: Vec<usize> = others.collect();
        rules.insert(0, from);
        let question = Question {
            rules,
            replications: self.replications,
            // What is picked for its luck is not told by the same luck.
            block: Block::Selection,
            seed: self.shared.seed,
            threads: self.shared.threads,
            ..Question::default()
        };
        let found = studies::compare(scenario, &question, work.watch);
        Ok(found.and_then(|found| {
            let best = found.best_other_than(0)?;
            Some(question.rules[best])
        }))
    }
}
