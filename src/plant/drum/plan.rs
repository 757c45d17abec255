//! What the drums of a scenario are reckoned with.

use crate::scenario::{Material, Scenario};

/// What the drums of a scenario are reckoned with.
#[derive(Clone, Debug)]
pub(in crate::plant) struct DrumPlan {
    pub(in crate::plant) material: Material,
    /// By order: position of its mix.
    pub(super) mixes: Vec<usize>,
    /// By driver.
    pub(super) care: Vec<f64>,
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
