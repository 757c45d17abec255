//! What the commands that rank rules are asked alike: by which figure, and of a search what else is wanted.

use super::input::{Error, position};
use super::numbers::{above_zero, confidence, number};
use crate::observe::{Better, columns};
use crate::scenario::Scenario;
use crate::studies::{Target, Tuning, default_indifference};

/// By which figure rules are ranked.
#[derive(Debug, clap::Args)]
pub(super) struct Judged {
    /// The figure to rank by, by its name in figures.csv
    #[arg(long, value_name = "FIGURE", default_value = "cost")]
    judge: String,
}

impl Judged {
    /// Its place.
    pub(super) fn figure(&self, scenario: &Scenario) -> Result<usize, Error> {
        figure("figure to judge by", &self.judge, scenario)
    }
}

/// What does not matter of a figure, unless it is said.
pub(super) fn indifference(said: Option<f64>, figure: usize, scenario: &Scenario) -> f64 {
    let usual = || default_indifference(&columns(scenario)[figure], scenario.period.days);
    said.unwrap_or_else(usual)
}

/// What is wanted of what a search finds.
#[derive(Debug, clap::Args)]
pub(super) struct Wanted {
    /// A bound that the mean of a figure must meet (at most, or at least where more is better); may be repeated
    #[arg(long, value_name = "FIGURE=BOUND")]
    target: Vec<String>,
    #[command(flatten)]
    pub(super) judged: Judged,
    /// Difference in the figure ranked by that does not matter, in its unit
    /// [default: $50, 0.1 of a count, 0.5 h or 1 yd³ a day; 0.01 of a share; 1 min; $0.25 a yd³]
    #[arg(long, value_name = "X", value_parser = above_zero)]
    indifference: Option<f64>,
    /// Confidence of all that is said
    #[arg(long, value_name = "P", default_value_t = Tuning::default().level, value_parser = confidence)]
    pub(super) confidence: f64,
}

impl Wanted {
    /// The bounds, `FIGURE=BOUND` each.
    pub(super) fn targets(&self, scenario: &Scenario) -> Result<Vec<Target>, Error> {
        let target = |text: &String| {
            let (name, bound) = text.split_once('=').ok_or_else(|| {
                Error::Argument(format!(
                    "the target \"{text}\" has no bound\n  expected FIGURE=BOUND, such as late_share=0.15"
                ))
            })?;
            let column = figure("figure for a target", name.trim(), scenario)?;
            let bound = number(text, bound)?;
            let (least, most) = columns(scenario)[column].unit.range();
            if !(least..=most).contains(&bound) {
                let may_be = match most.is_finite() {
                    true => format!("a share from {least} to {most}"),
                    false => format!("{least} or more"),
                };
                return Err(Error::Argument(format!(
                    "the target \"{text}\" cannot be\n  expected {may_be}: \"{}\" is never anything else",
                    name.trim()
                )));
            }
            Ok(Target { column, bound })
        };
        self.target.iter().map(target).collect()
    }

    /// What does not matter of the figure ranked by.
    pub(super) fn indifference(&self, figure: usize, scenario: &Scenario) -> f64 {
        indifference(self.indifference, figure, scenario)
    }
}

/// A figure of which less or more is better, by its name in files, and which this scenario gives.
fn figure(what: &str, name: &str, scenario: &Scenario) -> Result<usize, Error> {
    let columns = columns(scenario);
    let judges = columns
        .iter()
        .filter(|column| column.better != Better::Neither);
    position(what, name, judges.map(|column| column.key.as_str()))?;
    let place = columns.iter().position(|column| column.key == name);
    let place = place.expect("it has just been found");
    match columns[place].needs.lacking(scenario) {
        None => Ok(place),
        Some(lacks) => Err(Error::Argument(format!(
            "\"{name}\" cannot be a {what}: this scenario has {lacks}"
        ))),
    }
}
