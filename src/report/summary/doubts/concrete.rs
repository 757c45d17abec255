//! Mixes weaker than they are to be; returned concrete that is reused, and numbers that go against it.

use super::Pour;
use crate::report::number::count;
use crate::report::summary::words::minutes;
use crate::scenario::Scenario;
use crate::units::Millis;

/// Mixes that have less than their specified strength as they are designed.
pub(super) fn strength(scenario: &Scenario, doubts: &mut Vec<String>) {
    let material = scenario.concrete.material.iter();
    for described in material.flat_map(|material| &material.mixes) {
        let (psi, specified_psi) = (described.mix.psi(), described.mix.specified_psi);
        if psi < specified_psi {
            doubts.push(format!(
                "Mix {} has {} psi at 28 days by its own w/c of {:.3}, less than the {} psi specified",
                described.name,
                count(psi.round() as u64),
                described.mix.wc(),
                count(specified_psi.round() as u64)
            ));
        }
    }
}

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
    let age = |pour: &Pour<'_>| pour.load.lead() + pour.load.unloading;
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
            "Returned concrete is reused up to {} old, and the quickest load takes {} from batching to the end of unloading on \
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
