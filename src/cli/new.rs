//! `plantday new`.

use super::FINE;
use super::input::Error;
use super::output::print;
use crate::report::files;
use std::path::PathBuf;

const STARTER: &str = include_str!("../../scenarios/starter.ron");

/// Write a short commented scenario to begin with
#[derive(Debug, clap::Args)]
pub(super) struct New {
    /// File to write; it must not exist yet
    file: PathBuf,
    /// Replace the file if it exists
    #[arg(long)]
    force: bool,
}

impl New {
    pub(super) fn run(&self) -> Result<u8, Error> {
        let file = self.file.display();
        if self.file.exists() && !self.force {
            return Err(Error::Argument(format!(
                "{file} exists already; --force replaces it"
            )));
        }
        files::write(&self.file, STARTER.as_bytes())?;
        print(&format!(
            "{file} is written: a day at two plants that runs as it is.\n\
             Put in your own plants, orders and rules, then:\n\n  \
             plantday check {file}\n  plantday compare {file}\n"
        ))?;
        Ok(FINE)
    }
}
