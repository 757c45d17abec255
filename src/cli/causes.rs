//! `plantday causes`.

use super::input::{Error, position, scenario};
use super::luck::Luck;
use super::output::{Bar, print_answer, stop_on_interrupt};
use super::{FINE, INTERRUPTED};
use crate::report::{causes as report, files};
use crate::scenario::Change;
use crate::studies::{self, CounterfactualsQuestion};
use std::path::PathBuf;

/// Run the same days with one thing changed at a time and say what that is worth
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday causes scenarios/estuary_week.ron --rule \"Nearest on the map\" --replications 500"
)]
pub(super) struct Causes {
    /// Scenario file; left out: the built-in week
    file: Option<PathBuf>,
    /// The rule under which the days are run, by name [default: today's]
    #[arg(long, value_name = "NAME")]
    rule: Option<String>,
    /// How many times to run the days with each change
    #[arg(long, short = 'n', default_value_t = 400, value_parser = clap::value_parser!(u64).range(1..=1_000_000))]
    replications: u64,
    #[command(flatten)]
    luck: Luck,
    /// Folder for causes.html, worth.csv, figures.csv and the chart
    #[arg(long, value_name = "FOLDER", default_value = "plantday-causes")]
    out: PathBuf,
    /// Print the answer as JSON
    #[arg(long)]
    json: bool,
}

impl Causes {
    pub(super) fn run(&self) -> Result<u8, Error> {
        let scenario = scenario(self.file.as_deref())?;
        let rule = match &self.rule {
            Some(name) => {
                let names = scenario.rules.iter().map(|rule| rule.name.as_str());
                position("rule", name.trim(), names)?
            }
            None => scenario.todays_rule(),
        };
        let question = CounterfactualsQuestion {
            rule,
            changes: Change::ALL.to_vec(),
            replications: self.replications,
            seed: self.luck.seed,
            threads: self.luck.threads,
            level: 0.95,
        };
        files::check_writable(&self.out)?;
        let stop = stop_on_interrupt();
        let bar = Bar::new("replications");
        let answer = studies::counterfactuals(&scenario, &question, &|progress| bar.show(progress), stop);
        bar.clear();
        let Some(answer) = answer else {
            anstream::eprintln!("stopped before one replication was finished");
            return Ok(INTERRUPTED);
        };
        report::write(&answer, &scenario, &self.out)?;
        print_answer(
            self.json,
            || report::json(&answer),
            |width| report::terminal(&answer, width),
        )?;
        anstream::eprintln!(
            "The page is {}; numbers and chart are beside it",
            self.out.join("causes.html").display()
        );
        Ok(if answer.replications() < answer.asked {
            INTERRUPTED
        } else {
            FINE
        })
    }
}
