//! Sequential selection: replications only for the cases that may still be the best.

use super::run::{Progress, Trial, run};
use super::watch::Watch;
use crate::statistics::{Elimination, KimNelson};
use std::num::NonZeroUsize;

/// How a selection is made. All of it is fixed before the first replication.
#[derive(Clone, Copy, Debug)]
pub struct Selecting {
    /// Confidence, between 0 and 1.
    pub level: f64,
    /// A difference that does not matter, in the unit of the value, above zero.
    pub indifference: f64,
    /// Replications before a case may be left behind, at least 2.
    pub first_stage: u64,
    /// The first replication: those of a selection are disjoint from those of the intervals made afterwards.
    pub from: u64,
    /// Replications at most.
    pub most: u64,
    /// Threads; none: all there are. Does not change the answer.
    pub threads: Option<NonZeroUsize>,
}

/// What a selection came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Selected {
    /// The cases left: one if the selection was finished.
    pub survivors: Vec<usize>,
    /// Those left behind, with the number of replications after which they were.
    pub eliminated: Vec<Elimination>,
    /// Replications made.
    pub replications: u64,
    /// Of these, the ones left out because a case had a blank.
    pub blanks: u64,
    /// Replications that it takes in all, at most; none if it stopped before the end of the first stage.
    pub at_most: Option<u64>,
}

impl Selected {
    /// The case chosen; none if the selection stopped early.
    pub fn best(&self) -> Option<usize> {
        match self.survivors[..] {
            [best] => Some(best),
            _ => None,
        }
    }
}

/// The cases of a trial that are left. What it adds up besides, over cases that drop out on the way, nobody asks for.
struct Left<'t, T> {
    trial: &'t T,
    cases: &'t [usize],
}

impl<T: Trial> Trial for Left<'_, T> {
    type Worker = T::Worker;

    fn worker(&self) -> T::Worker {
        self.trial.worker()
    }

    fn cases(&self) -> usize {
        self.cases.len()
    }

    fn width(&self) -> usize {
        self.trial.width()
    }

    fn run(&self, worker: &mut T::Worker, case: usize, replication: u64, row: &mut [f32]) {
        self.trial.run(worker, self.cases[case], replication, row);
    }

    fn run_in_steps(
        &self,
        worker: &mut T::Worker,
        case: usize,
        replication: u64,
        row: &mut [f32],
        step: &mut dyn FnMut(u64) -> bool,
    ) -> bool {
        let case = self.cases[case];
        self.trial
            .run_in_steps(worker, case, replication, row, step)
    }
}

/// Replications at a time: enough to keep threads busy, few enough that a case is not run long after it was left behind.
/// What is selected does not depend on it.
const BATCH: u64 = 64;

/// Selects the case with the smallest mean of `value` (of a row), by Kim and Nelson's procedure. Replications in which a
/// case that is left has a blank are left out. Stops early at `plan.most` or when it is stopped.
///
/// # Panics
/// If the indifference is not above zero, or if the trial panics.
pub fn select<T: Trial>(
    trial: &T,
    value: impl Fn(&[f32]) -> f64,
    plan: &Selecting,
    watch: Watch<'_>,
) -> Selected {
    let cases = trial.cases();
    let mut state = KimNelson::new(cases, plan.first_stage, plan.level, plan.indifference);
    let (mut made, mut blanks) = (0, 0);
    while state.best().is_none() && made < plan.most && !watch.is_stopped() {
        let total = state.at_most().unwrap_or(plan.first_stage) + blanks;
        let batch = BATCH
            .min(total.saturating_sub(made).max(1))
            .min(plan.most - made);
        let left = state.survivors().to_vec();
        let before = made;
        let rows = run(
            &Left {
                trial,
                cases: &left,
            },
            plan.from + made..plan.from + made + batch,
            plan.threads,
            watch.telling(&|p: Progress| {
                (watch.progress)(p.within(before, total.min(plan.most)));
            }),
        );
        let mut values = vec![0.0; cases];
        for replication in rows.replications() {
            if state.best().is_some() {
                break;
            }
            made += 1;
            let mut blank = false;
            for (place, &case) in left.iter().enumerate() {
                values[case] = value(&rows.row(place, replication));
                blank |= values[case].is_nan() && state.survivors().contains(&case);
            }
            if blank {
                blanks += 1;
            } else {
                state.add(&values);
            }
        }
    }
    Selected {
        survivors: state.survivors().to_vec(),
        eliminated: state.eliminated().to_vec(),
        replications: made,
        blanks,
        at_most: state.at_most(),
    }
}
