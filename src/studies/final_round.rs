//! The final round of a search: a few finalists in fresh replications, which alone decide.
//!
//! The error allowed (1 − level) is split: half for "meets the targets" (one-sided bounds, all at once), half for "the cheapest"
//! (paired intervals, all at once).

mod bounds;

use super::{Barred, Searched};
use crate::montecarlo::Rows;
use crate::observe::{Better, Column};
use crate::statistics::{Interval, Paired, Selection, Summary};
use std::cmp::Ordering;

/// A service target on the mean of a figure: at most so much of one of which less is better, else at least.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Target {
    /// Position of the figure.
    pub column: usize,
    /// The bound, in the figure's unit.
    pub bound: f64,
}

impl Target {
    /// By how much a value misses the target, in the figure's unit; 0 or less if it meets it. None of the value of a blank.
    pub(super) fn missed_by(&self, columns: &[Column], value: f64) -> f64 {
        sign(&columns[self.column]) * (value - self.bound)
    }
}

/// The factor that turns a figure so that less is better.
pub(super) fn sign(column: &Column) -> f64 {
    if column.better == Better::More {
        -1.0
    } else {
        1.0
    }
}

/// One finalist in fresh replications.
#[derive(Clone, Debug)]
pub struct Finalist {
    /// Position in what was searched.
    pub setting: usize,
    /// The judging figure.
    pub judged: Summary,
    /// The figure of each target.
    pub targets: Vec<Summary>,
    /// For each target the one-sided bound of the mean: the target is met if the bound meets it, and leaves room for a fault.
    pub bounds: Vec<f64>,
    /// For each target whether every replication was without fault: none seen, or nothing missed. The bound is then exact, as
    /// far as the figure is a count or a share.
    pub never_missed: Vec<bool>,
    /// Whether all targets are met.
    pub meets: bool,
    /// What keeps it from being recommended against the rule as written, whatever it saves.
    pub barred: Option<Barred>,
    /// Judging figure less that of the rule as written, interval with those of all finalists at once; without an end where too few
    /// replications differ to speak of a mean.
    pub against_written: Option<Interval>,
    /// Mean of that difference.
    pub saves: Option<f64>,
}

/// What the final round came to.
#[derive(Clone, Debug)]
pub struct FinalRound {
    /// Fresh replications that were made.
    pub decided_on: u64,
    /// In the order given; empty if the study was stopped before there were two replications.
    pub finalists: Vec<Finalist>,
    /// Position in `finalists` of the cheapest that meets the targets and is not barred, or of one that is as cheap, as far as is told or
    /// matters, and takes less effort; of equals the rule as written, else the first.
    pub chosen: Option<usize>,
    /// Position in `finalists` of the one that comes nearest to the targets, of those that are not barred.
    pub nearest: Option<usize>,
    /// The other finalists that may be chosen and whose judging figure was that of the chosen one in every replication.
    pub as_good: Vec<usize>,
    /// Confidence of each single bound, so that all hold at once.
    pub bound_level: f64,
    /// How much worse than the best other finalist that may be chosen the chosen one may be, at most; 0: it is the best. Infinite
    /// where too few replications differ to speak of a mean.
    pub worse_by_at_most: f64,
}

/// What decides.
#[derive(Clone, Copy, Debug)]
pub(super) struct Judging<'a> {
    /// Every figure.
    pub(super) columns: &'a [Column],
    /// Position of the judging one.
    pub(super) judge: usize,
    /// What must be met.
    pub(super) targets: &'a [Target],
    /// A difference of the judging one that does not matter.
    pub(super) indifference: f64,
    /// Confidence of all that is said, between 0 and 1.
    pub(super) level: f64,
}

