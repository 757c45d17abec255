//! The chart of paired differences against today's rule.

use super::{heading, sentences, unit};
use crate::observe::Better;
use crate::report::chart::differences::{self, Difference, Differences};
use crate::report::number::count;
use crate::studies::Comparison;

/// The chart; none if there is no rule beside today's.
pub(super) fn differences(answer: &Comparison) -> Option<String> {
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
    let same = if answer.days == 1 {
        "days".into()
    } else {
        format!("periods of {} days", answer.days)
    };
    Some(differences::svg(&Differences {
        title: sentences::decision(answer),
        subtitle: format!(
            "Mean difference on the same {} {same}, with intervals that hold together at {:.0} %",
            count(answer.replications()),
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
