//! `plantday replay`.

use super::given::Given;
use super::input::{Error, position};
use super::keeping::Resume;
use super::numbers::{replication, whole};
use super::output::Overwrite;
use super::study::{self, Named, Shared, Study, Verdict, Work};
use super::tomorrow::Tomorrow;
use crate::observe::ToldRefusals;
use crate::report::answer::Answer;
use crate::report::{replay as report, tickets};
use crate::scenario::Scenario;
use crate::studies::replay::{Question, Which};
use crate::studies::tickets::TicketsOf;
use crate::studies::{self, Replay as Replayed, Worst};
use std::path::PathBuf;
use std::sync::Arc;

/// Play one simulated run again, exactly: what every truck did, why loads came late, as a moving map
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday replay scenarios/estuary_day.ron --worst strandings --replications 500 --out bad-day\n  plantday replay scenarios/estuary_day.ron --tomorrow"
)]
#[command(mut_arg("out", |out| out.default_value("plantday-replay")))]
pub(super) struct Replay {
    /// The rule, by name [default: today's]
    #[arg(long, value_name = "NAME")]
    rule: Option<String>,
    /// Another rule, by name: the same run under both, on two maps with one clock, and the loads that differ
    #[arg(long, value_name = "NAME")]
    against: Option<String>,
    /// The run, by its number in figures.csv [default: the worst by lateness]
    #[arg(long, value_name = "NUMBER", conflicts_with = "worst", value_parser = replication)]
    replication: Option<u64>,
    /// The run that is the worst by this, of those that are simulated
    #[arg(long, value_enum, value_name = "BY", default_value = "lateness")]
    worst: By,
    /// How many to simulate for the averages and to look for the worst
    #[arg(long, short = 'n', default_value_t = Question::default().replications, value_parser = whole::<u64>(1..=1_000_000))]
    replications: u64,
    /// Also list who was refused for a load and why, with the clock that refused; each driver and load once until the reason changes
    #[arg(long, value_enum, value_name = "WHY", num_args = 0..=1, require_equals = true, default_missing_value = "hours")]
    refusals: Option<Why>,
    /// Which orders of one day break, how often and why, what they have to spare, and which single change holds them at what price
    #[arg(long, conflicts_with_all = ["against", "replication", "worst", "refusals"])]
    tomorrow: bool,
    /// The day of the period that is tomorrow, the first is 1
    #[arg(long, value_name = "N", default_value_t = 1, requires = "tomorrow", value_parser = whole::<u32>(1..=28))]
    day: u32,
    /// Also write the tickets of the run into this file (CSV), as a yard would have them: "plantday tickets" reads them
    #[arg(long, value_name = "FILE", conflicts_with = "against")]
    tickets: Option<PathBuf>,
    /// Write the tickets of so many runs, from this one on, as if their days had come one after the other
    #[arg(long, value_name = "N", requires = "tickets", default_value_t = 1, value_parser = whole::<u64>(1..=10_000))]
    ticket_runs: u64,
    #[command(flatten)]
    overwrite: Overwrite,
    #[command(flatten)]
    shared: Shared,
    #[command(flatten)]
    resume: Resume,
}

/// By what a run is the worst.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum By {
    /// Most late loads
    Lateness,
    /// Most drivers stranded
    Strandings,
    /// Most concrete dumped
    Waste,
    /// Highest cost
    Cost,
}

/// Why candidates were refused.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum Why {
    /// Hours: a limit of the law or the company, an hours check of the rule, the driver's objection
    Hours,
    /// Any reason: also not loaned, a nearer plant, plant closed, weight, too old on site, no way
    All,
}

impl Replay {
    pub(super) fn run(&self, given: &Given) -> Result<u8, Error> {
        if self.tomorrow {
            return study::run(
                &Tomorrow {
                    rule: self.rule.as_deref(),
                    day: self.day,
                    replications: self.replications,
                    shared: &self.shared,
                    resume: self.resume,
                },
                given,
            );
        }
        if let Some(file) = &self.tickets {
            self.overwrite.allows(file)?;
        }
        study::run(self, given)
    }

    /// Makes the file of the tickets of the replication that was played, and of those after it if they are asked for.
    fn tickets(&self, scenario: &Scenario, found: &Replayed, rule: usize) -> Option<Named> {
        let path = self.tickets.clone()?;
        let of = TicketsOf {
            rule,
            replications: found.replication..found.replication + self.ticket_runs,
            seed: found.seed,
        };
        let tickets = studies::tickets::written(scenario, &of);
        let table = tickets::table(&tickets, scenario.period.first_date);
        Some(Named {
            said: format!("{} tickets are in {}", tickets.len(), path.display()),
            path,
            content: table,
            overwrite: self.overwrite,
        })
    }

    /// The rule, and the one that it is played against, if any.
    fn rules(&self, scenario: &Scenario) -> Result<(usize, Option<usize>), Error> {
        let names = scenario.rules.iter().map(|rule| rule.name.as_str());
        let rule = match &self.rule {
            Some(name) => position("rule", name.trim(), names.clone())?,
            None => scenario.todays_rule(),
        };
        let Some(against) = &self.against else {
            return Ok((rule, None));
        };
        let other = position("rule", against.trim(), names)?;
        if other != rule {
            return Ok((rule, Some(other)));
        }
        let name = &scenario.rules[rule].name;
        let others = scenario.rules.iter().filter(|rule| rule.name != *name);
        let others: Vec<String> = others.map(|rule| format!("\"{}\"", rule.name)).collect();
        Err(Error::Argument(format!(
            "--against \"{name}\" is the rule itself: both are \"{name}\"\n  expected {}",
            match others.len() {
                0 => "a scenario with two rules at least".to_owned(),
                _ => format!("another rule, such as {}", others.join(", ")),
            }
        )))
    }

    fn question(&self, rule: usize) -> Question {
        let by = match self.worst {
            By::Lateness => Worst::Lateness,
            By::Strandings => Worst::Strandings,
            By::Waste => Worst::Waste,
            By::Cost => Worst::Cost,
        };
        Question {
            rule,
            which: self.replication.map_or(Which::Worst(by), Which::Number),
            replications: self.replications,
            refusals: self.refusals.map(|why| match why {
                Why::Hours => ToldRefusals::OfHours,
                Why::All => ToldRefusals::All,
            }),
            seed: self.shared.seed,
            threads: self.shared.threads,
        }
    }
}

impl Study for Replay {
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
        let (rule, against) = self.rules(scenario)?;
        let question = self.question(rule);
        let watch = work.watch;
        let verdict = |found: &Replayed| Verdict::of(found.searched < found.asked, true);
        Ok(match against {
            None => match studies::replay(scenario, &question, watch) {
                None => None,
                Some(found) => {
                    let found = Arc::new(found);
                    let tickets = self.tickets(scenario, &found, rule);
                    work.named.borrow_mut().extend(tickets);
                    Some((report::answer(&found, scenario), verdict(&found)))
                }
            },
            Some(other) => studies::against(scenario, &question, other, watch).map(|found| {
                let found = Arc::new(found);
                (report::against(&found, scenario), verdict(&found.sides[0]))
            }),
        })
    }
}
