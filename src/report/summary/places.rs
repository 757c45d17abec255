//! Plants and roads.

use super::Page;
use super::words::{clock, counted, minutes, much, plain, variation, weekdays};
use crate::report::number::number;
use crate::roads::{Haul, Roads};
use crate::scenario::{
    Batcher, BayQueue, MinutesByHour, Plant, RoadNetwork, RoadTable, Scenario, TrafficProfile,
};
use crate::units::measure::Quantity;
use crate::units::{Millis, PlaceId, PlantId};

pub(super) fn plants(scenario: &Scenario, page: &mut Page) {
    for plant in &scenario.plants {
        page.line(&format!("{}: {}", plant.name, about(plant, scenario)));
    }
}

fn about(plant: &Plant, scenario: &Scenario) -> String {
    let batcher = match (plant.bays, plant.batcher) {
        (1, _) => "",
        (_, Batcher::PerBay) => " with a batcher each",
        (_, Batcher::Shared) => " that share a batcher",
    };
    let mixes = if plant.mixes.is_empty() {
        "makes every mix".into()
    } else {
        format!("makes only {}", plant.mixes.join(", "))
    };
    let mut parts = vec![
        format!("{}{batcher}", counted(plant.bays as usize, "bay", "bays")),
        hours(plant),
        mixes,
        format!(
            "{} load in about {} min",
            much(Quantity::Volume, 10.0),
            number(plant.loading_10_yd3_min(), 1)
        ),
        format!("slump rack {} min", number(plant.rack.mean(), 1)),
        plant
            .rack_places
            .map_or("no limit of truck positions".into(), |places| {
                counted(places as usize, "truck position", "truck positions")
            }),
    ];
    if plant.pull_in_min > 0.0 {
        parts.push(format!("{} min to pull in", plain(plant.pull_in_min)));
    }
    if plant.bay_queue == BayQueue::FirstCome {
        parts.push("first come, first served at the bay".into());
    }
    if let Some(outages) = &plant.outages {
        parts.push(format!(
            "down once in {} h for about {} min",
            plain(outages.mean_h_between),
            number(outages.minutes.mean(), 0)
        ));
    }
    if !plant.truck_scale {
        parts.push("no truck scale".into());
    }
    for (from, to) in &plant.planned_outages {
        let day = super::words::day(from.day(), scenario.period.first_day);
        let time = |at: Millis| clock(at - Millis::midnight(from.day()));
        parts.push(format!("out of use {day} {}–{}", time(*from), time(*to)));
    }
    parts.join(", ")
}

/// `open 04:30–19:00 every day`.
pub(super) fn hours(plant: &Plant) -> String {
    if plant.hours.is_empty() {
        return "always open".into();
    }
    let spans: Vec<String> = plant
        .hours
        .iter()
        .map(|span| {
            format!(
                "{}–{} {}",
                clock(span.open),
                clock(span.close),
                weekdays(&span.days)
            )
        })
        .collect();
    format!("open {}", spans.join("; "))
}

pub(super) fn roads(scenario: &Scenario, roads: &Roads, page: &mut Page) {
    for plant in 0..scenario.plants.len() {
        page.line(&ways(scenario, roads, PlantId::new(plant)));
    }
    match variation(&scenario.roads.luck) {
        Some(percent) => page.line(&format!("One trip varies by {percent}.")),
        None => page.line("Drive times do not vary."),
    }
    if let Some(network) = &scenario.roads.network {
        page.line(&links(network));
    } else if !scenario.roads.by_hour.is_empty() {
        page.line(&by_hour(&scenario.roads));
    } else if scenario.roads.traffic.is_empty() {
        page.line("No traffic.");
    }
    for profile in &scenario.roads.traffic {
        page.line(&traffic(profile));
    }
    let nowhere: Vec<&str> = scenario
        .sites
        .iter()
        .filter(|site| !site.parking)
        .map(|site| site.name.as_str())
        .collect();
    if !nowhere.is_empty() {
        page.line(&format!(
            "No legal parking overnight: {}.",
            nowhere.join(", ")
        ));
    }
}

