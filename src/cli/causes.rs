//! `plantday causes`.

use super::given::Given;
use super::input::{Error, position};
use super::keeping::Resume;
use super::numbers::{above_zero, whole};
use super::study::{self, Shared, Study, Verdict, Work};
use crate::report::answer::Answer;
use crate::report::causes as report;
use crate::scenario::{Scenario, WhatIf};
use crate::studies::{self, CounterfactualsQuestion, Every, Price};
use std::sync::Arc;

/// Run the same days with one thing changed at a time and say what that is worth
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday causes scenarios/estuary_week.ron --rule \"Empty road, lend on call\" --replications 500"
)]
#[command(mut_arg("out", |out| out.default_value("plantday-causes")))]
pub(super) struct Causes {
    /// The rule under which the days are run, by name [default: today's]
    #[arg(long, value_name = "NAME")]
    rule: Option<String>,
    /// How many times to run the days with each change
    #[arg(long, short = 'n', default_value_t = CounterfactualsQuestion::default().replications, value_parser = whole::<u64>(1..=1_000_000))]
    replications: u64,
    /// What one of a thing costs, such as truck=1400/week or bay=250000: once, or every day, week, month or year; may be repeated
    #[arg(long, value_name = "THING=AMOUNT[/WEEK]")]
    price: Vec<String>,
    #[command(flatten)]
    shared: Shared,
    #[command(flatten)]
    resume: Resume,
}

impl Causes {
    pub(super) fn run(&self, given: &Given) -> Result<u8, Error> {
        study::run(self, given)
    }
}

impl Study for Causes {
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
        let rule = match &self.rule {
            Some(name) => {
                let names = scenario.rules.iter().map(|rule| rule.name.as_str());
                position("rule", name.trim(), names)?
            }
            None => scenario.todays_rule(),
        };
        let question = CounterfactualsQuestion {
            rule,
            prices: prices(&self.price, scenario)?,
            replications: self.replications,
            seed: self.shared.seed,
            threads: self.shared.threads,
            ..CounterfactualsQuestion::default()
        };
        let Some(found) = studies::counterfactuals(scenario, &question, work.watch) else {
            return Ok(None);
        };
        let stopped = found.replications() < found.asked;
        Ok(Some((
            report::answer(&found, scenario),
            Verdict::of(stopped, true),
        )))
    }
}

/// The prices, each of a thing that a change of this scenario could buy, once.
fn prices(texts: &[String], scenario: &Scenario) -> Result<Vec<Price>, Error> {
    let mut things: Vec<&str> = WhatIf::ALL
        .into_iter()
        .filter_map(|change| Some(change.priced(scenario)?.0))
        .collect();
    things.sort_unstable();
    things.dedup();
    let mut prices: Vec<Price> = Vec::new();
    for text in texts {
        let wrong = |what: &str| {
            Error::Argument(format!(
                "--price {text:?} {what}\n  expected THING=AMOUNT or THING=AMOUNT/day, /week, /month or /year, such as truck=1400/week"
            ))
        };
        let (of, rest) = text
            .split_once('=')
            .ok_or_else(|| wrong("names no amount"))?;
        let of = of.trim();
        position("thing with a price", of, things.iter().copied())?;
        let (amount, every) = match rest.trim().split_once('/') {
            None => (rest, Every::Once),
            Some((amount, every)) => match every.trim() {
                "day" => (amount, Every::Day),
                "week" => (amount, Every::Week),
                "month" => (amount, Every::Month),
                "year" => (amount, Every::Year),
                _ => return Err(wrong("is paid how often?")),
            },
        };
        let amount = above_zero(amount.trim()).map_err(|_| wrong("has no amount above zero"))?;
        if prices.iter().any(|price| price.of == of) {
            return Err(wrong("prices the same thing again"));
        }
        prices.push(Price {
            of: of.to_owned(),
            amount,
            every,
        });
    }
    Ok(prices)
}
