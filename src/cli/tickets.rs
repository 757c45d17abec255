//! `plantday tickets`.

use super::given::Given;
use super::input::{Error, position};
use super::keeping::Resume;
use super::numbers::whole;
use super::study::{self, Shared, Study, Verdict, Work};
use crate::report::answer::Answer;
use crate::report::tickets as report;
use crate::scenario::Scenario;
use crate::scenario::input_file;
use crate::scenario::past_tickets::{self, PastTickets};
use crate::scenario::problem::listed;
use crate::studies::Asked;
use crate::studies::tickets::{CheckQuestion, TicketsQuestion, check, fit_tickets};
use std::path::PathBuf;
use std::sync::Arc;

/// Find the spreads of loading, travel and unloading in past tickets, or check a scenario against the days that were
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday tickets june.xlsx --out june\n  plantday tickets june.xlsx --check mine.ron\n\n\"plantday help tickets\" tells which columns are read and how."
)]
#[command(mut_arg("out", |out| out.default_value("plantday-tickets")))]
#[command(mut_arg("resume", |resume| resume.requires("check").help("Go on from what a --check that was broken off had done, to the same answer (help parts)")))]
#[command(mut_arg("file", |file| file.help("Scenario file whose own numbers stand beside what is found")))]
pub(super) struct Tickets {
    /// The tickets: a CSV file or an .xlsx workbook, one row a load
    tickets: PathBuf,
    /// The sheet of a workbook [default: the first]
    #[arg(long, value_name = "NAME")]
    sheet: Option<String>,
    /// With fewer tickets nothing is fitted to a leg
    #[arg(long, value_name = "N", default_value_t = TicketsQuestion::default().least as u64, value_parser = whole::<u64>(4..=1_000_000))]
    least: u64,
    /// Set the scenario's own days, simulated, against the days that were: is the model believable for this yard?
    #[arg(long)]
    check: bool,
    /// The rule by which the yard was run, by name [default: today's]
    #[arg(long, value_name = "NAME", requires = "check")]
    rule: Option<String>,
    /// How many periods to simulate
    #[arg(long, short = 'n', value_name = "N", requires = "check", default_value_t = 200, value_parser = whole::<u64>(2..=100_000))]
    replications: u64,
    #[command(flatten)]
    shared: Shared,
    #[command(flatten)]
    resume: Resume,
}

impl Tickets {
    pub(super) fn run(&self, given: &Given) -> Result<u8, Error> {
        study::run(self, given)
    }

    fn checked(
        &self,
        scenario: &Scenario,
        tickets: &PastTickets,
        work: &Work<'_>,
    ) -> Result<Option<(Answer, Verdict)>, Error> {
        let names = scenario.rules.iter().map(|rule| rule.name.as_str());
        let rule = match &self.rule {
            Some(name) => position("rule", name.trim(), names)?,
            None => scenario.todays_rule(),
        };
        let question = CheckQuestion {
            rule,
            replications: self.replications,
            level: TicketsQuestion::default().level,
            seed: self.shared.seed,
            threads: self.shared.threads,
        };
        let Some(found) = check(scenario, tickets, &question, work.watch) else {
            if work.watch.is_stopped() {
                return Ok(None);
            }
            let orders = scenario
                .orders
                .iter()
                .take(5)
                .map(|order| order.name.as_str());
            return Err(Error::Argument(format!(
                "no ticket of {} is of an order of the scenario, so there are no days to compare\n  expected its orders, such as {}",
                self.tickets.display(),
                listed(orders)
            )));
        };
        let stopped = found.simulated < self.replications;
        let verdict = Verdict::of(stopped, found.is_believable());
        Ok(Some((report::check(&found, tickets, scenario), verdict)))
    }

    fn recipe(&self) -> String {
        let mut recipe = "plantday tickets TICKETS".to_owned();
        if self.shared.file().is_some() {
            recipe += " FILE";
        }
        let usual = TicketsQuestion::default();
        if self.least != usual.least as u64 {
            recipe += &format!(" --least {}", self.least);
        }
        if self.shared.seed != usual.seed {
            recipe += &format!(" --seed {}", self.shared.seed);
        }
        recipe
    }
}

impl Study for Tickets {
    fn shared(&self) -> &Shared {
        &self.shared
    }

    fn resume(&self) -> Option<Resume> {
        self.check.then_some(self.resume)
    }

    fn asked(&self, scenario: &Scenario, given: &Given) -> Result<Asked, Error> {
        // One that cannot be read is told by its own reader.
        let tickets = input_file::read(&self.tickets).unwrap_or_default();
        let asked = given.asked(scenario, &self.shared);
        Ok(asked.of_file("the checksum of the tickets was", &tickets))
    }

    fn answer(
        &self,
        scenario: &Arc<Scenario>,
        work: &Work<'_>,
    ) -> Result<Option<(Answer, Verdict)>, Error> {
        let tickets = past_tickets::read(&self.tickets, self.sheet.as_deref())?;
        if self.check {
            return self.checked(scenario, &tickets, work);
        }
        let question = TicketsQuestion {
            least: self.least as usize,
            seed: self.shared.seed,
            ..TicketsQuestion::default()
        };
        let found = fit_tickets(&tickets, &question);
        let beside = self.shared.file().map(|_| scenario.as_ref());
        let answer = report::fits(&found, &tickets, beside, self.recipe());
        Ok(Some((answer, Verdict::Fine)))
    }
}
