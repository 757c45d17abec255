//! What the runs of a study have done, kept as they go, so that a study that was broken off goes on to the same answer.
//!
//! A study makes the same runs in the same order each time, so a run is known by its number: played again from its start, the study
//! takes up what was kept of each run and makes the rest. Runs that are done soon are kept several at a time, one that takes long is
//! kept now and then as well.

use super::kept::{self, Broken, Reader};
use super::rows::Rows;
use super::run::{Besides, Trial};
use super::watch::Watch;
use std::fmt;
use std::io::{self, Read, Write};
use std::ops::Range;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// Where runs are kept.
pub trait Shelf: Sync {
    /// What an earlier study of the same question has kept of the run of this number; none if it has kept nothing.
    fn kept(&self, number: u64) -> Option<Reader<Box<dyn Read>>>;

    /// Keeps these runs, the first of which is not on the shelf, or has less there. What cannot be kept is made again by whoever goes on.
    fn keep(&self, runs: &[KeptRun]);

    /// What was kept of a run is of no use, and it is made again.
    fn refuse(&self, number: u64, reason: &Broken);
}

/// What is kept of a run.
#[derive(Clone, Debug)]
pub struct KeptRun {
    /// Its number, from 1, among those of the study.
    pub number: u64,
    /// Its rows so far.
    pub rows: Rows,
    /// What its trial has added up besides over exactly these.
    pub sums: Vec<u8>,
}

impl KeptRun {
    /// Writes it, for a [`Reader`]; `head` is one line, without its end, for whoever reads it.
    ///
    /// # Errors
    /// It cannot be written there.
    pub fn write(&self, to: &mut dyn Write, head: &str) -> io::Result<()> {
        kept::write(to, head, &self.rows, &self.sums)
    }

    fn bytes(&self) -> usize {
        self.rows.len() * self.rows.cases() * self.rows.width() * size_of::<f32>() + self.sums.len()
    }
}

/// Finished runs of more bytes than this do not wait for others.
const TOGETHER: usize = 16 << 20;

/// Work lasts so many times as long as it took to keep what it had done.
const WORK_TO_KEEPING: u32 = 30;

/// The runs of one study.
pub struct Journal<'s> {
    shelf: &'s dyn Shelf,
    every: Duration,
    stop: &'s AtomicBool,
    state: Mutex<State>,
}

struct State {
    begun: u64,
    /// A study that is stopped sums up by other runs.
    is_closed: bool,
    /// Finished, not kept yet.
    waiting: Vec<KeptRun>,
    due: Instant,
}

impl fmt::Debug for Journal<'_> {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "{} runs begun", self.state().begun)
    }
}

impl<'s> Journal<'s> {
    /// Of a study that begins now and ends early when `stop` becomes true. Work between two times that it is kept lasts so long at
    /// least, and much longer where keeping takes long.
    pub fn new(shelf: &'s dyn Shelf, every: Duration, stop: &'s AtomicBool) -> Self {
        Self {
            shelf,
            every,
            stop,
            state: Mutex::new(State {
                begun: 0,
                is_closed: false,
                waiting: Vec::new(),
                due: Instant::now() + every,
            }),
        }
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Keeps what is done and not kept yet, as where the study was stopped.
    pub fn keep_all(&self) {
        self.keep_waiting(&mut self.state());
    }

    fn keep_waiting(&self, state: &mut State) {
        let waiting = std::mem::take(&mut state.waiting);
        if !waiting.is_empty() {
            self.keep(state, &waiting);
        }
    }

    fn keep(&self, state: &mut State, runs: &[KeptRun]) {
        let began = Instant::now();
        self.shelf.keep(runs);
        state.due = began + self.every.max(began.elapsed() * WORK_TO_KEEPING);
    }

    /// The next run; none where nothing is kept any more.
    fn next(&self) -> Option<u64> {
        let mut state = self.state();
        state.begun += 1;
        if !state.is_closed && self.stop.load(Ordering::Relaxed) {
            state.is_closed = true;
            self.keep_waiting(&mut state);
        }
        (!state.is_closed).then_some(state.begun)
    }
}

/// A run of a study, from when it begins.
#[derive(Clone, Copy, Debug)]
pub struct Run<'j>(Option<(&'j Journal<'j>, u64)>);

impl<'j> Run<'j> {
    /// The next one.
    pub fn next(watch: Watch<'j>) -> Self {
        let journal = watch.journal;
        Self(journal.and_then(|journal| Some((journal, journal.next()?))))
    }

