//! The roads as a whole, whichever form they are written in.

use super::{Belief, Believed, Delays, Haul, Network, NetworkData, RoadState, Table, TableData};
use crate::engine::Luck;
use crate::units::{Millis, PlaceId};

/// Minutes between places, true and believed.
#[derive(Clone, Debug)]
#[expect(
    clippy::large_enum_variant,
    reason = "there is one for each plan, and the table is reached without a hop"
)]
pub enum Roads {
    /// From a table.
    Table(Table),
    /// Over a network.
    Network(Box<Network>),
}

/// The roads at one moment of a replication: what is asked by those who drive, and by those who reckon with it.
#[derive(Clone, Copy, Debug)]
pub struct RoadsNow<'a> {
    roads: &'a Roads,
    state: &'a RoadState,
    now: Millis,
}

impl Roads {
    /// From a table of minutes.
    pub fn table(data: &TableData) -> Self {
        Self::Table(Table::new(data))
    }

    /// From a network of links.
    pub fn network(data: &NetworkData) -> Self {
        Self::Network(Box::new(Network::new(data)))
    }

    /// Makes `state` that of a replication of so many days, at least one. A state that has held the same replication before
    /// allocates nothing.
    pub fn refresh(&self, state: &mut RoadState, luck: Luck, days: usize) {
        match self {
            Self::Table(_) => *state = RoadState::default(),
            Self::Network(network) => state.refresh(network, luck, days),
        }
    }

    /// Makes `state` that of a fork at `now` of a replication whose state is `base`: the same in all that has happened, under
    /// luck of its own after that. `known`: whether `base` says how today is; else today is drawn too.
    pub fn fork(
        &self,
        state: &mut RoadState,
        base: &RoadState,
        luck: Luck,
        (now, known): (Millis, bool),
    ) {
        if let Self::Network(network) = self {
            state.fork(network, base, luck, (now, known));
        }
    }

    /// From now on drives of this day take so many times as long as usual, in whatever is forked from `state`.
    pub fn tell(&self, state: &mut RoadState, day: i64, times: f64) {
        state.tell(day, times);
    }

    /// How many times as long as usual drives take on the day of `at`; none where days do not differ.
    pub fn today(&self, state: &RoadState, at: Millis) -> Option<f64> {
        match self {
            Self::Table(_) => None,
            Self::Network(network) => state.today(network, at),
        }
    }

    /// The roads at a moment; `state` is one that [`refresh`](Self::refresh) has made.
    #[inline]
    pub fn at<'a>(&'a self, state: &'a RoadState, now: Millis) -> RoadsNow<'a> {
        RoadsNow {
            roads: self,
            state,
            now,
        }
    }

    /// Minutes of the empty road; [`Millis::NEVER`] without a way.
    #[inline]
    pub fn free_flow(&self, from: PlaceId, to: PlaceId, haul: Haul) -> Millis {
        match self {
            Self::Table(table) => table.free_flow(from, to),
            Self::Network(network) => network.free_flow(from, to, haul),
        }
    }

    /// The miles of a trip that begins at `depart`. None: a table does not know them.
    pub fn miles(&self, from: PlaceId, to: PlaceId, haul: Haul, depart: Millis) -> Option<f64> {
        match self {
            Self::Table(_) => None,
            Self::Network(network) => Some(network.miles(from, to, haul, depart)),
        }
    }

    /// Whether a trip that begins at `depart` comes by an open weigh station, by the usual minutes.
    pub fn weighed(&self, from: PlaceId, to: PlaceId, haul: Haul, depart: Millis) -> bool {
        match self {
            Self::Table(_) => false,
            Self::Network(network) => network.weighed(from, to, haul, depart),
        }
    }

    /// Whether a loaded trip that begins at `depart` comes by an open weigh station, and a way leads round it.
    pub fn can_go_round(&self, from: PlaceId, to: PlaceId, depart: Millis) -> bool {
        match self {
            Self::Table(_) => false,
            Self::Network(network) => network.can_go_round(from, to, depart),
        }
    }

    /// To which of these places a loaded truck from `from` would be sooner by going round an open weigh station, and by how much at
    /// most: no truck does. For a note; slow.
    pub fn most_spared_round(
        &self,
        from: PlaceId,
        to: impl Iterator<Item = PlaceId>,
    ) -> Option<(PlaceId, Millis)> {
        match self {
            Self::Table(_) => None,
            Self::Network(network) => network.most_spared_round(from, to),
        }
    }

    /// The miles of the way round weigh stations for a loaded trip that begins at `depart`; 0 without one.
    pub fn miles_round(&self, from: PlaceId, to: PlaceId, depart: Millis) -> f64 {
        match self {
            Self::Table(_) => 0.0,
            Self::Network(network) => network.miles_round(from, to, depart),
        }
    }

