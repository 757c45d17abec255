//! `plantday replay`.

use super::input::{Error, position, scenario};
use super::luck::Luck;
use super::output::{Bar, print_answer, stop_on_interrupt};
use super::{FINE, INTERRUPTED};
use crate::observe::ToldRefusals;
use crate::report::{files, replay as report};
use crate::scenario::Scenario;
use crate::studies::replay::{Question, Which};
use crate::studies::{self, Worst};
use std::path::PathBuf;

/// Play one replication again, exactly: what every truck did, why loads came late, as a moving map
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday replay scenarios/estuary_day.ron --worst strandings --replications 500 --out bad-day"
)]
pub(super) struct Replay {
    /// Scenario file; left out: the built-in week
    file: Option<PathBuf>,
    /// The rule, by name [default: today's]
    #[arg(long, value_name = "NAME")]
    rule: Option<String>,
    /// The replication, by its number in figures.csv [default: the worst by lateness]
    #[arg(long, value_name = "NUMBER", conflicts_with = "worst")]
    replication: Option<u64>,
    /// The replication that is the worst by this, of those that are run
    #[arg(long, value_enum, value_name = "BY", default_value = "lateness")]
    worst: By,
    /// How many replications to run for the means and to look for the worst
    #[arg(long, short = 'n', default_value_t = 200, value_parser = clap::value_parser!(u64).range(1..=1_000_000))]
    replications: u64,
    /// Also list who was refused for a load and why, with the clock that refused; each driver and load once until the reason changes
    #[arg(long, value_enum, value_name = "WHY", num_args = 0..=1, require_equals = true, default_missing_value = "hours")]
    refusals: Option<Why>,
    #[command(flatten)]
    luck: Luck,
    /// Folder for replay.html, events.csv and the chart of the trucks
    #[arg(long, value_name = "FOLDER", default_value = "plantday-replay")]
    out: PathBuf,
    /// Print the answer as JSON
    #[arg(long)]
    json: bool,
}

/// By what a replication is the worst.
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
    /// Hours: a clock of the law, a limit of the company, a gate of the rule, the driver's word
    Hours,
    /// Any reason: also not lent, a nearer plant, plant closed, weight, too old on site, no way
    All,
}

impl Replay {
    pub(super) fn run(&self) -> Result<u8, Error> {
        let scenario = scenario(self.file.as_deref())?;
        let question = self.question(&scenario)?;
        files::check_writable(&self.out)?;
        let stop = stop_on_interrupt();
        let bar = Bar::new("replications");
        let answer = studies::replay(&scenario, &question, &|progress| bar.show(progress), stop);
        bar.clear();
        let Some(answer) = answer else {
            anstream::eprintln!("stopped before one replication was finished");
            return Ok(INTERRUPTED);
        };
        report::write(&answer, &scenario, &self.out)?;
        print_answer(
            self.json,
            || report::json(&answer, &scenario),
            |width| report::terminal(&answer, &scenario, width),
        )?;
        anstream::eprintln!(
            "The moving map is {}; every event is beside it in events.csv",
            self.out.join("replay.html").display()
        );
        Ok(if answer.searched < answer.asked {
            INTERRUPTED
        } else {
            FINE
        })
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
            seed: self.luck.seed,
            threads: self.luck.threads,
        })
    }
}
