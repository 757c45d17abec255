//! What each change is worth, with its interval.

use super::sentences::{self, level, period};
use crate::report::chart::differences::{self, Better, Difference, Differences};
use crate::report::number::Unit;
use crate::studies::Counterfactuals;

/// The chart as SVG text.
pub(super) fn worth(answer: &Counterfactuals) -> String {
    let rows = answer.changes.iter().map(|change| Difference {
        name: sentences::capital(change.change.words()),
        mean: Some(change.worth.mean),
        interval: change.worth.interval,
    });
    differences::svg(&Differences {
        title: title(answer),
        subtitle: format!(
            "One thing changed at a time, on the same days under \"{}\"; bars: {} intervals, for all changes at once",
            answer.rule,
            level(answer)
        ),
        baseline: "as it is".into(),
        axis: format!(
            "cost saved {}, before what the change costs",
            period(answer.days)
        ),
        unit: Unit::Money,
        better: Better::Higher,
        rows: rows.collect(),
    })
}

/// Short: the first three by worth.
fn title(answer: &Counterfactuals) -> String {
    let worth: Vec<String> = answer
        .changes
        .iter()
        .filter(|change| change.worth.told_apart() && change.worth.mean > 0.0)
        .take(3)
        .map(|change| {
            format!(
                "{} {}",
                change.change.words(),
                sentences::money(change.worth.mean, change.worth.interval)
            )
        })
        .collect();
    if worth.is_empty() {
        return "No change is shown to be worth anything".into();
    }
    format!("Worth most {}: {}", period(answer.days), worth.join(", "))
}
