//! `plantday hours`.

use super::bar::{self, Bar};
use super::input::{Error, position};
use super::output::{Out, print};
use super::{FINE, NOT_MET};
use crate::hours::{NAMES, RuleSet, built_in};
use crate::report::{hours as report, shell};
use crate::scenario::duty_log::{self, Asked, Known};
use crate::scenario::local_time::Zone;
use crate::scenario::rule_book;
use crate::studies;
use std::path::{Path, PathBuf};

/// Judge drivers' duty logs by an hours-of-service rule book
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday hours scenarios/duty_log.csv --rule-book us_property_2020 --history scenarios/duty_history.csv\n\n\
The answer begins with what governs each driver now: may drive or not, until when, by which limit; then violations, then what is left \
on every clock. Now is the end of the log, or --at TIME: who is at work when the log ends is taken to be at the same work until then, and \
the answer says so.\n\n\
The log has the columns driver,status,start,end (status: off, sleeper, on, drive; also waiting, relieved, riding; times like \
2026-03-02T05:30, 24:00 at the end of a day; with --at a driver's last row may have no end); the history driver,date,hours. Before a log begins the driver has had a full rest, unless the history leaves \
no room for one. A day that the history leaves out counts as no hours on duty, and not as rest; a day off is written as 0 hours. \
Where the carrier's day does not start at midnight, a date is the day that starts on it.\n\n\
Both may have a column exception. long_day in any row of a shift claims the once-a-week longer window (49 CFR 395.1(o)) for it: \
whoever writes it says that the last five shifts and this one ended at the normal work reporting location; release and earlier \
uses are looked up in log and history (there, long_day says that it was used on that day). adverse claims adverse driving \
conditions (395.1(b)(1)) from its row on: weather, road or traffic that nobody could know of beforehand, on a run that would \
have fitted without; never a late pour, waiting to load or unload, rush hour or one's own breakdown.\n\n\
With a time zone (--zone, or a column zone in the log) a night on which the clock is changed counts its real hours; a time that the clock \
leaves out is refused, and one that comes twice is told by the order of the rows or by its offset, like 2026-11-01T01:30-05:00. Without \
one the clock is taken never to be changed, as in simulated weeks, which have no zone.\n\n\
Rest split into two periods in a sleeper berth (395.1(g)) is not judged: a mixer has no berth, and only unbroken rest counts.\n\n\
A planning aid: local rules and the carrier's own record decide."
)]
pub(super) struct Hours {
    /// Duty log (CSV)
    #[arg(required_unless_present = "write_rule_book")]
    log: Option<PathBuf>,
    /// Rule book: the name of a built-in one, none, or a file with one of your own
    #[arg(
        long,
        value_name = "NAME|FILE.ron",
        required_unless_present = "write_rule_book"
    )]
    rule_book: Option<String>,
    /// Print a built-in rule book as a file to change, and do nothing else
    #[arg(long, value_name = "NAME", conflicts_with_all = ["log", "rule_book", "at", "zone", "history", "cycle", "json", "out", "xlsx", "fail_on_violation"])]
    write_rule_book: Option<String>,
    /// The moment that is asked about: 13:40 on the log's last day, "Mon 13:40", 2026-03-02T13:40 [default: the end of each log]
    #[arg(long, value_name = "TIME")]
    at: Option<String>,
    /// Time zone of the home terminal by its IANA name, like America/New_York [default: the log's column zone, or none]
    #[arg(long, value_name = "NAME")]
    zone: Option<String>,
    /// Hours on duty on the days before the log (CSV)
    #[arg(long, value_name = "FILE")]
    history: Option<PathBuf>,
    /// Weekly hours that the carrier has chosen, like 70/8 [default: the rule book's first]
    #[arg(long, value_name = "HOURS/DAYS")]
    cycle: Option<String>,
    /// The drivers are under the 24-hour restart for construction materials
    #[arg(long)]
    construction_materials: bool,
    /// Exit code 1 if a log holds a violation before the moment that is asked about, of a limit or of a day's time off
    #[arg(long)]
    fail_on_violation: bool,
    #[command(flatten)]
    out: Out,
}

