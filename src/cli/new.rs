//! `plantday new`.

use super::FINE;
use super::input::Error;
use super::output::{Overwrite, print};
use std::path::PathBuf;

const STARTER: &str = include_str!("../../scenarios/starter.ron");

/// Write a short commented scenario to begin with
#[derive(Debug, clap::Args)]
pub(super) struct New {
    /// File to write; it must not exist yet
    file: PathBuf,
    #[command(flatten)]
    overwrite: Overwrite,
}

impl New {
    pub(super) fn run(&self) -> Result<u8, Error> {
        let file = self.file.display();
        self.overwrite.write(&self.file, STARTER)?;
        print(&format!(
            "{file} is written: a day at two plants that runs as it is.\n\
             Put in your own plants, orders and rules, then:\n\n  \
             plantday check {file}\n  plantday compare {file}\n"
        ))?;
        Ok(FINE)
    }
}
