//! Where legal ways lead from each plant and back, looked for once: orders ask about every plant and site.

use super::super::super::super::RoadHours;
use super::super::super::super::problem::Problem;
use super::super::super::super::tree::Span;
use super::super::super::super::{RoadLink, RoadNetwork};
use super::super::super::places::Places;
use crate::roads::Haul;
use crate::units::{Millis, Weekday};

/// Which nodes ways within weight limits lead to, by plant and then by node.
pub(in super::super) struct Reach {
    loaded: Vec<Vec<bool>>,
    empty: Vec<Vec<bool>>,
    /// From the node to the plant, empty.
    back: Vec<Vec<bool>>,
}

impl Reach {
    pub(super) fn of(network: &RoadNetwork, places: &Places) -> Self {
        let nodes = places.count() + network.junctions.len();
        let from_plants = |leaving: &[Vec<usize>]| {
            let plants = 0..places.plants();
            plants.map(|plant| reached(leaving, plant)).collect()
        };
        let empty = leaving(network, nodes, Haul::Empty);
        Self {
            loaded: from_plants(&leaving(network, nodes, Haul::Loaded)),
            back: from_plants(&turned(&empty)),
            empty: from_plants(&empty),
        }
    }

    /// That no legal way leads from a plant to a place and back, if so: loaded to a site, empty back and between plants.
    pub(in super::super) fn gap(
        &self,
        places: &Places,
        plant: usize,
        place: usize,
        span: Span,
    ) -> Option<Problem> {
        let (out, truck) = if place < places.plants() {
            (&self.empty, "an empty")
        } else {
            (&self.loaded, "a loaded")
        };
        let (from, to, truck) = if !out[plant][place] {
            (plant, place, truck)
        } else if !self.back[plant][place] {
            (place, plant, "an empty")
        } else {
            return None;
        };
        let (from, to) = (places.name(from), places.name(to));
        Some(
            Problem::new(
                span,
                format!("no legal way leads {truck} truck from {from:?} to {to:?}"),
            )
            .label(format!(
                "expected links from {from:?} to {to:?} within their weight limits"
            )),
        )
    }
}

/// By node: where links that such a truck may take lead.
fn leaving(network: &RoadNetwork, nodes: usize, haul: Haul) -> Vec<Vec<usize>> {
    let weight = network.truck.weight_lb(haul);
    let always = |hours: &[RoadHours]| {
        Weekday::ALL.iter().all(|day| {
            hours.iter().any(|span| {
                span.days.contains(day) && span.from == Millis::ZERO && span.to == Millis::DAY
            })
        })
    };
    let legal = |link: &&RoadLink| {
        link.weight_limit_lb.is_none_or(|limit| weight <= limit)
            && !always(&link.lifts)
            && (haul == Haul::Empty || !always(&link.closed_to_loaded))
    };
    let mut leaving = vec![Vec::new(); nodes];
    for link in network.links.iter().filter(legal) {
        leaving[link.from].push(link.to);
        if link.both_ways {
            leaving[link.to].push(link.from);
        }
    }
    leaving
}

/// The same links the other way.
fn turned(leaving: &[Vec<usize>]) -> Vec<Vec<usize>> {
    let mut turned = vec![Vec::new(); leaving.len()];
    for (from, to) in leaving.iter().enumerate() {
        to.iter().for_each(|to| turned[*to].push(from));
    }
    turned
}

/// By node: whether links lead there.
fn reached(leaving: &[Vec<usize>], from: usize) -> Vec<bool> {
    let mut reached = vec![false; leaving.len()];
    let mut next = vec![from];
    reached[from] = true;
    while let Some(node) = next.pop() {
        for to in &leaving[node] {
            if !std::mem::replace(&mut reached[*to], true) {
                next.push(*to);
            }
        }
    }
    reached
}