    /// Standard deviation of a trip over its mean.
    pub fn cv(&self) -> f64 {
        match self {
            Self::Table(table) => table.cv(),
            Self::Network(network) => network.cv(),
        }
    }

    /// Makes a belief about these roads ready for use.
    pub fn believe(&self, belief: Belief) -> Believed {
        match self {
            Self::Table(table) => table.believe(belief),
            Self::Network(network) => network.believe(belief),
        }
    }
}

impl RoadsNow<'_> {
    /// Whether there is a way.
    #[inline(always)]
    pub fn reaches(&self, from: PlaceId, to: PlaceId, haul: Haul) -> bool {
        self.free_flow(from, to, haul) < Millis::NEVER
    }

    /// Minutes of the empty road; [`Millis::NEVER`] without a way.
    #[inline(always)]
    pub fn free_flow(&self, from: PlaceId, to: PlaceId, haul: Haul) -> Millis {
        self.roads.free_flow(from, to, haul)
    }

    /// How long a trip that begins at `depart` takes, with the luck at `u` in (0, 1). The places must be connected.
    #[inline(always)]
    pub fn trip(&self, from: PlaceId, to: PlaceId, haul: Haul, depart: Millis, u: f64) -> Millis {
        let trip = match self.roads {
            Roads::Table(table) => table.trip(from, to, depart, u),
            Roads::Network(network) => network.trip(self.state, (from, to, haul), depart, u),
        };
        self.state.as_told(depart, trip)
    }

    /// How long a loaded trip takes that goes round weigh stations; as [`trip`](Self::trip) where no way leads round.
    pub fn trip_round(&self, from: PlaceId, to: PlaceId, depart: Millis, u: f64) -> Millis {
        let trip = match self.roads {
            Roads::Table(table) => table.trip(from, to, depart, u),
            Roads::Network(network) => network.trip_round(self.state, (from, to), depart, u),
        };
        self.state.as_told(depart, trip)
    }

    /// How long a driver believes that trip to take; [`Millis::NEVER`] where no way leads round.
    pub fn believed_round(
        &self,
        belief: Believed,
        from: PlaceId,
        to: PlaceId,
        depart: Millis,
    ) -> Millis {
        match self.roads {
            Roads::Table(_) => Millis::NEVER,
            Roads::Network(network) => network.believed_round(belief, (from, to), depart),
        }
    }

    /// How long a trip takes, as [`trip`](Self::trip) tells it, and what holds it up: nothing where the roads are a table.
    pub fn trip_with_delays(
        &self,
        way: (PlaceId, PlaceId, Haul),
        depart: Millis,
        u: f64,
    ) -> (Millis, Delays) {
        let (trip, delays) = match self.roads {
            Roads::Table(table) => (table.trip(way.0, way.1, depart, u), Delays::default()),
            Roads::Network(network) => network.trip_with_delays(self.state, way, depart, u),
        };
        (self.state.as_told(depart, trip), delays)
    }

    /// How long a trip is believed to take, as [`believed`](Self::believed) tells it, and what is believed to hold it up.
    pub fn believed_with_delays(
        &self,
        belief: Believed,
        from: PlaceId,
        to: PlaceId,
        haul: Haul,
        depart: Millis,
    ) -> (Millis, Delays) {
        let (trip, delays) = match self.roads {
            Roads::Table(table) => (table.believed(belief, from, to, depart), Delays::default()),
            Roads::Network(network) => {
                network.believed_with_delays(self.state, self.now, belief, (from, to, haul), depart)
            }
        };
        (self.as_believed(belief, depart, trip), delays)
    }

    /// Whoever knows how the roads are knows what has been told of them.
    #[inline]
    fn as_believed(&self, belief: Believed, depart: Millis, trip: Millis) -> Millis {
        match belief {
            Believed::Live if trip < Millis::NEVER => self.state.as_told(depart, trip),
            _ => trip,
        }
    }

    /// What a trip is believed to take at least, whenever it begins; [`Millis::NEVER`] without a way.
    #[inline]
    pub fn believed_at_least(
        &self,
        belief: Believed,
        from: PlaceId,
        to: PlaceId,
        haul: Haul,
    ) -> Millis {
        match self.roads {
            Roads::Table(table) => table.believed_at_least(belief, from, to),
            Roads::Network(network) => network.believed_at_least(belief, (from, to, haul)),
        }
    }

    /// How long a trip that begins at `depart` is believed to take; [`Millis::NEVER`] without a way.
    #[inline(always)]
    pub fn believed(
        &self,
        belief: Believed,
        from: PlaceId,
        to: PlaceId,
        haul: Haul,
        depart: Millis,
    ) -> Millis {
        let trip = match self.roads {
            Roads::Table(table) => table.believed(belief, from, to, depart),
            Roads::Network(network) => {
                network.believed(self.state, self.now, belief, (from, to, haul), depart)
            }
        };
        self.as_believed(belief, depart, trip)
    }
}
