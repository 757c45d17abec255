//! Where the money goes.

use crate::observe::{CostPart, MoneyKind};
use crate::report::answer::{Answer, Column, Table};
use crate::report::chart::stacked::{self, Stacked};
use crate::report::compare::{same_days, sentences};
use crate::report::number::Unit;
use crate::report::period;
use crate::studies::Comparison;

pub(super) fn add(answer: &Comparison, to: &mut Answer) {
    let per_period = |rule: usize, part: CostPart| {
        let profile = &answer.rules[rule].profile;
        profile.cost[part as usize] as f64 / 100.0 / profile.replications.max(1) as f64
    };
    let all_rules = |part: CostPart| {
        (0..answer.rules.len())
            .map(|rule| per_period(rule, part))
            .sum::<f64>()
    };
    let mut parts: Vec<CostPart> = CostPart::ALL
        .into_iter()
        .filter(|part| *part != CostPart::Material && part.kind() != MoneyKind::Capacity)
        .filter(|part| all_rules(*part) > 0.0)
        .collect();
    parts.sort_by(|a, b| all_rules(*b).total_cmp(&all_rules(*a)));
    let (drawn, rest) = parts.split_at(stacked::most_drawn(parts.len()));
    let total = |rule: usize| {
        parts
            .iter()
            .map(|part| per_period(rule, *part))
            .sum::<f64>()
    };
    let trouble = |rule: usize| {
        [
            CostPart::Late,
            CostPart::Gaps,
            CostPart::BrokenPours,
            CostPart::LostSales,
            CostPart::Undelivered,
            CostPart::Stranded,
            CostPart::Dumped,
        ]
        .iter()
        .map(|part| per_period(rule, *part))
        .sum::<f64>()
    };
    let title = format!(
        "Under {} late, lost and undelivered loads and stranded drivers cost {} of the {} spent {} besides material (dumped concrete not counted)",
        sentences::base(answer),
        Unit::Money.show(trouble(answer.base), 0),
        Unit::Money.show(total(answer.base), 0),
        period::per(answer.days)
    );
    let svg = stacked::svg(&Stacked {
        title: title.clone(),
        subtitle: format!(
            "Average cost {} without material, over {}",
            period::per(answer.days),
            same_days(answer)
        ),
        axis: format!("cost {}", period::per(answer.days)),
        unit: Unit::Money,
        parts: drawn
            .iter()
            .map(|part| part.words().to_owned())
            .chain((!rest.is_empty()).then(|| "all else".to_owned()))
            .collect(),
        bars: (0..answer.rules.len())
            .map(|rule| {
                let own = drawn.iter().map(|part| per_period(rule, *part));
                let other = rest.iter().map(|part| per_period(rule, *part)).sum();
                let other = (!rest.is_empty()).then_some(other);
                (answer.rules[rule].name.clone(), own.chain(other).collect())
            })
            .collect(),
    });
    let columns = ["rule", "part", "cost"];
    let mut table = Table::new("money", columns.map(Column::file).into());
    for (place, rule) in answer.rules.iter().enumerate() {
        for part in CostPart::ALL {
            let cost = per_period(place, part);
            table.row([rule.name.as_str().into(), part.words().into(), cost.into()]);
        }
    }
    to.tables.push(table);
    to.add_chart("money", "Where the money goes", title, svg, "money");
}
