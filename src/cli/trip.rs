//! `plantday trip`.

use super::FINE;
use super::given::Given;
use super::input::{Error, clock, position, recipe, scenario};
use super::keeping::Resume;
use super::numbers::{confidence, replication, seldom, whole};
use super::output::Overwrite;
use super::study::{self, Shared, Study, Verdict, Work};
use crate::report::answer::Answer;
use crate::report::stderr::say;
use crate::report::trip::{Asked, TripAnswer};
use crate::scenario::edit::new_order::NewOrder;
use crate::scenario::{ReadError, Scenario, day_state};
use crate::studies::trip::{
    OrderQuestion, TripQuestion, calibrate, last_loads, may_load_go, state_of, take_order,
    who_fetches, who_takes,
};
use crate::units::measure::{self, Quantity};
use crate::units::{DriverId, Millis, OrderId, Volume, Weekday};
use std::path::PathBuf;
use std::sync::Arc;

/// Answer a question of the hour: may this load go, until when may who load for where, can we take this order, who picks up a
/// stranded driver
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  plantday trip scenarios/estuary_week.ron --at \"Wed 12:30\" --driver \"Zoe S10\" --order \"Cannery, footings 2\"\n  \
plantday trip scenarios/estuary_week.ron --at \"Wed 13:00\" --last-loads\n  \
plantday trip scenarios/estuary_week.ron --at \"Wed 07:00\" --new-order \"site=Signal cottages,volume=10,first=14:00,spacing=20\" -n 800\n\n\
Exit code 1 if the answer is no. A plan is no permission: the driver's own log and the carrier decide."
)]
#[command(mut_arg("out", |out| out.default_value("plantday-trip")))]
#[command(mut_arg("resume", |resume| resume.help("Go on from what a --calibrate that was broken off had done, to the same answer (help parts)")))]
#[command(group(clap::ArgGroup::new("question").required(true).multiple(true).args(["driver", "new_order", "retrieve", "calibrate", "write_state", "last_loads", "order"])))]
pub(super) struct Trip {
    /// The moment, like 15:40, "Tue 17:00" or "day 3 15:40"
    #[arg(long, value_name = "TIME", required_unless_present_any = ["calibrate", "state", "last_loads"])]
    at: Option<String>,
    /// May the next load of --order go with this driver? Without --order: until when may the driver load for where?
    #[arg(long, value_name = "DRIVER", conflicts_with_all = ["new_order", "retrieve", "calibrate", "write_state"])]
    driver: Option<String>,
    /// Until when may each driver, or --driver, load for where? Without --at or --state: of the first day's board
    #[arg(long, conflicts_with_all = ["order", "new_order", "retrieve", "calibrate", "write_state"])]
    last_loads: bool,
    /// The order whose next load is meant; without --driver: who should take it, the best first
    #[arg(long, value_name = "ORDER", conflicts_with_all = ["new_order", "retrieve", "calibrate", "write_state"])]
    order: Option<String>,
    /// Can we take this order, and for when? site=, volume= (yd³), first= (time), spacing= (minutes); also mix=, load= (yd³), rate= (yd³ a minute)
    #[arg(long, value_name = "ORDER", conflicts_with_all = ["retrieve", "calibrate", "write_state"])]
    new_order: Option<String>,
    /// Further late loads of other orders that are accepted with the new order
    #[arg(long, value_name = "N", default_value_t = 0, requires = "new_order", value_parser = whole::<u32>(0..=100_000))]
    accept_late: u32,
    /// Who picks up this stranded driver?
    #[arg(long, value_name = "DRIVER", conflicts_with_all = ["calibrate", "write_state"])]
    retrieve: Option<String>,
    /// Does the forecast come true, from the moments and from written states? So many moments of as many simulated periods
    #[arg(long, value_name = "MOMENTS", value_parser = whole::<u64>(10..=1_000_000))]
    calibrate: Option<u64>,
    /// How things stand, from a small file, in place of a simulated day
    #[arg(long, value_name = "FILE", conflicts_with_all = ["at", "calibrate", "write_state", "replication"])]
    state: Option<PathBuf>,
    /// A call to take down first, like "R6 free 13:35", in quotes; the words of plantday now
    #[arg(long, value_name = "CALL", requires = "state")]
    set: Vec<String>,
    /// Write how things stand in the simulated day to this file, as an example to edit
    #[arg(long, value_name = "FILE")]
    write_state: Option<PathBuf>,
    #[command(flatten)]
    overwrite: Overwrite,
    /// The chance that is enough
    #[arg(long, value_name = "SHARE", default_value_t = TripQuestion::default().probability, value_parser = confidence)]
    probability: f64,
    /// The highest chance of driving past an hours limit that is accepted: a violation
    #[arg(long, value_name = "SHARE", default_value_t = TripQuestion::default().passing, value_parser = seldom)]
    past_limit: f64,
    /// The highest chance of a stranded driver that is accepted: lawful, and costly
    #[arg(long, value_name = "SHARE", default_value_t = TripQuestion::default().stranded, value_parser = seldom)]
    stranded: f64,
    /// Look longer at the hours, so that a few bad runs leave a yes possible
    #[arg(long)]
    sure: bool,
    /// The rule under which dispatch works, by name [default: today's]
    #[arg(long, value_name = "NAME")]
    rule: Option<String>,
    /// The simulated run that has led to the moment, by its number in figures.csv
    #[arg(long, value_name = "NUMBER", default_value_t = 0, value_parser = replication)]
    replication: u64,
    /// Runs for the final answer
    #[arg(long, short = 'n', default_value_t = TripQuestion::default().trials, value_parser = whole::<u64>(1..=100_000))]
    trials: u64,
    #[command(flatten)]
    shared: Shared,
    #[command(flatten)]
    resume: Resume,
}

