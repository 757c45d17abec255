//! What commands are given: scenario files, names, and errors about them.

use crate::report::files::FileError;
use crate::report::stderr::say;
use crate::report::{problems, shell};
use crate::scenario::{self, ReadError, Scenario};
use crate::units::Millis;
use crate::units::measure;
use std::path::Path;

/// Names of a list that a message has room for.
const LISTED: usize = 50;

/// Why a command cannot be carried out.
#[derive(Debug)]
pub(super) enum Error {
    /// The scenario cannot be read.
    Scenario(ReadError),
    /// A file cannot be written.
    File(FileError),
    /// An argument is wrong.
    Argument(String),
    /// Standard output cannot be written.
    Output(std::io::Error),
}

impl Error {
    /// Says what is wrong on standard error.
    pub(super) fn print(&self) {
        match self {
            Self::Scenario(ReadError::Faults(faults)) => problems::print(faults),
            Self::Scenario(error) => say(format!("error: {error}")),
            Self::File(error) => say(format!("error: {error}")),
            Self::Argument(text) => say(format!("error: {text}")),
            Self::Output(error) => {
                say(format!("error: standard output cannot be written: {error}"));
            }
        }
    }
}

impl From<ReadError> for Error {
    fn from(error: ReadError) -> Self {
        Self::Scenario(error)
    }
}

impl From<std::io::Error> for Error {
    fn from(error: std::io::Error) -> Self {
        Self::Output(error)
    }
}

impl From<FileError> for Error {
    fn from(error: FileError) -> Self {
        Self::File(error)
    }
}

/// The scenario of a file, or the demo.
pub(super) fn scenario(file: Option<&Path>) -> Result<Scenario, Error> {
    let scenario = match file {
        Some(path) => scenario::read(path)?,
        None => scenario::built_in_week(),
    };
    // All that is said from here on is about this scenario.
    measure::settle(scenario.measures);
    Ok(scenario)
}

/// The position of a name among those there are.
pub(super) fn position<'a>(
    what: &str,
    name: &str,
    names: impl Iterator<Item = &'a str> + Clone,
) -> Result<usize, Error> {
    if let Some(position) = names.clone().position(|other| other == name) {
        return Ok(position);
    }
    let nearest = scenario::problem::nearest(name, names.clone());
    let hint = nearest.map_or(String::new(), |nearest| {
        format!("; did you mean \"{nearest}\"?")
    });
    let more = names.clone().count().saturating_sub(LISTED);
    let mut list = names
        .take(LISTED)
        .map(|name| format!("\"{name}\""))
        .collect::<Vec<_>>()
        .join(", ");
    if more > 0 {
        list += &format!(" and {more} more");
    }
    Err(Error::Argument(format!(
        "there is no {what} \"{name}\"{hint}\n  expected one of {list}"
    )))
}

/// A time since midnight, `06:30` or on the next day `01:00 +1`.
pub(super) fn clock(option: &str, text: &str) -> Result<Millis, Error> {
    scenario::decode::moment_of(text.trim()).ok_or_else(|| {
        Error::Argument(format!(
            "{option} {text:?} is not a time\n  expected HH:MM, on the next day \"HH:MM +1\""
        ))
    })
}

/// A command line with these options, quoted where a shell needs it. An option with an empty text stands alone.
pub(super) fn recipe(
    command: &str,
    scenario: &Scenario,
    options: &[(&str, Option<String>)],
) -> String {
    shell::command(command, scenario) + &self::options(options)
}

/// These options, each with a space before it.
pub(super) fn options(options: &[(&str, Option<String>)]) -> String {
    let mut line = String::new();
    for (name, value) in options {
        match value.as_deref() {
            None => {}
            Some("") => line += &format!(" --{name}"),
            Some(value) => {
                let plain = |c: char| c.is_ascii_alphanumeric() || ".,:-_+".contains(c);
                if value.chars().all(plain) {
                    line += &format!(" --{name} {value}");
                } else {
                    line += &format!(" --{name} {}", shell::quoted(value));
                }
            }
        }
    }
    line
}
