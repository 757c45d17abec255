//! What the options of a command say, as it is kept with what its study has done: all of them but those that change no run, so that a new
//! option need not be remembered here. What is in a file counts, not where it is.

use super::study::Shared;
use crate::scenario::Scenario;
use crate::studies::Asked;
use clap::{ArgAction, ArgMatches, Command};

/// Options that change no run: on how many threads it is made, and how the answer is told.
const CHANGE_NO_RUN: [&str; 6] = ["threads", "out", "json", "xlsx", "force", "resume"];

/// The options of a command, by their names.
#[derive(Debug)]
pub(super) struct Given {
    study: String,
    options: Vec<(String, Vec<String>)>,
}

impl Given {
    /// Those of the subcommand that was called.
    pub(super) fn of(command: &Command, matches: &ArgMatches) -> Self {
        let (study, matches) = matches.subcommand().unwrap_or(("", matches));
        let arguments = command.find_subcommand(study).into_iter();
        let arguments = arguments.flat_map(Command::get_arguments);
        let options = arguments.filter_map(|arg| {
            let id = arg.get_id().as_str();
            let name = arg
                .get_long()
                .filter(|name| !CHANGE_NO_RUN.contains(name))?;
            let values = match arg.get_action() {
                ArgAction::SetTrue => (matches.get_flag(id))
                    .then(|| "given".to_owned())
                    .into_iter()
                    .collect(),
                _ => {
                    let values = matches.try_get_raw(id).ok()?.into_iter().flatten();
                    values
                        .map(|value| value.to_string_lossy().into_owned())
                        .collect()
                }
            };
            Some((name.to_owned(), values))
        });
        Self {
            study: study.to_owned(),
            options: options.collect(),
        }
    }

    /// The name of the command.
    pub(super) fn study(&self) -> &str {
        &self.study
    }

    /// What makes the answer on this scenario.
    pub(super) fn asked(&self, scenario: &Scenario, shared: &Shared) -> Asked {
        let named = shared.file().map(|file| file.display().to_string());
        Asked::new(scenario, named, self.options.iter().cloned())
    }
}
