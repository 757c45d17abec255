//! At which price another rule would be the better one.
//!
//! Costs are sums of parts, and a part is in proportion to its price, so that the answer follows from the averages of one comparison:
//! with the parts' differences d and the whole difference D, the two rules cost the same where the price is 1 − D ÷ d times today's.
//! What the rules *do* does not follow the price; where a rule weighs prices itself (the cheapest truck), that is left out.

use super::compare::Comparison;
use crate::observe::{CostPart, figure};
use crate::scenario::Scenario;
use crate::units::measure::{self, Quantity};
use crate::units::{Cents, Rate};

/// A price and the point at which it turns the decision.
#[derive(Clone, Debug, PartialEq)]
pub struct BreakEven {
    /// Which price, in plain words.
    pub price: &'static str,
    /// What it is a price of: `a yd³`; empty where several prices move together.
    pub per: &'static str,
    /// Its value in the scenario; none where several prices move together.
    pub today: Option<f64>,
    /// The factor at which the other rule costs the same; below 1: the other is better with a lower price.
    pub factor: f64,
    /// The position of the other rule among those compared.
    pub to: usize,
}

/// Factors beyond this are no doubt that anybody has.
const MOST: f64 = 5.0;

/// A price, or several that move together, and the parts of the cost that are in proportion to it.
struct Priced {
    words: &'static str,
    per: &'static str,
    today: Option<f64>,
    parts: &'static [CostPart],
}

fn prices(scenario: &Scenario) -> Vec<Priced> {
    let money = &scenario.money;
    let one = |words, per, cents: Cents, parts| Priced {
        words,
        per,
        today: Some(cents.units()),
        parts,
    };
    let of_volume = |words, rate: Rate, parts| Priced {
        words,
        per: Quantity::PerVolume.unit(),
        today: Some(Quantity::PerVolume.told(rate.units())),
        parts,
    };
    let several = |words, parts| Priced {
        words,
        per: "",
        today: None,
        parts,
    };
    vec![
        several("lateness", &[CostPart::Late]),
        several(
            "pay",
            &[CostPart::Pay, CostPart::Overtime, CostPart::PayrollTax],
        ),
        several("a sale lost", &[CostPart::LostSales]),
        several("fuel and wear", &[CostPart::Driving]),
        several("orders moved", &[CostPart::Moved]),
        of_volume(
            if measure::is_si() {
                "an undelivered m³"
            } else {
                "an undelivered yd³"
            },
            money.undelivered_per_yd3,
            &[CostPart::Undelivered],
        ),
        one(
            "a stranded driver",
            "each",
            money.stranded,
            &[CostPart::Stranded],
        ),
        of_volume("material", money.material_per_yd3, &[CostPart::Material]),
        of_volume("dumped concrete", money.dumped_per_yd3, &[CostPart::Dumped]),
        one(
            "a gap in a pour",
            "a minute",
            money.gap_per_min,
            &[CostPart::Gaps],
        ),
        one(
            "a pour broken off",
            "each",
            money.broken_pour,
            &[CostPart::BrokenPours],
        ),
        one(
            "a plant's crew",
            "an hour",
            money.crew_per_open_h,
            &[CostPart::Crews],
        ),
        one(
            "a load below strength",
            "each",
            money.below_strength,
            &[CostPart::Weak],
        ),
        one(
            "a truck waiting outside",
            "each",
            money.outside_per_load,
            &[CostPart::Outside],
        ),
    ]
}

/// For every price the nearest point, below and above, at which another rule would cost less than this one. Empty where the comparison
/// is not judged by the cost.
pub(super) fn break_even(scenario: &Scenario, found: &Comparison, rule: usize) -> Vec<BreakEven> {
    let mut all = Vec::new();
    if found.judge != figure::COST || found.barred[rule].is_some() {
        return all;
    }
    let part = |rule: usize, part: CostPart| found.rules[rule].profile.mean_cost(part);
    let mean = |rule: usize| found.judged(rule).summary.mean().unwrap_or_default();
    for price in prices(scenario) {
        let mut below: Option<BreakEven> = None;
        let mut above: Option<BreakEven> = None;
        for other in (0..found.rules.len()).filter(|other| *other != rule) {
            if found.barred[other].is_some() {
                continue;
            }
            let more: f64 = price
                .parts
                .iter()
                .map(|p| part(rule, *p) - part(other, *p))
                .sum();
            let factor = 1.0 - (mean(rule) - mean(other)) / more;
            if !factor.is_finite() || !(0.0..=MOST).contains(&factor) || factor == 1.0 {
                continue;
            }
            let side = if factor < 1.0 { &mut below } else { &mut above };
            let nearer = side
                .as_ref()
                .is_none_or(|other| (factor - 1.0).abs() < (other.factor - 1.0).abs());
            if nearer {
                *side = Some(BreakEven {
                    price: price.words,
                    per: price.per,
                    today: price.today.filter(|today| *today > 0.0),
                    factor,
                    to: other,
                });
            }
        }
        all.extend(below.into_iter().chain(above));
    }
    let away = |point: &BreakEven| (point.factor - 1.0).abs();
    all.sort_by(|a, b| away(a).total_cmp(&away(b)));
    all
}
