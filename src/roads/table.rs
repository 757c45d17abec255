//! A table of minutes between places, with traffic and luck over it.

use super::belief::at_least;
use super::{Belief, Believed, Traffic};
use crate::engine::{Sampler, Spread};
use crate::units::{Millis, PlaceId};

/// What a table is made from.
#[derive(Clone, Debug)]
pub struct TableData {
    /// Free-flow minutes, `[from][to]`; None where there is no way.
    pub minutes: Vec<Vec<Option<f64>>>,
    /// Ways with a traffic of their own in place of the general one: from, to, how many times the minutes above.
    pub by_hour: Vec<(usize, usize, Traffic)>,
    /// Miles east and north of each place.
    pub at: Vec<(f64, f64)>,
    /// Factor on every trip.
    pub luck: Spread,
    /// Traffic of the hours.
    pub traffic: Traffic,
    /// Miles an hour on the map, for the straight-line belief.
    pub straight_line_mph: f64,
}

/// Minutes between places, true and believed.
#[derive(Clone, Debug)]
pub struct Table {
    places: usize,
    free: Vec<Millis>,
    straight: Vec<Millis>,
    traffic: Traffic,
    /// For each pair the position of its own traffic, from 1; 0: the general one. Empty where no way has one.
    own: Vec<u32>,
    own_traffic: Vec<Traffic>,
    spread: Spread,
    luck: Sampler,
    cv: f64,
}

impl Table {
    /// Ready for questions.
    pub fn new(data: &TableData) -> Self {
        let places = data.minutes.len();
        let mut free = Vec::with_capacity(places * places);
        let mut straight = Vec::with_capacity(places * places);
        for (from, row) in data.minutes.iter().enumerate() {
            for (to, minutes) in row.iter().enumerate() {
                let known = if from == to { Some(0.0) } else { *minutes };
                free.push(known.map_or(Millis::NEVER, Millis::from_minutes));
                let ((x0, y0), (x1, y1)) = (data.at[from], data.at[to]);
                let miles = libm::hypot(x1 - x0, y1 - y0);
                straight.push(known.map_or(Millis::NEVER, |_| {
                    Millis::from_minutes(miles / data.straight_line_mph * 60.0)
                }));
            }
        }
        let mut own = Vec::new();
        if !data.by_hour.is_empty() {
            own = vec![0; places * places];
            for (at, (from, to, _)) in data.by_hour.iter().enumerate() {
                own[from * places + to] = at as u32 + 1;
            }
        }
        Self {
            places,
            free,
            straight,
            traffic: data.traffic.clone(),
            own,
            own_traffic: data.by_hour.iter().map(|way| way.2.clone()).collect(),
            spread: data.luck.clone(),
            luck: data.luck.sampler(),
            cv: data.luck.cv(),
        }
    }

    #[inline]
    fn pair(&self, from: PlaceId, to: PlaceId) -> usize {
        from.at() * self.places + to.at()
    }

    /// The traffic of a pair.
    #[inline]
    fn traffic(&self, pair: usize) -> &Traffic {
        if self.own.is_empty() {
            return &self.traffic;
        }
        match self.own[pair] {
            0 => &self.traffic,
            own => &self.own_traffic[own as usize - 1],
        }
    }

    /// Minutes of the empty road; [`Millis::NEVER`] without a way.
    #[inline]
    pub fn free_flow(&self, from: PlaceId, to: PlaceId) -> Millis {
        self.free[self.pair(from, to)]
    }

    /// How long a trip that begins at `depart` takes, with the luck at `u` in (0, 1). The places must be connected.
    #[inline]
    pub fn trip(&self, from: PlaceId, to: PlaceId, depart: Millis, u: f64) -> Millis {
        let pair = self.pair(from, to);
        let free = self.free[pair];
        debug_assert!(free < Millis::NEVER, "no way from {from:?} to {to:?}");
        self.traffic(pair).drive(
            depart,
            Millis((free.0 as f64 * self.luck.at(u) + 0.5) as i64),
        )
    }

    /// Standard deviation of a trip over its mean.
    pub fn cv(&self) -> f64 {
        self.cv
    }

    /// Makes a belief about this table ready for use.
    pub fn believe(&self, belief: Belief) -> Believed {
        match belief {
            Belief::StraightLine => Believed::StraightLine,
            Belief::FreeFlow => Believed::FreeFlow,
            Belief::TimeOfDay { quantile: None } | Belief::Live => {
                Believed::at_the_hour(self.spread.mean())
            }
            Belief::TimeOfDay { quantile: Some(q) } => {
                Believed::at_the_hour(self.spread.quantile(q))
            }
        }
    }

    /// What a trip is believed to take at least, whenever it begins; [`Millis::NEVER`] without a way.
    #[inline]
    pub fn believed_at_least(&self, belief: Believed, from: PlaceId, to: PlaceId) -> Millis {
        let pair = self.pair(from, to);
        match belief {
            Believed::StraightLine => self.straight[pair],
            Believed::FreeFlow => self.free[pair],
            // What has been told of a day may be any times as quick.
            Believed::Live => at_least(self.free[pair], 0.0),
            Believed::AtTheHour { luck, .. } => {
                at_least(self.free[pair], luck * self.traffic(pair).least())
            }
        }
    }

    /// How long a trip that begins at `depart` is believed to take; [`Millis::NEVER`] without a way.
    #[inline]
    pub fn believed(&self, belief: Believed, from: PlaceId, to: PlaceId, depart: Millis) -> Millis {
        let pair = self.pair(from, to);
        match belief {
            Believed::StraightLine => self.straight[pair],
            Believed::FreeFlow | Believed::Live => self.free[pair],
            Believed::AtTheHour { luck, .. } => {
                let free = self.free[pair];
                if free == Millis::NEVER {
                    return free;
                }
                self.traffic(pair)
                    .drive(depart, Millis((free.0 as f64 * luck + 0.5) as i64))
            }
        }
    }
}