impl FinalRound {
    /// What these rows say: one case for each of `settings`, which are positions in what was searched; the last case is the rule that
    /// there is already. `effort` says what it takes to change over to a setting: of those that are not told apart from the cheapest,
    /// or by no more than does not matter, the one with the least effort is chosen.
    pub(super) fn of(
        rows: &Rows,
        settings: &[usize],
        effort: impl Fn(usize) -> usize,
        judging: Judging<'_>,
    ) -> Self {
        let written = settings.len() - 1;
        let Judging {
            columns,
            judge,
            targets,
            indifference,
            level,
        } = judging;
        let half = (1.0 - level) / 2.0;
        let bounds_made = (settings.len() * targets.len()).max(1) as f64;
        let mut round = Self {
            decided_on: rows.len() as u64,
            finalists: Vec::new(),
            chosen: None,
            nearest: None,
            as_good: Vec::new(),
            bound_level: 1.0 - half / bounds_made,
            worse_by_at_most: 0.0,
        };
        if rows.len() < 2 {
            return round;
        }
        let values = |case: usize, column: usize| rows.values(case, column).collect::<Vec<f64>>();
        let turn = sign(&columns[judge]);
        let judged: Vec<Vec<f64>> = (0..settings.len())
            .map(|case| rows.values(case, judge).map(|value| turn * value).collect())
            .collect();
        // Over all finalists: which of them may be chosen is itself found in these replications.
        let systems: Vec<&[f64]> = judged.iter().map(Vec::as_slice).collect();
        let selection = Selection::of(&systems, 1.0 - half);
        for (case, setting) in settings.iter().enumerate() {
            let summaries = targets.iter();
            let summaries: Vec<Summary> = summaries
                .map(|target| Summary::of(rows.values(case, target.column)))
                .collect();
            let bounds: Vec<f64> = targets
                .iter()
                .map(|target| {
                    let values = values(case, target.column);
                    bounds::bound(&columns[target.column], &values, round.bound_level)
                })
                .collect();
            let against = (case != written)
                .then(|| Paired::of(&values(case, judge), &values(written, judge)));
            let both = |column| (values(case, column), values(written, column));
            let compared = settings.len() - 1;
            let barred = (case != written)
                .then(|| Barred::of_values(both, compared, level))
                .flatten();
            round.finalists.push(Finalist {
                setting: *setting,
                judged: Summary::of(rows.values(case, judge)),
                meets: targets.iter().zip(&bounds).all(|(target, bound)| {
                    target.missed_by(columns, *bound) <= 0.0
                        && !bounds::without_fault(&columns[target.column], target.bound)
                }),
                barred,
                never_missed: targets
                    .iter()
                    .zip(&summaries)
                    .map(|(target, s)| bounds::never_missed(&columns[target.column], s))
                    .collect(),
                targets: summaries,
                bounds,
                against_written: against.map(|_| {
                    let turned = selection.difference(case, written);
                    if turn < 0.0 {
                        turned.turned().reach()
                    } else {
                        turned.reach()
                    }
                }),
                saves: against.and_then(|p| p.difference.mean()),
            });
        }
        round.choose(&judged, &selection, &effort, indifference);
        let seen: Vec<Searched> = (0..settings.len())
            .map(|case| Searched::of(rows, case, judging))
            .collect();
        let free = (0..settings.len()).filter(|case| round.finalists[*case].barred.is_none());
        round.nearest = free.min_by(|a, b| {
            let easier = effort(settings[*a]).cmp(&effort(settings[*b]));
            let written_first = (*a != written).cmp(&(*b != written));
            seen[*a].order(&seen[*b]).then(easier).then(written_first)
        });
        round
    }

    /// The finalist that comes nearest where none can be chosen: there were targets then, since the rule as written is never barred.
    pub(super) fn short_of(&self) -> Option<usize> {
        self.nearest.filter(|_| self.chosen.is_none())
    }

    fn choose(
        &mut self,
        judged: &[Vec<f64>],
        selection: &Selection,
        effort: impl Fn(usize) -> usize,
        indifference: f64,
    ) {
        let written = judged.len() - 1;
        let free = |finalist: &Finalist| finalist.meets && finalist.barred.is_none();
        let feasible: Vec<usize> = (0..judged.len())
            .filter(|place| free(&self.finalists[*place]))
            .collect();
        let mean = |place: &usize| {
            let mean = Summary::of(judged[*place].iter().copied()).mean();
            mean.unwrap_or(f64::INFINITY)
        };
        let cheaper = |a: &usize, b: &usize| {
            // Nobody changes a rule for one that does the same.
            let written_first = (*a != written).cmp(&(*b != written));
            mean(a).total_cmp(&mean(b)).then(written_first)
        };
        let Some(cheapest) = feasible.iter().copied().min_by(cheaper) else {
            return;
        };
        let effort_of = |place: usize| effort(self.finalists[place].setting);
        let as_cheap = feasible.iter().copied().filter(|place| {
            let told = selection.difference(*place, cheapest).told();
            let little = mean(place) - mean(&cheapest) <= indifference;
            *place == cheapest || little || told != Some(Ordering::Greater)
        });
        let chosen = as_cheap
            .min_by(|a, b| {
                let easier = effort_of(*a).cmp(&effort_of(*b));
                easier.then(cheaper(a, b))
            })
            .expect("the cheapest is there");
        self.chosen = Some(chosen);
        let others = feasible.iter().copied().filter(|place| *place != chosen);
        // Nobody changes a setting for one that does the same.
        let (same, others): (Vec<usize>, Vec<usize>) =
            others.partition(|place| judged[*place] == judged[chosen]);
        self.as_good = same;
        self.worse_by_at_most = others
            .into_iter()
            .map(|place| selection.difference(chosen, place).reach().high)
            .fold(0.0, f64::max);
    }
}
