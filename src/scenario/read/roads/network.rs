//! `Network( … )`: junctions, links, congestion profiles.

pub(super) mod reach;

use super::super::super::decode::{
    Fields, Limits, Names, Spanned, factors, flag, list, minutes, name, number, spanned,
    time_of_day, weekdays,
};
use super::super::super::defaults;
use super::super::super::problem::{Problem, Problems};
use super::super::super::tree::Node;
use super::super::super::{
    NamedProfile, RoadHours, RoadIncidents, RoadLink, RoadNetwork, RoadTable, TrafficProfile,
    WeighStation,
};
use super::super::places::Places;
use super::{FACTOR, Roads, luck_and_map, profiles_of_days, steps};
use crate::roads::{RoadTruck, bpr_factor};
use crate::units::Weekday;
use reach::Reach;

/// What stands in the brackets of `Network( … )`.
pub(super) fn network(node: &Node, places: &Places, problems: &Problems) -> Option<Roads> {
    let mut fields = Fields::of(node, "road network", problems)?;
    let mut nodes = Names::of("plant, site or junction");
    let (_, all) = places.names();
    for place in 0..places.count() {
        nodes.adopt(&Spanned {
            value: all.name(place).to_owned(),
            span: all.span(place),
        });
    }
    if all.is_incomplete() {
        nodes.unread();
    }
    let junction = |node: &Node, problems: &Problems| {
        let name = spanned(name)(node, problems)?;
        nodes.define(&name, problems);
        Some(name.value)
    };
    let junctions = fields.optional(
        "junctions",
        list(0..=10_000, "junction", junction),
        Vec::new(),
    );
    let mut profile_names = Names::of("congestion profile");
    let profiles = fields.optional(
        "profiles",
        list(0..=1_000, "congestion profile", |node, problems| {
            profile(node, &mut profile_names, problems)
        }),
        Vec::new(),
    );
    let mut link_names = Names::of("link");
    let links = fields.required("links", |node, problems| {
        list(1..=20_000, "link", |node, problems| {
            link(node, &nodes, &profile_names, &mut link_names, problems)
        })(node, problems)
    });
    let written = fields.place("links");
    let truck = fields.block("truck", "truck of the network", truck);
    let day_luck = fields.usual(&defaults::DAY_LUCK, factors);
    let (luck, straight_line_mph) = luck_and_map(&mut fields);
    fields.finish();
    let network = RoadNetwork {
        junctions,
        links: links?,
        profiles,
        truck,
        day_luck,
    };
    let span = written.map_or(node.span.start..node.span.start + 1, |span| {
        span.start..span.start + 1
    });
    let reach = Reach::of(&network, places);
    for from in 0..places.plants() {
        for to in from + 1..places.plants() {
            if let Some(problem) = reach.gap(places, from, to, span.clone()) {
                problems.add::<()>(problem);
            }
        }
    }
    Some(Roads {
        table: RoadTable {
            minutes: vec![vec![None; places.count()]; places.count()],
            by_hour: Vec::new(),
            luck,
            traffic: Vec::new(),
            straight_line_mph,
            network: Some(network),
        },
        rows: vec![span; places.plants()],
        sound: true,
        reach: Some(reach),
    })
}

fn link(
    node: &Node,
    nodes: &Names,
    profiles: &Names,
    names: &mut Names,
    problems: &Problems,
) -> Option<RoadLink> {
    let mut fields = Fields::of(node, "link", problems)?;
    let written = fields.maybe("name", spanned(name));
    let place = |node: &Node, problems: &Problems| nodes.find(node, problems);
    let profile = |node: &Node, problems: &Problems| profiles.find(node, problems);
    let lb = Limits::above("lb", 0.0, 1_000_000.0);
    let from = fields.required("from", place);
    let to = fields.required("to", place);
    let both_ways = fields.optional("both_ways", flag, true);
    let miles = fields.required("miles", number(Limits::above("miles", 0.0, 500.0)));
    let mph = fields.required("mph", number(Limits::between("miles an hour", 1.0, 100.0)));
    let grade = Limits::between("per cent", -20.0, 20.0);
    let grade_percent = fields.usual(&defaults::GRADE_PERCENT, number(grade));
    let there = fields.maybe("profile", profile);
    let back = fields.maybe("profile_back", profile);
    let area = fields.maybe("area", name);
    let weight_limit_lb = fields.maybe("weight_limit_lb", number(lb));
    let closed_to_loaded = fields.optional("closed_to_loaded", hours, Vec::new());
    let lifts = fields.optional("lifts", hours, Vec::new());
    let weigh_station = fields.maybe("weigh_station", weigh_station);
    let incidents = fields.maybe("incidents", incidents);
    if let (false, Some(span)) = (both_ways, fields.place("profile_back")) {
        problems.add::<()>(
            Problem::new(span, "a profile for the way back on a one-way link")
                .label("expected none, or `both_ways: true`"),
        );
    }
    fields.finish();
    let (from, to) = (from?, to?);
    if from == to {
        return problems.add(
            Problem::new(
                node.span.clone(),
                format!("a link from {:?} to itself", nodes.name(from)),
            )
            .label("expected two places or junctions"),
        );
    }
    let called = written.unwrap_or_else(|| Spanned {
        value: format!("{} – {}", nodes.name(from), nodes.name(to)),
        span: node.span.start..node.span.start + 1,
    });
    names.define(&called, problems);
    Some(RoadLink {
        name: called.value,
        from,
        to,
        both_ways,
        miles: miles?,
        mph: mph?,
        grade_percent,
        profile: there,
        profile_back: back,
        area,
        weight_limit_lb,
        closed_to_loaded,
        lifts,
        weigh_station,
        incidents,
    })
}

