//! `plantday man`.

use super::input::Error;
use super::output::{Overwrite, print};
use super::{Arguments, FINE};
use crate::report::files;
use clap::CommandFactory;
use clap_mangen::Man as Page;
use std::path::PathBuf;

/// Write man pages, one for each command, into a folder
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  plantday man ~/.local/share/man/man1")]
pub(super) struct Man {
    /// Folder; it may hold other pages
    folder: PathBuf,
    #[command(flatten)]
    overwrite: Overwrite,
}

impl Man {
    pub(super) fn run(&self) -> Result<u8, Error> {
        let pages = pages()?;
        files::create_folder(&self.folder)?;
        for (name, _) in &pages {
            self.overwrite.allows(&self.folder.join(name))?;
        }
        for (name, text) in &pages {
            self.overwrite.write(&self.folder.join(name), text)?;
        }
        print(&format!(
            "{} man pages are in {}, plantday.1 and one for each command\n",
            pages.len(),
            self.folder.display()
        ))?;
        Ok(FINE)
    }
}

/// Every page with the name of its file. They bear no date: the same program writes the same bytes.
fn pages() -> Result<Vec<(String, String)>, Error> {
    let mut program = Arguments::command();
    program.build();
    let commands = program.get_subcommands().cloned();
    let all: Vec<clap::Command> = [program.clone()].into_iter().chain(commands).collect();
    let page = |command| {
        let version = concat!("plantday ", env!("CARGO_PKG_VERSION"));
        // An empty date would not be written, and the version would stand in its place.
        let page = Page::new(command).date(" ").source(version);
        let mut text = Vec::new();
        page.render(&mut text)?;
        Ok((
            page.get_filename(),
            String::from_utf8_lossy(&text).into_owned(),
        ))
    };
    all.into_iter().map(page).collect()
}
