//! What is said of the final round of a search, whatever was searched.

mod never;

pub(super) use never::notes as never;

use super::figure::unit;
use crate::observe::{Better, Column, FigureUnit};
use crate::statistics::Summary;
use crate::studies::{FinalRound, Reach, Target};

/// A value of a figure with its unit.
pub(super) fn shown(column: &Column, value: f64, decimals: usize) -> String {
    unit(column).show(value, decimals)
}

/// Decimals that tell values of a figure apart on a screen.
pub(super) fn decimals(column: &Column) -> usize {
    match column.unit {
        FigureUnit::Share => 1,
        _ => column.decimals,
    }
}

/// `share of loads late at most 15.0%`, one for each target.
pub(super) fn asked_for(targets: &[Target], columns: &[Column]) -> String {
    let parts: Vec<String> = targets
        .iter()
        .zip(columns)
        .map(|(target, column)| {
            let side = match column.better {
                Better::More => "at least",
                _ => "at most",
            };
            let places = decimals(column).max(1);
            format!(
                "{} {side} {}",
                column.label,
                shown(column, target.bound, places)
            )
        })
        .collect();
    parts.join(" and ")
}

/// How far off the targets the finalist is that comes nearest, and what else could reach them; empty where one is chosen. `named` says
/// which it is, by its position in what was searched.
pub(super) fn short_of(
    round: &FinalRound,
    reach: &[Reach],
    (targets, columns): (&[Target], &[Column]),
    named: impl Fn(usize) -> String,
) -> Vec<String> {
    let Some(nearest) = round.nearest.filter(|_| round.chosen.is_none()) else {
        return Vec::new();
    };
    let nearest = &round.finalists[nearest];
    let comes_to = |seen: &[Summary], off: bool| -> String {
        let each: Vec<String> = targets
            .iter()
            .zip(columns)
            .zip(seen)
            .filter_map(|((target, column), seen)| {
                let mean = seen.mean()?;
                let places = decimals(column).max(1);
                let is = format!("{} {}", column.label, shown(column, mean, places));
                let missed = match column.better {
                    Better::More => target.bound - mean,
                    _ => mean - target.bound,
                };
                let asked = shown(column, target.bound, places);
                Some(match missed > 0.0 {
                    _ if !off => is,
                    true => {
                        let side = match column.better {
                            Better::More => "below",
                            _ => "above",
                        };
                        // A difference of shares is told in points: "0.7%" could mean 0.7% of it.
                        let by = unit(column).show_difference(missed, places);
                        format!("{is}, {} {side} the {asked} asked", by.trim_start_matches('+'))
                    }
                    false => format!("{is}, which meets {asked} on average and may be shown by more --replications"),
                })
            })
            .collect();
        each.join("; ")
    };
    let mut sentences = vec![format!(
        "Nearest comes {}: {}.",
        named(nearest.setting),
        comes_to(&nearest.targets, true)
    )];
    let reaching: Vec<String> = reach
        .iter()
        .filter(|reach| reach.seen.seems_to_meet)
        .map(|reach| {
            format!(
                "{} ({})",
                reach.what.words(),
                comes_to(&reach.seen.targets, false)
            )
        })
        .collect();
    match (&reaching[..], reach.first()) {
        ([], Some(first)) => sentences.push(format!(
            "Nor would any of {} other changes tried with it, one at a time, reach that; nearest comes {} ({}).",
            reach.len(),
            first.what.words(),
            comes_to(&first.seen.targets, false)
        )),
        ([], None) => {}
        (reaching, _) => sentences.push(format!(
            "With it, on average in the runs of the search, this would reach that: {}.",
            reaching.join("; ")
        )),
    }
    sentences
}

/// An amount as it was given.
pub(super) fn shown_exact(column: &Column, value: f64) -> String {
    let places = (0..6)
        .find(|n| {
            let scaled = value * libm::pow(10.0, f64::from(*n));
            (scaled - libm::round(scaled)).abs() < 1e-9
        })
        .unwrap_or(6) as usize;
    match column.unit {
        FigureUnit::Share => shown(column, value, places.saturating_sub(2)),
        _ => shown(column, value, places),
    }
}
