//! What the commands of all studies do: read the scenario, look at the folder, work with a bar until done or Ctrl-C, write
//! every file, print the answer, give the exit code. A command's own file holds its arguments, its question, the call, and what
//! its verdict is.

use super::input::{Error, scenario};
use super::output::{Bar, print, stop_on_interrupt};
use super::{FINE, INTERRUPTED, NOT_MET};
use crate::montecarlo::Progress;
use crate::report::answer::Answer;
use crate::report::{out_folder, table};
use crate::scenario::Scenario;
use crate::studies::Question;
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

/// What every study is asked besides its question. A command sets the folder that is usual for it:
/// `#[command(mut_arg("out", |out| out.default_value("plantday-x")))]`.
#[derive(Debug, clap::Args)]
pub(super) struct Shared {
    /// Scenario file; left out: the built-in week
    file: Option<PathBuf>,
    /// Random seed: the same seed gives the same answer
    #[arg(long, default_value_t = Question::default().seed)]
    pub(super) seed: u64,
    /// Threads; the answer does not depend on it [default: all]
    #[arg(long, value_name = "N")]
    pub(super) threads: Option<NonZeroUsize>,
    /// Folder for the report, tables and charts
    #[arg(long, value_name = "FOLDER")]
    out: Option<PathBuf>,
    /// Print the answer as JSON
    #[arg(long)]
    json: bool,
    /// Write a workbook for a spreadsheet program as well
    #[arg(long)]
    xlsx: bool,
}

/// How it came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Verdict {
    /// As asked.
    Fine,
    /// A target is not met, or the answer is no.
    NotMet,
    /// Interrupted: what was done is shown.
    Interrupted,
}

impl Verdict {
    /// Interrupted, or else fine if this is so.
    pub(super) fn of(interrupted: bool, met: bool) -> Self {
        match (interrupted, met) {
            (true, _) => Self::Interrupted,
            (false, true) => Self::Fine,
            (false, false) => Self::NotMet,
        }
    }
}

/// What long work is given.
pub(super) struct Work<'a> {
    /// To be told of every step.
    pub(super) progress: &'a (dyn Fn(Progress) + Sync),
    /// Set by Ctrl-C.
    pub(super) stop: &'static AtomicBool,
}

/// A command that asks a study.
pub(super) trait Study {
    /// What its bar counts.
    const COUNTED: &'static str = "replications";

    /// What it shares with the others.
    fn shared(&self) -> &Shared;

    /// Makes the question, asks it, and draws the answer; none if it was interrupted before there was one.
    fn answer(
        &self,
        scenario: &Scenario,
        work: &Work<'_>,
    ) -> Result<Option<(Answer, Verdict)>, Error>;
}

/// Carries out the command of a study and returns the exit code.
pub(super) fn run(study: &impl Study) -> Result<u8, Error> {
    run_with(study, &scenario(study.shared().file.as_deref())?)
}

/// The same on a scenario that has been read already.
pub(super) fn run_with<S: Study>(study: &S, scenario: &Scenario) -> Result<u8, Error> {
    let shared = study.shared();
    let folder = shared.out.as_deref().unwrap_or(Path::new("plantday-out"));
    out_folder::check(folder)?;
    let bar = Bar::new(S::COUNTED);
    let work = Work {
        progress: &|progress| bar.show(progress),
        stop: stop_on_interrupt(),
    };
    let answer = study.answer(scenario, &work);
    bar.clear();
    let Some((answer, verdict)) = answer? else {
        anstream::eprintln!("stopped before there was anything to show");
        return Ok(INTERRUPTED);
    };
    let page = answer.write(folder, shared.xlsx);
    // What has taken long to find is told even where it cannot be kept.
    if shared.json {
        print(&format!("{:#}\n", answer.json()))?;
    } else {
        print(&answer.terminal(table::terminal_width()))?;
    }
    let beside = match shared.xlsx {
        true => format!("tables, charts and {} are", answer.workbook_name()),
        false => "tables and charts are".into(),
    };
    anstream::eprintln!("The report is {}; {beside} beside it", page?.display());
    Ok(match verdict {
        Verdict::Fine => FINE,
        Verdict::NotMet => NOT_MET,
        Verdict::Interrupted => INTERRUPTED,
    })
}

impl Shared {
    /// The scenario's file, if one is named.
    pub(super) fn file(&self) -> Option<&Path> {
        self.file.as_deref()
    }
}
