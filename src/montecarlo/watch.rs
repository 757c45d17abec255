//! What a study is watched by while it runs: who is told how far it is, and who may stop it.

use super::journal::Journal;
use super::run::Progress;
use std::fmt;
use std::sync::atomic::AtomicBool;

static NEVER: AtomicBool = AtomicBool::new(false);

/// Who watches a study. By default nobody does, and it runs to its end.
#[derive(Clone, Copy)]
pub struct Watch<'w> {
    /// Told after each replication, and after each step of a long one, from whichever thread did it.
    pub progress: &'w (dyn Fn(Progress) + Sync),
    /// When it becomes true the study ends early, and its answer is that of a whole shorter one.
    pub stop: &'w AtomicBool,
    /// What was done before is taken up from it, and what is done is kept there; none: neither.
    pub journal: Option<&'w Journal<'w>>,
}

impl<'w> Watch<'w> {
    /// Somebody who is told how far it is, and may stop it.
    pub fn new(progress: &'w (dyn Fn(Progress) + Sync), stop: &'w AtomicBool) -> Self {
        Self {
            progress,
            stop,
            journal: None,
        }
    }

    /// The same, and what is done is kept in this journal.
    #[must_use]
    pub fn keeping(self, journal: Option<&'w Journal<'w>>) -> Self {
        Self { journal, ..self }
    }

    /// The same, but how far it is is told otherwise.
    #[must_use]
    pub fn telling<'s>(&self, progress: &'s (dyn Fn(Progress) + Sync)) -> Watch<'s>
    where
        'w: 's,
    {
        Watch { progress, ..*self }
    }

    /// The same, but it goes on to its end whoever stops it.
    #[must_use]
    pub fn to_the_end(&self) -> Self {
        Self {
            stop: &NEVER,
            ..*self
        }
    }

    /// Whether it is to end early.
    pub fn is_stopped(&self) -> bool {
        self.stop.load(std::sync::atomic::Ordering::Relaxed)
    }
}

impl Default for Watch<'_> {
    fn default() -> Self {
        Self::new(&|_| (), &NEVER)
    }
}

impl fmt::Debug for Watch<'_> {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "stopped: {}", self.is_stopped())
    }
}
