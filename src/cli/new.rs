//! `plantday new`.

use super::FINE;
use super::input::Error;
use super::output::{Overwrite, print};
use crate::report::{made, table};
use crate::scenario::{self, ReadError};
use std::path::{Path, PathBuf};

const STARTER: &str = include_str!("../../scenarios/starter.ron");

/// Write a scenario to begin with: commented, as a workbook, or made of your tables
#[derive(Debug, clap::Args)]
pub(super) struct New {
    /// File to write, which must not exist yet: a scenario in text, or a workbook if its name ends in .xlsx; may be left out with --from
    #[arg(required_unless_present = "from")]
    file: Option<PathBuf>,
    /// Tables to make it of (.csv, .xlsx): orders, drivers, minutes between places, and trucks, plants, sites if there are such
    #[arg(long, num_args = 1.., value_name = "TABLE")]
    from: Vec<PathBuf>,
    #[command(flatten)]
    overwrite: Overwrite,
}

impl New {
    pub(super) fn run(&self) -> Result<u8, Error> {
        let mut from = self.from.clone();
        let file = match &self.file {
            Some(file) => file.clone(),
            // `new --from a.csv b.csv mine.ron`: no table ends so.
            None => match from.last().filter(|last| ends(last, "ron")) {
                Some(_) => from.pop().unwrap_or_default(),
                None => PathBuf::from("plantday.ron"),
            },
        };
        self.overwrite.allows(&file)?;
        match self.from.is_empty() {
            true => self.starter(&file),
            false => self.made(&file, &from),
        }
    }

    fn starter(&self, file: &Path) -> Result<u8, Error> {
        let shown = file.display();
        let (what, change) = if ends(file, "xlsx") {
            let book = scenario::as_workbook("the starter", STARTER, None, &[])
                .map_err(ReadError::Faults)?;
            self.overwrite.write(file, &book.bytes)?;
            (
                "a day at two plants as a workbook",
                "Put your own plants, orders and rules into its sheets; notes at the headings tell what stands where",
            )
        } else {
            self.overwrite.write(file, STARTER)?;
            (
                "a day at two plants that runs as it is",
                "Put in your own plants, orders and rules",
            )
        };
        print(&format!(
            "{shown} is written: {what}.\n{change}, then:\n\n  plantday check {shown}\n  plantday compare {shown}\n"
        ))?;
        Ok(FINE)
    }

    fn made(&self, file: &Path, from: &[PathBuf]) -> Result<u8, Error> {
        let folder = file.parent().unwrap_or(Path::new(""));
        let made = scenario::made_of(from, folder).map_err(Error::Argument)?;
        let shown = file.display().to_string();
        let mut unread = None;
        if ends(file, "xlsx") {
            let lines = made::assumed(&made);
            let name = format!("what is made for {shown}");
            let book = scenario::as_workbook(&name, &made.text, Some(folder), &lines)
                .map_err(ReadError::Faults)?;
            self.overwrite.write(file, &book.bytes)?;
            unread = Some(book.unread);
        } else {
            self.overwrite.write(file, &made.text)?;
        }
        let read = scenario::read(file);
        let of_text = read.as_ref().map(|read| read.ignored_columns.clone());
        let unread = unread.or(of_text.ok()).unwrap_or_default();
        print(&made::account(
            &made,
            &unread,
            &shown,
            table::terminal_width(),
        ))?;
        let read = read?;
        let today = read.rules.iter().find(|rule| rule.today);
        let today = today.map_or("", |rule| &rule.name);
        print(&format!(
            "\nPut what you do today in place of \"{today}\", then:\n\n  plantday check {shown} --summary\n  plantday compare {shown}\n"
        ))?;
        Ok(FINE)
    }
}

fn ends(file: &Path, ending: &str) -> bool {
    file.extension()
        .is_some_and(|known| known.eq_ignore_ascii_case(ending))
}
