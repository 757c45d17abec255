//! `plantday best`.

use super::input::{Error, above_zero, confidence, figure, recipe, targets};
use super::study::{Shared, Study, Verdict, Work};
use crate::observe::columns;
use crate::report::answer::Answer;
use crate::report::best as report;
use crate::scenario::Scenario;
use crate::studies::{self, BestQuestion, default_indifference};
use std::sync::atomic::Ordering;

/// Put the best rule together from the decisions that the scenario's rules take
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday best scenarios/estuary_week.ron --target late_share=0.2\n\nExit code 1: no rule can be shown to meet the targets."
)]
#[command(mut_arg("out", |out| out.default_value("plantday-best").help("Folder for best.html, best_rule.ron, the tables and charts")))]
pub(super) struct Best {
    #[command(flatten)]
    shared: Shared,
    /// A bound that the mean of a figure must meet (at most, or at least where more is better); may be repeated
    #[arg(long, value_name = "FIGURE=BOUND")]
    target: Vec<String>,
    /// The figure to rank by, by its name in figures.csv
    #[arg(long, value_name = "FIGURE", default_value = "cost")]
    judge: String,
    /// Difference in the figure ranked by that does not matter, in its unit: no decision is changed for less
    /// [default: $50, 0.1 of a count, 0.5 h or 1 yd³ a day; 0.01 of a share; 1 min; $0.25 a yd³]
    #[arg(long, value_name = "X", value_parser = above_zero)]
    indifference: Option<f64>,
    /// Confidence of all that is said of the shortlist
    #[arg(long, value_name = "P", default_value_t = BestQuestion::default().level, value_parser = confidence)]
    confidence: f64,
    /// Replications of every rule in the search
    #[arg(long, value_name = "N", default_value_t = BestQuestion::default().search, value_parser = clap::value_parser!(u64).range(2..=1_000_000))]
    search: u64,
    /// Fresh replications of the shortlist
    #[arg(long, short = 'n', default_value_t = BestQuestion::default().last, value_parser = clap::value_parser!(u64).range(2..=1_000_000))]
    replications: u64,
}

impl Study for Best {
    fn shared(&self) -> &Shared {
        &self.shared
    }

    fn answer(
        &self,
        scenario: &Scenario,
        work: &Work<'_>,
    ) -> Result<Option<(Answer, Verdict)>, Error> {
        let question = self.question(scenario)?;
        let Some(found) = studies::best(scenario, &question, work.progress, work.stop) else {
            return Ok(None);
        };
        let stopped = work.stop.load(Ordering::Relaxed);
        let verdict = Verdict::of(stopped, found.last.chosen.is_some());
        let recipe = self.recipe(scenario, &found);
        Ok(Some((report::answer(&found, scenario, recipe), verdict)))
    }
}

impl Best {
    fn question(&self, scenario: &Scenario) -> Result<BestQuestion, Error> {
        let judge = figure("figure to judge by", &self.judge, scenario)?;
        Ok(BestQuestion {
            targets: targets(&self.target, scenario)?,
            judge,
            indifference: self.indifference.unwrap_or_else(|| {
                default_indifference(&columns(scenario)[judge], scenario.period.days)
            }),
            search: self.search,
            last: self.replications,
            seed: self.shared.seed,
            threads: self.shared.threads,
            level: self.confidence,
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
