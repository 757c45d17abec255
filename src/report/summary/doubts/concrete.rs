//! Returned concrete that is reused, and numbers that go against it.

use super::Pour;
use crate::report::summary::words::minutes;
use crate::scenario::Scenario;
use crate::units::Millis;

pub(super) fn reuse(pours: &[Pour<'_>], scenario: &Scenario, doubts: &mut Vec<String>) {
    let concrete = &scenario.concrete;
    let Some(reuse) = concrete.reuse else { return };
    if scenario.changes.returned == 0.0 {
        doubts.push(
            "Returned concrete is reused, and none comes back without `returned` in `changes`"
                .into(),
        );
    }
    let Some(limit) = age_limit(scenario) else {
        return;
    };
    let age = |pour: &Pour<'_>| pour.trip.lead() + pour.trip.unloading;
    let nearest = pours.iter().map(age).min().unwrap_or(Millis::ZERO);
    if reuse.age_limit >= limit {
        doubts.push(format!(
            "Returned concrete is reused up to {} old, and the age limit of the load on top of it is {}: such a load is turned \
             away on site",
            minutes(reuse.age_limit),
            minutes(limit)
        ));
    } else if reuse.age_limit + nearest > limit {
        doubts.push(format!(
            "Returned concrete is reused up to {} old, and the quickest load takes {} from batching to the end of discharge on \
             the empty road: more than the age limit of {} together",
            minutes(reuse.age_limit),
            minutes(nearest),
            minutes(limit)
        ));
    }
}

/// The age limit, where it is one number.
fn age_limit(scenario: &Scenario) -> Option<Millis> {
    let known = scenario.concrete.known_age()?;
    let limit = |retarder| known.limit(Millis::ZERO, retarder, 0.0);
    (!known.by_air() && limit(false) == limit(true)).then(|| limit(false))
}
