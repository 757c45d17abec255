//! Prices under which work is better left undone.

use crate::report::number::money;
use crate::scenario::Scenario;
use crate::units::Cents;

pub(super) fn prices(scenario: &Scenario, doubts: &mut Vec<String>) {
    let prices = &scenario.money;
    let shown = |cents: Cents| money(cents.units());
    let material = prices.material_per_yd3;
    let sale = std::iter::once(prices.revenue.per_yd3)
        .chain(prices.revenue.prices.iter().map(|(_, price)| *price))
        .min()
        .unwrap_or_default();
    if sale <= material {
        doubts.push(format!(
            "A yd³ is sold for {} and its material costs {}: every load not delivered saves money",
            shown(sale),
            shown(material)
        ));
    } else if prices.undelivered_per_yd3 < sale - material {
        doubts.push(format!(
            "A yd³ that is not delivered is priced at {} of goodwill, less than the {} that it would have contributed (sale price less \
             material); the lost sale itself is counted apart",
            shown(prices.undelivered_per_yd3),
            shown(sale - material)
        ));
    }
    for (mix, _) in &prices.revenue.prices {
        let ordered = scenario.orders.iter().any(|order| order.mix == *mix);
        let endless = scenario.endless.iter().any(|order| order.mix == *mix);
        if !ordered && !endless {
            doubts.push(format!(
                "The mix {mix:?} has a price of its own, and no order asks for it"
            ));
        }
    }
}
