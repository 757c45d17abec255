//! Ways round weigh stations: the quickest legal ways of loaded trucks over links that have none, whether one is open or not.
//!
//! Nobody takes one for the station's minutes: they are left out where ways are compared.

use super::search::{Found, search};
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
                let found = self.search_round(leaving, from, self.hour_of_week(hour));
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

    /// The quickest ways over links without a weigh station.
    fn search_round(&self, leaving: &[Vec<(u32, u32)>], from: usize, depart: Millis) -> Found {
        search(leaving, from, depart, |link, at| {
            let link = &self.links[link];
            match link.weigh_station.is_none() {
                true => self.compared(link, Haul::Loaded, at),
                false => Millis::NEVER,
            }
        })
    }

    /// To which of these places a loaded truck from `from` would be there sooner by going round an open weigh station, and by how
    /// much at most at any hour of the week: the place where most would be gained. Trucks do not; slow, for a note that says so.
    pub fn most_spared_round(
        &self,
        from: PlaceId,
        to: impl Iterator<Item = PlaceId>,
    ) -> Option<(PlaceId, Millis)> {
        let leaving = self.leaving(
            self.links
                .iter()
                .flat_map(|link| [link.from, link.to])
                .max()? as usize
                + 1,
        );
        let usual = |way: &[u32], depart| {
            self.walk(way, depart, |_, link, at| {
                self.usual(link, Haul::Loaded, at, self.mean_luck, |_, _| {})
            })
        };
        let hours: Vec<(Millis, Found)> = (0..168)
            .map(|hour| self.hour_of_week(hour))
            .map(|depart| (depart, self.search_round(&leaving, from.at(), depart)))
            .collect();
        let gains = to.filter(|to| self.free_flow(from, *to, Haul::Loaded) < Millis::NEVER);
        let gains = gains.flat_map(|to| {
            let there = hours
                .iter()
                .filter(move |(_, found)| found.arrivals[to.at()] < Millis::NEVER);
            there.map(move |(depart, found)| {
                let round = found.way(to.at(), &self.links_from());
                let taken = self.way(from, to, Haul::Loaded, *depart);
                (to, usual(taken, *depart) - usual(&round, *depart))
            })
        });
        gains
            .filter(|(_, gain)| *gain > Millis::ZERO)
            .max_by_key(|(to, gain)| (*gain, std::cmp::Reverse(*to)))
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
            Believed::AtTheHour { luck, .. } => luck,
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
