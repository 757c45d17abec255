//! What can go wrong on a day, and what it costs: the numbers that decide a ranking.

use super::{Assumption, spread_over};
use crate::report::number::{count, money, number};
use crate::scenario::{Outages, Scenario};

const OWN: &str = "the scenario's own; estimate, no source; use your own";

/// The rows that the scenario has something for.
pub(super) fn rows(scenario: &Scenario) -> Vec<Assumption> {
    [
        Some(prices(scenario)),
        age_limit(scenario),
        misread(scenario),
        changes(scenario),
        standstills(scenario),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn row(what: &'static str, here: String, source: &'static str) -> Assumption {
    let source = source.into();
    Assumption { what, here, source }
}

fn prices(scenario: &Scenario) -> Assumption {
    let prices = &scenario.money;
    row(
        "price of trouble",
        format!(
            "a late load {} and {} a minute beyond its tolerance, a yd³ not delivered {}, a stranded driver {} besides hours and helpers",
            money(prices.late_per_load.units()),
            money(prices.late_per_min.units()),
            money(prices.undelivered_per_yd3.units()),
            money(prices.stranded.units())
        ),
        OWN,
    )
}

fn age_limit(scenario: &Scenario) -> Option<Assumption> {
    let limit = scenario.concrete.age_limit?;
    Some(row(
        "age limit",
        format!(
            "{} min from batching to the end of discharge",
            number(limit.minutes(), 0)
        ),
        "90 min in ASTM C94 from 2013 to 2021; since then the parties state it",
    ))
}

fn misread(scenario: &Scenario) -> Option<Assumption> {
    let rack = scenario.concrete.rack.as_ref()?;
    Some(row(
        "slump meters misread",
        format!(
            "{}% of loads, {}% where the ticket warns; {}% of the wet ones are found at the slump rack",
            number(100.0 * rack.misread, 1),
            number(100.0 * rack.misread_if_warned, 1),
            number(100.0 * rack.found, 0)
        ),
        OWN,
    ))
}

fn changes(scenario: &Scenario) -> Option<Assumption> {
    let changes = &scenario.changes;
    let shares: Vec<String> = [
        (changes.no_show, "of driver days without the driver"),
        (changes.rain, "of days with rain"),
        (changes.cancelled, "of orders cancelled"),
        (changes.not_ready, "of sites ready late"),
        (changes.hold, "of pours held"),
        (changes.returned, "of orders that need less"),
        (changes.balance, "of orders that need more"),
    ]
    .into_iter()
    .filter(|(share, _)| *share > 0.0)
    .map(|(share, what)| format!("{}% {what}", number(100.0 * share, 1)))
    .collect();
    (!shares.is_empty()).then(|| row("what changes on the day", shares.join(", "), OWN))
}

fn standstills(scenario: &Scenario) -> Option<Assumption> {
    let said = |what: &str, outages: Vec<&Outages>| {
        (!outages.is_empty()).then(|| {
            let hours = spread_over(outages.iter().map(|outage| outage.mean_h_between));
            let minutes = spread_over(outages.iter().map(|outage| outage.minutes.mean()));
            format!("{what} every {hours} h for {minutes} min")
        })
    };
    let plants = scenario
        .plants
        .iter()
        .filter_map(|plant| plant.outages.as_ref());
    let trucks = scenario
        .trucks
        .iter()
        .filter_map(|truck| truck.breakdowns.as_ref());
    let links = scenario
        .roads
        .network
        .iter()
        .flat_map(|network| &network.links);
    let incidents = links.filter(|link| link.incidents.is_some()).count();
    let parts: Vec<String> = [
        said("a plant is down", plants.collect()),
        said("a driven truck breaks down", trucks.collect()),
        (incidents > 0).then(|| format!("incidents on {} links", count(incidents as u64))),
    ]
    .into_iter()
    .flatten()
    .collect();
    (!parts.is_empty()).then(|| row("outages, breakdowns, incidents", parts.join("; "), OWN))
}
