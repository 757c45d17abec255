//! `plantday join`.

use super::compare;
use super::given::Given;
use super::input::{Error, position, scenario};
use super::keeping::Resume;
use super::numbers::threads;
use super::study::{self, Shared, Study, Told, Verdict, Work};
use crate::observe::columns;
use crate::report::answer::Answer;
use crate::report::so_far::{self, open};
use crate::report::{number, shell};
use crate::scenario::Scenario;
use crate::studies::{Asked, Comparing, Part, Question};
use std::collections::BTreeMap;
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Lines of what is wrong that a message has room for.
const LISTED: usize = 40;

/// Put the parts of a comparison together that were run apart, to the answer of one run
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  plantday join parts --out answer")]
#[command(mut_arg("out", |out| out.default_value("plantday-out")))]
pub(super) struct Join {
    /// Folders in which parts are, or their files
    #[arg(required = true, value_name = "FOLDER")]
    parts: Vec<PathBuf>,
    /// Scenario file, where it is now [default: where it was when the parts were run]
    #[arg(long, value_name = "FILE")]
    scenario: Option<PathBuf>,
    /// Threads; the answer does not depend on it [default: all]
    #[arg(long, value_name = "N", value_parser = threads)]
    threads: Option<NonZeroUsize>,
    #[command(flatten)]
    told: Told,
    #[command(flatten)]
    resume: Resume,
}

impl Join {
    pub(super) fn run(&self, given: &Given) -> Result<u8, Error> {
        let files = self.files()?;
        let (asked, parts) = whole_set(&files)?;
        let named = asked.scenario.as_ref().map(PathBuf::from);
        let file = self.scenario.clone().or(named);
        let scenario = scenario(file.as_deref()).map_err(|error| {
            if self.scenario.is_none() && file.as_ref().is_some_and(|file| !file.exists()) {
                let file = file.clone().unwrap_or_default();
                return Error::Argument(format!(
                    "the parts were run on the scenario {}, which is not there\n  \
                     expected it there, or --scenario FILE to say where it is now",
                    file.display()
                ));
            }
            error
        })?;
        let question = question(&asked, &scenario, self.threads)?;
        let shared = Shared::new(file, question.seed, self.threads, self.told.clone());
        let joined = Joined {
            shared,
            question,
            parts,
            named: asked.scenario,
            resume: self.resume,
        };
        study::run_with(&joined, scenario, given)
    }

    /// The files of all parts, in the order in which they are named.
    fn files(&self) -> Result<Vec<PathBuf>, Error> {
        let mut files = Vec::new();
        let mut wrong = Vec::new();
        for named in &self.parts {
            if !named.is_dir() {
                files.push(named.clone());
                continue;
            }
            match so_far::all_in(named) {
                Ok(found) if found.is_empty() => wrong.push(format!(
                    "the folder {} holds no parts\n  expected files that compare --part has written there or in folders within",
                    named.display()
                )),
                Ok(found) => files.extend(found),
                Err(error) => {
                    wrong.push(format!("{} cannot be read: {error}", named.display()));
                }
            }
        }
        // A folder and a file in it may both be named.
        let mut seen = std::collections::BTreeSet::new();
        files.retain(|file| seen.insert(file.canonicalize().unwrap_or_else(|_| file.clone())));
        match wrong.is_empty() {
            true => Ok(files),
            false => Err(Error::Argument(wrong.join("\nerror: "))),
        }
    }
}

/// What the parts are of, and their files in the order of their replications.
///
/// # Errors
/// All that is wrong with them.
fn whole_set(files: &[PathBuf]) -> Result<(Asked, Vec<PathBuf>), Error> {
    let mut wrong = Vec::new();
    let mut first: Option<Asked> = None;
    let mut parts: BTreeMap<u64, &Path> = BTreeMap::new();
    for file in files {
        let mut refuse = |reason: String| wrong.push(format!("{}: {reason}", file.display()));
        let kept = match open(file) {
            Ok(kept) => kept,
            Err(reason) => {
                refuse(reason);
                continue;
            }
        };
        let (asked, told) = (kept.asked, kept.reader.replications());
        let Some(part) = asked.part else {
            refuse("it is of a whole run that was broken off, no part of one".into());
            continue;
        };
        let Some(rules) = asked.of_rules() else {
            refuse("it is of no comparison".into());
            continue;
        };
        let all = Question::default().block.first(rules.replications);
        if told != part.of(all) {
            refuse(format!(
                "part {part} is not finished: run it with --resume, {}",
                command(&asked, part)
            ));
            parts.entry(part.nth).or_insert(file);
            continue;
        }
        let as_first = first.get_or_insert_with(|| asked.clone());
        let differences = asked.differences(as_first, "of the first part");
        if !differences.is_empty() {
            refuse(format!(
                "it belongs to another run: {}",
                differences.join("; ")
            ));
        } else if let Err(broken) = kept.reader.check() {
            refuse(format!("{broken}; run it again: {}", command(&asked, part)));
            parts.entry(part.nth).or_insert(file);
        } else if let Some(other) = parts.insert(part.nth, file) {
            refuse(format!(
                "part {part} is there twice, in {} as well",
                other.display()
            ));
        }
    }
    if let Some(asked) = &first
        && let Some(Part { of, .. }) = asked.part
    {
        for nth in (1..=of).filter(|nth| !parts.contains_key(nth)) {
            let part = Part { nth, of };
            wrong.push(format!(
                "part {nth} of {of} is missing: run {}",
                command(asked, part)
            ));
        }
    }
    let more = wrong.len().saturating_sub(LISTED);
    wrong.truncate(LISTED);
    if more > 0 {
        wrong.push(format!("and {} more", number::count(more as u64)));
    }
    match first {
        Some(asked) if wrong.is_empty() => {
            let files = parts.into_values().map(Path::to_path_buf);
            Ok((asked, files.collect()))
        }
        _ => Err(Error::Argument(format!(
            "the parts do not make a whole run\n  {}",
            wrong.join("\n  ")
        ))),
    }
}

