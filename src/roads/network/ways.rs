//! The quickest ways between places by hour of the week, each distinct one kept once.

use std::collections::BTreeMap;

/// No way.
const NONE: u32 = u32::MAX;

/// Ways of one haul.
#[derive(Clone, Debug, Default)]
pub(super) struct Ways {
    places: usize,
    /// Hours told apart: 168, or 1 if no hour differs.
    hours: usize,
    /// Links of all ways, one after the other.
    links: Vec<u32>,
    /// Start and end of each way in `links`.
    spans: Vec<(u32, u32)>,
    /// For each pair of places, where its ways stand in `by_hour`, and whether they differ by hour.
    pairs: Vec<(u32, bool)>,
    by_hour: Vec<u32>,
    /// While the ways from one place are found: by destination and hour.
    found: Vec<u32>,
    known: BTreeMap<Vec<u32>, u32>,
}

impl Ways {
    pub(super) fn new(places: usize, hours: usize) -> Self {
        Self {
            places,
            hours,
            pairs: vec![(NONE, false); places * places],
            found: vec![NONE; places * hours],
            ..Self::default()
        }
    }

    /// Whether no way was looked for.
    pub(super) fn is_empty(&self) -> bool {
        self.pairs.is_empty()
    }

    /// Takes down a way from the place at hand.
    pub(super) fn enter(&mut self, to: usize, hour: usize, way: Vec<u32>) {
        let id = match self.known.get(&way) {
            Some(id) => *id,
            None => {
                let id = self.spans.len() as u32;
                let start = self.links.len() as u32;
                self.links.extend(&way);
                self.spans.push((start, self.links.len() as u32));
                self.known.insert(way, id);
                id
            }
        };
        self.found[to * self.hours + hour] = id;
    }

    /// All ways from a place are found.
    pub(super) fn compress(&mut self, from: usize) {
        for to in 0..self.places {
            let of_pair = &self.found[to * self.hours..(to + 1) * self.hours];
            if of_pair[0] == NONE {
                continue;
            }
            let differ = of_pair.iter().any(|way| *way != of_pair[0]);
            self.pairs[from * self.places + to] = (self.by_hour.len() as u32, differ);
            self.by_hour
                .extend(&of_pair[..if differ { self.hours } else { 1 }]);
        }
        self.found.fill(NONE);
        if from + 1 == self.places {
            self.known = BTreeMap::new();
            self.found = Vec::new();
        }
    }

    /// The ways at the start of an hour of the week and of the next.
    #[inline]
    pub(super) fn at(&self, from: usize, to: usize, hour: usize) -> (u32, u32) {
        let (start, differ) = self.pairs[from * self.places + to];
        if start == NONE {
            return (NONE, NONE);
        }
        let start = start as usize;
        if differ {
            let next = (hour + 1) % self.hours;
            (self.by_hour[start + hour], self.by_hour[start + next])
        } else {
            (self.by_hour[start], self.by_hour[start])
        }
    }

    /// Whether a pair has more than one way.
    pub(super) fn differ(&self, from: usize, to: usize) -> bool {
        self.pairs[from * self.places + to].1
    }

    /// The links of a way; none without one.
    #[inline]
    pub(super) fn links(&self, way: u32) -> &[u32] {
        match self.spans.get(way as usize) {
            Some((start, end)) => &self.links[*start as usize..*end as usize],
            None => &[],
        }
    }
}
