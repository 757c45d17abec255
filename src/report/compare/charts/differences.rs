//! What the rules change in the figure that they are judged by.

use super::same_days;
use crate::observe::Better;
use crate::report::chart::differences::{self, Difference, Differences};
use crate::report::compare::{heading, sentences, unit};
use crate::studies::Comparison;

pub(super) fn chart(answer: &Comparison) -> Option<String> {
    let column = answer.judged_by();
    let rows: Vec<Difference> = answer
        .rules
        .iter()
        .filter_map(|rule| {
            let difference = rule.figures[answer.judge].difference.as_ref()?;
            Some(Difference {
                name: rule.name.clone(),
                mean: difference.mean,
                interval: difference.interval,
            })
        })
        .collect();
    if rows.is_empty() {
        return None;
    }
    Some(differences::svg(&Differences {
        title: sentences::decision(answer),
        subtitle: format!(
            "Mean difference on {}, with intervals that hold together at {:.0} %",
            same_days(answer),
            answer.level * 100.0
        ),
        baseline: answer.rules[answer.base].name.clone(),
        axis: format!(
            "difference in {} {}",
            heading(column),
            sentences::period(answer.days)
        ),
        unit: unit(column),
        better: if column.better == Better::More {
            differences::Better::Higher
        } else {
            differences::Better::Lower
        },
        rows,
    }))
}
