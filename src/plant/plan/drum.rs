//! What the drums of a scenario are reckoned with.

use crate::concrete::{MIXING_REVOLUTIONS, MIXING_RPM, minutes_for};
use crate::scenario::{Material, Scenario};

/// What the drums of a scenario are reckoned with.
#[derive(Clone, Debug)]
pub(in crate::plant) struct DrumPlan {
    pub(in crate::plant) material: Material,
    /// By order: position of its mix.
    pub(in crate::plant) mixes: Vec<usize>,
    /// By driver.
    pub(in crate::plant) care: Vec<f64>,
}

impl DrumPlan {
    /// None where the scenario describes no mixes.
    pub(in crate::plant) fn new(scenario: &Scenario) -> Option<Self> {
        let material = scenario.concrete.material.clone()?;
        let position = |name: &str| {
            let found = material.mixes.iter().position(|mix| mix.name == name);
            found.expect("the reader has seen that every mix is described")
        };
        let ordered = scenario.orders.iter().map(|order| &order.mix);
        let endless = scenario.endless.iter().map(|order| &order.mix);
        Some(Self {
            mixes: ordered.chain(endless).map(|mix| position(mix)).collect(),
            care: scenario.drivers.iter().map(|driver| driver.care).collect(),
            material,
        })
    }
}

/// Minutes from coming on site until HRWR that goes in there is mixed in: 0 for a mix that has none, or is not described.
pub(in crate::plant) fn mixing_on_site_min(scenario: &Scenario, mix: &str) -> f64 {
    let material = scenario.concrete.material.as_ref();
    let described = material.and_then(|m| m.mixes.iter().find(|described| described.name == mix));
    match described {
        Some(described) if described.mix.per_yd3.hrwr_lb > 0.0 => {
            minutes_for(MIXING_REVOLUTIONS, MIXING_RPM)
        }
        _ => 0.0,
    }
}
