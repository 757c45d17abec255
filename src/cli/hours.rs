//! `plantday hours`.

use super::FINE;
use super::input::{Error, position};
use super::output::{print, print_answer};
use crate::hours::{NAMES, RuleSet, built_in};
use crate::report::{hours as report, out_folder};
use crate::scenario::duty_log::{self, civil_time};
use crate::scenario::rule_book;
use crate::studies;
use std::path::{Path, PathBuf};

/// Judge drivers' duty logs by an hours-of-service rule book
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday hours scenarios/duty_log.csv --rule-book us_property_2020 --history scenarios/duty_history.csv\n\n\
The log has the columns driver,status,start,end (status: off, sleeper, on, drive; also waiting, relieved, riding; times like \
2026-03-02T05:30); the history driver,date,hours. Before a log begins the driver has had a full rest, unless the history leaves \
no room for one. A day that the history leaves out counts as no hours on duty, and not as rest; a day off is written as 0 hours. \
Where the carrier's day does not start at midnight, a date is the day that starts on it.\n\n\
Both may have a column exception. long_day in any row of a shift claims the once-a-week longer window (49 CFR 395.1(o)) for it: \
whoever writes it says that the last five shifts and this one ended at the normal work reporting location; release and earlier \
uses are looked up in log and history (there, long_day says that it was used on that day). adverse claims adverse driving \
conditions (395.1(b)(1)) from its row on: weather, road or traffic that nobody could know of beforehand, on a run that would \
have fitted without; never a late pour, waiting to load or unload, rush hour or one's own breakdown.\n\nA planning aid: local rules and the carrier's own record decide."
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
    #[arg(long, value_name = "NAME", conflicts_with_all = ["log", "rule_book", "at", "history", "cycle", "json", "out", "xlsx"])]
    write_rule_book: Option<String>,
    /// The moment that is asked about, like 2026-03-02T14:00 [default: the end of each log]
    #[arg(long, value_name = "TIME")]
    at: Option<String>,
    /// Hours on duty on the days before the log (CSV)
    #[arg(long, value_name = "FILE")]
    history: Option<PathBuf>,
    /// Weekly hours that the carrier has chosen, like 70/8 [default: the rule book's first]
    #[arg(long, value_name = "HOURS/DAYS")]
    cycle: Option<String>,
    /// The drivers are under the 24-hour restart for construction materials
    #[arg(long)]
    construction_materials: bool,
    /// Write the answer as a page, CSV and JSON into this folder
    #[arg(long, value_name = "FOLDER")]
    out: Option<PathBuf>,
    /// Print the answer as JSON
    #[arg(long)]
    json: bool,
    /// Write a workbook for a spreadsheet program as well
    #[arg(long, requires = "out")]
    xlsx: bool,
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
        let at = match &self.at {
            Some(text) => Some(civil_time(text.trim()).ok_or_else(|| {
                Error::Argument(format!(
                    "--at {text:?} is not a date and time\n  expected local time without zone, like 2026-03-02T14:00"
                ))
            })?),
            None => None,
        };
        if let Some(folder) = &self.out {
            out_folder::check(folder)?;
        }
        let logs = duty_log::read(log, self.history.as_deref())?;
        let at = at.map(|at| logs.moment(at));
        let review = studies::hours(&logs, &rules, at);
        if let (true, Some(driver)) = (review.drivers.is_empty(), review.not_yet.first()) {
            return Err(Error::Argument(format!(
                "--at {:?} lies before every log, such as that of {driver:?}\n  expected a time within the logs or later",
                self.at.as_deref().unwrap_or_default()
            )));
        }
        let answer = report::answer(&review, self.recipe(&rules));
        if let Some(folder) = &self.out {
            let page = answer.write(folder, self.xlsx)?;
            anstream::eprintln!("The answer is {}", page.display());
        }
        print_answer(self.json, || answer.json(), |width| answer.terminal(width))?;
        Ok(FINE)
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
            recipe += &format!(" --at {}", at.trim());
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
