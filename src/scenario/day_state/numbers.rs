//! Numbers of loads that are not written: those on trucks are the last that were sent, those promised come after them.

use super::{DriverState, OrderState, carried, carried_mut};
use crate::units::{Millis, OrderId};

/// The number of a load of which it is not written.
pub(super) const NO_NUMBER: u32 = u32::MAX;

/// Gives the loads of an order on trucks its last numbers, the one batched first the lowest.
pub(super) fn on_trucks(drivers: &mut [DriverState], order: OrderId, loads: u32) {
    let mut unnumbered: Vec<(Millis, usize)> = drivers
        .iter()
        .enumerate()
        .filter_map(|(at, of)| {
            let load = carried(&of.doing)?;
            (load.order == order && load.number == NO_NUMBER).then_some((load.batched, at))
        })
        .collect();
    unnumbered.sort_unstable();
    let first = loads - unnumbered.len() as u32;
    for (nth, (_, at)) in (first..).zip(unnumbered) {
        if let Some(load) = carried_mut(&mut drivers[at].doing) {
            load.number = nth;
        }
    }
}

/// Gives promised loads the numbers after those that were sent or promised by number, who waits longest the lowest.
pub(super) fn promised(orders: &[OrderState], drivers: &mut [DriverState]) {
    let mut unnumbered: Vec<(Millis, usize)> = drivers
        .iter()
        .enumerate()
        .filter(|(_, of)| of.next.is_some_and(|next| next.number == NO_NUMBER))
        .map(|(at, of)| (of.since, at))
        .collect();
    unnumbered.sort_unstable();
    for (_, at) in unnumbered {
        let Some(order) = drivers[at].next.map(|next| next.order) else {
            continue;
        };
        let number = after_all(orders, drivers, order);
        if let Some(next) = &mut drivers[at].next {
            next.number = number;
        }
    }
}

/// The number after all loads of an order that were sent or promised.
pub(super) fn after_all(orders: &[OrderState], drivers: &[DriverState], order: OrderId) -> u32 {
    let sent = orders.iter().find(|of| of.order == order);
    let promised = drivers.iter().filter_map(|of| of.next);
    let promised = promised.filter(|next| next.order == order && next.number != NO_NUMBER);
    promised
        .map(|next| next.number + 1)
        .chain(sent.map(|of| of.loads))
        .max()
        .unwrap_or(0)
}
