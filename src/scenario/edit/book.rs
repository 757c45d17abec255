//! More or fewer orders in the book.

use crate::scenario::{Order, Scenario};

/// Every so-many-th order, from the middle of the first stretch on, is left out, or comes once more under a name of its own.
pub(super) fn so_many_times(scenario: &mut Scenario, factor: f64) {
    let written = scenario.orders.iter().filter(|order| order.slot.is_none());
    let written = written.count();
    let mut change = libm::round((factor - 1.0).abs() * written as f64) as usize;
    if factor < 1.0 {
        // One stays.
        change = change.min(written.saturating_sub(1));
    }
    let chosen = |nth: usize| (2 * nth + 1) * written / (2 * change);
    // Along the book by time, not by how it is written.
    let mut by_time: Vec<usize> = (0..written).collect();
    by_time.sort_by_key(|at| scenario.orders[*at].first);
    let chosen: Vec<usize> = (0..change).map(|nth| by_time[chosen(nth)]).collect();
    if factor > 1.0 {
        let again = chosen.iter().map(|at| {
            let order = &scenario.orders[*at];
            Order {
                name: format!("{} (once more)", order.name),
                ..order.clone()
            }
        });
        let again: Vec<Order> = again.collect();
        // Those written one by one stand first.
        scenario.orders.splice(written..written, again);
    } else {
        let mut at = 0;
        scenario.orders.retain(|_| {
            at += 1;
            !chosen.contains(&(at - 1))
        });
    }
    for drawn in &mut scenario.drawn {
        drawn.per_day = drawn.per_day.times(factor);
    }
}