impl Trip {
    pub(super) fn run(&self, given: &Given) -> Result<u8, Error> {
        // The parser asks for nothing that another question excludes.
        if self.resume.is_wanted() && self.calibrate.is_none() {
            return Err(Error::Argument(
                "--resume is of --calibrate, which is not given: every other question is answered soon".into(),
            ));
        }
        let Some(path) = &self.write_state else {
            // Every other question excludes --write-state, so that the parser cannot ask for it.
            if self.overwrite.is_forced() {
                return Err(Error::Argument(
                    "--force replaces the file of --write-state, which is not given".into(),
                ));
            }
            return study::run(self, given);
        };
        let scenario = scenario(self.shared.file())?;
        let question = self.question(&scenario)?;
        self.overwrite.allows(path)?;
        let state = state_of(&scenario, &question);
        let text = state.to_text(&scenario).map_err(Error::Argument)?;
        self.overwrite.write(path, &text)?;
        say(format!("How things stand is in {}", path.display()));
        Ok(FINE)
    }

    fn found(
        &self,
        scenario: &Scenario,
        question: &TripQuestion,
        work: &Work<'_>,
    ) -> Result<Option<TripAnswer>, Error> {
        let watch = work.watch;
        if let Some(moments) = self.calibrate {
            let answer = calibrate(scenario, question, moments, watch);
            return Ok(answer
                .map_err(Error::Argument)?
                .map(TripAnswer::Calibration));
        }
        if let Some(text) = &self.new_order {
            let asked = new_order(scenario, text, question.at, self.accept_late)?;
            let answer = take_order(scenario, question, &asked, watch);
            return Ok(answer.map_err(Error::Argument)?.map(TripAnswer::Order));
        }
        if let Some(name) = &self.retrieve {
            let driver = driver(scenario, name)?;
            let answer = who_fetches(scenario, question, driver, watch);
            return Ok(answer.map_err(Error::Argument)?.map(TripAnswer::Fetch));
        }
        let names = scenario.orders.iter().map(|order| order.name.as_str());
        // Without an order: what may still be done, by all or by the driver named.
        let Some(order) = &self.order else {
            let only = self.driver.as_ref().map(|name| driver(scenario, name));
            let answer = last_loads(scenario, question, only.transpose()?, watch);
            return Ok(answer.map_err(Error::Argument)?.map(TripAnswer::LastLoads));
        };
        let order = OrderId::new(position("order", order, names)?);
        let answer = match &self.driver {
            Some(name) => {
                let pair = (driver(scenario, name)?, order);
                may_load_go(scenario, question, pair, watch)
            }
            None => who_takes(scenario, question, order, watch),
        };
        Ok(answer
            .map_err(Error::Argument)?
            .map(|answer| TripAnswer::Load(Box::new(answer))))
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
        let at = self.at.as_ref().map(|text| moment(scenario, "--at", text));
        let state = match &self.state {
            Some(path) => {
                let mut state = day_state::read(path, scenario)?;
                for call in &self.set {
                    day_state::call(&mut state, scenario, &words(call)).map_err(Error::Argument)?;
                }
                // What contradicts the rest is found as in a file.
                let text = state.to_text(scenario).map_err(Error::Argument)?;
                day_state::parse("--set", &text, scenario).map_err(ReadError::Faults)?;
                Some(state)
            }
            None => None,
        };
        let at = match &state {
            Some(state) => state.at,
            None => at.transpose()?.unwrap_or(Millis::ZERO),
        };
        let question = TripQuestion {
            rule,
            at,
            state,
            replication: self.replication,
            trials: self.trials,
            probability: self.probability,
            passing: self.past_limit,
            stranded: self.stranded,
            sure: self.sure,
            seed: self.shared.seed,
            threads: self.shared.threads,
            ..TripQuestion::default()
        };
        Ok(question.about_the_day_itself(scenario))
    }

