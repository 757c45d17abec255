//! How far the threads of a run have come, and which replications count when it is stopped.

use super::run::Progress;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Mutex, PoisonError};

const WHOLE: u64 = 1_000;

/// What all threads of a run know of each other.
#[derive(Debug)]
pub(super) struct Board<'s> {
    total: u64,
    begun_with: u64,
    cases: u64,
    stop: &'s AtomicBool,
    done: AtomicU64,
    under_way: AtomicU64,
    ends: Mutex<Ends>,
}

/// Where a stopped run ends: no replication that is done comes after one that was broken off.
#[derive(Debug, Default)]
struct Ends {
    last_done: Option<u64>,
    first_broken_off: Option<u64>,
}

/// What a thread has told of the replication that it is at, in thousandths.
#[derive(Debug, Default)]
pub(super) struct Part(u64);

impl<'s> Board<'s> {
    /// So many replications are done already, of so many in all.
    pub(super) fn new((done, total): (u64, u64), cases: u64, stop: &'s AtomicBool) -> Self {
        Self {
            total,
            begun_with: done,
            cases,
            stop,
            done: AtomicU64::new(done),
            under_way: AtomicU64::new(0),
            ends: Mutex::default(),
        }
    }

    fn progress(&self, done: u64, under_way: u64) -> Progress {
        Progress {
            done,
            total: self.total,
            under_way,
            begun_with: self.begun_with,
        }
    }

    /// A case of a replication has come so far, in thousandths.
    pub(super) fn step(&self, part: &mut Part, case: u64, share: u64) -> Progress {
        let now = (case * WHOLE + share.min(WHOLE)) / self.cases;
        let more = now.saturating_sub(part.0);
        part.0 += more;
        let under_way = more + self.under_way.fetch_add(more, Ordering::Relaxed);
        self.progress(self.done.load(Ordering::Relaxed), under_way)
    }

    /// Whether a replication is to be finished: the run goes on, or a later one is done already.
    pub(super) fn goes_on(&self, replication: u64) -> bool {
        if !self.stop.load(Ordering::Relaxed) {
            return true;
        }
        let mut ends = self.ends.lock().unwrap_or_else(PoisonError::into_inner);
        if ends.last_done.is_some_and(|last| last > replication) {
            return true;
        }
        let first = ends.first_broken_off.unwrap_or(replication);
        ends.first_broken_off = Some(first.min(replication));
        false
    }

    /// A replication is done. Gives how far the run has come if it counts: not if one before it was broken off.
    pub(super) fn done(&self, part: Part, replication: u64) -> Option<Progress> {
        {
            let mut ends = self.ends.lock().unwrap_or_else(PoisonError::into_inner);
            if ends
                .first_broken_off
                .is_some_and(|first| first < replication)
            {
                return None;
            }
            ends.last_done = ends.last_done.max(Some(replication));
        }
        let under_way = self.under_way.fetch_sub(part.0, Ordering::Relaxed) - part.0;
        let done = 1 + self.done.fetch_add(1, Ordering::Relaxed);
        Some(self.progress(done, under_way))
    }

    /// How far it is before anything of it is done here.
    pub(super) fn now(&self) -> Progress {
        self.progress(self.so_far(), 0)
    }

    /// How many replications count so far.
    pub(super) fn so_far(&self) -> u64 {
        self.done.load(Ordering::Relaxed)
    }
}
