//! The roads of a scenario made ready: the table, or the network with its links in both directions.

use crate::roads::{
    IncidentData, LinkData, NetworkData, Roads, TableData, Traffic, Weekly, WeighStationData,
};
use crate::scenario::{MinutesByHour, RoadHours, RoadLink, RoadNetwork, Scenario, TrafficProfile};
use crate::units::{Millis, Weekday};

pub(super) fn roads(scenario: &Scenario) -> Roads {
    match &scenario.roads.network {
        None => table(scenario),
        Some(network) => Roads::network(&network_data(scenario, network)),
    }
}

fn table(scenario: &Scenario) -> Roads {
    let table = &scenario.roads;
    Roads::table(&TableData {
        minutes: table.minutes.clone(),
        by_hour: table
            .by_hour
            .iter()
            .map(|way| by_hour(scenario, way))
            .collect(),
        at: places(scenario),
        luck: table.luck.clone(),
        traffic: traffic(scenario.period.first_day, &table.traffic),
        straight_line_mph: table.straight_line_mph,
    })
}

/// The traffic of a way by time of day: how many times the quickest minutes.
fn by_hour(scenario: &Scenario, way: &MinutesByHour) -> (usize, usize, Traffic) {
    let quickest = scenario.roads.minutes[way.from][way.to].expect("a way by hour has minutes");
    let steps = way.minutes.iter();
    let factors: Vec<(Millis, f64)> = steps
        .map(|(from, minutes)| (*from, minutes / quickest))
        .collect();
    let all_week = [(&Weekday::ALL[..], &factors[..])];
    let traffic = Traffic::new(scenario.period.first_day, all_week.into_iter());
    (way.from, way.to, traffic)
}

fn places(scenario: &Scenario) -> Vec<(f64, f64)> {
    let plants = scenario.plants.iter().map(|plant| plant.at);
    let sites = scenario.sites.iter().map(|site| site.at);
    plants.chain(sites).collect()
}

fn traffic(first_day: Weekday, profiles: &[TrafficProfile]) -> Traffic {
    let profiles = profiles
        .iter()
        .map(|profile| (&profile.days[..], &profile.factors[..]));
    Traffic::new(first_day, profiles)
}

fn network_data(scenario: &Scenario, network: &RoadNetwork) -> NetworkData {
    let first_day = scenario.period.first_day;
    let plants = scenario.plants.len();
    let mut areas: Vec<String> = Vec::new();
    let mut links = Vec::new();
    for road in &network.links {
        let area = road.area.as_ref().map(|name| {
            areas
                .iter()
                .position(|known| known == name)
                .unwrap_or_else(|| {
                    areas.push(name.clone());
                    areas.len() - 1
                })
        });
        let out = link(first_day, road, area);
        if road.both_ways {
            links.push(LinkData {
                name: format!("{} (back)", road.name),
                from: road.to,
                to: road.from,
                grade: -out.grade,
                profile: road.profile_back.or(road.profile),
                ..out.clone()
            });
        }
        links.push(out);
    }
    let redirects = scenario
        .rules
        .iter()
        .any(|rule| rule.redirect != crate::dispatch::Redirect::Wait);
    NetworkData {
        first_day,
        at: places(scenario),
        plants,
        // A truck that may not stand at its site drives on to the nearest lawful parking; a load may be redirected to any.
        onward: (0..plants + scenario.sites.len())
            .map(|place| place >= plants && (redirects || !scenario.sites[place - plants].parking))
            .collect(),
        junctions: network.junctions.len(),
        links,
        profiles: network
            .profiles
            .iter()
            .map(|profile| traffic(first_day, &profile.days))
            .collect(),
        areas,
        day_luck: network.day_luck.clone(),
        luck: scenario.roads.luck.clone(),
        truck: network.truck,
        straight_line_mph: scenario.roads.straight_line_mph,
        ways_round: scenario
            .weighing
            .as_ref()
            .is_some_and(|weighing| weighing.goes_round > 0.0),
    }
}

fn link(first_day: Weekday, road: &RoadLink, area: Option<usize>) -> LinkData {
    LinkData {
        name: road.name.clone(),
        from: road.from,
        to: road.to,
        miles: road.miles,
        mph: road.mph,
        grade: road.grade_percent / 100.0,
        profile: road.profile,
        area,
        weight_limit_lb: road.weight_limit_lb,
        closed_to_loaded: weekly(first_day, &road.closed_to_loaded),
        lifts: weekly(first_day, &road.lifts),
        weigh_station: road.weigh_station.as_ref().map(|station| WeighStationData {
            open: weekly(first_day, &station.hours),
            minutes: station.minutes,
        }),
        incidents: road.incidents.as_ref().map(|incidents| IncidentData {
            per_day: incidents.per_day,
            minutes: incidents.minutes.clone(),
            factor: incidents.factor,
        }),
    }
}

fn weekly(first_day: Weekday, hours: &[RoadHours]) -> Weekly {
    let spans = hours
        .iter()
        .map(|span| (&span.days[..], span.from, span.to));
    Weekly::new(first_day, spans)
}