    /// One that is not kept.
    pub fn unkept() -> Self {
        Self(None)
    }

    /// What was kept of it, which goes no farther than these replications; else none of them.
    pub fn taken_up<T: Trial>(self, trial: &T, replications: &Range<u64>) -> Rows {
        let none = || Rows::new(trial.cases(), trial.width(), replications.start);
        let Some((journal, number)) = self.0 else {
            return none();
        };
        let Some(reader) = journal.shelf.kept(number) else {
            return none();
        };
        let mut rows = none();
        match take_up(reader, trial, &mut rows, replications) {
            Ok(()) => rows,
            Err(broken) => {
                journal.shelf.refuse(number, &broken);
                none()
            }
        }
    }

    /// When it is to be kept next, if it is; before that it goes on.
    pub(super) fn due(self) -> Option<Instant> {
        let (journal, _) = self.0?;
        Some(Instant::now() + journal.every)
    }

    /// Keeps what has been done of it so far.
    pub(super) fn keep<T: Trial>(self, trial: &T, rows: &Rows) -> Option<Instant> {
        let (journal, number) = self.0?;
        let mut state = journal.state();
        journal.keep_waiting(&mut state);
        if !rows.is_empty() {
            journal.keep(&mut state, &[so_far(number, trial, rows)]);
        }
        Some(state.due)
    }

    /// It was stopped.
    pub(super) fn broken_off<T: Trial>(self, trial: &T, rows: &Rows) {
        if let Some((journal, _)) = self.0 {
            self.keep(trial, rows);
            journal.state().is_closed = true;
        }
    }

    /// All its replications are done.
    pub(super) fn finished<T: Trial>(self, trial: &T, rows: &Rows) {
        let Some((journal, number)) = self.0 else {
            return;
        };
        let mut state = journal.state();
        // One that is made longer after all.
        state.waiting.retain(|run| run.number != number);
        state.waiting.push(so_far(number, trial, rows));
        let bytes: usize = state.waiting.iter().map(KeptRun::bytes).sum();
        if bytes > TOGETHER || Instant::now() >= state.due {
            journal.keep_waiting(&mut state);
        }
    }
}

fn so_far<T: Trial>(number: u64, trial: &T, rows: &Rows) -> KeptRun {
    KeptRun {
        number,
        rows: rows.clone(),
        sums: trial.besides().map_or_else(Vec::new, Besides::sums),
    }
}

/// Adds what was kept to the rows of a run of these replications, which it follows, and to what the trial adds up.
///
/// # Errors
/// It is damaged, or of another run. The rows are of no use then.
pub fn take_up<T: Trial, R: Read>(
    kept: Reader<R>,
    trial: &T,
    rows: &mut Rows,
    replications: &Range<u64>,
) -> Result<(), Broken> {
    let told = kept.replications();
    let shape = (rows.cases() as u64, rows.width() as u64);
    let next = rows.replications().end;
    if kept.shape() != shape || told.start != next || told.end > replications.end {
        return Err(Broken::Damaged);
    }
    let of = replications.start..told.end.max(replications.start);
    let sums = kept.read(rows, &of)?;
    let added = match trial.besides() {
        Some(besides) => besides.add_sums(&sums, told.end - told.start),
        None => sums.is_empty().then_some(()),
    };
    added.ok_or(Broken::Damaged)
}
