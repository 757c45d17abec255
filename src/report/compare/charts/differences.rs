//! What the rules change in the figure that they are judged by.

use crate::report::answer::Answer;
use crate::report::chart::differences::{self, Difference, Differences};
use crate::report::compare::{more_is_better, same_days, sentences, side_by_side};
use crate::report::figure::{heading, unit};
use crate::report::number::level;
use crate::report::period;
use crate::statistics::Interval;
use crate::studies::Comparison;

pub(super) fn add(answer: &Comparison, to: &mut Answer) {
    let column = answer.judged_by();
    let rows: Vec<Difference> = answer
        .rules
        .iter()
        .filter_map(|rule| {
            let said = rule.figures[answer.judge].difference.as_ref()?.said;
            let mean = said.mean();
            Some(Difference {
                name: rule.name.clone(),
                mean: mean.map(|(mean, _)| mean),
                interval: mean.map_or(Interval::UNBOUNDED, |(_, interval)| interval),
                begins: None,
            })
        })
        .collect();
    if rows.is_empty() {
        return;
    }
    let finding = sentences::decision(answer);
    let svg = differences::svg(&Differences {
        title: finding.clone(),
        subtitle: format!(
            "Average difference over {}, with intervals that hold together at {}",
            same_days(answer),
            level(answer.level)
        ),
        baseline: answer.rules[answer.base].name.clone(),
        axis: format!(
            "difference in {} {}",
            heading(column),
            period::per(answer.days)
        ),
        unit: unit(column),
        better: if more_is_better(answer) {
            differences::Better::Higher
        } else {
            differences::Better::Lower
        },
        rows,
    });
    to.add_chart(
        "differences",
        "What the rules change",
        finding,
        svg,
        side_by_side::DIFFERENCES,
    );
}
