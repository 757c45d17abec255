//! `plantday help`.

use super::input::{Error, position};
use super::output::print;
use super::{Arguments, FINE};
use crate::report::guide::TOPICS;
use crate::report::table::terminal_width;
use clap::CommandFactory;
use std::fmt::Write;

/// Explain a topic, or list a command's options
#[derive(Debug, clap::Args)]
pub(super) struct Help {
    /// A topic or a command; left out: the lists of both
    name: Option<String>,
}

impl Help {
    pub(super) fn run(&self) -> Result<u8, Error> {
        let mut program = Arguments::command();
        program.build();
        let Some(name) = &self.name else {
            let mut text = program.render_long_help().ansi().to_string();
            text += "\nTopics of plantday help:\n";
            for topic in TOPICS {
                let _ = writeln!(text, "  {:10} {}", topic.name, topic.about);
            }
            print(&text)?;
            return Ok(FINE);
        };
        if let Some(topic) = TOPICS.iter().find(|topic| topic.name == name) {
            print(&topic.terminal(terminal_width()))?;
            return Ok(FINE);
        }
        // A topic of the same name stands for its command, too.
        let commands = program
            .get_subcommands()
            .map(clap::Command::get_name)
            .filter(|command| TOPICS.iter().all(|topic| topic.name != *command));
        let names: Vec<&str> = TOPICS
            .iter()
            .map(|topic| topic.name)
            .chain(commands)
            .collect();
        position("topic or command", name, names.into_iter())?;
        let command = program
            .find_subcommand_mut(name)
            .expect("it has just been found");
        print(&command.render_long_help().ansi().to_string())?;
        Ok(FINE)
    }
}
