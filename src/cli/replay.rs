//! `plantday replay`.

use super::input::{Error, position};
use super::study::{self, Shared, Study, Verdict, Work};
use crate::observe::ToldRefusals;
use crate::report::answer::Answer;
use crate::report::replay as report;
use crate::scenario::Scenario;
use crate::studies::replay::{Question, Which};
use crate::studies::{self, Worst};

/// Play one simulated run again, exactly: what every truck did, why loads came late, as a moving map
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday replay scenarios/estuary_day.ron --worst strandings --replications 500 --out bad-day"
)]
#[command(mut_arg("out", |out| out.default_value("plantday-replay")))]
pub(super) struct Replay {
    /// The rule, by name [default: today's]
    #[arg(long, value_name = "NAME")]
    rule: Option<String>,
    /// The run, by its number in figures.csv [default: the worst by lateness]
    #[arg(long, value_name = "NUMBER", conflicts_with = "worst")]
    replication: Option<u64>,
    /// The run that is the worst by this, of those that are simulated
    #[arg(long, value_enum, value_name = "BY", default_value = "lateness")]
    worst: By,
    /// How many to simulate for the averages and to look for the worst
    #[arg(long, short = 'n', default_value_t = Question::default().replications, value_parser = clap::value_parser!(u64).range(1..=1_000_000))]
    replications: u64,
    /// Also list who was refused for a load and why, with the clock that refused; each driver and load once until the reason changes
    #[arg(long, value_enum, value_name = "WHY", num_args = 0..=1, require_equals = true, default_missing_value = "hours")]
    refusals: Option<Why>,
    #[command(flatten)]
    shared: Shared,
}

/// By what a run is the worst.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum By {
    /// Most late loads
    Lateness,
    /// Most drivers stranded
    Strandings,
    /// Most concrete dumped
    Waste,
    /// Highest cost
    Cost,
}

/// Why candidates were refused.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum Why {
    /// Hours: a limit of the law or the company, an hours check of the rule, the driver's objection
    Hours,
    /// Any reason: also not loaned, a nearer plant, plant closed, weight, too old on site, no way
    All,
}

impl Replay {
    pub(super) fn run(&self) -> Result<u8, Error> {
        study::run(self)
    }

    fn question(&self, scenario: &Scenario) -> Result<Question, Error> {
        let names = scenario.rules.iter().map(|rule| rule.name.as_str());
        let rule = match &self.rule {
            Some(name) => position("rule", name.trim(), names)?,
            None => scenario.todays_rule(),
        };
        let by = match self.worst {
            By::Lateness => Worst::Lateness,
            By::Strandings => Worst::Strandings,
            By::Waste => Worst::Waste,
            By::Cost => Worst::Cost,
        };
        Ok(Question {
            rule,
            which: self.replication.map_or(Which::Worst(by), Which::Number),
            replications: self.replications,
            refusals: self.refusals.map(|why| match why {
                Why::Hours => ToldRefusals::OfHours,
                Why::All => ToldRefusals::All,
            }),
            seed: self.shared.seed,
            threads: self.shared.threads,
        })
    }
}

impl Study for Replay {
    fn shared(&self) -> &Shared {
        &self.shared
    }

    fn answer(
        &self,
        scenario: &Scenario,
        work: &Work<'_>,
    ) -> Result<Option<(Answer, Verdict)>, Error> {
        let question = self.question(scenario)?;
        let Some(found) = studies::replay(scenario, &question, work.progress, work.stop) else {
            return Ok(None);
        };
        let stopped = found.searched < found.asked;
        Ok(Some((
            report::answer(&found, scenario),
            Verdict::of(stopped, true),
        )))
    }
}
