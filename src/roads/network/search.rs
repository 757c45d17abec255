//! The quickest ways from one node to all others at one departure. Links are first in, first out, so that whoever is first at
//! a node is first wherever it goes on to: Dijkstra's search holds with minutes that depend on the hour (Dreyfus, 1969).

use crate::units::Millis;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// What a search found.
pub(super) struct Found {
    /// Earliest arrival at each node; [`Millis::NEVER`] where no way leads.
    pub(super) arrivals: Vec<Millis>,
    /// The last link of the quickest way to each node.
    last: Vec<Option<u32>>,
}

/// `leaving` lists the links that leave each node and where they lead; `cross` says when a truck that comes to a link is at its
/// end, [`Millis::NEVER`] if it may not take it.
pub(super) fn search(
    leaving: &[Vec<(u32, u32)>],
    from: usize,
    depart: Millis,
    cross: impl Fn(usize, Millis) -> Millis,
) -> Found {
    let mut arrivals = vec![Millis::NEVER; leaving.len()];
    let mut last = vec![None; leaving.len()];
    let mut next = BinaryHeap::new();
    arrivals[from] = depart;
    next.push(Reverse((depart, from as u32)));
    while let Some(Reverse((at, node))) = next.pop() {
        if at > arrivals[node as usize] {
            continue;
        }
        for (link, to) in &leaving[node as usize] {
            let arrival = cross(*link as usize, at);
            if arrival < arrivals[*to as usize] {
                arrivals[*to as usize] = arrival;
                last[*to as usize] = Some(*link);
                next.push(Reverse((arrival, *to)));
            }
        }
    }
    Found { arrivals, last }
}

impl Found {
    /// The links of the quickest way to a node, in order; `from` gives the node where a link begins.
    pub(super) fn way(&self, to: usize, from: &impl Fn(u32) -> u32) -> Vec<u32> {
        let mut way = Vec::new();
        let mut node = to;
        while let Some(link) = self.last[node] {
            way.push(link);
            node = from(link) as usize;
        }
        way.reverse();
        way
    }
}
