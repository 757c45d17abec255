//! The arguments about people: hired haulers, part-timers, drivers who are not there.

use crate::cli::input::Error;
use crate::cli::numbers::{real, whole};
use crate::scenario::edit::roster;
use crate::scenario::{Hauler, Scenario};
use crate::studies::StaffQuestion;
use crate::units::{Cents, Millis};

/// The most drivers of a kind.
const MOST: u32 = 2_000;

#[derive(Debug, clap::Args)]
pub(super) struct People {
    /// Price of an hour of a hired hauler, driver with truck and fuel: haulers are tried beside own drivers
    #[arg(long, value_name = "MONEY", value_parser = real)]
    hauler_per_h: Option<f64>,
    /// Hours that a hauler is paid for at least on a day called
    #[arg(
        long,
        value_name = "HOURS",
        default_value_t = 4.0,
        requires = "hauler_per_h"
    )]
    hauler_least_h: f64,
    /// Numbers of haulers to try besides today's, separated by commas [default: 1,2,4 more]
    #[arg(long, value_name = "NUMBERS", value_delimiter = ',', requires = "hauler_per_h", value_parser = whole::<u32>(0..=u64::from(MOST)))]
    haulers: Vec<u32>,
    /// Part-time shifts to try in the busiest hours: numbers of drivers and the hours of a shift, like 4,6:5
    #[arg(long, value_name = "NUMBERS:HOURS")]
    part_time: Option<String>,
    /// Share of driver days off, beside what the scenario has: sick, leave. The case says how many must be on the books
    #[arg(long, value_name = "SHARE", default_value_t = 0.0, value_parser = real)]
    absent_share: f64,
    /// Share of seats without a driver for a whole period, beside what the scenario has: turnover
    #[arg(long, value_name = "SHARE", default_value_t = 0.0, value_parser = real)]
    empty_seats: f64,
}

impl People {
    /// The scenario with the absence asked for.
    pub(super) fn world(&self, scenario: &Scenario) -> Result<Scenario, Error> {
        let changes = &scenario.changes;
        for (option, share, has) in [
            ("--absent-share", self.absent_share, changes.absent),
            ("--empty-seats", self.empty_seats, changes.empty_seats),
        ] {
            if !(0.0..1.0).contains(&share) {
                return Err(Error::Argument(format!(
                    "{option} {share} is no share\n  expected 0 to less than 1, like 0.07"
                )));
            }
            if share + has >= 1.0 {
                return Err(Error::Argument(format!(
                    "{option} {share} and the scenario's {has} leave nobody\n  expected less than 1 together"
                )));
            }
        }
        Ok(roster::with_absence(
            scenario,
            self.absent_share,
            self.empty_seats,
        ))
    }

    /// Puts what is asked about people into the question.
    pub(super) fn ask(
        &self,
        scenario: &Scenario,
        question: &mut StaffQuestion,
    ) -> Result<(), Error> {
        let wrong = |text: String| Err(Error::Argument(text));
        if let Some(price) = self.hauler_per_h {
            if !(price.is_finite() && (0.0..=1e6).contains(&price)) {
                return wrong(format!(
                    "--hauler-per-h {price} is out of range\n  expected 0 to 1,000,000"
                ));
            }
            if !(0.0..=24.0).contains(&self.hauler_least_h) {
                return wrong(format!(
                    "--hauler-least-h {} is out of range\n  expected 0 to 24 hours",
                    self.hauler_least_h
                ));
            }
            question.hauler = Some(Hauler {
                per_h: Cents::from_units(price),
                least: Millis::from_hours(self.hauler_least_h),
            });
            let today = roster::haulers(scenario).len() as u32;
            question.haulers = match self.haulers.is_empty() {
                true => question.haulers.iter().map(|more| today + more).collect(),
                false => self.haulers.clone(),
            };
            question.haulers.sort_unstable();
            question.haulers.dedup();
        }
        if let Some(text) = &self.part_time {
            question.part_time = part_time(text)?;
        }
        Ok(())
    }

    /// What of it a recipe repeats.
    pub(super) fn recipe(&self) -> Vec<(&'static str, Option<String>)> {
        let list = |numbers: &[u32]| {
            let words: Vec<String> = numbers.iter().map(u32::to_string).collect();
            (!words.is_empty()).then(|| words.join(","))
        };
        let share = |share: f64| (share > 0.0).then(|| share.to_string());
        let hired = |text: String| self.hauler_per_h.map(|_| text);
        vec![
            (
                "hauler-per-h",
                self.hauler_per_h.map(|price| price.to_string()),
            ),
            ("hauler-least-h", hired(self.hauler_least_h.to_string())),
            ("haulers", list(&self.haulers)),
            ("part-time", self.part_time.clone()),
            ("absent-share", share(self.absent_share)),
            ("empty-seats", share(self.empty_seats)),
        ]
    }
}

/// `4,6:5`: four and six drivers, on shifts of five hours.
fn part_time(text: &str) -> Result<(Vec<u32>, Millis), Error> {
    let wrong = |expected: &str| {
        Err(Error::Argument(format!(
            "--part-time {text}\n  expected {expected}, like 4,6:5"
        )))
    };
    let Some((numbers, hours)) = text.split_once(':') else {
        return wrong("NUMBERS:HOURS");
    };
    let Some(hours) = hours
        .trim()
        .parse()
        .ok()
        .filter(|hours: &f64| (0.5..24.0).contains(hours))
    else {
        return wrong("shifts of 0.5 to less than 24 hours behind the colon");
    };
    let mut drivers = Vec::new();
    for number in numbers.split(',') {
        match number.trim().parse() {
            Ok(number @ 1..=MOST) => drivers.push(number),
            _ => return wrong("numbers of drivers, 1 to 2,000, before the colon"),
        }
    }
    drivers.sort_unstable();
    drivers.dedup();
    Ok((drivers, Millis::from_hours(hours)))
}
