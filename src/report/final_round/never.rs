//! What is said of a target whose fault was never seen: that is not never.

use super::{decimals, shown};
use crate::observe::{Better, Column, FigureUnit};
use crate::report::number::{Unit, level as percent};
use crate::report::period::runs;
use crate::statistics::{share_at_most, trials_without_event};
use crate::studies::{FinalRound, Target};

/// For each target that some finalist met without fault in every replication, how much that shows, and what would show the target.
/// `level` is the confidence of all that is said.
pub(in crate::report) fn notes<'a>(
    round: &'a FinalRound,
    targets: &'a [Target],
    columns: &'a [Column],
    level: f64,
) -> impl Iterator<Item = String> + 'a {
    let pairs = targets.iter().zip(columns).enumerate();
    pairs.filter_map(move |(target, asked)| note(round, target, asked, level))
}

/// None if there is no such finalist.
fn note(
    round: &FinalRound,
    target: usize,
    (asked, column): (&Target, &Column),
    overall: f64,
) -> Option<String> {
    let asked = asked.bound;
    let without = |place: &usize| round.finalists[*place].never_missed[target];
    let first = (0..round.finalists.len()).find(without)?;
    let (n, level) = (round.decided_on, round.bound_level);
    let done = runs(n);
    let sure = percent(overall);
    if !matches!(column.unit, FigureUnit::Count | FigureUnit::Share) {
        let share = Unit::Share.show(share_at_most(0, n, level), 2);
        let zero = if asked <= 0.0 {
            "; no number of runs shows that there is never any"
        } else {
            ""
        };
        return Some(format!(
            "{}: none seen in {done} of a finalist; some in at most {share} of all ({sure} for all that is said){zero}.",
            column.label
        ));
    }
    let bound = round.finalists[first].bounds[target];
    let places = decimals(column).max(3);
    let (seen, side, room) = match column.better {
        Better::More => ("nothing missed", "at least", 1.0 - asked),
        _ => ("none seen", "at most", asked),
    };
    let text = format!(
        "{}: {seen} in {done} of a finalist, so {side} {} ({sure} for all that is said)",
        column.label,
        shown(column, bound, places)
    );
    let takes = |share: f64| {
        let takes = trials_without_event(share, level);
        takes.map_or("more than can be said".to_owned(), runs)
    };
    let met = round.finalists[first].meets;
    Some(if room <= 0.0 {
        // What a user may ask for in place of exactly none: an event in a thousand runs.
        let (instead, share) = match column.better {
            Better::More => ("0.999", 0.001),
            _ => ("0.001", 0.001),
        };
        format!(
            "{text}. No number of runs shows exactly {asked}; --target {}={instead} takes {} without one.",
            column.key,
            takes(share)
        )
    } else if !met && share_at_most(0, n, level) > room {
        format!("{text}; {} without one would show {asked}.", takes(room))
    } else {
        format!("{text}.")
    })
}
