//! `plantday replay --tomorrow`: one day's book and roster, run many times.

use super::input::{Error, position};
use super::keeping::Resume;
use super::study::{Shared, Study, Verdict, Work};
use crate::report::answer::Answer;
use crate::report::tomorrow as report;
use crate::scenario::Scenario;
use crate::studies::{self, BoardQuestion};
use std::sync::Arc;

/// What is asked of one day.
pub(super) struct Tomorrow<'a> {
    /// The rule, by name; none: today's.
    pub(super) rule: Option<&'a str>,
    /// The day, the first is 1.
    pub(super) day: u32,
    /// How many times it is run.
    pub(super) replications: u64,
    /// What every study is asked.
    pub(super) shared: &'a Shared,
    /// Whether it goes on.
    pub(super) resume: Resume,
}

impl Study for Tomorrow<'_> {
    fn shared(&self) -> &Shared {
        self.shared
    }

    fn resume(&self) -> Option<Resume> {
        Some(self.resume)
    }

    fn answer(
        &self,
        scenario: &Arc<Scenario>,
        work: &Work<'_>,
    ) -> Result<Option<(Answer, Verdict)>, Error> {
        let rule = match self.rule {
            Some(name) => {
                let names = scenario.rules.iter().map(|rule| rule.name.as_str());
                position("rule", name.trim(), names)?
            }
            None => scenario.todays_rule(),
        };
        let days = scenario.period.days;
        if self.day > days {
            return Err(Error::Argument(format!(
                "--day {} is after the end of the period\n  expected {}",
                self.day,
                match days {
                    1 => "1, its only day".to_owned(),
                    _ => format!("1 to {days}"),
                }
            )));
        }
        let day = i64::from(self.day) - 1;
        if !scenario.orders.iter().any(|order| order.first.day() == day) {
            return Err(Error::Argument(format!(
                "there is no order with a volume on day {}\n  expected a day with orders",
                self.day
            )));
        }
        let question = BoardQuestion {
            rule,
            day,
            replications: self.replications,
            seed: self.shared.seed,
            threads: self.shared.threads,
            ..BoardQuestion::default()
        };
        let Some(found) = studies::tomorrow(scenario, &question, work.watch) else {
            return Ok(None);
        };
        let stopped = found.replications < found.asked || work.watch.is_stopped();
        Ok(Some((
            report::answer(&found, scenario),
            Verdict::of(stopped, true),
        )))
    }
}
