//! When drivers are called in for a pour.

use super::timetable::Trips;
use crate::engine::Spread;
use crate::plant::Plan;
use crate::roads::{Belief, Haul};
use crate::scenario::{LoadOnPaper, Scenario};
use crate::units::{Millis, OrderId};

/// Trips and pre-trips of a driver who is called in are reckoned with what this share of them stays within.
pub(super) const CALL_QUANTILE: f64 = 0.95;
/// Standing at the plant before the first load, at least.
const CALL_EARLY: Millis = Millis(10 * Millis::MINUTE.0);

/// When the driver of the first load is called in: early enough for all but one pre-trip and one trip in twenty.
pub(super) fn first_call(
    scenario: &Scenario,
    (plan, trips): (&Plan, &Trips<'_>),
    rule: usize,
    pour: OrderId,
    load: &LoadOnPaper,
) -> Millis {
    let order = &scenario.orders[pour.at()];
    let rack = load.rack.max(plan.policies[rule].reads_after);
    let rule = &scenario.rules[rule];
    let way = (scenario.plant_place(load.plant), order.stay.site);
    let trip = [
        Belief::TimeOfDay {
            quantile: Some(CALL_QUANTILE),
        },
        // Sends by its own belief, which may be further from the truth.
        rule.belief,
    ]
    .into_iter()
    .map(|belief| trips.believed(belief, way, Haul::Loaded, order.first - load.out))
    .max()
    .unwrap_or(Millis::ZERO);
    let allowance = Millis::from_minutes(rule.early_min + rule.bay_wait_min);
    let early = if is_constant(&scenario.yard.pre_trip) {
        Millis::ZERO
    } else {
        CALL_EARLY
    };
    let pre_trip = Millis::from_minutes(scenario.yard.pre_trip.sampler().at(CALL_QUANTILE));
    let call = order.first - trip - load.loading - rack - allowance - pre_trip - early;
    call.max(Millis::ZERO)
}

fn is_constant(spread: &Spread) -> bool {
    matches!(spread, Spread::Constant(_))
}
