//! `plantday fleet`.

use super::input::{Error, clock, position, recipe};
use super::keeping::Resume;
use super::numbers::{real, whole};
use super::study::{Shared, Study, Verdict, Work};
use crate::report::answer::Answer;
use crate::report::fleet as report;
use crate::scenario::Scenario;
use crate::studies::{self, FleetQuestion};
use crate::units::measure::Quantity;
use crate::units::{Millis, OrderId, PlantId};
use std::sync::Arc;

/// Size the fleet for one pour: the cheapest that does what is asked, and what a truck more or less changes
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday fleet scenarios/estuary_week.ron --order \"Clinic, mat\" --alone --spacing 11,13 --first-load 06:00,07:00\n\n\
Exit code 1 if no fleet meets what is asked."
)]
#[command(mut_arg("out", |out| out.default_value("plantday-fleet").help("Folder for report.html, fleet.csv and charts")))]
pub(super) struct Fleet {
    #[command(flatten)]
    shared: Shared,
    #[command(flatten)]
    resume: Resume,
    /// The pour, by the name of its order
    #[arg(long, value_name = "ORDER")]
    order: String,
    /// The pour alone, with trucks that do nothing else; left out: among the day's other work
    #[arg(long)]
    alone: bool,
    /// The plant that makes it and whose trucks are counted [default: the nearest that makes its mix]
    #[arg(long, value_name = "PLANT")]
    plant: Option<String>,
    /// A second plant at which the same trucks may load
    #[arg(long, value_name = "PLANT")]
    backup: Option<String>,
    /// Bays of the plant [default: as in the scenario]
    #[arg(long, value_name = "N", value_parser = whole::<u32>(1..=20))]
    bays: Option<u32>,
    /// Minutes without unloading that the pour tolerates [default: as ordered]
    #[arg(long, value_name = "MINUTES", value_parser = real)]
    gap: Option<f64>,
    /// What each pump or chute takes, yd³ a minute, in SI m³ [default: as ordered]
    #[arg(long, value_name = "YD3", value_parser = real)]
    pump_rate: Option<f64>,
    /// Minutes between loads to try, separated by commas [default: as ordered]
    #[arg(long, value_name = "MINUTES", value_delimiter = ',', value_parser = real)]
    spacing: Vec<f64>,
    /// Times of the first load to try, like 02:00,05:00 [default: as ordered]
    #[arg(long, value_name = "TIMES", value_delimiter = ',')]
    first_load: Vec<String>,
    /// Finished by this time, like 13:30 or "01:00 +1": must then be met with the target's chance too [default: as the order says]
    #[arg(long, value_name = "TIME")]
    finish_by: Option<String>,
    /// Share of its loads that may be late on average, like 0.1 [default: not asked]
    #[arg(long, value_name = "SHARE", value_parser = real)]
    late_share: Option<f64>,
    /// Also ask: and if one truck breaks down, once, with a full drum on its way? 1 for one truck
    #[arg(long, value_name = "TRUCKS", value_parser = whole::<u32>(1..=1))]
    breakdown: Option<u32>,
    /// Smallest fleet
    #[arg(long, value_name = "N", default_value_t = *FleetQuestion::default().trucks.start(), value_parser = whole::<u32>(1..=60))]
    trucks_from: u32,
    /// Largest fleet
    #[arg(long, value_name = "N", default_value_t = *FleetQuestion::default().trucks.end(), value_parser = whole::<u32>(1..=60))]
    trucks_to: u32,
    /// The chance that the pour goes without a gap beyond its tolerance
    #[arg(long, value_name = "SHARE", default_value_t = FleetQuestion::default().target, value_parser = real)]
    target: f64,
    /// The rule under which the desk works, by name [default: today's]
    #[arg(long, value_name = "NAME")]
    rule: Option<String>,
    /// Replications of the final answer; the search takes a fifth more
    #[arg(long, short = 'n', default_value_t = FleetQuestion::default().replications, value_parser = whole::<u64>(1..=1_000_000))]
    replications: u64,
}

impl Study for Fleet {
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
        let question = self.question(scenario)?;
        let found = studies::fleet(scenario, &question, work.watch);
        let Some(found) = found.map_err(Error::Argument)? else {
            return Ok(None);
        };
        let verdict = Verdict::of(found.stopped, found.best.is_some());
        let answer = report::answer(&found, scenario, self.recipe(scenario));
        Ok(Some((answer, verdict)))
    }
}

