//! Standard output, and progress on standard error.

use super::input::Error;
use crate::montecarlo::Progress;
use crate::report::answer::Answer;
use crate::report::stderr::say;
use crate::report::{files, table};
use indicatif::{HumanDuration, ProgressBar, ProgressDrawTarget, ProgressState, ProgressStyle};
use std::fmt;
use std::io::{self, ErrorKind, IsTerminal, Write};
use std::path::Path;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

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
    let written = folder.map(|folder| answer.write(folder, xlsx));
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

/// What a bar counts one replication as: one may take long.
const PARTS: u64 = 1_000;

/// A bar with the time left, drawn only on a terminal.
pub(super) struct Bar {
    bar: ProgressBar,
    farthest: AtomicU64,
}

impl Bar {
    pub(super) fn new(what: &str) -> Self {
        let target = if std::io::stderr().is_terminal() {
            ProgressDrawTarget::stderr_with_hz(10)
        } else {
            ProgressDrawTarget::hidden()
        };
        let bar = ProgressBar::with_draw_target(None, target);
        let whole = |state: &ProgressState, to: &mut dyn fmt::Write| {
            let (done, total) = (state.pos() / PARTS, state.len().unwrap_or(0) / PARTS);
            let _ = write!(to, "{done} of {total}");
        };
        let left = |state: &ProgressState, to: &mut dyn fmt::Write| {
            let _ = match state.pos() {
                0 => write!(to, "it is not known yet how long"),
                _ => write!(to, "{:#} left", HumanDuration(state.eta())),
            };
        };
        let style = ProgressStyle::with_template("{bar:32} {whole} {msg}, {left}");
        let style = style.expect("the template is valid");
        bar.set_style(style.with_key("whole", whole).with_key("left", left));
        bar.set_message(what.to_owned());
        Self {
            bar,
            farthest: AtomicU64::new(0),
        }
    }

    pub(super) fn show(&self, progress: Progress) {
        if self.bar.is_hidden() {
            return;
        }
        self.bar.set_length(progress.total * PARTS);
        let at = progress.done * PARTS + progress.under_way;
        let farthest = self.farthest.fetch_max(at, Ordering::Relaxed);
        if farthest == 0 {
            // Making a scenario ready takes a while as well, once; no replication will take it again.
            self.bar.reset_eta();
        }
        // Calls overtake each other by a few; one that falls back far tells of another piece of work.
        if at >= farthest {
            self.bar.set_position(at);
        } else if at < farthest / 2 {
            self.farthest.store(at, Ordering::Relaxed);
            self.bar.set_position(at);
        }
    }

    pub(super) fn clear(&self) {
        self.bar.finish_and_clear();
    }
}

static STOP: AtomicBool = AtomicBool::new(false);

/// A flag that the first Ctrl-C sets; the second leaves at once.
pub(super) fn stop_on_interrupt() -> &'static AtomicBool {
    let handler = || {
        if STOP.swap(true, Ordering::SeqCst) {
            std::process::exit(i32::from(super::INTERRUPTED));
        }
    };
    // Without a handler Ctrl-C ends the program the usual way: less kind, not wrong.
    let _ = ctrlc::set_handler(handler);
    &STOP
}
