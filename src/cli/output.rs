//! Standard output, and files.

use super::bar;
use super::input::Error;
use crate::report::answer::Answer;
use crate::report::stderr::say;
use crate::report::{files, out_folder, table};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Prints to standard output. Who stops reading early is no error.
///
/// # Errors
/// It cannot be written for another reason, such as a full disk.
pub(super) fn print(text: &str) -> io::Result<()> {
    let mut out = anstream::stdout();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(error),
        _ => Ok(()),
    }
}

/// Writes an answer: as JSON, or as text for the width of the terminal.
///
/// # Errors
/// As [`print`].
pub(super) fn print_answer(
    json: bool,
    value: impl FnOnce() -> serde_json::Value,
    text: impl FnOnce(u16) -> String,
) -> io::Result<()> {
    if json {
        print(&format!("{:#}\n", value()))
    } else {
        print(&text(table::terminal_width()))
    }
}

/// Tells an answer, then keeps it in a folder if one is named, and says where: what has taken long to find is told even where it cannot be
/// kept, and kept even where it cannot be told.
///
/// # Errors
/// It could not be told or kept. If neither, the second is said here.
pub(super) fn deliver(
    answer: &Answer,
    print: impl FnOnce() -> io::Result<()>,
    folder: Option<&Path>,
    xlsx: bool,
    kept: impl FnOnce(&Path) -> String,
) -> Result<(), Error> {
    let printed = print();
    let writing = bar::waiting("writing the files");
    let written = folder.map(|folder| answer.write(folder, xlsx));
    writing.finish_and_clear();
    match (printed, written.transpose()) {
        (printed, Ok(page)) => {
            if let Some(page) = page {
                say(kept(&page));
            }
            Ok(printed?)
        }
        (Ok(()), Err(lost)) => Err(lost.into()),
        (Err(unsaid), Err(lost)) => {
            Error::File(lost).print();
            Err(unsaid.into())
        }
    }
}

/// How an answer is told that is about no scenario: it is kept only if a folder is named.
#[derive(Debug, clap::Args)]
pub(super) struct Out {
    /// Write the answer as a page, CSV and JSON into this folder
    #[arg(long, value_name = "FOLDER")]
    out: Option<PathBuf>,
    /// Print the answer as JSON
    #[arg(long)]
    json: bool,
    /// Write a workbook for a spreadsheet program as well
    #[arg(long, requires = "out")]
    xlsx: bool,
}

impl Out {
    /// Looks at the folder before any work is done.
    ///
    /// # Errors
    /// An answer cannot be written to it.
    pub(super) fn check(&self) -> Result<(), Error> {
        Ok(self.out.as_deref().map_or(Ok(()), out_folder::check)?)
    }

    /// Tells the answer, and keeps it.
    ///
    /// # Errors
    /// As [`deliver`].
    pub(super) fn deliver(&self, answer: &Answer) -> Result<(), Error> {
        deliver(
            answer,
            || print_answer(self.json, || answer.json(), |width| answer.terminal(width)),
            self.out.as_deref(),
            self.xlsx,
            |page| format!("The answer is {}", page.display()),
        )
    }
}

/// What becomes of a file that is there already.
#[derive(Clone, Copy, Debug, clap::Args)]
pub(super) struct Overwrite {
    /// Replace the file if it exists
    #[arg(long)]
    force: bool,
}

impl Overwrite {
    /// Whether `--force` is given.
    pub(super) fn is_forced(&self) -> bool {
        self.force
    }

    /// Whether a file may and can be written there, asked before any work is done for it.
    ///
    /// # Errors
    /// It exists, and nobody has said that it may be replaced; or it cannot be written as far as is known before.
    pub(super) fn allows(&self, path: &Path) -> Result<(), Error> {
        if path.exists() && !self.force {
            let file = path.display();
            return Err(Error::Argument(format!(
                "{file} exists already; --force replaces it"
            )));
        }
        Ok(files::check(path)?)
    }

    /// Writes the file, whole or not at all.
    ///
    /// # Errors
    /// As [`allows`](Self::allows), or it cannot be written.
    pub(super) fn write(&self, path: &Path, content: impl AsRef<[u8]>) -> Result<(), Error> {
        self.allows(path)?;
        Ok(files::write(path, content.as_ref())?)
    }
}
