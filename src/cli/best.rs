//! `plantday best`.

use super::input::{Error, recipe};
use super::judged::Wanted;
use super::keeping::Resume;
use super::numbers::whole;
use super::study::{Shared, Study, Verdict, Work};
use crate::report::answer::Answer;
use crate::report::best as report;
use crate::scenario::Scenario;
use crate::studies::{self, BestQuestion};
use std::sync::Arc;

/// Put the best rule together from the decisions that the scenario's rules take
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday best scenarios/estuary_week.ron --target late_share=0.2\n\nExit code 1: no rule can be shown to meet the targets."
)]
#[command(mut_arg("out", |out| out.default_value("plantday-best").help("Folder for best.html, best_rule.ron, the tables and charts")))]
#[command(mut_arg("indifference", |arg| arg.help("Difference in the figure ranked by that does not matter, in its unit: no decision is changed for less \
    [default: $50, 0.1 of a count, 0.5 h or 1 yd³ a day; 0.01 of a share; 1 min; $0.25 a yd³]")))]
#[command(mut_arg("confidence", |arg| arg.help("Confidence of all that is said of the shortlist")))]
pub(super) struct Best {
    #[command(flatten)]
    shared: Shared,
    #[command(flatten)]
    resume: Resume,
    #[command(flatten)]
    wanted: Wanted,
    /// Replications of every rule in the search
    #[arg(long, value_name = "N", default_value_t = BestQuestion::default().search, value_parser = whole::<u64>(2..=1_000_000))]
    search: u64,
    /// Fresh replications of the shortlist
    #[arg(long, short = 'n', default_value_t = BestQuestion::default().last, value_parser = whole::<u64>(2..=1_000_000))]
    replications: u64,
}

impl Study for Best {
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
        let question = self.question(scenario)?;
        let Some(found) = studies::best(scenario, &question, work.watch) else {
            return Ok(None);
        };
        let stopped = work.watch.is_stopped();
        let verdict = Verdict::of(stopped, found.last.chosen.is_some());
        let recipe = self.recipe(scenario, &found);
        Ok(Some((report::answer(&found, scenario, recipe), verdict)))
    }
}

impl Best {
    fn question(&self, scenario: &Scenario) -> Result<BestQuestion, Error> {
        let judge = self.wanted.judged.figure(scenario)?;
        Ok(BestQuestion {
            targets: self.wanted.targets(scenario)?,
            judge,
            indifference: self.wanted.indifference(judge, scenario),
            search: self.search,
            last: self.replications,
            seed: self.shared.seed,
            threads: self.shared.threads,
            level: self.wanted.confidence,
        })
    }

    /// The command that gives the same answer, without what does not change it.
    fn recipe(&self, scenario: &Scenario, found: &studies::Best) -> String {
        let asked = &found.asked;
        let targets = asked.targets.iter().zip(&found.targets);
        let mut options: Vec<(&str, Option<String>)> = targets
            .map(|(target, column)| ("target", Some(format!("{}={}", column.key, target.bound))))
            .collect();
        options.extend([
            ("judge", Some(found.judge.key.clone())),
            ("indifference", Some(asked.indifference.to_string())),
            ("confidence", Some(asked.level.to_string())),
            ("search", Some(found.searched.to_string())),
            ("replications", Some(found.last.decided_on.to_string())),
            ("seed", Some(asked.seed.to_string())),
        ]);
        recipe("best", scenario, &options)
    }
}