impl Fleet {
    fn question(&self, scenario: &Scenario) -> Result<FleetQuestion, Error> {
        // A drawn order is not there every day, and its volume is not known.
        let written = scenario.orders.iter().filter(|order| order.slot.is_none());
        let orders = written.map(|order| order.name.as_str());
        let order = position("order", &self.order, orders)?;
        let plant = |name: &Option<String>| {
            let names = scenario.plants.iter().map(|plant| plant.name.as_str());
            name.as_ref()
                .map(|name| position("plant", name, names).map(PlantId::new))
                .transpose()
        };
        let rule = match &self.rule {
            Some(name) => position(
                "rule",
                name,
                scenario.rules.iter().map(|rule| rule.name.as_str()),
            )?,
            None => scenario.todays_rule(),
        };
        let wrong = |text: String| Err(Error::Argument(text));
        if self.trucks_from > self.trucks_to {
            return wrong(format!(
                "--trucks-from {} is more than --trucks-to {}",
                self.trucks_from, self.trucks_to
            ));
        }
        if !(self.target > 0.0 && self.target < 1.0) {
            return wrong(format!(
                "--target {} is no chance\n  expected a share above 0 and below 1, like 0.95",
                self.target
            ));
        }
        if let Some(share) = self.late_share
            && !(0.0..=1.0).contains(&share)
        {
            return wrong(format!(
                "--late-share {share} is no share\n  expected 0 to 1, like 0.1"
            ));
        }
        for (option, value, least, most, what) in [
            ("--gap", self.gap, 0.0, 720.0, "minutes"),
            ("--pump-rate", self.pump_rate, 0.05, 10.0, "a minute"),
        ] {
            if let Some(value) = value
                && !(least..=most).contains(&value)
            {
                return wrong(format!(
                    "{option} {value} is out of range\n  expected {least} to {most} {what}"
                ));
            }
        }
        if let Some(spacing) = self
            .spacing
            .iter()
            .find(|minutes| !(0.5..=720.0).contains(*minutes))
        {
            return wrong(format!(
                "--spacing {spacing} is no time between loads\n  expected 0.5 to 720 minutes"
            ));
        }
        let (plant, backup) = (plant(&self.plant)?, plant(&self.backup)?);
        if backup.is_some() && plant == backup {
            return wrong("--backup and --plant name the same plant".into());
        }
        let first_loads: Result<Vec<Millis>, Error> = self
            .first_load
            .iter()
            .map(|text| clock("--first-load", text))
            .collect();
        let finish_by = self
            .finish_by
            .as_ref()
            .map(|text| clock("--finish-by", text))
            .transpose()?;
        let (first_loads, ordered) = (first_loads?, &scenario.orders[order]);
        let day = Millis::midnight(ordered.first.day());
        let latest = first_loads
            .iter()
            .copied()
            .max()
            .unwrap_or(ordered.first - day);
        if finish_by.is_some_and(|by| by <= latest) {
            return wrong(format!(
                "--finish-by {} is not after the first load at {latest}\n  on the next day with \" +1\"",
                self.finish_by.as_deref().unwrap_or_default()
            ));
        }
        Ok(FleetQuestion {
            order: OrderId::new(order),
            plant,
            backup,
            alone: self.alone,
            trucks: self.trucks_from..=self.trucks_to,
            spacings: self
                .spacing
                .iter()
                .map(|min| Millis::from_minutes(*min))
                .collect(),
            first_loads,
            bays: self.bays,
            gap: self.gap.map(Millis::from_minutes),
            rate_yd3_min: self.pump_rate.map(|rate| Quantity::Volume.heard(rate)),
            finish_by,
            late_share: self.late_share,
            breakdown: self.breakdown.is_some(),
            rule,
            target: self.target,
            replications: self.replications,
            seed: self.shared.seed,
            threads: self.shared.threads,
            ..FleetQuestion::default()
        })
    }

    /// The command that gives the same answer, without what does not change it.
    fn recipe(&self, scenario: &Scenario) -> String {
        let rule = self
            .rule
            .clone()
            .unwrap_or_else(|| scenario.rules[scenario.todays_rule()].name.clone());
        let list = |values: &[f64]| {
            values
                .iter()
                .map(f64::to_string)
                .collect::<Vec<_>>()
                .join(",")
        };
        recipe(
            "fleet",
            scenario,
            &[
                ("order", Some(self.order.clone())),
                ("alone", self.alone.then(String::new)),
                ("plant", self.plant.clone()),
                ("backup", self.backup.clone()),
                ("gap", self.gap.map(|gap| gap.to_string())),
                ("pump-rate", self.pump_rate.map(|rate| rate.to_string())),
                ("bays", self.bays.map(|bays| bays.to_string())),
                (
                    "spacing",
                    (!self.spacing.is_empty()).then(|| list(&self.spacing)),
                ),
                (
                    "first-load",
                    (!self.first_load.is_empty()).then(|| self.first_load.join(",")),
                ),
                ("finish-by", self.finish_by.clone()),
                ("late-share", self.late_share.map(|share| share.to_string())),
                ("breakdown", self.breakdown.map(|trucks| trucks.to_string())),
                ("trucks-from", Some(self.trucks_from.to_string())),
                ("trucks-to", Some(self.trucks_to.to_string())),
                ("target", Some(self.target.to_string())),
                ("rule", Some(rule)),
                ("replications", Some(self.replications.to_string())),
                ("seed", Some(self.shared.seed.to_string())),
            ],
        )
    }
}
