//! What the rules change in the figure that they are judged by.

use crate::report::answer::Answer;
use crate::report::chart::differences::{self, Difference, Differences};
use crate::report::compare::{more_is_better, same_days, sentences, side_by_side};
use crate::report::figure::{heading, unit};
use crate::report::number::{Unit, level};
use crate::report::period;
use crate::statistics::{Contrast, Interval};
use crate::studies::Comparison;

pub(super) fn add(answer: &Comparison, to: &mut Answer) {
    let column = answer.judged_by();
    let said: Vec<(&str, Contrast)> = answer
        .rules
        .iter()
        .filter_map(|rule| {
            let difference = rule.figures[answer.judge].difference?;
            Some((rule.name.as_str(), difference.said))
        })
        .collect();
    if said.is_empty() {
        return;
    }
    // One axis: of averages, or where all that is said is how often there is any, of chances.
    let of_chances = said
        .iter()
        .all(|(_, said)| matches!(said, Contrast::Chance { any: true, .. }));
    let row = |(name, said): (&str, Contrast)| {
        let told = match said {
            Contrast::Mean { mean, interval } => Some((mean, interval)),
            Contrast::Chance {
                more,
                less,
                of,
                interval,
                ..
            } if of_chances => Some(((more as f64 - less as f64) / of as f64, interval)),
            _ => None,
        };
        Difference {
            name: name.to_owned(),
            mean: told.map(|(value, _)| value),
            interval: told.map_or(Interval::UNBOUNDED, |(_, interval)| interval),
            begins: None,
        }
    };
    let finding = sentences::decision(answer);
    let (axis, unit) = if of_chances {
        let noun = period::noun(answer.days);
        let axis = format!("difference in the share of {noun}s with {}", column.label);
        (axis, Unit::Share)
    } else {
        let per = period::per(answer.days);
        let axis = format!("difference in {} {per}", heading(column));
        (axis, unit(column))
    };
    let svg = differences::svg(&Differences {
        title: finding.clone(),
        subtitle: format!(
            "{} over {}, with intervals that hold together at {}",
            if of_chances {
                "Difference"
            } else {
                "Average difference"
            },
            same_days(answer),
            level(answer.level)
        ),
        baseline: answer.rules[answer.base].name.clone(),
        axis,
        unit,
        better: if more_is_better(answer) {
            differences::Better::Higher
        } else {
            differences::Better::Lower
        },
        rows: said.into_iter().map(row).collect(),
    });
    to.add_chart(
        "differences",
        "What the rules change",
        finding,
        svg,
        side_by_side::DIFFERENCES,
    );
}
