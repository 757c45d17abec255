//! Finds the quickest legal ways, loaded and empty, for every hour of the week.

use super::search::search;
use super::ways::Ways;
use super::{Network, NetworkData};
use crate::roads::{Haul, Weekly};
use crate::units::Millis;

impl Network {
    pub(super) fn find_ways(&mut self, data: &NetworkData) {
        let nodes = self.places + data.junctions;
        let leaving = self.leaving(nodes);
        let timeless = self.links.iter().all(|link| {
            link.profile
                .is_none_or(|profile| self.profiles[profile as usize].is_constant())
                && link.closed.iter().all(Weekly::is_empty)
        });
        let hours = if timeless { 1 } else { 168 };
        for haul in Haul::BOTH {
            let h = haul as usize;
            let mut free = Vec::with_capacity(self.places * self.places);
            let mut ways = Ways::new(self.places, hours);
            for from in 0..self.places {
                let empty_road = search(&leaving, from, Millis::ZERO, |link, at| {
                    self.links[link].empty_road(haul, at)
                });
                free.extend((0..self.places).map(|to| empty_road.arrivals[to]));
                for hour in 0..hours {
                    let found = search(&leaving, from, self.hour_of_week(hour), |link, at| {
                        self.compared(&self.links[link], haul, at)
                    });
                    for to in 0..self.places {
                        let wanted = from < data.plants || to < data.plants || data.onward[from];
                        if wanted && from != to && found.arrivals[to] < Millis::NEVER {
                            ways.enter(to, hour, found.way(to, &self.links_from()));
                        }
                    }
                }
                ways.compress(from);
            }
            self.free[h] = free;
            self.ways[h] = ways;
        }
        if data.ways_round {
            self.find_round(data.plants, &leaving, hours);
        }
    }

    /// The links that leave each node, and where they lead.
    pub(super) fn leaving(&self, nodes: usize) -> Vec<Vec<(u32, u32)>> {
        let mut leaving = vec![Vec::new(); nodes];
        for (position, link) in self.links.iter().enumerate() {
            leaving[link.from as usize].push((position as u32, link.to));
        }
        leaving
    }

    /// A moment at the start of an hour since Monday 00:00.
    pub(super) fn hour_of_week(&self, hour: usize) -> Millis {
        Millis::HOUR * (hour as i64) - self.offset
    }

    pub(super) fn links_from(&self) -> impl Fn(u32) -> u32 {
        |link| self.links[link as usize].from
    }
}