    /// The command that gives the same answer, without what does not change it.
    fn recipe(&self, scenario: &Scenario, question: &TripQuestion) -> String {
        let rule = scenario.rules[question.rule].name.clone();
        let read = self.state.is_some();
        let accepted = self.new_order.is_some() && self.accept_late > 0;
        let mut options = vec![
            ("at", self.at.clone()),
            ("state", read.then(|| "STATE".to_owned())),
            ("driver", self.driver.clone()),
            ("last-loads", self.last_loads.then(String::new)),
            ("order", self.order.clone()),
            ("new-order", self.new_order.clone()),
            (
                "accept-late",
                accepted.then(|| self.accept_late.to_string()),
            ),
            ("retrieve", self.retrieve.clone()),
            ("calibrate", self.calibrate.map(|n| n.to_string())),
            ("probability", Some(self.probability.to_string())),
            ("past-limit", Some(self.past_limit.to_string())),
            ("stranded", Some(self.stranded.to_string())),
            ("sure", self.sure.then(String::new)),
            ("rule", Some(rule)),
            ("replication", (!read).then(|| self.replication.to_string())),
            ("trials", Some(self.trials.to_string())),
            ("seed", Some(self.shared.seed.to_string())),
        ];
        let sets = self.set.iter().map(|call| ("set", Some(call.clone())));
        options.extend(sets);
        recipe("trip", scenario, &options)
    }
}

impl Study for Trip {
    const COUNTED: &'static str = "runs";

    fn shared(&self) -> &Shared {
        &self.shared
    }

    /// The others are answered at once.
    fn resume(&self) -> Option<Resume> {
        self.calibrate.map(|_| self.resume)
    }

    fn answer(
        &self,
        scenario: &Arc<Scenario>,
        work: &Work<'_>,
    ) -> Result<Option<(Answer, Verdict)>, Error> {
        let question = self.question(scenario)?;
        let Some(found) = self.found(scenario, &question, work)? else {
            return Ok(None);
        };
        let asked = Asked {
            scenario,
            question: &question,
            recipe: self.recipe(scenario, &question),
        };
        let verdict = Verdict::of(found.stopped(), found.is_yes());
        Ok(Some((found.answer(&asked), verdict)))
    }
}

/// Words of a line; what stands in quotes is one.
fn words(line: &str) -> Vec<String> {
    let quoted = line.split('"').enumerate();
    let parts = quoted.flat_map(|(nth, part)| match nth % 2 {
        0 => part.split_whitespace().map(str::to_owned).collect(),
        _ => vec![part.to_owned()],
    });
    parts.collect()
}

fn driver(scenario: &Scenario, name: &str) -> Result<DriverId, Error> {
    let names = scenario.drivers.iter().map(|driver| driver.name.as_str());
    position("driver", name, names).map(DriverId::new)
}

/// Parts of a new order that may be written.
const PARTS: [&str; 7] = ["site", "volume", "mix", "first", "spacing", "load", "rate"];

