//! What the runs of a study have done so far: kept now and then, and gone on from.

use super::input::Error;
use crate::report::number::count;
use crate::report::so_far::{Runs, Useless};
use crate::report::stderr::say;
use std::time::Duration;

/// Work between two times that it is kept, at least: what a run has done in less is soon done again.
pub(super) const EVERY: Duration = Duration::from_secs(20);

/// Of a command whose study can be gone on with.
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

    /// Takes up what an earlier study has done, if that is wanted, and says so.
    ///
    /// # Errors
    /// There is something, but of another question, or damaged.
    pub(super) fn begin(self, runs: &mut Runs) -> Result<(), Error> {
        let first = runs.first();
        match (self.resume, runs.standing().first()) {
            (false, None) => {}
            (false, Some(path)) => say(format!(
                "{} holds what an earlier run had done; this one begins anew: --resume goes on",
                path.display()
            )),
            (true, None) => say(format!(
                "There is no {} to go on from: the run begins at the start",
                first.display()
            )),
            (true, Some(_)) => {
                let done = runs.take_up().map_err(|Useless(path, reason)| {
                    Error::Argument(format!(
                        "there is no going on from {}: {reason}\n  \
                         expected what a run of the same question had done, or no --resume, to begin anew",
                        path.display()
                    ))
                })?;
                say(match done {
                    1 => "Going on after one replication".to_owned(),
                    _ => format!("Going on after {} replications", count(done)),
                });
            }
        }
        Ok(())
    }
}
