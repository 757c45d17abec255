//! What a search sees of one setting, and which of two settings looks better.

use super::final_round::{Judging, sign};
use crate::montecarlo::Rows;
use crate::statistics::Summary;
use std::cmp::Ordering;

/// One setting as the search saw it.
#[derive(Clone, Debug)]
pub struct Searched {
    /// The judging figure.
    pub judged: Summary,
    /// The figure of each target.
    pub targets: Vec<Summary>,
    /// Whether the means meet all targets.
    pub seems_to_meet: bool,
    /// By what share of its bound the worst missed target is missed; 0 where none is.
    short: f64,
    /// Mean of the judging figure, turned so that less is better.
    worth: f64,
}

impl Searched {
    /// What the rows of a case say.
    pub(super) fn of(rows: &Rows, case: usize, judging: Judging<'_>) -> Self {
        let columns = judging.columns;
        let summary = |column: usize| Summary::of(rows.values(case, column));
        let targets = judging.targets.iter();
        let targets: Vec<Summary> = targets.map(|target| summary(target.column)).collect();
        let missed = judging.targets.iter().zip(&targets).map(|(target, seen)| {
            let by = seen.mean().map(|mean| target.missed_by(columns, mean));
            let by = by.unwrap_or(f64::INFINITY).max(0.0);
            by / target.bound.abs().max(1e-9)
        });
        let short = missed.fold(0.0, f64::max);
        let judged = summary(judging.judge);
        let turn = sign(&columns[judging.judge]);
        Self {
            worth: judged.mean().map_or(f64::INFINITY, |mean| turn * mean),
            judged,
            seems_to_meet: short == 0.0,
            short,
            targets,
        }
    }

    /// Better first: what meets the targets by its worth, then the others, the least short first.
    pub(super) fn order(&self, other: &Self) -> Ordering {
        self.short
            .total_cmp(&other.short)
            .then(self.worth.total_cmp(&other.worth))
    }
}
