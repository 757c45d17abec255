//! `plantday trip`.

use super::input::{Error, clock, confidence, position, recipe, scenario};
use super::luck::Luck;
use super::output::{Bar, print_answer, stop_on_interrupt};
use super::{FINE, INTERRUPTED, NOT_MET};
use crate::report::{files, trip as report};
use crate::scenario::Scenario;
use crate::studies::trip::{TripQuestion, may_load_go};
use crate::units::{DriverId, Millis, OrderId, Weekday};
use std::path::PathBuf;

/// Answer a question of the hour: may this load go, can we take this order, who fetches a stranded driver
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday trip scenarios/estuary_week.ron --at \"Wed 15:40\" --driver \"Late N1\" --order \"Orchard houses, evening deck 2\"\n\n\
Exit code 1 if the answer is no. A plan is no permission: the driver's own log and the carrier decide."
)]
pub(super) struct Trip {
    /// Scenario file; left out: the built-in week
    file: Option<PathBuf>,
    /// The moment, like 15:40, "Wed 15:40" or "day 3 15:40"
    #[arg(long, value_name = "TIME")]
    at: String,
    /// May the next load of --order go with this driver?
    #[arg(long, value_name = "DRIVER", requires = "order")]
    driver: Option<String>,
    /// The order whose next load is meant
    #[arg(long, value_name = "ORDER", requires = "driver")]
    order: Option<String>,
    /// The chance that is enough
    #[arg(long, value_name = "SHARE", default_value = "0.9", value_parser = confidence)]
    probability: f64,
    /// The rule under which the desk works, by name [default: today's]
    #[arg(long, value_name = "NAME")]
    rule: Option<String>,
    /// The simulated day that has led to the moment, by its number in figures.csv
    #[arg(long, value_name = "NUMBER", default_value_t = 0)]
    replication: u64,
    /// Trials of the final answer
    #[arg(long, short = 'n', default_value_t = 200, value_parser = clap::value_parser!(u64).range(1..=100_000))]
    trials: u64,
    #[command(flatten)]
    luck: Luck,
    /// Folder for report.html, trip.csv and charts
    #[arg(long, value_name = "FOLDER", default_value = "plantday-trip")]
    out: PathBuf,
    /// Print the answer as JSON
    #[arg(long)]
    json: bool,
}

impl Trip {
    pub(super) fn run(&self) -> Result<u8, Error> {
        let scenario = scenario(self.file.as_deref())?;
        let question = self.question(&scenario)?;
        let stop = stop_on_interrupt();
        let bar = Bar::new("trials");
        let asked = (self.driver(&scenario)?, self.order(&scenario)?);
        let answer = may_load_go(
            &scenario,
            &question,
            asked,
            &|progress| bar.show(progress),
            stop,
        );
        bar.clear();
        let answer = answer.map_err(Error::Argument)?;
        println!("{answer:#?}");
        Ok(FINE)
    }

    fn driver(&self, scenario: &Scenario) -> Result<DriverId, Error> {
        let names = scenario.drivers.iter().map(|driver| driver.name.as_str());
        position("driver", self.driver.as_deref().unwrap_or_default(), names).map(DriverId::new)
    }

    fn order(&self, scenario: &Scenario) -> Result<OrderId, Error> {
        let names = scenario.orders.iter().map(|order| order.name.as_str());
        position("order", self.order.as_deref().unwrap_or_default(), names).map(OrderId::new)
    }

    fn question(&self, scenario: &Scenario) -> Result<TripQuestion, Error> {
        let rule = match &self.rule {
            Some(name) => position(
                "rule",
                name,
                scenario.rules.iter().map(|rule| rule.name.as_str()),
            )?,
            None => scenario.todays_rule(),
        };
        Ok(TripQuestion {
            rule,
            at: moment(scenario, &self.at)?,
            replication: self.replication,
            trials: self.trials,
            probability: self.probability,
            seed: self.luck.seed,
            threads: self.luck.threads,
            level: 0.95,
        })
    }
}

/// A moment of the period: a time of the first day, after a weekday, or after `day 3`.
fn moment(scenario: &Scenario, text: &str) -> Result<Millis, Error> {
    let period = &scenario.period;
    let wrong = |what: String| {
        Err(Error::Argument(format!(
            "--at {text:?} {what}\n  expected a time of the period, like 15:40, \"Wed 15:40\" or \"day 3 15:40\""
        )))
    };
    let Some((day, time)) = text.trim().rsplit_once(char::is_whitespace) else {
        return clock("--at", text);
    };
    let day = day.trim().to_lowercase();
    let days = i64::from(period.days);
    let number = day
        .strip_prefix("day")
        .and_then(|number| number.trim().parse::<i64>().ok());
    let day = match number {
        Some(number) if (1..=days).contains(&number) => number - 1,
        Some(_) => return wrong(format!("is not within the {days} days of the scenario")),
        None => {
            let named = |weekday: &Weekday| {
                let name = format!("{weekday:?}").to_lowercase();
                day.len() >= 3 && name.starts_with(&day)
            };
            let Some(weekday) = Weekday::ALL.iter().find(|weekday| named(weekday)) else {
                return wrong("names no day".into());
            };
            let Some(at) = (0..days).find(|at| period.first_day.after(*at) == *weekday) else {
                return wrong(format!(
                    "is no day of the scenario, which has {days} from {:?} on",
                    period.first_day
                ));
            };
            at
        }
    };
    Ok(Millis::midnight(day) + clock("--at", time)?)
}
