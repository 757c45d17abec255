//! `plantday staff`.

mod people;

use self::people::People;
use super::input::{Error, position, recipe};
use super::keeping::Resume;
use super::numbers::{real, whole};
use super::study::{Shared, Study, Verdict, Work};
use crate::dispatch::{Parameter, Shift};
use crate::report::answer::Answer;
use crate::report::staff as report;
use crate::scenario::Scenario;
use crate::scenario::edit::roster::{self, OvertimeUse};
use crate::scenario::season::{self, Season};
use crate::studies::{self, StaffQuestion, usual_drivers};
use std::sync::Arc;

/// Make the staffing case: head count, start pattern and overtime against cost and service
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday staff scenarios/estuary_week.ron --rule \"Traffic, home, warned\" --late-share 0.2 --undelivered 0.01 --hire-per-week 600 --growth 5,10 --day 2\n  plantday staff scenarios/estuary_week.ron --late-share 0.4 --undelivered 0.05 --hire-per-week 600 --hauler-per-h 110 --absent-share 0.06\n  plantday staff --rule \"Traffic, home, warned\" --late-share 0.35 --undelivered 0.02 --season \"12x0.7,26x0.9,14x1\" --holds\n\n\
Exit code 1 if no staffing meets the service targets, with --season in every season."
)]
#[command(mut_arg("out", |out| out.default_value("plantday-staff").help("Folder for report.html, staff.csv and charts")))]
pub(super) struct Staff {
    #[command(flatten)]
    shared: Shared,
    #[command(flatten)]
    resume: Resume,
    /// Head counts to try, separated by commas [default: today's, and up to 6 fewer and 4 more in steps of 2]
    #[arg(long, value_name = "NUMBERS", value_delimiter = ',', value_parser = whole::<u32>(1..=2000))]
    drivers: Vec<u32>,
    /// Starts to try, as a rule's shift: rostered, staggered (evenly) or staggered:MINUTES, matched or matched:SPARE
    /// [default: rostered,staggered,matched:1]
    #[arg(long, value_name = "STARTS", value_delimiter = ',')]
    starts: Vec<String>,
    /// Uses of overtime to try [default: none,rostered,longer]
    #[arg(long, value_name = "USES", value_delimiter = ',')]
    overtime: Vec<String>,
    /// Service target: share of loads late, at most
    #[arg(long, value_name = "SHARE", default_value_t = StaffQuestion::default().late_share, value_parser = real)]
    late_share: f64,
    /// Service target: share of loads undelivered, at most
    #[arg(long, value_name = "SHARE", default_value_t = StaffQuestion::default().undelivered, value_parser = real)]
    undelivered: f64,
    /// Service target: drivers stranded in a period, at most [default: not asked]
    #[arg(long, value_name = "NUMBER", value_parser = real)]
    stranded: Option<f64>,
    /// What each driver more costs a week beyond the hours paid: benefits, insurance. It is in the decision
    #[arg(long, value_name = "MONEY", value_parser = real)]
    hire_per_week: Option<f64>,
    /// What the truck of each driver more costs a week, if it must be bought or leased
    #[arg(long, value_name = "MONEY", value_parser = real)]
    truck_per_week: Option<f64>,
    /// Weeks of training, paid at 40 hours, before a hire works alone
    #[arg(long, value_name = "WEEKS", value_parser = real)]
    training_weeks: Option<f64>,
    /// Weeks that a hire stays on average: training is shared among them
    #[arg(
        long,
        value_name = "WEEKS",
        default_value_t = 52.0,
        requires = "training_weeks"
    )]
    stays_weeks: f64,
    /// Growths of the order book to look at, per cent more orders, separated by commas; fewer with a minus
    #[arg(
        long,
        value_name = "PER_CENT",
        value_delimiter = ',',
        allow_hyphen_values = true
    )]
    growth: Vec<f64>,
    #[command(flatten)]
    people: People,
    /// Decide for the year: its weeks by their share of the book's orders, "12x0.7,26x1,14x1.15", or a CSV file with the columns weeks,
    /// orders_per_cent, name
    #[arg(long, value_name = "WEEKSxSHARE|FILE.csv")]
    season: Option<String>,
    /// Try the decision in changed worlds: prices, pay, orders, absences otherwise than assumed, and the scenario's own worlds
    #[arg(long)]
    holds: bool,
    /// Print the call-in sheet of this day, 1 for the first
    #[arg(long, value_name = "N", value_parser = whole::<u32>(1..=28))]
    day: Option<u32>,
    /// The rule under which the desk works, by name [default: today's]
    #[arg(long, value_name = "NAME")]
    rule: Option<String>,
    /// Replications of the final answer; the search takes a fifth more
    #[arg(long, short = 'n', default_value_t = StaffQuestion::default().replications, value_parser = whole::<u64>(2..=1_000_000))]
    replications: u64,
}

