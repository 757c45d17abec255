//! Running replications on several threads.

use std::num::NonZeroUsize;
use std::ops::Range;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::Instant;

use super::board::{Board, Part};
use super::journal::Run;
use super::rows::Rows;
use super::watch::Watch;
use rayon::ThreadPoolBuilder;
use rayon::iter::{ParallelBridge, ParallelIterator};

/// What is replicated.
///
/// The row of a case and a replication must depend on these two alone: not on the other cases, nor on what the worker did
/// before.
pub trait Trial: Sync {
    /// What a thread builds once and uses for all its replications, such as a world with its memory already allocated.
    type Worker: Send;

    /// A worker for one thread.
    fn worker(&self) -> Self::Worker;

    /// How many cases (rules, fleets, head counts) meet each replication's luck; at least one.
    fn cases(&self) -> usize;

    /// How many figures a row has; at least one.
    fn width(&self) -> usize;

    /// Runs one case in one replication and fills its row, which comes zeroed and [`width`](Self::width) long.
    fn run(&self, worker: &mut Self::Worker, case: usize, replication: u64, row: &mut [f32]);

    /// The same in steps, for a replication that may take long: `step` is told what share of the case is done, in thousandths, and
    /// says whether to go on. Gives whether the case was finished; of a replication that was broken off nothing is kept.
    fn run_in_steps(
        &self,
        worker: &mut Self::Worker,
        case: usize,
        replication: u64,
        row: &mut [f32],
        step: &mut dyn FnMut(u64) -> bool,
    ) -> bool {
        let _ = step;
        self.run(worker, case, replication, row);
        true
    }

    /// What it adds up besides rows, if it does. A run that is gone on with lacks what is added up otherwise.
    fn besides(&self) -> Option<&dyn Besides<Self::Worker>> {
        None
    }
}

/// What a trial adds up besides rows, over the replications of one run. It must not depend on the order of the threads nor on who did
/// which replication: whole numbers that are only added.
pub trait Besides<W> {
    /// All cases of a replication are done and its rows are kept: what the worker has added up of it counts from now on. What is added
    /// up before is that of a replication that may yet be left out, where a trial runs in steps.
    fn keep(&self, worker: &mut W, replication: u64) {
        let _ = (worker, replication);
    }

    /// Takes over what a worker has added up since it last handed that over; it may go on afterwards.
    fn take_over(&self, worker: &mut W);

    /// All that has been taken over, as bytes.
    fn sums(&self) -> Vec<u8>;

    /// Adds what was taken over of so many other replications of the same run, unless these bytes are something else.
    fn add_sums(&self, bytes: &[u8], replications: u64) -> Option<()>;
}

/// How far a run has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Replications done, all cases of each.
    pub done: u64,
    /// Replications asked for.
    pub total: u64,
    /// What is done of those under way, in thousandths of a replication.
    pub under_way: u64,
    /// Of those done, what was done before the run began or was gone on with; none: it begins at its start.
    pub begun_with: u64,
}

impl Progress {
    /// The same as part of a work of so many, so many of which were done before.
    #[must_use]
    pub fn within(self, before: u64, total: u64) -> Self {
        let begun_with = match self.begun_with {
            0 => 0,
            these => before + these,
        };
        Self {
            done: before + self.done,
            total,
            begun_with,
            ..self
        }
    }
}

/// Runs all cases in each of the replications, but for those that the journal of who watches has of this run.
///
/// Threads take the next replication in order. When it is stopped they finish what they have taken, or break it off where the
/// trial runs in steps and no later one is done, so the rows that come back are those of the first replications asked for, without a
/// hole. How far it is is told after each replication, and after each step, from whichever thread did it; calls may overtake each other
/// by a few.
///
/// `threads` is the number of threads, by default what the machine offers. It changes nothing in the rows.
///
/// # Panics
/// If the trial has no case or no figure, or if the trial panics.
pub fn run<T: Trial>(
    trial: &T,
    replications: Range<u64>,
    threads: Option<NonZeroUsize>,
    watch: Watch<'_>,
) -> Rows {
    let run = Run::next(watch);
    let rows = run.taken_up(trial, &replications);
    run_on(trial, rows, replications, threads, run, watch)
}

