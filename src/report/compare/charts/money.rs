//! Where the money goes.

use crate::observe::{CostPart, MoneyKind};
use crate::report::answer::{Answer, Cell, Column, Table};
use crate::report::chart::stacked::{self, Stacked};
use crate::report::compare::{same_days, sentences};
use crate::report::number::Unit;
use crate::report::period;
use crate::studies::Comparison;

pub(super) fn add(answer: &Comparison, to: &mut Answer) {
    let per_period = |rule: usize, part: CostPart| answer.rules[rule].profile.mean_cost(part);
    let of_kinds = |rule: usize, kinds: &[MoneyKind]| {
        let parts = drawn().filter(|part| kinds.contains(&part.kind()));
        parts.map(|part| per_period(rule, part)).sum::<f64>()
    };
    let of_bar = |rule: usize, bar: &str| {
        let parts = drawn().filter(|part| bar_of(*part) == Some(bar));
        parts.map(|part| per_period(rule, part)).sum::<f64>()
    };
    let rules = 0..answer.rules.len();
    let bars: Vec<&str> = BARS
        .into_iter()
        .filter(|bar| rules.clone().any(|rule| of_bar(rule, bar) > 0.0))
        .collect();
    let not_cash = of_kinds(answer.base, &[MoneyKind::LostSales, MoneyKind::Trouble]);
    let cash = of_kinds(answer.base, &[MoneyKind::Cash]);
    let title = format!(
        "Under {} lost sales and priced trouble make {} of the {} of cost {} besides material",
        sentences::base(answer),
        Unit::Money.show(not_cash, 0),
        Unit::Money.show(cash + not_cash, 0),
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
        parts: bars.iter().map(|bar| (*bar).to_owned()).collect(),
        bars: rules
            .clone()
            .map(|rule| {
                let parts = bars.iter().map(|bar| of_bar(rule, bar)).collect();
                (answer.rules[rule].name.clone(), parts)
            })
            .collect(),
    });
    let columns = ["rule", "part", "kind", "drawn as", "cost"];
    let mut table = Table::new("money", columns.map(Column::file).into());
    for (place, rule) in answer.rules.iter().enumerate() {
        for part in CostPart::ALL {
            let cost = per_period(place, part);
            if !part.is_listed(cost) {
                continue;
            }
            table.row([
                rule.name.as_str().into(),
                part.words().into(),
                part.kind().words().into(),
                bar_of(part).map_or(Cell::Blank, Cell::from),
                cost.into(),
            ]);
        }
    }
    to.tables.push(table);
    to.add_chart("money", "Where the money goes", title, svg, "money");
}

/// What the chart tells apart, in the order of its bars: cash, lost sales, trouble.
const BARS: [&str; 8] = [
    "regular pay and taxes",
    "overtime",
    "fuel and wear",
    "plant crews and other cash",
    "dumped concrete",
    "lost sales",
    "late loads and gaps",
    "other trouble",
];

/// The bar of a part. None: it is not drawn. Material is the same under every rule but for what is wasted, and would hide the rest.
fn bar_of(part: CostPart) -> Option<&'static str> {
    use CostPart as P;
    let bar = match part {
        P::Material | P::TruckHours => return None,
        P::Pay | P::Unworked | P::PayrollTax => 0,
        P::Overtime => 1,
        P::Driving => 2,
        P::Crews | P::Helpers | P::Lodging | P::Washouts | P::Fines | P::Haulers => 3,
        P::Dumped => 4,
        P::LostSales => 5,
        P::Late | P::Gaps => 6,
        P::BrokenPours
        | P::Undelivered
        | P::Moved
        | P::Weak
        | P::Outside
        | P::Stranded
        | P::Standby => 7,
    };
    Some(BARS[bar])
}

fn drawn() -> impl Iterator<Item = CostPart> {
    let parts = CostPart::ALL.into_iter();
    parts.filter(|part| bar_of(*part).is_some())
}
