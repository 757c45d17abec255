//! Names of mixes: orders that ask for two nearly the same, plants that make nothing that is asked for.

use std::collections::BTreeMap;

use crate::report::summary::words::counted;
use crate::scenario::Scenario;
use crate::scenario::problem::misspelt;

pub(super) fn names(scenario: &Scenario, doubts: &mut Vec<String>) {
    let mut asked: BTreeMap<&str, usize> = BTreeMap::new();
    let written = scenario.orders.iter().filter(|order| {
        // A list of drawn orders counts once.
        order.slot.is_none_or(|slot| slot.number == 0)
    });
    let mixes = written.map(|order| &order.mix);
    for mix in mixes.chain(scenario.endless.iter().map(|order| &order.mix)) {
        *asked.entry(mix).or_default() += 1;
    }
    let described = |mix: &str| {
        let mut mixes = scenario.concrete.material.iter().flat_map(|m| &m.mixes);
        mixes.any(|described| described.name == mix)
    };
    let listed = |mix: &str| {
        let mut lists = scenario.plants.iter().map(|plant| &plant.mixes);
        lists.any(|list| list.iter().any(|name| name == mix))
    };
    let declared = |mix: &str| listed(mix) || described(mix);
    for (one, orders) in &asked {
        for (other, others) in asked.range(*one..).skip(1) {
            if misspelt(one, other) && !(declared(one) && declared(other)) {
                doubts.push(format!(
                    "{} for the mix {one} and {others} for {other}, nearly the same name: two mixes or one?",
                    counted(*orders, "order asks", "orders ask")
                ));
            }
        }
    }
    for plant in &scenario.plants {
        if !plant.mixes.is_empty() && asked.keys().all(|mix| !plant.makes(mix)) {
            doubts.push(format!(
                "{} makes only {}, and no order asks for that",
                plant.name,
                plant.mixes.join(", ")
            ));
        }
    }
}