/// The same of a run that has begun: some of the replications, the first ones, are in these rows already. What the trial had added up of
/// them is its own to remember.
///
/// # Panics
/// If the rows begin with another replication, or have other cases or figures; and as [`run`].
pub fn run_on<T: Trial>(
    trial: &T,
    mut rows: Rows,
    replications: Range<u64>,
    threads: Option<NonZeroUsize>,
    run: Run<'_>,
    watch: Watch<'_>,
) -> Rows {
    let (cases, width) = (trial.cases(), trial.width());
    assert_eq!(
        (rows.cases(), rows.width(), rows.replications().start),
        (cases, width, replications.start),
        "only rows of the same trial can be gone on from"
    );
    let all = replications.end.saturating_sub(replications.start);
    let board = Board::new((rows.len() as u64, all), cases as u64, watch.stop);
    if !rows.is_empty() {
        (watch.progress)(board.now());
    }
    if rows.len() as u64 >= all {
        return rows;
    }
    let threads = threads
        .or_else(|| thread::available_parallelism().ok())
        .map_or(1, NonZeroUsize::get)
        .min(usize::try_from(all).unwrap_or(usize::MAX));
    let pool = ThreadPoolBuilder::new().num_threads(threads).build();
    let pool = pool.expect("threads can be started");
    let bench = Mutex::new(Vec::new());
    let mut next_break = run.due();
    loop {
        let mut block = rows.next_block(&replications);
        let next = rows.replications().end;
        let is_due = || next_break.is_some_and(|at| Instant::now() >= at);
        let goes_on = |replication| !watch.is_stopped() && (replication == next || !is_due());
        // Threads take from a bridge in order, which a range that is split among them would not keep.
        let queue = (block.by_replication()).take_while(|(replication, _)| goes_on(*replication));
        pool.install(|| {
            queue.par_bridge().for_each_init(
                || Hired {
                    trial,
                    bench: &bench,
                    worker: None,
                },
                |hired, (replication, rows)| {
                    let worker = hired.worker();
                    let mut part = Part::default();
                    for (case, row) in rows.chunks_exact_mut(width).enumerate() {
                        let mut step = |share| {
                            (watch.progress)(board.step(&mut part, case as u64, share));
                            board.goes_on(replication)
                        };
                        if !trial.run_in_steps(worker, case, replication, row, &mut step) {
                            return;
                        }
                    }
                    if let Some(now) = board.done(part, replication) {
                        if let Some(besides) = trial.besides() {
                            besides.keep(worker, replication);
                        }
                        (watch.progress)(now);
                    }
                },
            );
        });
        block.keep(board.so_far() - rows.len() as u64);
        rows.push(block, &replications);
        if watch.is_stopped() || rows.len() as u64 == all {
            break;
        }
        if is_due() {
            take_over(trial, &bench);
            next_break = run.keep(trial, &rows);
        }
    }
    take_over(trial, &bench);
    match rows.len() as u64 == all {
        true => run.finished(trial, &rows),
        false => run.broken_off(trial, &rows),
    }
    rows
}

/// Takes over from all workers, none of whom is at work.
fn take_over<T: Trial>(trial: &T, bench: &Mutex<Vec<T::Worker>>) {
    if let Some(besides) = trial.besides() {
        let mut bench = bench.lock().unwrap_or_else(PoisonError::into_inner);
        bench
            .iter_mut()
            .for_each(|worker| besides.take_over(worker));
    }
}

/// A worker from its first replication until its thread finds no more for now.
struct Hired<'t, T: Trial> {
    trial: &'t T,
    /// Those who are waiting for more.
    bench: &'t Mutex<Vec<T::Worker>>,
    worker: Option<T::Worker>,
}

impl<T: Trial> Hired<'_, T> {
    fn bench(&self) -> MutexGuard<'_, Vec<T::Worker>> {
        self.bench.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn worker(&mut self) -> &mut T::Worker {
        let waiting = match self.worker {
            Some(_) => None,
            None => self.bench().pop(),
        };
        let trial = self.trial;
        (self.worker).get_or_insert_with(|| waiting.unwrap_or_else(|| trial.worker()))
    }
}

impl<T: Trial> Drop for Hired<'_, T> {
    fn drop(&mut self) {
        // What a trial that panicked has left is in no order to be added up.
        if let Some(worker) = self.worker.take().filter(|_| !thread::panicking()) {
            self.bench().push(worker);
        }
    }
}
