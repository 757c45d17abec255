//! A network of links between places and junctions: what each is like, and the ways over it.

mod believe;
mod cross;
mod data;
mod drive;
mod find;
mod link;
mod points;
mod round;
mod search;
mod steady;
mod ways;

pub use self::data::{IncidentData, LinkData, NetworkData, WeighStationData};
pub(super) use self::link::Incidents;

use self::link::Link;
use self::points::products;
use self::ways::Ways;
use super::{Haul, Traffic, Weekly};
use crate::engine::{Entity, Sampler, Spread};
use crate::units::{Millis, PlaceId};
use std::sync::atomic::{AtomicU32, Ordering};

/// A network made ready.
#[derive(Clone, Debug)]
pub struct Network {
    /// No other network of this process has it; a copy of this one is the same network.
    serial: u32,
    places: usize,
    /// Added to simulated time to get time since a Monday 00:00.
    offset: Millis,
    pub(super) links: Vec<Link>,
    profiles: Vec<Traffic>,
    pub(super) areas: Vec<Entity>,
    pub(super) day_luck: Sampler,
    /// Its mean.
    pub(super) usual_day: f64,
    luck: Sampler,
    /// Mean of trip luck, and of trip luck times the day's factor.
    mean_trip_luck: f64,
    mean_luck: f64,
    /// Products of trip luck and day factor in order, equally likely.
    products: Vec<f64>,
    cv: f64,
    /// The least that the traffic of the hour and the incidents to be reckoned with multiply the time on any link by.
    least_factor: f64,
    /// Whether anything on it can hold a truck up.
    delays: bool,
    straight: Vec<Millis>,
    /// Quickest minutes of the empty road, by haul.
    free: [Vec<Millis>; 2],
    ways: [Ways; 2],
    /// Quickest ways of loaded trucks from plants that pass no weigh station, where some are taken.
    round: Ways,
}

/// Networks made so far.
static NETWORKS: AtomicU32 = AtomicU32::new(0);

const WEEK: Millis = Millis(7 * Millis::DAY.0);

impl Network {
    /// Ready for questions: finds the quickest legal ways for every hour of the week.
    pub fn new(data: &NetworkData) -> Self {
        let places = data.at.len();
        let mut straight = Vec::with_capacity(places * places);
        for (x0, y0) in &data.at {
            for (x1, y1) in &data.at {
                let miles = libm::hypot(x1 - x0, y1 - y0);
                straight.push(Millis::from_minutes(miles / data.straight_line_mph * 60.0));
            }
        }
        let products = products(&data.luck, &data.day_luck);
        let mean_luck = data.luck.mean() * data.day_luck.mean();
        let square = |spread: &Spread| spread.variance() + spread.mean() * spread.mean();
        let variance = square(&data.luck) * square(&data.day_luck) - mean_luck * mean_luck;
        let mut network = Self {
            serial: NETWORKS.fetch_add(1, Ordering::Relaxed),
            places,
            offset: Millis::DAY * (data.first_day as i64),
            links: data
                .links
                .iter()
                .map(|link| Link::new(link, data))
                .collect(),
            profiles: data.profiles.clone(),
            areas: data.areas.iter().map(|name| Entity::named(name)).collect(),
            day_luck: data.day_luck.sampler(),
            usual_day: data.day_luck.mean(),
            luck: data.luck.sampler(),
            mean_trip_luck: data.luck.mean(),
            mean_luck,
            products,
            cv: if mean_luck > 0.0 {
                variance.max(0.0).sqrt() / mean_luck
            } else {
                0.0
            },
            least_factor: 0.0,
            delays: data.links.iter().any(LinkData::delays),
            straight,
            free: [Vec::new(), Vec::new()],
            ways: [Ways::default(), Ways::default()],
            round: Ways::default(),
        };
        let factors = network.links.iter().map(|link| {
            let profile = link.profile.map(|at| network.profiles[at as usize].least());
            profile.unwrap_or(1.0) * link.mean_incident_factor()
        });
        network.least_factor = factors.fold(f64::INFINITY, f64::min);
        network.find_ways(data);
        network
    }

    #[inline]
    fn pair(&self, from: PlaceId, to: PlaceId) -> usize {
        from.at() * self.places + to.at()
    }

    /// Quickest minutes of the empty road, by legal links at whatever hour; [`Millis::NEVER`] without a way.
    #[inline]
    pub fn free_flow(&self, from: PlaceId, to: PlaceId, haul: Haul) -> Millis {
        self.free[haul as usize][self.pair(from, to)]
    }

    /// Standard deviation of trip luck and day factor together over their mean. Incidents are not in it.
    pub fn cv(&self) -> f64 {
        self.cv
    }

    /// The links of the way that a driver takes at `depart`, by position: of the ways that are quickest at the start of this
    /// hour and of the next, the one that is quicker by the usual traffic, the minutes in weigh stations left out.
    pub fn way(&self, from: PlaceId, to: PlaceId, haul: Haul, depart: Millis) -> &[u32] {
        let way = self.quicker(&self.ways[haul as usize], (from, to, haul), depart);
        debug_assert!(
            from == to || !way.is_empty(),
            "no way was looked for from {from:?} to {to:?}"
        );
        way
    }

    /// Of these ways; no links without one.
    #[inline]
    fn quicker<'a>(
        &self,
        ways: &'a Ways,
        (from, to, haul): (PlaceId, PlaceId, Haul),
        depart: Millis,
    ) -> &'a [u32] {
        let hour = (depart + self.offset).0.rem_euclid(WEEK.0) / Millis::HOUR.0;
        let (this, next) = ways.at(from.at(), to.at(), hour as usize);
        if this == next {
            return ways.links(this);
        }
        let compared = |way| {
            self.walk(ways.links(way), depart, |_, link, at| {
                self.compared(link, haul, at)
            })
        };
        ways.links(if compared(next) < compared(this) {
            next
        } else {
            this
        })
    }

    /// The miles of a trip that begins at `depart`; 0 without a way.
    pub fn miles(&self, from: PlaceId, to: PlaceId, haul: Haul, depart: Millis) -> f64 {
        if self.free_flow(from, to, haul) == Millis::NEVER {
            return 0.0;
        }
        self.miles_along(self.way(from, to, haul, depart))
    }

    fn miles_along(&self, way: &[u32]) -> f64 {
        way.iter()
            .map(|link| self.links[*link as usize].miles)
            .sum()
    }

    /// Whether a trip that begins at `depart` comes by an open weigh station, by the usual minutes.
    pub fn weighed(&self, from: PlaceId, to: PlaceId, haul: Haul, depart: Millis) -> bool {
        let mut at = depart;
        for link in self.way(from, to, haul, depart) {
            let link = &self.links[*link as usize];
            let open = |station: &(Weekly, Millis)| station.0.since_last(at).is_none();
            if link.weigh_station.as_ref().is_some_and(open) {
                return true;
            }
            at = self.usual(link, haul, at, self.mean_trip_luck, |_, _| {});
        }
        false
    }
}
