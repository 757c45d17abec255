//! Running replications on several threads.

use std::num::NonZeroUsize;
use std::ops::Range;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Mutex, PoisonError};
use std::thread;

use super::rows::Rows;

/// What is replicated.
///
/// The row of a case and a replication must depend on these two alone: not on the other cases, nor on what the worker did
/// before.
pub trait Trial: Sync {
    /// What a thread builds once and uses for all its replications, such as a world with its memory already allocated.
    type Worker;

    /// A worker for one thread.
    fn worker(&self) -> Self::Worker;

    /// How many cases (rules, fleets, head counts) meet each replication's luck; at least one.
    fn cases(&self) -> usize;

    /// How many figures a row has; at least one.
    fn width(&self) -> usize;

    /// Runs one case in one replication and fills its row, which comes zeroed and [`width`](Self::width) long.
    fn run(&self, worker: &mut Self::Worker, case: usize, replication: u64, row: &mut [f32]);

    /// Takes back a worker whose thread is done, with whatever it has added up besides. What is kept of it must not depend on
    /// the order of the threads nor on who did which replication: whole numbers that are only added.
    fn finish(&self, worker: Self::Worker) {
        drop(worker);
    }
}

/// How far a run has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Replications done, all cases of each.
    pub done: u64,
    /// Replications asked for.
    pub total: u64,
}

/// Runs all cases in each of the replications.
///
/// Threads take the next replication in order and finish what they have taken, so when `stop` becomes true the rows that
/// come back are those of the first replications asked for, without a hole. `progress` is called after each replication
/// from whichever thread did it; calls may overtake each other by a few.
///
/// `threads` is the number of threads, by default what the machine offers. It changes nothing in the rows.
///
/// # Panics
/// If the trial has no case or no figure, or if the trial panics.
pub fn run<T: Trial>(
    trial: &T,
    replications: Range<u64>,
    threads: Option<NonZeroUsize>,
    progress: &(dyn Fn(Progress) + Sync),
    stop: &AtomicBool,
) -> Rows {
    let (cases, width) = (trial.cases(), trial.width());
    let mut rows = Rows::zeroed(cases, width, replications);
    let total = rows.len() as u64;
    let done = AtomicU64::new(0);
    let threads = threads
        .or_else(|| thread::available_parallelism().ok())
        .map_or(1, NonZeroUsize::get)
        .min(rows.len());

    let queue = Mutex::new(rows.by_replication());
    let next = || {
        if stop.load(Ordering::Relaxed) {
            return None;
        }
        queue.lock().unwrap_or_else(PoisonError::into_inner).next()
    };
    let work = || {
        let mut worker = trial.worker();
        while let Some((replication, rows)) = next() {
            for (case, row) in rows.chunks_exact_mut(width).enumerate() {
                trial.run(&mut worker, case, replication, row);
            }
            let done = 1 + done.fetch_add(1, Ordering::Relaxed);
            progress(Progress { done, total });
        }
        trial.finish(worker);
    };
    thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(work);
        }
    });
    drop(queue);

    rows.keep(done.into_inner());
    rows
}
