//! How many loads are asked for.

use super::{DrawnOrders, Order, Scenario};

/// A load of a drawn order, yd³.
const USUAL_YD3: f64 = 10.0;

/// The loads of written orders, and about those of drawn ones, in so many days.
pub(super) fn of(orders: &[Order], drawn: &[DrawnOrders], days: u32) -> f64 {
    let written = orders.iter().filter(|order| order.slot.is_none());
    let written = written.map(|order| (order.volume.yd3() / order.load.yd3()).ceil());
    let usual = |volume: f64| (volume / USUAL_YD3).ceil();
    let drawn = drawn
        .iter()
        .map(|drawn| f64::from(days) * drawn.per_day.mean() * usual(drawn.volume.mean()));
    written.chain(drawn).sum()
}

impl Scenario {
    /// About how many loads the orders of a volume ask for in a period.
    pub fn loads(&self) -> f64 {
        of(&self.orders, &self.drawn, self.period.days)
    }
}