/// `site=…,volume=60,mix=…,first=14:00,spacing=15`.
fn new_order(
    scenario: &Scenario,
    text: &str,
    at: Millis,
    accepted: u32,
) -> Result<OrderQuestion, Error> {
    let wrong = |what: String| {
        Error::Argument(format!(
            "--new-order {text:?}: {what}\n  expected parts like \"site=NAME,volume=60,mix=standard,first=14:00,spacing=15\""
        ))
    };
    let mut parts: Vec<(usize, String)> = Vec::new();
    for part in text.split(',') {
        // A name may hold a comma: what has no key goes on with what stands before.
        match part.split_once('=') {
            Some((key, value)) => {
                let at = position("part of an order", key.trim(), PARTS.into_iter())?;
                if parts.iter().any(|(other, _)| *other == at) {
                    return Err(wrong(format!("{} stands twice", PARTS[at])));
                }
                parts.push((at, value.trim().to_owned()));
            }
            None => match parts.last_mut() {
                Some((_, value)) => *value += &format!(",{part}"),
                None => return Err(wrong(format!("{part:?} has no key"))),
            },
        }
    }
    let part = |name: &str| {
        let at = PARTS.iter().position(|other| *other == name)?;
        parts
            .iter()
            .find(|(other, _)| *other == at)
            .map(|(_, value)| value.as_str())
    };
    let needed = |name: &str| part(name).ok_or_else(|| wrong(format!("{name}= is missing")));
    let number = |name: &str, text: &str, low: f64, high: f64| match text.parse::<f64>() {
        Ok(value) if (low..=high).contains(&value) => Ok(value),
        _ => Err(wrong(format!(
            "{name}={text} is not a number from {low} to {high}"
        ))),
    };
    // In the units of the scenario.
    let volume_of = |name: &str, text: &str, low: f64, high: f64| {
        let told = |us: f64| measure::rounded(Quantity::Volume, us, 2);
        number(name, text, told(low), told(high)).map(|value| Quantity::Volume.heard(value))
    };
    let or = |name: &str, usual: f64, low: f64, high: f64| {
        part(name).map_or(Ok(usual), |text| volume_of(name, text, low, high))
    };
    let sites = scenario.sites.iter().map(|site| site.name.as_str());
    let site = position("site", needed("site")?, sites)?;
    let volume = volume_of("volume", needed("volume")?, 0.1, 20_000.0)?;
    let spacing = number("spacing", needed("spacing")?, 0.5, 720.0)?;
    let largest = scenario
        .trucks
        .iter()
        .map(|truck| truck.capacity.yd3())
        .fold(0.5, f64::max);
    let usual = NewOrder::default();
    let load = or("load", largest.min(usual.load.yd3()), 0.5, 20.0)?;
    let rate = or("rate", usual.rate_yd3_min, 0.01, 20.0)?;
    let first = needed("first")?;
    let first = if first.contains(char::is_whitespace) {
        moment(scenario, "--new-order: first", first)?
    } else {
        Millis::midnight(at.day()) + clock("--new-order: first", first)?
    };
    let mix = part("mix").map_or(usual.mix, str::to_owned);
    scenario.check_mix(&mix).map_err(wrong)?;
    Ok(OrderQuestion {
        new: NewOrder {
            site,
            volume: Volume::from_yd3(volume),
            mix,
            spacing: Millis::from_minutes(spacing),
            load: Volume::from_yd3(load),
            rate_yd3_min: rate,
            plants: Vec::new(),
        },
        first,
        accepted,
    })
}

/// A moment of the period: a time of the first day, after a weekday, or after `day 3`.
fn moment(scenario: &Scenario, option: &str, text: &str) -> Result<Millis, Error> {
    let period = &scenario.period;
    let wrong = |what: String| {
        Err(Error::Argument(format!(
            "{option} {text:?} {what}\n  expected a time of the period, like 15:40, \"Tue 17:00\" or \"day 3 15:40\""
        )))
    };
    let Some((day, time)) = text.trim().rsplit_once(char::is_whitespace) else {
        return clock(option, text);
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
    Ok(Millis::midnight(day) + clock(option, time)?)
}
