//! Mixes weaker than they are to be; returned concrete that is reused, and numbers that go against it.

use super::Pour;
use crate::concrete::StrengthLaw;
use crate::report::number::number;
use crate::report::summary::words::{minutes, plain, plain_1};
use crate::scenario::Scenario;
use crate::units::Millis;
use crate::units::measure::Quantity;

/// Mixes that have less than their specified strength as they are designed or in the heat that is written, and those whose strength is
/// reckoned by the curve of other concrete.
pub(super) fn strength(scenario: &Scenario, doubts: &mut Vec<String>) {
    let material = scenario.concrete.material.iter();
    for (material, described) in material.flat_map(|m| m.mixes.iter().map(move |mix| (m, mix))) {
        let (name, mix) = (&described.name, &described.mix);
        let strength = |psi: f64| {
            let told = number(Quantity::Strength.told(psi), Quantity::Strength.decimals(0));
            format!("{told} {}", Quantity::Strength.unit())
        };
        let (psi, specified_psi) = (mix.psi(), mix.specified_psi);
        let warmest_f = material.warmest_concrete_f();
        let warmer_f = material.temperature.warmer_f(warmest_f);
        let (set, _) = material.set_for_warmth(mix, warmest_f);
        let hot_psi = set.psi_warmer(warmer_f);
        if psi < specified_psi {
            doubts.push(format!(
                "Mix {name} has {} at 28 days by its own w/c of {:.3}, less than the {} specified",
                strength(psi),
                mix.wc(),
                strength(specified_psi)
            ));
        } else if hot_psi < specified_psi {
            doubts.push(format!(
                "Mix {name} has {} at 28 days when its concrete has {} {} in the warmest hour written, less than the {} \
                 specified",
                strength(hot_psi),
                plain_1(Quantity::Temperature.told(warmest_f)),
                Quantity::Temperature.unit(),
                strength(specified_psi)
            ));
        }
        if mix.air_entrained() && mix.law == StrengthLaw::AciPlain {
            doubts.push(format!(
                "Mix {name} has {}% of air, and its strength is reckoned by the curve of concrete that is not air-entrained",
                plain(mix.air.target)
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
