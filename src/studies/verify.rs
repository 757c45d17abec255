//! The program against what others have published, on the machine of whoever doubts it.
//!
//! One list of checks, which the tests walk as well: tests under `tests/` ask a family of it and want every check to agree. A check holds
//! what is expected beside what the program finds, and whether the two agree is decided from them alone (`check.rs`). Whole scenarios
//! against queueing theory are in `queues`, regulations in `hours`, published figures of concrete and weights in `material`, tables of
//! statistics in `statistics`, days reckoned by hand in `days`.

mod check;
pub mod days;
pub mod hours;
pub mod material;
pub mod queues;
pub mod statistics;

pub use check::{Basis, Check, Expected, Found};

use super::compare::Question;
use crate::montecarlo::{Progress, Watch};
use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicU64, Ordering};

/// The chance that any of the random figures of a run falls outside its interval though the program is right.
pub const FALSE_ALARM: f64 = 0.01;

/// A kind of checks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Family {
    /// Queueing theory through whole scenarios.
    Queues,
    /// Drivers' hours: worked examples of the regulations through the clocks.
    Hours,
    /// Concrete, its age limits and weights.
    Material,
    /// Constants and intervals of statistics.
    Statistics,
    /// Days and pours without luck, worked out on paper.
    Days,
}

impl Family {
    /// All, in the order in which they are told.
    pub const ALL: [Self; 5] = [
        Self::Queues,
        Self::Hours,
        Self::Material,
        Self::Statistics,
        Self::Days,
    ];

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Self::Queues => "queues",
            Self::Hours => "hours",
            Self::Material => "material",
            Self::Statistics => "statistics",
            Self::Days => "days",
        }
    }
}

/// What shall be checked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct VerifyQuestion {
    /// Which families.
    pub families: Vec<Family>,
    /// More: four times the runs of each queue, so that its intervals are half as wide, and random logs through both forms of the clocks.
    pub thorough: bool,
    /// Seed of the luck.
    pub seed: u64,
    /// Threads; None: what the machine offers. They change nothing in what is found.
    pub threads: Option<NonZeroUsize>,
}

impl Default for VerifyQuestion {
    fn default() -> Self {
        Self {
            families: Family::ALL.to_vec(),
            thorough: false,
            seed: Question::default().seed,
            threads: None,
        }
    }
}

/// What was checked.
#[derive(Clone, Debug, PartialEq)]
pub struct Verified {
    /// What was asked.
    pub question: VerifyQuestion,
    /// Every check, family by family.
    pub checks: Vec<Check>,
    /// The confidence of each single interval of a random figure; None if there is no such figure.
    pub level: Option<f64>,
}

impl Verified {
    /// How many agree.
    pub fn agreeing(&self) -> usize {
        self.checks.iter().filter(|check| check.agrees()).count()
    }

    /// Whether all do.
    pub fn all_agree(&self) -> bool {
        self.agreeing() == self.checks.len()
    }

    /// The checks of a family.
    pub fn of(&self, family: Family) -> impl Iterator<Item = &Check> + Clone {
        self.checks
            .iter()
            .filter(move |check| check.family == family)
    }
}

/// What a family needs to do its work.
struct Work<'a> {
    question: &'a VerifyQuestion,
    /// The confidence of each interval of a random figure.
    level: f64,
    done: AtomicU64,
    total: u64,
    watch: Watch<'a>,
}

impl Work<'_> {
    /// So many cases more are done. None if the work is to stop.
    fn done(&self, cases: u64) -> Option<()> {
        let done = self.done.fetch_add(cases, Ordering::Relaxed) + cases;
        (self.watch.progress)(Progress {
            done,
            total: self.total,
            under_way: 0,
            begun_with: 0,
        });
        (!self.watch.is_stopped()).then_some(())
    }
}

/// Checks what is asked. None if it was stopped: part of a proof is none.
pub fn verify(question: &VerifyQuestion, watch: Watch<'_>) -> Option<Verified> {
    let mut families = question.families.clone();
    families.sort();
    families.dedup();
    let asked = |family| families.contains(&family);
    let random = match asked(Family::Queues) {
        true => queues::figures() as u32,
        false => 0,
    };
    let level = 1.0 - FALSE_ALARM / f64::from(random.max(1));
    let cases = |family: &Family| match family {
        Family::Queues => queues::cases(),
        Family::Days => days::cases(),
        Family::Hours | Family::Material | Family::Statistics => 1,
    };
    let work = Work {
        question,
        level,
        done: AtomicU64::new(0),
        total: families.iter().map(cases).sum(),
        watch,
    };
    let mut checks = Vec::new();
    for family in families {
        match family {
            Family::Queues => checks.extend(queues::checks(&work)?),
            Family::Days => checks.extend(days::checks(&work)?),
            Family::Hours => {
                checks.extend(hours::checks(hours::CASES));
                if question.thorough {
                    checks.extend(hours::random_logs(question.seed));
                }
                work.done(1)?;
            }
            Family::Material => {
                checks.extend(material::checks());
                work.done(1)?;
            }
            Family::Statistics => {
                checks.extend(statistics::checks());
                work.done(1)?;
            }
        }
    }
    Some(Verified {
        question: question.clone(),
        checks,
        level: (random > 0).then_some(level),
    })
}
