//! `plantday verify`.

use super::bar::{Bar, SUMMED_UP, stop_on_interrupt};
use super::input::Error;
use super::numbers::{seed, threads};
use super::output::Out;
use super::{FINE, INTERRUPTED, NOT_MET};
use crate::montecarlo::Watch;
use crate::report::stderr::say;
use crate::report::verify as report;
use crate::studies::verify::{Family, VerifyQuestion, verify};
use clap::builder::PossibleValuesParser;
use std::num::NonZeroUsize;

/// Check the program on this machine against queueing theory, regulations, published tables and days worked out on paper
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday verify\n  plantday verify --family hours\n\n\
Exit code 1 if a check disagrees. On two cores it takes about half a minute, --thorough two."
)]
pub(super) struct Verify {
    /// Check one kind only, and show every check of it; may be repeated
    #[arg(long, value_name = "NAME", value_parser = names())]
    family: Vec<String>,
    /// Make four times the runs of every queue, and try the clocks on random logs
    #[arg(long)]
    thorough: bool,
    /// Random seed: the same seed gives the same answer
    #[arg(long, default_value_t = VerifyQuestion::default().seed, value_parser = seed, allow_negative_numbers = true)]
    seed: u64,
    /// Threads; the answer does not depend on it [default: all]
    #[arg(long, value_name = "N", value_parser = threads, allow_negative_numbers = true)]
    threads: Option<NonZeroUsize>,
    #[command(flatten)]
    out: Out,
}

fn names() -> PossibleValuesParser {
    PossibleValuesParser::new(Family::ALL.map(Family::name))
}

impl Verify {
    pub(super) fn run(&self) -> Result<u8, Error> {
        self.out.check()?;
        let mut question = VerifyQuestion {
            thorough: self.thorough,
            seed: self.seed,
            threads: self.threads,
            ..VerifyQuestion::default()
        };
        if !self.family.is_empty() {
            let asked = |family: &Family| self.family.iter().any(|name| name == family.name());
            question.families.retain(asked);
        }
        let bar = Bar::new("cases");
        let found = verify(
            &question,
            Watch::new(&|progress| bar.show(progress), stop_on_interrupt(SUMMED_UP)),
        );
        bar.clear();
        let Some(found) = found else {
            say("stopped before everything was checked");
            return Ok(INTERRUPTED);
        };
        let answer = report::answer(&found, self.recipe());
        self.out.deliver(&answer)?;
        Ok(if found.all_agree() { FINE } else { NOT_MET })
    }

    /// The command that gives the same answer.
    fn recipe(&self) -> String {
        let mut recipe = "plantday verify".to_owned();
        for name in &self.family {
            recipe += &format!(" --family {name}");
        }
        if self.thorough {
            recipe += " --thorough";
        }
        if self.seed != VerifyQuestion::default().seed {
            recipe += &format!(" --seed {}", self.seed);
        }
        recipe
    }
}
