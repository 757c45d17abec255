//! Orders whose own numbers do not fit together.

use super::Pour;
use crate::report::summary::orders::when;
use crate::report::summary::words::minutes;
use crate::scenario::Scenario;
use crate::units::Millis;

pub(super) fn order(pour: &Pour<'_>, scenario: &Scenario, doubts: &mut Vec<String>) {
    let order = pour.order;
    let discharge = order.stay.mean_discharge().mean(order.load);
    let pause = order.spacing - discharge;
    if pour.load.loads > 1 && pause > order.gap {
        doubts.push(format!(
            "{}: loads {} apart that unload in {} leave pauses of {}, and {} are tolerated",
            order.name,
            minutes(order.spacing),
            minutes(discharge),
            minutes(pause),
            minutes(order.gap)
        ));
    }
    let pace = pour.load.least_on_site;
    if pour.load.loads > 1 && pace > order.spacing + Millis(1) {
        doubts.push(format!(
            "{}: the site takes a load every {} at best, and loads are due every {}: the last of {} waits {}",
            order.name,
            minutes(pace),
            minutes(order.spacing),
            pour.load.loads,
            minutes((pace - order.spacing) * (pour.load.loads - 1))
        ));
    }
    let done = (pour.last_due() + order.setup)
        .max(order.first + order.setup + pace * (pour.load.loads - 1))
        + pour.load.unloading;
    if let Some(by) = order.finish_by
        && done > by
    {
        doubts.push(format!(
            "{}: agreed to be finished by {}, and its last load is done at about {} if every load is on time",
            order.name,
            when(by, scenario),
            when(Millis(done.0.div_euclid(60_000) * 60_000), scenario)
        ));
    }
}