/// `[(days?: [Monday, …], from: "07:00", to: "09:00")]`
fn hours(node: &Node, problems: &Problems) -> Option<Vec<RoadHours>> {
    list(1..=1_000, "span of hours", |node, problems| {
        let mut fields = Fields::of(node, "span of hours", problems)?;
        let days = fields.optional("days", weekdays, Weekday::ALL.to_vec());
        let from = fields.required("from", time_of_day);
        let to = fields.required("to", time_of_day);
        fields.finish();
        let (from, to) = (from?, to?);
        if from >= to {
            return problems.add(
                Problem::new(
                    node.span.clone(),
                    format!("hours from {from} to {to} end before they begin"),
                )
                .label("expected `to` after `from`; hours over midnight are written as two spans"),
            );
        }
        Some(RoadHours { days, from, to })
    })(node, problems)
}

fn weigh_station(node: &Node, problems: &Problems) -> Option<WeighStation> {
    let mut fields = Fields::of(node, "weigh station", problems)?;
    let hours = fields.required("hours", hours);
    let minutes = fields.required("minutes", number(Limits::between("minutes", 0.0, 240.0)));
    fields.finish();
    Some(WeighStation {
        hours: hours?,
        minutes: minutes?,
    })
}

fn incidents(node: &Node, problems: &Problems) -> Option<RoadIncidents> {
    let mut fields = Fields::of(node, "block of incidents", problems)?;
    let per_day = fields.required(
        "per_day",
        number(Limits::between("incidents in a day", 0.0, 50.0)),
    );
    let minutes = fields.required("minutes", minutes);
    let factor = fields.required(
        "factor",
        number(Limits::between("times the usual minutes", 1.0, 100.0)),
    );
    fields.finish();
    Some(RoadIncidents {
        per_day: per_day?,
        minutes: minutes?,
        factor: factor?,
    })
}

fn truck(mut fields: Fields<'_>) -> RoadTruck {
    let lb = number(Limits::between("lb", 1_000.0, 300_000.0));
    let loaded_lb = fields.usual(&defaults::ROAD_LOADED_LB, lb);
    let empty_lb = fields.usual(&defaults::ROAD_EMPTY_LB, lb);
    let hp = fields.usual(
        &defaults::ROAD_HP,
        number(Limits::between("horsepower", 50.0, 2_000.0)),
    );
    fields.finish();
    RoadTruck {
        loaded_lb,
        empty_lb,
        hp,
    }
}

fn profile(node: &Node, names: &mut Names, problems: &Problems) -> Option<NamedProfile> {
    let mut fields = Fields::of(node, "congestion profile", problems)?;
    let name = fields.required("name", spanned(name));
    if let Some(name) = &name {
        names.define(name, problems);
    }
    let days = fields.required("days", |node, problems| {
        profiles_of_days(node, day, problems)
    });
    fields.finish();
    Some(NamedProfile {
        name: name?.value,
        days: days?,
    })
}

/// `(days?: [Monday, …], factors: [ … ])`, or `volume_over_capacity: [ … ]` in place of the factors.
fn day(node: &Node, problems: &Problems) -> Option<TrafficProfile> {
    let mut fields = Fields::of(node, "traffic profile", problems)?;
    let days = fields.optional("days", weekdays, Weekday::ALL.to_vec());
    let factors = fields.maybe("factors", |node, problems| {
        steps(node, "factor", ("06:30", 1.4), FACTOR, problems)
    });
    let ratio = Limits::between("volume ÷ capacity", 0.0, 3.0);
    let volumes = fields.maybe("volume_over_capacity", |node, problems| {
        steps(node, "volume ÷ capacity", ("06:30", 0.9), ratio, problems)
    });
    let written = [
        fields.place("factors"),
        fields.place("volume_over_capacity"),
    ];
    let factors = match written {
        [None, None] => fields.missing_one_of(["factors", "volume_over_capacity"]),
        [Some(factors), Some(volumes)] => problems.add(
            Problem::new(volumes, "both factors and volumes")
                .label("expected one of the two")
                .also(factors, "the factors"),
        ),
        _ => factors.or(volumes.map(|volumes| {
            volumes
                .into_iter()
                .map(|(from, ratio)| (from, bpr_factor(ratio)))
                .collect()
        })),
    };
    fields.finish();
    Some(TrafficProfile {
        days,
        factors: factors?,
    })
}