impl Hours {
    pub(super) fn run(&self) -> Result<u8, Error> {
        if let Some(name) = &self.write_rule_book {
            print(&rule_book::write(&named(name)?))?;
            return Ok(FINE);
        }
        let required = "required unless a rule book is written";
        let log = self.log.as_deref().expect(required);
        let book = self.rule_book.as_deref().expect(required);
        let mut rules = rule_book_of(book)?;
        if let Some(name) = &self.cycle {
            let names: Vec<String> = rules.cycles.iter().map(|cycle| cycle.name()).collect();
            position(
                "choice of weekly hours",
                name,
                names.iter().map(String::as_str),
            )?;
            rules = rules.with_cycle(name).expect("it is one of the names");
        }
        if self.construction_materials && rules.construction_restart.is_none() {
            let text = format!(
                "the rule book \"{}\" has no 24-hour restart for construction materials",
                rules.name
            );
            return Err(Error::Argument(text));
        }
        rules.construction_materials |= self.construction_materials;
        let asked = self.at.as_ref().map(|text| {
            Asked::read(text).ok_or_else(|| {
                let expected = Asked::EXPECTED;
                Error::Argument(format!(
                    "--at {text:?} is not a time\n  expected {expected}"
                ))
            })
        });
        let asked = asked.transpose()?;
        let known = Known {
            zone: self.zone.as_deref().map(zone).transpose()?,
            may_go_on: asked.is_some(),
        };
        self.out.check()?;
        let reading = bar::waiting("reading the log");
        let logs = duty_log::read(log, self.history.as_deref(), &known);
        reading.finish_and_clear();
        let logs = logs?;
        let at = asked.as_ref().map(|asked| asked.moment(&logs));
        let at = at.transpose().map_err(Error::Argument)?;
        let bar = Bar::new("drivers");
        let review = studies::hours(&logs, &rules, at, &|progress| bar.show(progress));
        bar.clear();
        if let (true, Some(driver)) = (review.drivers.is_empty(), review.not_yet.first()) {
            return Err(Error::Argument(format!(
                "--at {:?} lies before every log, such as that of {driver:?}\n  expected a time within the logs or later",
                self.at.as_deref().unwrap_or_default()
            )));
        }
        let answer = report::answer(&review, self.recipe(&rules));
        self.out.deliver(&answer)?;
        Ok(match self.fail_on_violation && review.has_violation() {
            true => NOT_MET,
            false => FINE,
        })
    }

    /// The command that gives the same answer; files are called by what they are.
    fn recipe(&self, rules: &RuleSet) -> String {
        let built_in = NAMES.contains(&&*rules.name) || rules.name == NONE;
        let book = if built_in { &*rules.name } else { "RULE-BOOK" };
        let mut recipe = format!("plantday hours LOG --rule-book {book}");
        if self.history.is_some() {
            recipe += " --history HISTORY";
        }
        if let Some(at) = &self.at {
            recipe += &format!(" --at {}", shell::quoted(at.trim()));
        }
        if let Some(zone) = &self.zone {
            recipe += &format!(" --zone {}", shell::quoted(zone.trim()));
        }
        if let Some(cycle) = &self.cycle {
            recipe += &format!(" --cycle {cycle}");
        }
        if self.construction_materials {
            recipe += " --construction-materials";
        }
        recipe
    }
}

/// The time zone of a name.
fn zone(name: &str) -> Result<Zone, Error> {
    Zone::named(name.trim()).map_err(|none| {
        let near = none.near.map_or(String::new(), |near| format!("; did you mean \"{near}\"?"));
        Error::Argument(format!(
            "there is no time zone {name:?}{near}\n  expected an IANA name, such as America/New_York"
        ))
    })
}

/// A built-in rule book by its name, or one from a file.
fn rule_book_of(book: &str) -> Result<RuleSet, Error> {
    let path = Path::new(book);
    let known = book == NONE || NAMES.contains(&book);
    let is_path = path.components().count() > 1 || path.extension().is_some() || path.is_file();
    if is_path && !known {
        return Ok(rule_book::read(path)?);
    }
    named(book).map_err(|error| match error {
        Error::Argument(text) => Error::Argument(format!(
            "{text}\n  or a file with a rule book, such as ./{book}.ron; there is no file {book:?}"
        )),
        other => other,
    })
}

/// The rule book without any limit, as in a scenario.
const NONE: &str = "none";

fn named(name: &str) -> Result<RuleSet, Error> {
    if name == NONE {
        return Ok(RuleSet::unlimited());
    }
    position("rule book", name, NAMES.into_iter().chain([NONE]))?;
    Ok(built_in(name).expect("it is one of the names"))
}
