//! What the commands of all studies do: read the scenario, look at the folder, work with a bar until done or Ctrl-C, print
//! the answer, write every file, give the exit code. A command's own file holds its arguments, its question, the call, and what
//! its verdict is.

use super::bar::{Bar, SUMMED_UP, stop_on_interrupt};
use super::given::Given;
use super::input::{Error, scenario};
use super::keeping::{EVERY, Resume};
use super::numbers::{seed, threads};
use super::output::{Overwrite, deliver, print_answer};
use super::room;
use super::{FINE, INTERRUPTED, NOT_MET};
use crate::montecarlo::{Journal, Watch};
use crate::report::answer::Answer;
use crate::report::out_folder;
use crate::report::so_far::Runs;
use crate::report::stderr::say;
use crate::scenario::Scenario;
use crate::studies::{Asked, Question};
use std::cell::RefCell;
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::Ordering;

/// What every study is asked besides its question. A command sets the folder that is usual for it:
/// `#[command(mut_arg("out", |out| out.default_value("plantday-x")))]`.
#[derive(Debug, clap::Args)]
pub(super) struct Shared {
    /// Scenario file; left out: the built-in week
    file: Option<PathBuf>,
    /// Random seed: the same seed gives the same answer
    #[arg(long, default_value_t = Question::default().seed, value_parser = seed, allow_negative_numbers = true)]
    pub(super) seed: u64,
    /// Threads; the answer does not depend on it [default: all]
    #[arg(long, value_name = "N", value_parser = threads)]
    pub(super) threads: Option<NonZeroUsize>,
    #[command(flatten)]
    pub(super) told: Told,
}

/// How an answer is told and kept.
#[derive(Clone, Debug, clap::Args)]
pub(super) struct Told {
    /// Folder for the report, tables and charts
    #[arg(long, value_name = "FOLDER")]
    out: Option<PathBuf>,
    /// Print the answer as JSON
    #[arg(long)]
    pub(super) json: bool,
    /// Write a workbook for a spreadsheet program as well
    #[arg(long)]
    pub(super) xlsx: bool,
}

impl Told {
    /// The folder of the answer.
    pub(super) fn folder(&self) -> &Path {
        self.out.as_deref().unwrap_or(Path::new("plantday-out"))
    }
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
    /// Shows how far it is, and is stopped by Ctrl-C.
    pub(super) watch: Watch<'a>,
    /// Takes files that are asked for by name; they are written after the answer is told.
    pub(super) named: RefCell<Vec<Named>>,
}

/// A file that is asked for by name beside the answer's folder.
pub(super) struct Named {
    pub(super) path: PathBuf,
    pub(super) content: Vec<u8>,
    pub(super) overwrite: Overwrite,
    /// What is said once it is there.
    pub(super) said: String,
}

/// A command that asks a study.
pub(super) trait Study {
    /// What its bar counts.
    const COUNTED: &'static str = "replications";

    /// What it shares with the others.
    fn shared(&self) -> &Shared;

    /// Whether it goes on from what an earlier run has done; none: it never does, and nothing is kept.
    fn resume(&self) -> Option<Resume> {
        None
    }

    /// What makes its answer, as it is kept with what has been done.
    fn asked(&self, scenario: &Scenario, given: &Given) -> Result<Asked, Error> {
        Ok(given.asked(scenario, self.shared()))
    }

    /// Of how many replications, times rules, the figures are kept, where it is asked for more of them than is usual.
    fn rows(&self, _: &Scenario) -> u64 {
        0
    }

    /// Makes the question, asks it, and draws the answer; none if it was interrupted before there was one. The answer may keep the
    /// scenario until its files are written.
    fn answer(
        &self,
        scenario: &Arc<Scenario>,
        work: &Work<'_>,
    ) -> Result<Option<(Answer, Verdict)>, Error>;
}

/// Carries out the command of a study and returns the exit code.
pub(super) fn run(study: &impl Study, given: &Given) -> Result<u8, Error> {
    run_with(study, scenario(study.shared().file.as_deref())?, given)
}

/// The same on a scenario that has been read already.
pub(super) fn run_with<S: Study>(
    study: &S,
    scenario: Scenario,
    given: &Given,
) -> Result<u8, Error> {
    let scenario = &Arc::new(scenario);
    let shared = study.shared();
    let told = &shared.told;
    let folder = told.folder();
    out_folder::check(folder)?;
    if let Some(word) = room::word(scenario, study.rows(scenario)) {
        say(word);
    }
    let mut runs = None;
    if let Some(resume) = study.resume() {
        let asked = study.asked(scenario, given)?;
        let runs = runs.insert(Runs::new(folder, given.study(), asked));
        resume.begin(runs)?;
    }
    let bar = Bar::new(S::COUNTED);
    let show = |progress| bar.show(progress);
    let stop = stop_on_interrupt(SUMMED_UP);
    let journal = runs.as_ref().map(|runs| Journal::new(runs, EVERY, stop));
    let work = Work {
        watch: Watch::new(&show, stop).keeping(journal.as_ref()),
        named: RefCell::default(),
    };
    let answer = study.answer(scenario, &work);
    bar.clear();
    let goes_on = || {
        if runs.as_ref().is_some_and(Runs::go_on) {
            say("The same command with --resume goes on from there");
        }
    };
    // Before anything can go wrong with the answer.
    if stop.load(Ordering::Relaxed) {
        journal.iter().for_each(Journal::keep_all);
    }
    let Some((answer, verdict)) = answer? else {
        say("stopped before there was anything to show");
        goes_on();
        return Ok(INTERRUPTED);
    };
    let beside = match told.xlsx {
        true => format!("tables, charts and {} are", answer.workbook_name()),
        false => "tables and charts are".into(),
    };
    let delivered = deliver(
        &answer,
        || print_answer(told.json, || answer.json(), |width| answer.terminal(width)),
        Some(folder),
        told.xlsx,
        |page| format!("The report is {}; {beside} beside it", page.display()),
    );
    let named = work.named.into_inner();
    let named = named.into_iter().map(|file| {
        file.overwrite.write(&file.path, &file.content)?;
        say(file.said);
        Ok(())
    });
    // Each is tried, whatever became of the others; the last error is told by who called.
    let mut failed = None;
    for error in std::iter::once(delivered)
        .chain(named)
        .filter_map(Result::err)
    {
        if let Some(before) = failed.replace(error) {
            Error::print(&before);
        }
    }
    if let Some(error) = failed {
        return Err(error);
    }
    if verdict == Verdict::Interrupted {
        goes_on();
    } else if let Some(runs) = &runs {
        runs.remove()?;
    }
    Ok(match verdict {
        Verdict::Fine => FINE,
        Verdict::NotMet => NOT_MET,
        Verdict::Interrupted => INTERRUPTED,
    })
}

impl Shared {
    /// The same as from the command line.
    pub(super) fn new(
        file: Option<PathBuf>,
        seed: u64,
        threads: Option<NonZeroUsize>,
        told: Told,
    ) -> Self {
        Self {
            file,
            seed,
            threads,
            told,
        }
    }

    /// The scenario's file, if one is named.
    pub(super) fn file(&self) -> Option<&Path> {
        self.file.as_deref()
    }
}
