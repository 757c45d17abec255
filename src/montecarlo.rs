//! Replications: the same luck for every case, spread over threads, stopped at any time. Knows no plant.
//!
//! A [`Trial`] says what one replication of one case does; [`run()`] makes many of them and returns their [`Rows`]. What comes
//! back depends on the trial and on the range of replications alone, never on threads or on what else was run, nor on what of it a
//! [`Journal`] had from before.

mod board;
mod journal;
mod kept;
mod rows;
mod run;
mod select;
mod watch;

pub use journal::{Journal, KeptRun, Run, Shelf, take_up};
pub use kept::{Broken, Reader, write};
pub use rows::{KEPT_IN_MEMORY, Rows};
pub use run::{Besides, Progress, Trial, run, run_on};
pub use select::{Selected, Selecting, select};
pub use watch::Watch;
