//! What commands are given: scenario files, names, and errors about them.

use crate::report::files::FileError;
use crate::report::problems;
use crate::scenario::{self, ReadError, Scenario};
use std::path::Path;

/// The demo that runs when no file is named.
const DEMO: &str = include_str!("../../scenarios/estuary_week.ron");
const DEMO_NAME: &str = "the built-in scenario";

/// Why a command cannot be carried out.
#[derive(Debug)]
pub(super) enum Error {
    /// The scenario cannot be read.
    Scenario(ReadError),
    /// A file cannot be written.
    File(FileError),
    /// An argument is wrong.
    Argument(String),
}

impl Error {
    /// Says what is wrong on standard error.
    pub(super) fn print(&self) {
        match self {
            Self::Scenario(ReadError::Faults(faults)) => problems::print(faults),
            Self::Scenario(error) => anstream::eprintln!("error: {error}"),
            Self::File(error) => anstream::eprintln!("error: {error}"),
            Self::Argument(text) => anstream::eprintln!("error: {text}"),
        }
    }
}

impl From<ReadError> for Error {
    fn from(error: ReadError) -> Self {
        Self::Scenario(error)
    }
}

impl From<FileError> for Error {
    fn from(error: FileError) -> Self {
        Self::File(error)
    }
}

/// The scenario of a file, or the demo.
pub(super) fn scenario(file: Option<&Path>) -> Result<Scenario, Error> {
    Ok(match file {
        Some(path) => scenario::read(path)?,
        None => scenario::parse(DEMO_NAME, DEMO).map_err(ReadError::Faults)?,
    })
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
    let list = names
        .map(|name| format!("\"{name}\""))
        .collect::<Vec<_>>()
        .join(", ");
    Err(Error::Argument(format!(
        "there is no {what} \"{name}\"{hint}\n  expected one of {list}"
    )))
}

/// A confidence: above one half (less would be a guess), below one.
pub(super) fn confidence(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(value) if (0.5..=0.999).contains(&value) => Ok(value),
        _ => Err("expected a confidence from 0.5 to 0.999, such as 0.95".into()),
    }
}

/// A finite number above zero.
pub(super) fn above_zero(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(value) if value > 0.0 && value.is_finite() => Ok(value),
        _ => Err("expected a number above zero".into()),
    }
}