/// The nearest and the farthest site of a plant, and its way to other plants.
fn ways(scenario: &Scenario, roads: &Roads, plant: PlantId) -> String {
    let from = scenario.plant_place(plant);
    let out = |to: PlaceId| roads.free_flow(from, to, Haul::Loaded);
    let known = |to: &PlaceId| *to != from && out(*to) < Millis::NEVER;
    let plants = scenario.plants.len();
    let mut sites: Vec<PlaceId> = (plants..plants + scenario.sites.len())
        .map(PlaceId::new)
        .filter(known)
        .collect();
    sites.sort_by_key(|site| out(*site));
    let named = |to: PlaceId| format!("{} ({})", minutes(out(to)), scenario.place_name(to));
    let mut text = format!("{}: ", scenario.place_name(from));
    text += &match sites[..] {
        [] => "no way to a site".into(),
        [only] => format!("{} on the empty road", named(only)),
        [nearest, .., farthest] => format!(
            "to {} sites, {} to {} on the empty road",
            sites.len(),
            named(nearest),
            named(farthest)
        ),
    };
    for other in (0..plants).map(PlaceId::new).filter(known) {
        text += &format!(
            "; to {} {}",
            scenario.place_name(other),
            minutes(out(other))
        );
    }
    text + "."
}

/// How many ways have minutes by time of day, and how much they vary.
fn by_hour(roads: &RoadTable) -> String {
    let known = roads.minutes.iter().flatten().flatten().count();
    let slowest = |way: &MinutesByHour| {
        let slowest = way.minutes.iter().map(|(_, minutes)| *minutes);
        let quickest = roads.minutes[way.from][way.to].unwrap_or(1.0);
        slowest.fold(quickest, f64::max) / quickest
    };
    let worst = roads.by_hour.iter().map(slowest).fold(1.0, f64::max);
    let rest = match roads.traffic.is_empty() {
        true => "",
        false => "; `traffic` slows the other ways only",
    };
    format!(
        "{} of {known} ways have minutes by time of day, at the worst hour up to {} times the quickest{rest}.",
        roads.by_hour.len(),
        number(worst, 1)
    )
}

fn traffic(profile: &TrafficProfile) -> String {
    let factors: Vec<String> = profile
        .factors
        .iter()
        .map(|(from, factor)| format!("× {} from {}", plain(*factor), clock(*from)))
        .collect();
    format!(
        "Traffic, {}: {}.",
        weekdays(&profile.days),
        factors.join(", ")
    )
}

fn links(network: &RoadNetwork) -> String {
    let miles: f64 = network.links.iter().map(|link| link.miles).sum();
    let mut parts = vec![format!(
        "{} of {} in all",
        counted(network.links.len(), "link", "links"),
        much(Quantity::Distance, miles)
    )];
    let with = |what: fn(&crate::scenario::RoadLink) -> bool| {
        network.links.iter().filter(|link| what(link)).count()
    };
    for (number, what) in [
        (with(|link| link.profile.is_some()), "with traffic"),
        (with(|link| link.grade_percent != 0.0), "with a grade"),
        (with(|link| !link.lifts.is_empty()), "with a lift bridge"),
        (
            with(|link| !link.closed_to_loaded.is_empty()),
            "closed to loaded trucks at times",
        ),
        (
            with(|link| link.weight_limit_lb.is_some()),
            "with a weight limit",
        ),
        (
            with(|link| link.weigh_station.is_some()),
            "with a weigh station",
        ),
        (with(|link| link.incidents.is_some()), "with incidents"),
    ] {
        if number > 0 {
            parts.push(format!("{number} {what}"));
        }
    }
    if let Some(percent) = variation(&network.day_luck) {
        parts.push(format!("days vary by {percent}"));
    }
    format!("Network: {}.", parts.join(", "))
}
