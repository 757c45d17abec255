//! What is true of a trip: the luck of the trip and of the day, and the incidents that there are.

use super::Network;
use crate::roads::delays::{Delay, Delays};
use crate::roads::{Haul, RoadState};
use crate::units::{Millis, PlaceId};

impl Network {
    /// How long a trip that begins at `depart` takes, with the luck at `u` in (0, 1). There must be a way.
    #[inline(never)] // keeps the table's path short where both are asked
    pub fn trip(
        &self,
        state: &RoadState,
        leg: (PlaceId, PlaceId, Haul),
        depart: Millis,
        u: f64,
    ) -> Millis {
        self.drive(state, leg, depart, u, |_, _| {})
    }

    /// The same, and what that trip is delayed by on its way.
    pub fn trip_with_delays(
        &self,
        state: &RoadState,
        leg: (PlaceId, PlaceId, Haul),
        depart: Millis,
        u: f64,
    ) -> (Millis, Delays) {
        let mut delays = Delays::default();
        let trip = if self.delays {
            self.drive(state, leg, depart, u, |kind, time| delays.add(kind, time))
        } else {
            self.trip(state, leg, depart, u)
        };
        (trip, delays)
    }

    #[inline]
    fn drive(
        &self,
        state: &RoadState,
        (from, to, haul): (PlaceId, PlaceId, Haul),
        depart: Millis,
        u: f64,
        mut tell: impl FnMut(Delay, Millis),
    ) -> Millis {
        let way = self.way(from, to, haul, depart);
        self.drive_along(state, (way, haul), depart, u, &mut tell)
    }

    /// How long it takes along this way.
    #[inline]
    pub(super) fn drive_along(
        &self,
        state: &RoadState,
        (way, haul): (&[u32], Haul),
        depart: Millis,
        u: f64,
        mut tell: impl FnMut(Delay, Millis),
    ) -> Millis {
        let luck = self.luck.at(u);
        self.walk(way, depart, |position, link, at| {
            self.cross(link, haul, at, luck, &mut tell, |at| {
                let (day, midnight) = match link.area {
                    Some(area) => (state.day_factor(area, at), Millis::midnight(at.day() + 1)),
                    None => (1.0, Millis::NEVER),
                };
                let (incident, until) = match &link.incidents {
                    None => (1.0, Millis::NEVER),
                    Some(kind) => match state.next_incident(position, at) {
                        None => (1.0, Millis::NEVER),
                        Some((start, _)) if start > at => (1.0, start),
                        Some((_, end)) => (kind.factor, end),
                    },
                };
                (day, incident, midnight.min(until))
            })
        })
    }
}
