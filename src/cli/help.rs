//! `plantday help`.

use super::input::{Error, position};
use super::output::print;
use super::{Arguments, FINE};
use crate::report::fields;
use crate::report::guide::TOPICS;
use crate::report::table::terminal_width;
use crate::scenario::{self, Field, Takes};
use clap::CommandFactory;
use clap::builder::{PossibleValue, StringValueParser, TypedValueParser};
use std::ffi::OsStr;
use std::fmt::Write;

/// Topics that are told by what reads a scenario.
const LANGUAGE: [(&str, &str); 2] = [
    (
        "scenario",
        "every block and field of a scenario: range, default, source",
    ),
    ("spreads", "how a number that varies is written"),
];

/// Explain a topic, or list a command's options
#[derive(Debug, clap::Args)]
pub(super) struct Help {
    /// A topic or a command; left out: the lists of both
    #[arg(value_parser = AnyName, hide_possible_values = true)]
    name: Option<String>,
    /// Behind `scenario` a block or field of it (orders, orders.outlets, pay_per_h), behind `rules` a decision (choose)
    part: Option<String>,
}

/// Any name, of which the topics are offered where the shell completes: what is wrong is told by [`topic`].
#[derive(Clone, Copy, Debug)]
struct AnyName;

impl TypedValueParser for AnyName {
    type Value = String;

    fn parse_ref(
        &self,
        command: &clap::Command,
        argument: Option<&clap::Arg>,
        value: &OsStr,
    ) -> Result<String, clap::Error> {
        StringValueParser::new().parse_ref(command, argument, value)
    }

    fn possible_values(&self) -> Option<Box<dyn Iterator<Item = PossibleValue> + '_>> {
        let guide = TOPICS.iter().map(|topic| (topic.name, topic.about));
        let topics = guide.chain(LANGUAGE);
        Some(Box::new(
            topics.map(|(name, about)| PossibleValue::new(name).help(about)),
        ))
    }
}

impl Help {
    pub(super) fn run(&self) -> Result<u8, Error> {
        let width = terminal_width();
        let text = match (self.name.as_deref(), self.part.as_deref()) {
            (None, _) => lists(),
            (Some("scenario"), None) => fields::blocks(&scenario::outline(), width),
            (Some("scenario"), Some(part)) => told(find(&scenario::outline(), part)?, width),
            (Some("rules"), Some(part)) => told(vec![decision(&scenario::outline(), part)?], width),
            (Some("spreads"), None) => fields::spreads(width),
            (Some(name), None) => topic(name, width)?,
            (Some(name), Some(part)) => {
                topic(name, width)?;
                return Err(Error::Argument(format!(
                    "{name:?} has no parts, found {part:?} behind it\n  expected it alone; parts have \"scenario\" and \"rules\""
                )));
            }
        };
        print(&text)?;
        Ok(FINE)
    }
}

/// Commands and topics.
fn lists() -> String {
    let mut program = Arguments::command();
    program.build();
    let mut text = program.render_long_help().ansi().to_string();
    text += "\nTopics of plantday help:\n";
    let guide = TOPICS.iter().map(|topic| (topic.name, topic.about));
    for (name, about) in guide.chain(LANGUAGE) {
        let _ = writeln!(text, "  {name:10} {about}");
    }
    text
}

/// A topic of the guide, or a command.
fn topic(name: &str, width: u16) -> Result<String, Error> {
    if let Some(topic) = TOPICS.iter().find(|topic| topic.name == name) {
        return Ok(topic.terminal(width));
    }
    let mut program = Arguments::command();
    program.build();
    let told = LANGUAGE.map(|(name, _)| name);
    let mut names: Vec<&str> = TOPICS.iter().map(|topic| topic.name).chain(told).collect();
    // A topic of the same name stands for its command, too.
    let commands: Vec<&str> = program
        .get_subcommands()
        .map(clap::Command::get_name)
        .filter(|command| !names.contains(command))
        .collect();
    names.extend(commands);
    position("topic or command", name, names.into_iter())?;
    let text = program
        .find_subcommand_mut(name)
        .map(|command| command.render_long_help().ansi().to_string());
    Ok(text.unwrap_or_default())
}

/// What `plantday help scenario PART` is about: a path from the top, or every field of that name.
fn find<'a>(scenario: &'a Takes, part: &'a str) -> Result<Vec<&'a Field>, Error> {
    let (unknown, names) = match scenario.field(part) {
        Ok(field) => return Ok(vec![field]),
        Err(unknown) => unknown,
    };
    let all = scenario.all_fields();
    let mut called: Vec<&Field> = Vec::new();
    for field in &all {
        let seen = called.iter().any(|other| other.path == field.path);
        if field.name == part && !seen {
            called.push(field);
        }
    }
    if !called.is_empty() {
        return Ok(called);
    }
    let blocks = names.iter().copied();
    // A field's name is offered where no block of the place is as near.
    let near = scenario::problem::nearest(unknown, blocks.clone())
        .or_else(|| scenario::problem::nearest(unknown, all.iter().map(|field| field.name)));
    position_near("block or field of a scenario", unknown, near, blocks)
}

fn decision<'a>(scenario: &'a Takes, part: &'a str) -> Result<&'a Field, Error> {
    let rules = scenario.field("rules").map_err(|(name, _)| missing(name))?;
    rules.takes.field(part).or_else(|(unknown, names)| {
        let near = scenario::problem::nearest(unknown, names.iter().copied());
        position_near("decision of a rule", unknown, near, names.into_iter())
    })
}

fn missing(name: &str) -> Error {
    Error::Argument(format!("there is no block {name:?}"))
}

fn position_near<'a, T>(
    what: &str,
    name: &str,
    near: Option<&str>,
    names: impl Iterator<Item = &'a str>,
) -> Result<T, Error> {
    let hint = near.map_or(String::new(), |near| format!("; did you mean {near:?}?"));
    let names: Vec<String> = names.map(|name| format!("{name:?}")).collect();
    Err(Error::Argument(format!(
        "there is no {what} {name:?}{hint}\n  expected one of {}",
        names.join(", ")
    )))
}

fn told(found: Vec<&Field>, width: u16) -> String {
    let texts: Vec<String> = found
        .into_iter()
        .map(|field| fields::field(field, width))
        .collect();
    texts.join("\n")
}
