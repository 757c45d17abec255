//! What is believed of a trip.

use super::Network;
use crate::roads::belief::at_least;
use crate::roads::delays::{Delay, Delays};
use crate::roads::memo::{Asked, LuckName, recall};
use crate::roads::{Belief, Believed, Haul, RoadState};
use crate::units::{Millis, PlaceId};

impl Network {
    /// Makes a belief about this network ready for use.
    pub fn believe(&self, belief: Belief) -> Believed {
        match belief {
            Belief::StraightLine => Believed::StraightLine,
            Belief::FreeFlow => Believed::FreeFlow,
            Belief::TimeOfDay { quantile: None } => Believed::at_the_hour(self.mean_luck),
            Belief::TimeOfDay { quantile: Some(q) } => {
                let at = (q * self.products.len() as f64) as usize;
                Believed::at_the_hour(self.products[at.min(self.products.len() - 1)])
            }
            Belief::Live => Believed::Live,
        }
    }

    /// How long a trip that begins at `depart` is believed to take at `now`; [`Millis::NEVER`] without a way.
    #[inline(never)]
    pub fn believed(
        &self,
        state: &RoadState,
        now: Millis,
        belief: Believed,
        leg: (PlaceId, PlaceId, Haul),
        depart: Millis,
    ) -> Millis {
        if let Believed::AtTheHour { luck, name } = belief {
            return self.at_the_hour(leg, depart, (luck, name));
        }
        self.reckon(state, now, belief, leg, depart, |_, _| {})
    }

    /// What a trip is believed to take at least, whenever it begins; [`Millis::NEVER`] without a way.
    pub fn believed_at_least(
        &self,
        belief: Believed,
        (from, to, haul): (PlaceId, PlaceId, Haul),
    ) -> Millis {
        let free = self.free_flow(from, to, haul);
        if free == Millis::NEVER || from == to {
            return free;
        }
        match belief {
            Believed::StraightLine => self.straight[self.pair(from, to)],
            Believed::FreeFlow => free,
            Believed::AtTheHour { luck, .. } => at_least(free, luck * self.least_factor),
            // How good this day may be has no bound.
            Believed::Live => Millis::ZERO,
        }
    }

    /// The same by the usual traffic, which is known where it has been worked out before.
    #[inline]
    fn at_the_hour(
        &self,
        leg: (PlaceId, PlaceId, Haul),
        depart: Millis,
        (luck, name): (f64, LuckName),
    ) -> Millis {
        let (from, to, haul) = leg;
        let pair = self.pair(from, to);
        let free = self.free[haul as usize][pair];
        if free == Millis::NEVER || from == to {
            return free;
        }
        let asked = Asked {
            network: self.serial,
            leg: pair as u32 * 2 + haul as u32,
            luck: name,
        };
        recall(asked, depart, || self.steady_trip(leg, depart, luck))
    }

    /// The same, and what that trip is believed to be delayed by on its way.
    pub fn believed_with_delays(
        &self,
        state: &RoadState,
        now: Millis,
        belief: Believed,
        leg: (PlaceId, PlaceId, Haul),
        depart: Millis,
    ) -> (Millis, Delays) {
        let mut delays = Delays::default();
        let trip = if self.delays {
            self.reckon(state, now, belief, leg, depart, |kind, time| {
                delays.add(kind, time);
            })
        } else {
            self.believed(state, now, belief, leg, depart)
        };
        (trip, delays)
    }

    #[inline]
    fn reckon(
        &self,
        state: &RoadState,
        now: Millis,
        belief: Believed,
        (from, to, haul): (PlaceId, PlaceId, Haul),
        depart: Millis,
        mut tell: impl FnMut(Delay, Millis),
    ) -> Millis {
        let free = self.free_flow(from, to, haul);
        if free == Millis::NEVER || from == to {
            return free;
        }
        match belief {
            Believed::StraightLine => self.straight[self.pair(from, to)],
            Believed::FreeFlow => free,
            Believed::AtTheHour { luck, .. } => {
                let way = self.way(from, to, haul, depart);
                self.walk(way, depart, |_, link, at| {
                    self.usual(link, haul, at, luck, &mut tell)
                })
            }
            Believed::Live => {
                let way = self.way(from, to, haul, depart);
                self.walk(way, depart, |position, link, at| {
                    let known = link.known(state, position, now);
                    let today = match link.area {
                        Some(area) => state.day_factor(area, now),
                        None => 1.0,
                    };
                    let luck = self.mean_trip_luck * today;
                    self.cross(link, haul, at, luck, &mut tell, |at| {
                        match (&link.incidents, known) {
                            (Some(kind), Some(until)) if at < until => (1.0, kind.factor, until),
                            _ => (1.0, 1.0, Millis::NEVER),
                        }
                    })
                })
            }
        }
    }
}
