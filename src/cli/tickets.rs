//! `plantday tickets`.

use super::input::Error;
use super::study::{self, Shared, Study, Verdict, Work};
use crate::report::answer::Answer;
use crate::report::tickets as report;
use crate::scenario::{Scenario, past_tickets};
use crate::studies::tickets::{TicketsQuestion, fit_tickets};
use std::path::PathBuf;

/// Find the spreads of loading, travel and unloading in past tickets, or check a scenario against the days that were
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday tickets june.xlsx --out june\n\n\"plantday help tickets\" tells which columns are read and how."
)]
#[command(mut_arg("out", |out| out.default_value("plantday-tickets")))]
#[command(mut_arg("file", |file| file.help("Scenario file whose own numbers stand beside what is found")))]
pub(super) struct Tickets {
    /// The tickets: a CSV file or an .xlsx workbook, one row a load
    tickets: PathBuf,
    /// The sheet of a workbook [default: the first]
    #[arg(long, value_name = "NAME")]
    sheet: Option<String>,
    /// With fewer tickets nothing is fitted to a leg
    #[arg(long, value_name = "N", default_value_t = TicketsQuestion::default().least as u64, value_parser = clap::value_parser!(u64).range(4..=1_000_000))]
    least: u64,
    #[command(flatten)]
    shared: Shared,
}

impl Tickets {
    pub(super) fn run(&self) -> Result<u8, Error> {
        study::run(self)
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

    fn answer(
        &self,
        scenario: &Scenario,
        _work: &Work<'_>,
    ) -> Result<Option<(Answer, Verdict)>, Error> {
        let tickets = past_tickets::read(&self.tickets, self.sheet.as_deref())?;
        let question = TicketsQuestion {
            least: self.least as usize,
            seed: self.shared.seed,
            ..TicketsQuestion::default()
        };
        let found = fit_tickets(&tickets, &question);
        let beside = self.shared.file().map(|_| scenario);
        let answer = report::fits(&found, &tickets, beside, self.recipe());
        Ok(Some((answer, Verdict::Fine)))
    }
}
