//! `plantday causes`.

use super::input::{Error, position};
use super::study::{self, Shared, Study, Verdict, Work};
use crate::report::answer::Answer;
use crate::report::causes as report;
use crate::scenario::Scenario;
use crate::studies::{self, CounterfactualsQuestion};

/// Run the same days with one thing changed at a time and say what that is worth
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday causes scenarios/estuary_week.ron --rule \"Nearest on the map\" --replications 500"
)]
#[command(mut_arg("out", |out| out.default_value("plantday-causes")))]
pub(super) struct Causes {
    /// The rule under which the days are run, by name [default: today's]
    #[arg(long, value_name = "NAME")]
    rule: Option<String>,
    /// How many times to run the days with each change
    #[arg(long, short = 'n', default_value_t = CounterfactualsQuestion::default().replications, value_parser = clap::value_parser!(u64).range(1..=1_000_000))]
    replications: u64,
    #[command(flatten)]
    shared: Shared,
}

impl Causes {
    pub(super) fn run(&self) -> Result<u8, Error> {
        study::run(self)
    }
}

impl Study for Causes {
    fn shared(&self) -> &Shared {
        &self.shared
    }

    fn answer(
        &self,
        scenario: &Scenario,
        work: &Work<'_>,
    ) -> Result<Option<(Answer, Verdict)>, Error> {
        let rule = match &self.rule {
            Some(name) => {
                let names = scenario.rules.iter().map(|rule| rule.name.as_str());
                position("rule", name.trim(), names)?
            }
            None => scenario.todays_rule(),
        };
        let question = CounterfactualsQuestion {
            rule,
            replications: self.replications,
            seed: self.shared.seed,
            threads: self.shared.threads,
            ..CounterfactualsQuestion::default()
        };
        let Some(found) = studies::counterfactuals(scenario, &question, work.progress, work.stop)
        else {
            return Ok(None);
        };
        let stopped = found.replications() < found.asked;
        Ok(Some((
            report::answer(&found, scenario),
            Verdict::of(stopped, true),
        )))
    }
}
