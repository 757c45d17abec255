//! What was found of tickets in the units that are spoken here.

use crate::statistics::Interval;
use crate::studies::tickets::{Check, Measure, TicketFits, Unit};
use crate::units::measure::Quantity;

/// Fits with their numbers by volume told here.
pub(super) fn fits(found: &TicketFits) -> TicketFits {
    let mut told = found.clone();
    let parameters = told.legs.iter_mut().filter_map(|leg| leg.found.as_mut());
    for parameter in parameters.flat_map(|found| &mut found.parameters) {
        let quantity = match parameter.unit {
            Unit::MinutesPerYard => Quantity::PerVolume,
            Unit::YardsPerMinute => Quantity::Volume,
            Unit::Minutes | Unit::Plain => continue,
        };
        parameter.value = quantity.told(parameter.value);
        parameter.error = parameter.error.map(|error| quantity.told(error));
    }
    told
}

/// A comparison with its volumes told here.
pub(super) fn check(found: &Check) -> Check {
    let mut told = found.clone();
    let volume = |us: f64| Quantity::Volume.told(us);
    let ends = |interval: Interval| Interval {
        low: volume(interval.low),
        high: volume(interval.high),
    };
    for one in &mut told.compared {
        if one.measure == Measure::Yards {
            one.recorded = one.recorded.map(volume);
            one.simulated = one.simulated.map(volume);
            one.difference = volume(one.difference);
            one.interval = ends(one.interval);
            one.width = (volume(one.width.0), ends(one.width.1));
        }
    }
    told
}
