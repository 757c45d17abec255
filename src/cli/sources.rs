//! `plantday sources`.

use super::FINE;
use super::input::{Error, scenario};
use super::output::{deliver, print, print_answer};
use crate::report::{out_folder, sources};
use std::path::PathBuf;

/// List every default with its source and, of a scenario, which values are its own
#[derive(Debug, clap::Args)]
pub(super) struct Sources {
    /// Scenario file; left out: only the defaults
    file: Option<PathBuf>,
    /// Print the list as JSON
    #[arg(long, conflicts_with = "csv")]
    json: bool,
    /// Print the list as CSV
    #[arg(long)]
    csv: bool,
    /// Write the list as a page, CSV and JSON into this folder
    #[arg(long, value_name = "FOLDER")]
    out: Option<PathBuf>,
    /// Write a workbook for a spreadsheet program as well
    #[arg(long, requires = "out")]
    xlsx: bool,
}

impl Sources {
    pub(super) fn run(&self) -> Result<u8, Error> {
        let read = match &self.file {
            Some(file) => Some(scenario(Some(file))?),
            None => None,
        };
        if let Some(folder) = &self.out {
            out_folder::check(folder)?;
        }
        let recipe = match &self.file {
            Some(_) => "plantday sources SCENARIO",
            None => "plantday sources",
        };
        let answer = sources::answer(read.as_ref(), recipe.into());
        let csv = || print(&answer.csv("sources"));
        let shown = || print_answer(self.json, || answer.json(), |width| answer.terminal(width));
        deliver(
            &answer,
            || if self.csv { csv() } else { shown() },
            self.out.as_deref(),
            self.xlsx,
            |page| format!("The list is {}", page.display()),
        )?;
        Ok(FINE)
    }
}
