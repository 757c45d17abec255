//! Where the money goes.

use super::same_days;
use crate::observe::CostPart;
use crate::report::chart::stacked::{self, Stacked};
use crate::report::compare::sentences;
use crate::report::number::Unit;
use crate::studies::Comparison;

pub(super) fn chart(answer: &Comparison) -> String {
    let per_period = |rule: usize, part: CostPart| {
        let profile = &answer.rules[rule].profile;
        profile.cost[part as usize] as f64 / 100.0 / profile.replications.max(1) as f64
    };
    let parts: Vec<CostPart> = CostPart::ALL
        .into_iter()
        .filter(|part| *part != CostPart::Material)
        .collect();
    let parts: Vec<CostPart> = parts
        .into_iter()
        .filter(|part| (0..answer.rules.len()).any(|rule| per_period(rule, *part) > 0.0))
        .collect();
    let total = |rule: usize| {
        parts
            .iter()
            .map(|part| per_period(rule, *part))
            .sum::<f64>()
    };
    let trouble = |rule: usize| {
        [
            CostPart::Late,
            CostPart::Undelivered,
            CostPart::Stranded,
            CostPart::Dumped,
        ]
        .iter()
        .map(|part| per_period(rule, *part))
        .sum::<f64>()
    };
    let title = format!(
        "{} of the {} that {} costs {} beside material is the price of late, lost and undelivered loads and stranded drivers",
        Unit::Money.show(trouble(answer.base), 0),
        Unit::Money.show(total(answer.base), 0),
        sentences::base(answer),
        sentences::period(answer.days)
    );
    stacked::svg(&Stacked {
        title,
        subtitle: format!(
            "Mean cost {} without material, on {}",
            sentences::period(answer.days),
            same_days(answer)
        ),
        axis: format!("cost {}", sentences::period(answer.days)),
        unit: Unit::Money,
        parts: parts.iter().map(|part| part.words().to_owned()).collect(),
        bars: (0..answer.rules.len())
            .map(|rule| {
                (
                    answer.rules[rule].name.clone(),
                    parts.iter().map(|part| per_period(rule, *part)).collect(),
                )
            })
            .collect(),
    })
}