impl Study for Staff {
    const COUNTED: &'static str = "runs of all staffings";

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
        let world = self.people.world(scenario)?;
        let Some(found) = studies::staff(&world, &question, work.watch) else {
            return Ok(None);
        };
        let best = found.best.map(|at| found.results[at].staffing);
        let sheet = self.day.map(|day| {
            studies::call_sheet(
                &world,
                best.unwrap_or(found.today),
                i64::from(day) - 1,
                (question.rule, question.seed, question.replications),
                question.threads,
            )
        });
        let recipe = self.recipe(scenario, &question);
        let answer = report::answer(&found, sheet.as_ref(), scenario, recipe);
        Ok(Some((answer, Verdict::of(found.stopped, found.meets()))))
    }
}

impl Staff {
    fn question(&self, scenario: &Scenario) -> Result<StaffQuestion, Error> {
        let wrong = |text: String| Err(Error::Argument(text));
        for (option, share) in [
            ("--late-share", self.late_share),
            ("--undelivered", self.undelivered),
        ] {
            if !(0.0..=1.0).contains(&share) {
                return wrong(format!(
                    "{option} {share} is no share\n  expected 0 to 1, like 0.05"
                ));
            }
        }
        for (option, amount) in [
            ("--stranded", self.stranded),
            ("--hire-per-week", self.hire_per_week),
            ("--truck-per-week", self.truck_per_week),
            ("--training-weeks", self.training_weeks),
        ] {
            if let Some(amount) = amount.filter(|amount| !amount.is_finite() || *amount < 0.0) {
                return wrong(format!(
                    "{option} {amount} is out of range\n  expected 0 or more"
                ));
            }
        }
        if let Some(growth) = self
            .growth
            .iter()
            .find(|growth| !(-90.0..=100.0).contains(*growth))
        {
            return wrong(format!(
                "--growth {growth} is out of range\n  expected -90 to 100 per cent"
            ));
        }
        if !(self.stays_weeks.is_finite() && self.stays_weeks >= 1.0) {
            return wrong(format!(
                "--stays-weeks {} is out of range\n  expected 1 or more",
                self.stays_weeks
            ));
        }
        if let Some(day) = self
            .day
            .filter(|day| !(1..=scenario.period.days).contains(day))
        {
            return wrong(format!(
                "--day {day} is not in the period\n  expected 1 to {}",
                scenario.period.days
            ));
        }
        if scenario.orders.is_empty() {
            return wrong(
                "the scenario has no orders with a volume: there is no service to staff for".into(),
            );
        }
        if roster::regulars(scenario).is_empty() {
            return wrong(
                "the scenario has no driver of its own, only hired haulers: there is nobody to count".into(),
            );
        }
        let mut drivers = self.drivers.clone();
        if drivers.is_empty() {
            drivers = usual_drivers(scenario);
        }
        drivers.sort_unstable();
        drivers.dedup();
        let rule = match &self.rule {
            Some(name) => position(
                "rule",
                name,
                scenario.rules.iter().map(|rule| rule.name.as_str()),
            )?,
            None => scenario.todays_rule(),
        };
        let usual = StaffQuestion::default();
        let mut starts = Vec::new();
        for word in &self.starts {
            let shift = shift(word.trim())?;
            if !starts.contains(&shift) {
                starts.push(shift);
            }
        }
        if starts.is_empty() {
            starts.clone_from(&usual.starts);
        }
        let mut overtime = Vec::new();
        for word in &self.overtime {
            let words = OvertimeUse::ALL.iter().map(|overtime| overtime.word());
            overtime.push(OvertimeUse::ALL[position("use of overtime", word.trim(), words)?]);
        }
        if overtime.is_empty() {
            overtime.clone_from(&usual.overtime);
        }
        overtime.sort_unstable();
        overtime.dedup();
        let mut question = StaffQuestion {
            drivers,
            starts,
            overtime,
            late_share: self.late_share,
            undelivered: self.undelivered,
            stranded: self.stranded,
            hire_per_week: self.hire_per_week(scenario),
            growth: self.growth.clone(),
            seasons: match &self.season {
                Some(written) => season::read(written)?,
                None => Vec::new(),
            },
            holds: self.holds,
            rule,
            replications: self.replications,
            seed: self.shared.seed,
            threads: self.shared.threads,
            level: usual.level,
            ..usual
        };
        self.people.ask(scenario, &mut question)?;
        Ok(question)
    }

