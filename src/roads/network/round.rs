//! Ways round weigh stations: the quickest legal ways of loaded trucks over links that have none, whether one is open or not.

use super::search::search;
use super::ways::Ways;
use super::{Haul, Network};
use crate::roads::{Believed, RoadState};
use crate::units::{Millis, PlaceId};

impl Network {
    /// The ways from every plant to every site, for so many hours of the week.
    pub(super) fn find_round(&mut self, plants: usize, leaving: &[Vec<(u32, u32)>], hours: usize) {
        let mut ways = Ways::new(self.places, hours);
        for from in 0..self.places {
            for hour in 0..if from < plants { hours } else { 0 } {
                let depart = Millis::HOUR * (hour as i64) - self.offset;
                let found = search(leaving, from, depart, |link, at| {
                    let link = &self.links[link];
                    let open_to_it = link.free[Haul::Loaded as usize].is_finite();
                    match open_to_it && link.weigh_station.is_none() {
                        true => self.usual(link, Haul::Loaded, at, self.mean_luck, |_, _| {}),
                        false => Millis::NEVER,
                    }
                });
                for to in plants..self.places {
                    if found.arrivals[to] < Millis::NEVER {
                        ways.enter(to, hour, found.way(to, &self.links_from()));
                    }
                }
            }
            ways.compress(from);
        }
        self.round = ways;
    }

    /// The links of the way round at `depart`; none without one.
    fn way_round(&self, from: PlaceId, to: PlaceId, depart: Millis) -> Option<&[u32]> {
        if self.round.is_empty() {
            return None;
        }
        let way = self.quicker(&self.round, (from, to, Haul::Loaded), depart);
        (!way.is_empty()).then_some(way)
    }

    /// Whether a loaded trip that begins at `depart` comes by an open weigh station, and a way leads round it.
    pub fn can_go_round(&self, from: PlaceId, to: PlaceId, depart: Millis) -> bool {
        self.way_round(from, to, depart).is_some() && self.weighed(from, to, Haul::Loaded, depart)
    }

    /// How long the way round takes that begins at `depart`, with the luck at `u` in (0, 1); the quickest way without one.
    pub fn trip_round(
        &self,
        state: &RoadState,
        (from, to): (PlaceId, PlaceId),
        depart: Millis,
        u: f64,
    ) -> Millis {
        match self.way_round(from, to, depart) {
            Some(way) => self.drive_along(state, (way, Haul::Loaded), depart, u, |_, _| {}),
            None => self.trip(state, (from, to, Haul::Loaded), depart, u),
        }
    }

    /// How long a driver who reckons with the hour believes the way round to take; [`Millis::NEVER`] without one.
    pub fn believed_round(
        &self,
        belief: Believed,
        (from, to): (PlaceId, PlaceId),
        depart: Millis,
    ) -> Millis {
        let luck = match belief {
            Believed::AtTheHour { luck } => luck,
            Believed::StraightLine | Believed::FreeFlow | Believed::Live => self.mean_luck,
        };
        match self.way_round(from, to, depart) {
            Some(way) => self.walk(way, depart, |_, link, at| {
                self.usual(link, Haul::Loaded, at, luck, |_, _| {})
            }),
            None => Millis::NEVER,
        }
    }

    /// The miles of the way round; 0 without one.
    pub fn miles_round(&self, from: PlaceId, to: PlaceId, depart: Millis) -> f64 {
        self.way_round(from, to, depart)
            .map_or(0.0, |way| self.miles_along(way))
    }
}
