//! Spreads of inputs that a user doubts, as options give them: `misread=Uniform(0.01, 0.04)`.

use super::Scenario;
use super::decode::{self, Limits};
use super::edit::{Input, InputKind};
use super::problem::{Faults, Problem, Problems, listed, nearest};
use super::tree::{self, Span};
use crate::engine::Spread;

/// An input and how its value spreads: what may be true of it, not what changes from day to day.
#[derive(Clone, Debug, PartialEq)]
pub struct Assumption {
    /// Which.
    pub input: Input,
    /// Its value, in the unit of its [`kind`](Input::kind).
    pub spread: Spread,
    /// The spread as it was written.
    pub text: String,
}

/// One value in so many may lie beyond the limits of the input; it is cut to them.
const BEYOND: f64 = 1e-3;

/// Reads them all, one from each text.
///
/// # Errors
/// All that is wrong: the texts are the lines of what the faults refer to.
pub fn read(written: &[String], scenario: &Scenario) -> Result<Vec<Assumption>, Box<Faults>> {
    let problems = Problems::new();
    let text = written.join("\n");
    let mut assumptions: Vec<Assumption> = Vec::new();
    let mut names: Vec<(Input, Span)> = Vec::new();
    let mut from = 0;
    for one in written {
        let place = from..from + one.len();
        from = place.end + 1;
        let found = one_of(&text, place, scenario, &problems);
        let Some((input, name, assumption)) = found else {
            continue;
        };
        if let Some((_, first)) = names.iter().find(|(other, _)| *other == input) {
            let title = format!("`{}` has two spreads", input.name());
            let problem = Problem::new(name, title).label("expected each input once");
            problems.add::<()>(problem.also(first.clone(), "first here"));
            continue;
        }
        names.push((input, name));
        assumptions.extend(assumption);
    }
    if problems.is_empty() {
        Ok(assumptions)
    } else {
        Err(Box::new(problems.into_faults("--assume", &text)))
    }
}

/// The input with its place; without a spread where that is wrong.
fn one_of(
    text: &str,
    place: Span,
    scenario: &Scenario,
    problems: &Problems,
) -> Option<(Input, Span, Option<Assumption>)> {
    let Some(equals) = text[place.clone()].find('=') else {
        let problem = Problem::new(place, "there is no `=`");
        return problems
            .add(problem.label("expected INPUT=SPREAD, such as misread=Uniform(0.01, 0.04)"));
    };
    let (name, value) = (
        place.start..place.start + equals,
        place.start + equals + 1..place.end,
    );
    if text[value.clone()].trim().is_empty() {
        let problem = Problem::new(place, "there is nothing behind the `=`");
        return problems.add(problem.label("expected a spread, such as Uniform(0.01, 0.04)"));
    }
    let written = text[name.clone()].trim();
    let names = || Input::ALL.iter().map(|input| input.name());
    let input = Input::ALL.into_iter().find(|input| input.name() == written);
    let spread = |input: Option<Input>| {
        // What stands before is blanked, so that places are those of the whole.
        let alone = format!("{}{}", " ".repeat(value.start), &text[value.clone()]);
        match tree::parse(&alone) {
            Ok(node) => match input {
                Some(input) => spread_of(input, &node, scenario, problems),
                None => None,
            },
            Err(found) => problems.add_all(found),
        }
    };
    let Some(input) = input else {
        let mut problem = Problem::new(name.clone(), format!("there is no input `{written}`"))
            .label(format!("expected one of {}", listed(names())));
        if let Some(near) = nearest(written, names()) {
            problem = problem.replace(name, near, format!("a similar one exists: `{near}`"));
        }
        problems.add::<()>(problem);
        spread(None);
        return None;
    };
    if let Err(lacks) = input.as_written(scenario) {
        let title = format!("`{}` cannot be assumed here: {lacks}", input.name());
        let problem = Problem::new(name.clone(), title);
        problems.add::<()>(problem.label("expected an input that this scenario has"));
        spread(None);
        return None;
    }
    let assumption = spread(Some(input)).map(|spread| Assumption {
        input,
        spread,
        text: text[value.clone()].trim().to_owned(),
    });
    Some((input, name, assumption))
}

fn spread_of(
    input: Input,
    node: &tree::Node,
    scenario: &Scenario,
    problems: &Problems,
) -> Option<Spread> {
    let spread = match input.kind() {
        InputKind::Times => decode::factors(node, problems),
        InputKind::Share => decode::shares(node, problems),
        InputKind::Minutes => decode::minutes(node, problems),
    }?;
    let (least, most) = input.limits();
    let unit = match input.kind() {
        InputKind::Times => "times what is written",
        InputKind::Share => "share",
        InputKind::Minutes => "minutes",
    };
    let limits = Limits::between(unit, least, most);
    let wrong = |title: String, label: String| {
        problems.add(Problem::new(node.span.clone(), title).label(label))
    };
    let sampler = spread.sampler();
    let ends = [BEYOND, 1.0 - BEYOND].map(|share| sampler.at(share));
    for end in ends {
        if !limits.hold(end) {
            let title = format!("`{}` would come to {end:.4} or beyond", input.name());
            return wrong(title, format!("expected {limits}"));
        }
        if let Err(why) = input.set(scenario, end) {
            let title = format!("`{}` would come to {end:.4}: {why}", input.name());
            return wrong(title, "expected values that the scenario can have".into());
        }
    }
    Some(spread)
}
