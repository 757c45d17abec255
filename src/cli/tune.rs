//! `plantday tune`.

use super::input::{Error, position, recipe};
use super::judged::Wanted;
use super::keeping::Resume;
use super::numbers::{number, whole};
use super::study::{Shared, Study, Verdict, Work};
use crate::dispatch::{Habit, Parameter, Rule};
use crate::report::answer::Answer;
use crate::report::habit_words::{choice, label};
use crate::report::tune as report;
use crate::scenario::{self, ReadError, Scenario};
use crate::studies::{self, Tuned, Tuning, Vary, Way};
use crate::units::measure;
use std::sync::Arc;

/// Search the parameters of a rule for the cheapest setting that meets service targets
#[derive(Debug, clap::Args)]
#[command(after_help = after_help())]
#[command(mut_arg("out", |out| out.default_value("plantday-tune").help("Folder for tune.html, surface.csv, final.csv and the chart")))]
pub(super) struct Tune {
    #[command(flatten)]
    shared: Shared,
    #[command(flatten)]
    resume: Resume,
    /// The rule, by name
    #[arg(long, value_name = "NAME")]
    rule: String,
    /// A number or a decision, as the scenario names it, and what to try for it; a decision alone: what the scenario's rules do. May be
    /// repeated
    #[arg(long, value_name = "NAME=V,V,…", required = true)]
    vary: Vec<String>,
    #[command(flatten)]
    wanted: Wanted,
    /// Replications of every setting in the search
    #[arg(long, value_name = "N", default_value_t = Tuning::default().search, value_parser = whole::<u64>(2..=1_000_000))]
    search: u64,
    /// Fresh replications of the finalists
    #[arg(long, short = 'n', default_value_t = Tuning::default().last, value_parser = whole::<u64>(2..=1_000_000))]
    replications: u64,
}

/// An example, every parameter with its range, and what the exit code means.
fn after_help() -> String {
    let mut text = "Example:\n  plantday tune --rule \"Empty road, lend on call\" --vary gates.LastLoadBy.hours=9,10,11,12 --target late_share=0.2\n\n\
                    Numbers, as the scenario names them:\n"
        .to_owned();
    for parameter in Parameter::ALL {
        let (low, high) = parameter.range();
        text += &format!(
            "  {:<30}{} ({low} to {high})\n",
            parameter.name(),
            parameter.label()
        );
    }
    text += "\nDecisions, with values as the scenario writes them (lend=Never,IfSaves(minutes: 10)) or alone:\n";
    for habit in decisions() {
        text += &format!("  {:<30}{}\n", habit.key(), label(habit));
    }
    text + "\nExit code 1: no setting can be shown to meet the targets."
}

/// More settings than this are no search by hand any more, and rows of all of them fill the memory.
const SETTINGS: usize = 400;

impl Study for Tune {
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
        let Some(found) = studies::tune(scenario, &question, work.watch) else {
            return Ok(None);
        };
        let stopped = work.watch.is_stopped();
        let verdict = Verdict::of(stopped, found.last.chosen.is_some());
        let answer = report::answer(&found, scenario, self.recipe(scenario, &found));
        Ok(Some((answer, verdict)))
    }
}

impl Tune {
    fn question(&self, scenario: &Scenario) -> Result<Tuning, Error> {
        let rules = scenario.rules.iter().map(|rule| rule.name.as_str());
        let rule = position("rule", self.rule.trim(), rules)?;
        let mut vary: Vec<Vary> = Vec::new();
        for text in &self.vary {
            let one = varied(text, scenario)?;
            if one.name() == Parameter::ReadAfter.name() && scenario.concrete.material.is_none() {
                return Err(Error::Argument(format!(
                    "\"{}\" changes nothing here: this scenario has no concrete described (`mixes` in `concrete`)",
                    one.name()
                )));
            }
            if vary.iter().any(|other| other.name() == one.name()) {
                return Err(Error::Argument(format!(
                    "\"{}\" is varied twice",
                    one.name()
                )));
            }
            vary.push(one);
        }
        let settings = vary
            .iter()
            .map(Vary::count)
            .fold(1_usize, usize::saturating_mul);
        if settings > SETTINGS {
            return Err(Error::Argument(format!(
                "these are {settings} settings; expected at most {SETTINGS}: try fewer values first, then more about the best"
            )));
        }
        let targets = self.wanted.targets(scenario)?;
        let judge = self.wanted.judged.figure(scenario)?;
        Ok(Tuning {
            rule,
            vary,
            targets,
            judge,
            indifference: self.wanted.indifference(judge, scenario),
            search: self.search,
            last: self.replications,
            seed: self.shared.seed,
            threads: self.shared.threads,
            level: self.wanted.confidence,
        })
    }

