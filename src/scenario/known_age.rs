//! The age limit that a scenario's sites hold loads to.

use super::{Concrete, Order, Scenario};
use crate::concrete::KnownAge;
use crate::units::Millis;

impl Scenario {
    /// As those know it who send loads, orders with a limit of their own included. None: loads are never too old.
    pub fn known_age(&self) -> Option<KnownAge> {
        let own = |order: &Order| order.age.limit.is_some();
        let none = || KnownAge::written(Millis::NEVER);
        (self.concrete.known_age()).or_else(|| self.orders.iter().any(own).then(none))
    }
}

impl Concrete {
    /// As those know it who send loads. None: loads are never too old.
    pub fn known_age(&self) -> Option<KnownAge> {
        let Some(material) = &self.material else {
            return self.age_limit.map(KnownAge::written);
        };
        Some(KnownAge::of_table(
            material.age,
            material.age_limit,
            material.air,
            material.temperature,
        ))
    }

    /// Whether a mix is described and has a retarder.
    pub(crate) fn retarder(&self, mix: &str) -> bool {
        let mixes = self.material.iter().flat_map(|material| &material.mixes);
        mixes
            .filter(|described| described.name == mix)
            .any(|described| described.mix.retarder)
    }
}