    /// What a driver more costs a week beyond the hours paid, all of it; none if nothing of it is given.
    fn hire_per_week(&self, scenario: &Scenario) -> Option<f64> {
        let training = self.training_weeks.map(|weeks| {
            let week = 40.0 * scenario.money.pay_per_h.units() * (1.0 + scenario.money.payroll_tax);
            weeks * week / self.stays_weeks
        });
        let parts = [self.hire_per_week, self.truck_per_week, training];
        parts
            .iter()
            .any(Option::is_some)
            .then(|| parts.iter().flatten().sum())
    }

    fn recipe(&self, scenario: &Scenario, question: &StaffQuestion) -> String {
        let list = |values: Vec<String>| (!values.is_empty()).then(|| values.join(","));
        let mut options = vec![
            (
                "drivers",
                list(question.drivers.iter().map(u32::to_string).collect()),
            ),
            (
                "starts",
                list(question.starts.iter().map(|starts| starts.word()).collect()),
            ),
            (
                "overtime",
                list(
                    question
                        .overtime
                        .iter()
                        .map(|o| o.word().to_owned())
                        .collect(),
                ),
            ),
            ("late-share", Some(self.late_share.to_string())),
            ("undelivered", Some(self.undelivered.to_string())),
            ("stranded", self.stranded.map(|most| most.to_string())),
            (
                "hire-per-week",
                self.hire_per_week.map(|cost| cost.to_string()),
            ),
            (
                "truck-per-week",
                self.truck_per_week.map(|cost| cost.to_string()),
            ),
            (
                "training-weeks",
                self.training_weeks.map(|weeks| weeks.to_string()),
            ),
            (
                "stays-weeks",
                self.training_weeks.map(|_| self.stays_weeks.to_string()),
            ),
            (
                "growth",
                list(self.growth.iter().map(f64::to_string).collect()),
            ),
            (
                "season",
                list(question.seasons.iter().map(Season::written).collect()),
            ),
            ("holds", self.holds.then(String::new)),
            ("day", self.day.map(|day| day.to_string())),
            ("rule", Some(scenario.rules[question.rule].name.clone())),
            ("replications", Some(self.replications.to_string())),
            ("seed", Some(self.shared.seed.to_string())),
        ];
        options.extend(self.people.recipe());
        recipe("staff", scenario, &options)
    }
}

/// A way to start: `rostered`, `staggered`, `staggered:20`, `matched`, `matched:1`.
fn shift(word: &str) -> Result<Shift, Error> {
    let (name, number) = match word.split_once(':') {
        Some((name, number)) => (name.trim(), Some(number.trim())),
        None => (word, None),
    };
    let at = position("start pattern", name, Shift::WORDS.into_iter())?;
    let wrong =
        |expected: String| Error::Argument(format!("--starts {word}\n  expected {expected}"));
    match (Shift::WORDS[at], number) {
        ("staggered", None) => Ok(Shift::Staggered { minutes: None }),
        ("staggered", Some(number)) => {
            let (low, high) = Parameter::Stagger.range();
            let minutes = number.parse().ok();
            let minutes = minutes.filter(|minutes: &f64| (low..=high).contains(minutes));
            match minutes {
                Some(_) => Ok(Shift::Staggered { minutes }),
                None => Err(wrong(format!("staggered:MINUTES, {low} to {high}"))),
            }
        }
        ("matched", None) => Ok(Shift::Matched { spare: 0 }),
        ("matched", Some(number)) => match number.parse() {
            Ok(spare @ 0..=100) => Ok(Shift::Matched { spare }),
            _ => Err(wrong("matched:SPARE, 0 to 100 drivers".into())),
        },
        (_, None) => Ok(Shift::Rostered),
        (_, Some(_)) => Err(wrong("no number with rostered".into())),
    }
}
