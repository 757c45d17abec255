//! What a run has done so far: kept now and then, and gone on from.

use super::input::Error;
use crate::montecarlo::Reader;
use crate::report::number::count;
use crate::report::so_far;
use crate::report::stderr::say;
use crate::scenario::input_file;
use crate::studies::{Asked, Comparing, Keeper, SoFar};
use std::cell::Cell;
use std::fs::File;
use std::io::BufReader;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Work between two times that it is kept, at least: what a run has done in less is soon done again.
const EVERY: Duration = Duration::from_secs(20);

/// Of a command whose runs can be gone on with.
#[derive(Clone, Copy, Debug, clap::Args)]
pub(super) struct Resume {
    /// Go on from what a run that was broken off had done, to the same answer (help parts)
    #[arg(long)]
    resume: bool,
}

impl Resume {
    pub(super) fn is_wanted(self) -> bool {
        self.resume
    }
}

/// Where the run of a question is kept.
#[derive(Debug)]
pub(super) struct Keeping {
    path: PathBuf,
    asked: Asked,
    could_not: Cell<bool>,
}

impl Keeping {
    pub(super) fn new(path: PathBuf, asked: Asked) -> Self {
        Self {
            path,
            asked,
            could_not: Cell::new(false),
        }
    }

    /// Takes up what an earlier run has done, if that is wanted, and says so. Gives how many replications that are.
    ///
    /// # Errors
    /// There is something, but of another question, or damaged.
    pub(super) fn begin(
        &self,
        resume: Resume,
        comparing: &mut Comparing<'_>,
    ) -> Result<u64, Error> {
        let path = self.path.display();
        let there = self.path.exists();
        if !resume.resume {
            if there {
                say(format!(
                    "{path} holds what an earlier run had done; this one begins anew: --resume goes on"
                ));
            }
            return Ok(0);
        }
        if !there {
            say(format!(
                "There is no {path} to go on from: the run begins at the start"
            ));
            return Ok(0);
        }
        let refused = |reason: String| {
            Error::Argument(format!(
                "there is no going on from {path}: {reason}\n  \
                 expected what a run of the same question had done, or no --resume, to begin anew"
            ))
        };
        let kept = open(&self.path).map_err(refused)?;
        let differences = kept.asked.differences(&self.asked, "now");
        if !differences.is_empty() {
            return Err(refused(differences.join("; ")));
        }
        let before = comparing.replications();
        let taken = comparing.take_up(kept.reader);
        taken.map_err(|broken| refused(broken.to_string()))?;
        let done = comparing.replications().end - before.end;
        say(format!(
            "Going on after {} of {} replications",
            count(done),
            count(self.asked.part.map_or(self.asked.replications, |part| {
                let all = part.of(0..self.asked.replications);
                all.end - all.start
            }))
        ));
        Ok(done)
    }

    /// Keeps what has been done. If it cannot be kept the run goes on; that is said once.
    pub(super) fn keep(&self, so_far: &SoFar<'_>) {
        if let Err(error) = so_far::write(&self.path, &self.asked, so_far)
            && !self.could_not.replace(true)
        {
            say(format!(
                "{error}\n  the run goes on; broken off, it would begin anew"
            ));
        }
    }

    /// Whoever keeps it now and then.
    pub(super) fn keeper<'k>(keep: &'k mut dyn FnMut(&SoFar<'_>)) -> Keeper<'k> {
        Keeper { every: EVERY, keep }
    }

    pub(super) fn path(&self) -> &Path {
        &self.path
    }

    pub(super) fn asked(&self) -> &Asked {
        &self.asked
    }
}

/// A file whose beginning has been read.
pub(super) struct Opened {
    pub(super) asked: Asked,
    pub(super) reader: Reader<BufReader<File>>,
}

/// Opens a file of what has been done.
///
/// # Errors
/// Why nothing can be had from it, in words that go on after its name.
pub(super) fn open(path: &Path) -> Result<Opened, String> {
    let file = input_file::open(path).map_err(|error| format!("it cannot be read: {error}"))?;
    let reader = Reader::open(file).map_err(|broken| broken.to_string())?;
    // Another version may have asked in other words.
    let asked = Asked::read(reader.head()).ok_or_else(|| {
        "it was made by another version of plantday, which asked otherwise".to_owned()
    })?;
    Ok(Opened { asked, reader })
}
