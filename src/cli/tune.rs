//! `plantday tune`.

use super::input::{Error, above_zero, confidence, figure, position, scenario};
use super::luck::Luck;
use super::output::{Bar, print_answer, stop_on_interrupt};
use super::{FINE, INTERRUPTED, NOT_MET};
use crate::dispatch::Parameter;
use crate::observe::columns;
use crate::report::{files, tune as report};
use crate::scenario::Scenario;
use crate::studies::{self, Target, Tuning, Vary, default_indifference};
use std::path::PathBuf;
use std::sync::atomic::Ordering;

/// Search the parameters of a rule for the cheapest setting that meets service targets
#[derive(Debug, clap::Args)]
#[command(after_help = after_help())]
pub(super) struct Tune {
    /// Scenario file; left out: the built-in week
    file: Option<PathBuf>,
    /// The rule, by name
    #[arg(long, value_name = "NAME")]
    rule: String,
    /// A parameter, as the scenario names it, and the values to try; may be repeated
    #[arg(long, value_name = "PARAMETER=V,V,…", required = true)]
    vary: Vec<String>,
    /// A bound that the mean of a figure must meet (at most, or at least where more is better); may be repeated
    #[arg(long, value_name = "FIGURE=BOUND")]
    target: Vec<String>,
    /// The figure that judges, by its name in figures.csv
    #[arg(long, value_name = "FIGURE", default_value = "cost")]
    judge: String,
    /// Difference in the judging figure that does not matter, in its unit
    /// [default: $50, 0.1 of a count, 0.5 h or 1 yd³ a day; 0.01 of a share; 1 min; $0.25 a yd³]
    #[arg(long, value_name = "X", value_parser = above_zero)]
    indifference: Option<f64>,
    /// Confidence of all that is said
    #[arg(long, value_name = "P", default_value = "0.95", value_parser = confidence)]
    confidence: f64,
    /// Replications of every setting in the search
    #[arg(long, value_name = "N", default_value_t = 200, value_parser = clap::value_parser!(u64).range(2..=1_000_000))]
    search: u64,
    /// Fresh replications of the finalists
    #[arg(long, short = 'n', default_value_t = 1000, value_parser = clap::value_parser!(u64).range(2..=1_000_000))]
    replications: u64,
    #[command(flatten)]
    luck: Luck,
    /// Folder for tune.html, surface.csv, final.csv and the chart
    #[arg(long, value_name = "FOLDER", default_value = "plantday-tune")]
    out: PathBuf,
    /// Print the answer as JSON
    #[arg(long)]
    json: bool,
}

/// An example, every parameter with its range, and what the exit code means.
fn after_help() -> String {
    let mut text = "Example:\n  plantday tune --rule \"Longest idle, 11 hours\" --vary gates.LastLoadBy.hours=9,10,11,12 --target late_share=0.15\n\n\
                    Parameters, as the scenario names them:\n"
        .to_owned();
    for parameter in Parameter::ALL {
        let (low, high) = parameter.range();
        text += &format!(
            "  {:<30}{} ({low} to {high})\n",
            parameter.name(),
            parameter.label()
        );
    }
    text + "\nExit code 1: no setting is shown to meet the targets."
}

/// More settings than this are no search by hand any more, and rows of all of them fill the memory.
const SETTINGS: usize = 400;

impl Tune {
    pub(super) fn run(&self) -> Result<u8, Error> {
        let scenario = scenario(self.file.as_deref())?;
        let question = self.question(&scenario)?;
        files::check_writable(&self.out)?;
        let stop = stop_on_interrupt();
        let bar = Bar::new("replications");
        let answer = studies::tune(&scenario, &question, &|progress| bar.show(progress), stop);
        bar.clear();
        let Some(answer) = answer else {
            anstream::eprintln!("stopped before two replications of the search were finished");
            return Ok(INTERRUPTED);
        };
        report::write(&answer, &scenario, &self.out)?;
        print_answer(
            self.json,
            || report::json(&answer),
            |width| report::terminal(&answer, width),
        )?;
        anstream::eprintln!("The report is {}", self.out.join("tune.html").display());
        Ok(if stop.load(Ordering::Relaxed) {
            INTERRUPTED
        } else if answer.chosen.is_none() {
            NOT_MET
        } else {
            FINE
        })
    }

    fn question(&self, scenario: &Scenario) -> Result<Tuning, Error> {
        let rules = scenario.rules.iter().map(|rule| rule.name.as_str());
        let rule = position("rule", self.rule.trim(), rules)?;
        let mut vary: Vec<Vary> = Vec::new();
        for text in &self.vary {
            let one = varied(text)?;
            if one.parameter == Parameter::ReadAfter && scenario.concrete.material.is_none() {
                return Err(Error::Argument(format!(
                    "\"{}\" changes nothing here: this scenario has no concrete described (`mixes` in `concrete`)",
                    one.parameter.name()
                )));
            }
            if vary.iter().any(|other| other.parameter == one.parameter) {
                return Err(Error::Argument(format!(
                    "\"{}\" is varied twice",
                    one.parameter.name()
                )));
            }
            vary.push(one);
        }
        let settings = vary
            .iter()
            .map(|v| v.values.len())
            .fold(1_usize, usize::saturating_mul);
        if settings > SETTINGS {
            return Err(Error::Argument(format!(
                "these are {settings} settings; expected at most {SETTINGS}: try fewer values first, then more about the best"
            )));
        }
        let mut targets = Vec::new();
        for text in &self.target {
            let (name, bound) = text.split_once('=').ok_or_else(|| {
                Error::Argument(format!("the target \"{text}\" has no bound\n  expected FIGURE=BOUND, such as late_share=0.15"))
            })?;
            targets.push(Target {
                column: figure("figure for a target", name.trim(), scenario)?,
                bound: number(text, bound)?,
            });
        }
        let judge = figure("figure to judge by", &self.judge, scenario)?;
        Ok(Tuning {
            rule,
            vary,
            targets,
            judge,
            indifference: self.indifference.unwrap_or_else(|| {
                default_indifference(&columns(scenario)[judge], scenario.period.days)
            }),
            search: self.search,
            last: self.replications,
            seed: self.luck.seed,
            threads: self.luck.threads,
            level: self.confidence,
        })
    }
}

fn varied(text: &str) -> Result<Vary, Error> {
    let (name, values) = text.split_once('=').ok_or_else(|| {
        Error::Argument(format!(
            "\"{text}\" names no values\n  expected PARAMETER=VALUE,VALUE,…, such as early_min=0,5,10"
        ))
    })?;
    let names = Parameter::ALL.iter().map(|parameter| parameter.name());
    let parameter = Parameter::ALL[position("parameter", name.trim(), names)?];
    let (low, high) = parameter.range();
    let mut all = Vec::new();
    for part in values.split(',') {
        let value = number(text, part)?;
        if !(low..=high).contains(&value) {
            return Err(Error::Argument(format!(
                "{} cannot be {value}\n  expected {low} to {high}",
                parameter.name()
            )));
        }
        if !all.contains(&value) {
            all.push(value);
        }
    }
    Ok(Vary {
        parameter,
        values: all,
    })
}

fn number(whole: &str, text: &str) -> Result<f64, Error> {
    match text.trim().parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        _ => Err(Error::Argument(format!(
            "\"{}\" in \"{whole}\" is no number",
            text.trim()
        ))),
    }
}
