//! Prices under which work is better left undone.

use crate::report::number::money;
use crate::scenario::Scenario;
use crate::units::Rate;
use crate::units::measure::Quantity;

pub(super) fn prices(scenario: &Scenario, doubts: &mut Vec<String>) {
    let prices = &scenario.money;
    let shown = |rate: Rate| money(Quantity::PerVolume.told(rate.units()));
    let one = Quantity::PerVolume.unit().replacen('a', "A", 1);
    let material = prices.material_per_yd3;
    let sale = std::iter::once(prices.revenue.per_yd3)
        .chain(prices.revenue.prices.iter().map(|(_, price)| *price))
        .min()
        .unwrap_or_default();
    if sale <= material {
        doubts.push(format!(
            "{} is sold for {} and its material costs {}: every load not delivered saves money",
            one,
            shown(sale),
            shown(material)
        ));
    } else if prices.undelivered_per_yd3 < sale - material {
        doubts.push(format!(
            "{} that is not delivered is priced at {} of goodwill, less than the {} that it would have contributed (sale price less \
             material); the lost sale itself is counted apart",
            one,
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