    /// The command that gives the same answer, without what does not change it.
    fn recipe(&self, scenario: &Scenario, found: &Tuned) -> String {
        let asked = &found.asked;
        let mut options = vec![("rule", Some(found.rule.clone()))];
        for vary in &asked.vary {
            let values: Vec<String> = (0..vary.count()).map(|at| vary.written(at)).collect();
            let text = match vary {
                Vary::Decision {
                    of_the_scenario: true,
                    ..
                } => vary.name().into_owned(),
                _ => format!("{}={}", vary.name(), values.join(",")),
            };
            options.push(("vary", Some(text)));
        }
        for (target, column) in asked.targets.iter().zip(&found.targets) {
            options.push(("target", Some(format!("{}={}", column.key, target.bound))));
        }
        options.extend([
            ("judge", Some(found.judge.key.clone())),
            ("indifference", Some(asked.indifference.to_string())),
            ("confidence", Some(asked.level.to_string())),
            ("search", Some(found.searched.to_string())),
            ("replications", Some(found.last.decided_on.to_string())),
            ("seed", Some(asked.seed.to_string())),
        ]);
        recipe("tune", scenario, &options)
    }
}

fn varied(text: &str, scenario: &Scenario) -> Result<Vary, Error> {
    let (name, values) = match text.split_once('=') {
        Some((name, values)) => (name.trim(), Some(values)),
        None => (text.trim(), None),
    };
    let parameters = Parameter::ALL.map(|parameter| measure::key(parameter.name()).0);
    let habits: Vec<Habit> = decisions().collect();
    let parameters = parameters.iter().map(AsRef::as_ref);
    let names = parameters.chain(habits.iter().map(|habit| habit.key()));
    let at = position("number or decision", name, names)?;
    match Parameter::ALL.get(at) {
        Some(parameter) => numbers(*parameter, text, values),
        None => ways(habits[at - Parameter::ALL.len()], values, scenario),
    }
}

/// The decisions that are more than one number, whose name would stand for it.
fn decisions() -> impl Iterator<Item = Habit> {
    Habit::ALL.into_iter().filter(|habit| {
        let mut parameters = Parameter::ALL.iter();
        parameters.all(|parameter| parameter.name() != habit.key())
    })
}

fn numbers(parameter: Parameter, text: &str, values: Option<&str>) -> Result<Vary, Error> {
    let values = values.ok_or_else(|| {
        Error::Argument(format!(
            "\"{text}\" names no values\n  expected PARAMETER=VALUE,VALUE,…, such as early_min=0,5,10"
        ))
    })?;
    let (low, high) = parameter.range();
    let mut all = Vec::new();
    for part in values.split(',') {
        let written = number(text, part)?;
        let quantity = parameter.quantity();
        let value = quantity.map_or(written, |quantity| quantity.heard(written));
        if !(low..=high).contains(&value) {
            return Err(Error::Argument(format!(
                "{} cannot be {written}\n  expected {} to {}",
                measure::key(parameter.name()).0,
                parameter.told(low),
                parameter.told(high)
            )));
        }
        if !all.contains(&value) {
            all.push(value);
        }
    }
    Ok(Vary::Number {
        parameter,
        values: all,
    })
}

/// The ways that are asked for; where none is, those of the scenario's rules.
fn ways(habit: Habit, values: Option<&str>, scenario: &Scenario) -> Result<Vary, Error> {
    let key = habit.key();
    let asked: Vec<(String, Rule)> = match values {
        Some(values) => apart(values)
            .into_iter()
            .map(|value| {
                let name = format!("--vary {key}");
                let rule = scenario::decided(&name, key, value).map_err(ReadError::Faults)?;
                Ok((value.to_owned(), rule))
            })
            .collect::<Result<_, Error>>()?,
        None => scenario
            .rules
            .iter()
            .map(|rule| (format!("as \"{}\"", rule.name), rule.clone()))
            .collect(),
    };
    let mut ways: Vec<Way> = Vec::new();
    for (written, rule) in asked {
        if ways.iter().all(|way| habit.differs(&way.rule, &rule)) {
            ways.push(Way {
                written,
                words: choice(habit, &rule, scenario),
                rule,
            });
        }
    }
    Ok(Vary::Decision {
        habit,
        label: label(habit),
        of_the_scenario: values.is_none(),
        ways,
    })
}

/// Values between commas, but for commas within brackets.
fn apart(values: &str) -> Vec<&str> {
    let mut depth = 0_i32;
    let parts = values.split(|c: char| {
        match c {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' => depth -= 1,
            _ => {}
        }
        c == ',' && depth == 0
    });
    parts.map(str::trim).collect()
}
