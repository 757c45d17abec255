//! The mix of an order that is not written in the scenario.

use std::collections::BTreeSet;

use super::Scenario;
use super::problem::{listed, misspelt, nearest};

impl Scenario {
    /// Refuses a mix that no plant makes, that is not described where mixes are, or that is nearly the name of one that stands in
    /// the scenario.
    ///
    /// # Errors
    /// In words.
    pub fn check_mix(&self, mix: &str) -> Result<(), String> {
        let described = self.concrete.material.iter().flat_map(|m| &m.mixes);
        let described: BTreeSet<&str> = described.map(|mix| mix.name.as_str()).collect();
        let lists = self.plants.iter().flat_map(|plant| &plant.mixes);
        let asked = self.orders.iter().map(|order| &order.mix);
        let asked = asked.chain(self.endless.iter().map(|order| &order.mix));
        let mut known: BTreeSet<&str> = lists.chain(asked).map(String::as_str).collect();
        let made = self.plants.iter().any(|plant| plant.makes(mix));
        let wrong = if !made {
            format!("no plant makes the mix {mix:?}")
        } else if !described.is_empty() {
            if described.contains(mix) {
                return Ok(());
            }
            known = described;
            format!("the mix {mix:?} is not described in `concrete`")
        } else if !known.contains(mix) && known.iter().any(|name| misspelt(mix, name)) {
            format!("the scenario knows no mix {mix:?}")
        } else {
            return Ok(());
        };
        Err(match nearest(mix, known.iter().copied()) {
            Some(near) => format!("{wrong}; a similar one exists: {near:?}"),
            None => format!("{wrong}; the mixes are {}", listed(&known)),
        })
    }
}