/// The command that runs a part.
fn command(asked: &Asked, part: Part) -> String {
    let file = (asked.scenario.as_ref()).map(|file| format!(" {}", shell::argument(file)));
    format!(
        "plantday compare{}{} --part {part}",
        file.unwrap_or_default(),
        asked.options
    )
}

/// The question that the parts answer.
///
/// # Errors
/// The scenario, or this program, is not the one of which they were asked.
fn question(
    asked: &Asked,
    scenario: &Scenario,
    threads: Option<NonZeroUsize>,
) -> Result<Question, Error> {
    let names = scenario.rules.iter().map(|rule| rule.name.as_str());
    let keys = columns(scenario);
    let keys = keys.iter().map(|column| column.key.as_str());
    let found = || -> Result<Question, Error> {
        let nothing = || Error::Argument("the parts are of no comparison".into());
        let asked = asked.of_rules().ok_or_else(nothing)?;
        let rules = asked.rules.iter();
        let rules: Result<Vec<usize>, Error> = rules
            .map(|name| position("rule", name, names.clone()))
            .collect();
        Ok(Question {
            rules: rules?,
            judge: position("figure to judge by", &asked.judge, keys.clone())?,
            replications: asked.replications,
            seed: asked.seed,
            threads,
            level: asked.level,
            ..Question::default()
        })
    };
    let named = asked.scenario.clone();
    let of = |question: &Question| {
        Asked::compare(
            scenario,
            named.clone(),
            question,
            asked.part,
            asked.options.clone(),
        )
    };
    // A scenario that has changed may not even have the rules.
    let question = found();
    let now = of(question.as_ref().unwrap_or(&Question::default()));
    let differences = match &question {
        Ok(_) => asked.differences(&now, "now"),
        Err(_) => {
            let of_scenario =
                |said: &String| said.starts_with("the scenario") || said.starts_with("it was");
            let all = asked.differences(&now, "now").into_iter();
            all.filter(of_scenario).collect()
        }
    };
    match differences.is_empty() {
        true => question,
        false => Err(Error::Argument(format!(
            "the parts cannot be put together here: {}\n  \
             expected the scenario and the version of plantday with which they were run; or run them again",
            differences.join("; ")
        ))),
    }
}

/// Parts that make a whole run.
struct Joined {
    shared: Shared,
    question: Question,
    parts: Vec<PathBuf>,
    named: Option<String>,
    resume: Resume,
}

impl Study for Joined {
    fn shared(&self) -> &Shared {
        &self.shared
    }

    fn resume(&self) -> Option<Resume> {
        Some(self.resume)
    }

    fn asked(&self, scenario: &Scenario, _: &Given) -> Result<Asked, Error> {
        let (named, options) = (self.named.clone(), String::new());
        Ok(Asked::compare(
            scenario,
            named,
            &self.question,
            None,
            options,
        ))
    }

    fn rows(&self, _: &Scenario) -> u64 {
        self.question.replications * self.question.rules.len() as u64
    }

    fn answer(
        &self,
        scenario: &Arc<Scenario>,
        work: &Work<'_>,
    ) -> Result<Option<(Answer, Verdict)>, Error> {
        let mut comparing = Comparing::new(scenario, &self.question);
        for file in &self.parts {
            let refused = |reason: String| Error::Argument(format!("{}: {reason}", file.display()));
            let kept = open(file).map_err(refused)?;
            let taken = comparing.take_up(kept.reader);
            taken.map_err(|broken| refused(broken.to_string()))?;
        }
        Ok(compare::told(scenario, &self.question, comparing, work))
    }
}
