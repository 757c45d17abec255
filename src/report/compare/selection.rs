//! How the best rule was selected and how precise the differences are, in sentences.

use super::sentences::{listed, quoted};
use crate::observe::FigureUnit;
use crate::report::figure::unit;
use crate::report::number::{Unit, count, level};
use crate::report::period::{per, runs};
use crate::studies::{Block, Comparison};
use crate::units::measure::Quantity;

/// `$50 a day`: the difference that does not matter.
pub(super) fn indifference(answer: &Comparison) -> String {
    let sure = answer.sure.as_ref();
    amount(answer, sure.map_or(0.0, |sure| sure.indifference))
}

/// An amount of the judging figure, with its unit.
fn amount(answer: &Comparison, value: f64) -> String {
    let column = answer.judged_by();
    let decimals = (0..6)
        .find(|places| {
            let shown = match column.unit {
                FigureUnit::Share => value * 100.0,
                _ => value,
            } * libm::pow(10.0, f64::from(*places));
            (shown - libm::round(shown)).abs() < 1e-6
        })
        .unwrap_or(6) as usize;
    match column.unit {
        FigureUnit::Share => format!(
            "{} percentage points",
            Unit::Plain.show(value * 100.0, decimals)
        ),
        FigureUnit::Money => format!(
            "{} {}",
            unit(column).show(value, decimals),
            per(answer.days)
        ),
        FigureUnit::MoneyPerYd3 => format!(
            "{} per {}",
            unit(column).show(value, decimals.max(2)),
            Quantity::Volume.unit()
        ),
        unit => format!("{} {}", Unit::Plain.show(value, decimals), unit.text())
            .trim_end()
            .to_owned(),
    }
}

/// How the best was selected and how precise the differences are, where that was asked for.
pub(super) fn sentences(answer: &Comparison) -> Vec<String> {
    let mut sentences = Vec::new();
    let level = level(answer.level);
    let label = &answer.judged_by().label;
    if let Some(sure) = &answer.sure {
        let (selected, within) = (&sure.selected, amount(answer, sure.indifference));
        let own = format!(
            "{} of its own ({})",
            runs(selected.replications),
            Block::Selection.words(selected.replications)
        );
        sentences.push(match (selected.best(), selected.at_most) {
            (Some(best), _) => format!(
                "Sure: {} was selected with {level} confidence as the best of {} on {label}, differences up to {within} not mattering, in \
                 {own}; the figures here are from others ({}).",
                quoted(answer, best),
                answer.rules.len(),
                Block::Compared.words(answer.replications())
            ),
            (None, at_most) => {
                let left = selected.survivors.iter();
                let left: Vec<String> = left.map(|rule| quoted(answer, *rule)).collect();
                let needed = at_most.map_or("more than 50 runs".to_owned(), |needed| {
                    format!("at most {}", runs(needed + selected.blanks))
                });
                format!(
                    "Not sure yet: {} may be the best after the selection's {own}. To be {level} sure within {within} takes {needed} \
                     (--max-replications).",
                    listed(&left, "or")
                )
            }
        });
        if selected
            .best()
            .is_some_and(|best| !answer.selection_tells(best))
        {
            sentences.push(format!(
                "The selection goes by averages and decides nothing here: too few of the runs differ on {label} for one."
            ));
        }
        if selected.blanks > 0 {
            sentences.push(format!(
                "Of the selection's runs {} had no {label} under some rule and were left out.",
                count(selected.blanks),
            ));
        }
    }
    if let Some(precision) = &answer.precision {
        let wanted = amount(answer, precision.wanted);
        let unit = unit(answer.judged_by());
        let reached = unit.show(precision.reached, unit.decimals(precision.reached));
        sentences.push(if precision.reached <= precision.wanted {
            format!("The precision asked for is met: give or take {reached}, {wanted} asked for.")
        } else {
            let needed = precision
                .would_take
                .map_or("more runs than can be said".to_owned(), |needed| {
                    format!("about {}", runs(needed))
                });
            format!(
                "The precision asked for, give or take {wanted}, is not met; it takes {needed} (--max-replications)."
            )
        });
    }
    sentences
}
