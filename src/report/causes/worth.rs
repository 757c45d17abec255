//! What each change is worth, with its interval.

use super::sentences;
use crate::report::answer::Answer;
use crate::report::chart::differences::{self, Better, Difference, Differences};
use crate::report::number::{Unit, level};
use crate::report::period::per;
use crate::report::plain_text::capital;
use crate::studies::Counterfactuals;

pub(super) fn add_chart(answer: &Counterfactuals, to: &mut Answer) {
    let rows = answer.changes.iter().map(|change| Difference {
        name: capital(change.change.words()),
        mean: Some(change.worth.mean),
        interval: change.worth.interval,
        begins: None,
    });
    let svg = differences::svg(&Differences {
        title: title(answer),
        subtitle: format!(
            "One thing changed at a time, on the same days under \"{}\"; bars: {} intervals, for all changes at once",
            answer.rule,
            level(answer.level)
        ),
        baseline: "today".into(),
        axis: format!(
            "cost saved {}, before what the change costs",
            per(answer.days)
        ),
        unit: Unit::Money,
        better: Better::Higher,
        rows: rows.collect(),
    });
    to.add_chart(
        "worth",
        "What each change is worth",
        title(answer),
        svg,
        "worth",
    );
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
    format!("Worth most {}: {}", per(answer.days), worth.join(", "))
}
