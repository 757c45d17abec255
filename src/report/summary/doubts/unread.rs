//! What is described and nothing in the period asks for.

use crate::dispatch::Lend;
use crate::report::summary::words::counted;
use crate::scenario::Scenario;

/// Names that one doubt gives.
const MOST_NAMED: usize = 10;

pub(super) fn all(scenario: &Scenario, doubts: &mut Vec<String>) {
    let elsewhere = scenario
        .endless
        .iter()
        .flat_map(|order| &order.destinations);
    let elsewhere = elsewhere.map(|destination| destination.site);
    let mut visited = vec![false; scenario.plants.len() + scenario.sites.len()];
    for site in scenario
        .orders
        .iter()
        .map(|order| order.stay.site)
        .chain(elsewhere)
    {
        visited[site.at()] = true;
    }
    let sites = scenario.sites.iter().zip(&visited[scenario.plants.len()..]);
    let sites = sites.filter(|(_, visited)| !**visited);
    let sites = sites.map(|(site, _)| &*site.name);
    named("No order goes to", ("site", "sites"), sites, doubts);

    let asked = |mix: &str| {
        let mut orders = scenario.orders.iter().map(|order| &order.mix);
        let mut endless = scenario.endless.iter().map(|order| &order.mix);
        orders.any(|other| other == mix) || endless.any(|other| other == mix)
    };
    let mixes = scenario.concrete.material.iter().flat_map(|all| &all.mixes);
    let mixes = mixes.map(|mix| &*mix.name).filter(|mix| !asked(mix));
    named("No order asks for", ("mix", "mixes"), mixes, doubts);

    if let [plant] = &scenario.plants[..] {
        for rule in scenario
            .rules
            .iter()
            .filter(|rule| rule.lend != Lend::Never)
        {
            doubts.push(format!(
                "{} loans trucks (`lend`), and {} is the only plant",
                rule.name, plant.name
            ));
        }
    }
}

/// Says of things of a kind, one and many, that nobody does anything with them.
fn named<'n>(
    nobody: &str,
    (one, many): (&str, &str),
    names: impl Iterator<Item = &'n str>,
    doubts: &mut Vec<String>,
) {
    let names: Vec<&str> = names.collect();
    let more = match names.len().saturating_sub(MOST_NAMED) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    if !names.is_empty() {
        let first = names[..names.len().min(MOST_NAMED)].join(", ");
        let counted = counted(names.len(), one, many);
        doubts.push(format!("{nobody} {counted}: {first}{more}"));
    }
}
