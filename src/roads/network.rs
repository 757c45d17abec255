//! A network of links between places and junctions: what each is like, and the ways over it.

mod round;
mod search;
mod ways;

use self::search::search;
use self::ways::Ways;
use super::delays::{Delay, Delays};
use super::{Belief, Believed, Haul, RoadState, RoadTruck, Traffic, Weekly};
use crate::engine::{Entity, Sampler, Spread};
use crate::units::{Millis, PlaceId, Weekday};

/// What a network is made from. Nodes are counted: places first (plants, then sites), then junctions.
#[derive(Clone, Debug)]
pub struct NetworkData {
    /// Weekday on which simulated time begins.
    pub first_day: Weekday,
    /// Miles east and north of each place; as many as there are places.
    pub at: Vec<(f64, f64)>,
    /// How many of the places are plants.
    pub plants: usize,
    /// For each place, whether trucks drive on from it to any other place, not only to and from plants.
    pub onward: Vec<bool>,
    /// Nodes that are junctions only.
    pub junctions: usize,
    /// One-way links.
    pub links: Vec<LinkData>,
    /// Congestion profiles.
    pub profiles: Vec<Traffic>,
    /// Names of the areas that links belong to.
    pub areas: Vec<String>,
    /// Factor of a day in an area, shared by its links.
    pub day_luck: Spread,
    /// Factor on every trip.
    pub luck: Spread,
    /// The truck that grades and limits are reckoned for.
    pub truck: RoadTruck,
    /// Miles an hour on the map, for the straight-line belief.
    pub straight_line_mph: f64,
    /// Whether some loads go round weigh stations: their ways are then looked for.
    pub ways_round: bool,
}

/// A one-way link.
#[derive(Clone, Debug)]
pub struct LinkData {
    /// Name of this direction of the road: its incidents hang on it.
    pub name: String,
    /// Node where it begins.
    pub from: usize,
    /// Node where it ends.
    pub to: usize,
    /// Length.
    pub miles: f64,
    /// Free flow, miles an hour.
    pub mph: f64,
    /// Rise over run, negative downhill.
    pub grade: f64,
    /// Position of its congestion profile. None: no traffic.
    pub profile: Option<usize>,
    /// Position of its area. None: no factor of the day.
    pub area: Option<usize>,
    /// Heavier trucks may not take it.
    pub weight_limit_lb: Option<f64>,
    /// When it is closed to loaded trucks.
    pub closed_to_loaded: Weekly,
    /// Lifts of a bridge at its beginning: who comes during one waits until its end.
    pub lifts: Weekly,
    /// Weigh station at its beginning.
    pub weigh_station: Option<WeighStationData>,
    /// Incidents on it.
    pub incidents: Option<IncidentData>,
}

/// A weigh station that every truck enters while it is open.
#[derive(Clone, Debug)]
pub struct WeighStationData {
    /// When it is open.
    pub open: Weekly,
    /// Minutes lost in it. What stands in it at closing is let out in turn: nobody is overtaken from behind.
    pub minutes: f64,
}

/// Incidents that slow a link down for a while.
#[derive(Clone, Debug)]
pub struct IncidentData {
    /// Mean number in a day of 24 hours, spread over it evenly; 0 to 50.
    pub per_day: f64,
    /// How long one lasts.
    pub minutes: Spread,
    /// How many times longer the link takes meanwhile, 1 or more.
    pub factor: f64,
}

impl LinkData {
    /// Whether anything on it can hold a truck up.
    fn delays(&self) -> bool {
        !self.lifts.is_empty()
            || !self.closed_to_loaded.is_empty()
            || self.weigh_station.is_some()
            || self.incidents.is_some()
    }
}

/// A network made ready.
#[derive(Clone, Debug)]
pub struct Network {
    places: usize,
    /// Added to simulated time to get time since a Monday 00:00.
    offset: Millis,
    pub(super) links: Vec<Link>,
    profiles: Vec<Traffic>,
    pub(super) areas: Vec<Entity>,
    pub(super) day_luck: Sampler,
    luck: Sampler,
    /// Mean of trip luck, and of trip luck times the day's factor.
    mean_trip_luck: f64,
    mean_luck: f64,
    /// Products of trip luck and day factor in order, equally likely.
    products: Vec<f64>,
    cv: f64,
    /// Whether anything on it can hold a truck up.
    delays: bool,
    straight: Vec<Millis>,
    /// Quickest minutes of the empty road, by haul.
    free: [Vec<Millis>; 2],
    ways: [Ways; 2],
    /// Quickest ways of loaded trucks from plants that pass no weigh station, where some are taken.
    round: Ways,
}

/// A link made ready.
#[derive(Clone, Debug)]
pub(super) struct Link {
    from: u32,
    to: u32,
    miles: f64,
    /// Empty road, ms, by haul; infinite where it may not be taken.
    free: [f64; 2],
    profile: Option<u32>,
    area: Option<u32>,
    /// By haul: lifts, and for loaded trucks also bans.
    closed: [Weekly; 2],
    weigh_station: Option<(Weekly, Millis)>,
    pub(super) incidents: Option<Incidents>,
}

/// Incidents made ready.
#[derive(Clone, Debug)]
pub(super) struct Incidents {
    pub(super) entity: Entity,
    pub(super) per_day: f64,
    pub(super) minutes: Sampler,
    factor: f64,
    /// Mean factor at a moment taken at random.
    mean_factor: f64,
    /// Lengths in ms, equally likely, in order; and for each the sum of it and all longer ones.
    lengths: Vec<(f64, f64)>,
}

const WEEK: Millis = Millis(7 * Millis::DAY.0);
/// Points of a spread where a distribution is carried as a list.
const POINTS: usize = 200;

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
            luck: data.luck.sampler(),
            mean_trip_luck: data.luck.mean(),
            mean_luck,
            products,
            cv: if mean_luck > 0.0 {
                variance.max(0.0).sqrt() / mean_luck
            } else {
                0.0
            },
            delays: data.links.iter().any(LinkData::delays),
            straight,
            free: [Vec::new(), Vec::new()],
            ways: [Ways::default(), Ways::default()],
            round: Ways::default(),
        };
        network.find_ways(data);
        network
    }

    fn find_ways(&mut self, data: &NetworkData) {
        let nodes = self.places + data.junctions;
        let mut leaving = vec![Vec::new(); nodes];
        for (position, link) in self.links.iter().enumerate() {
            leaving[link.from as usize].push((position as u32, link.to));
        }
        let timeless = self.links.iter().all(|link| {
            link.profile
                .is_none_or(|profile| self.profiles[profile as usize].is_constant())
                && link.closed.iter().all(Weekly::is_empty)
                && link.weigh_station.is_none()
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
                    let depart = Millis::HOUR * (hour as i64) - self.offset;
                    let found = search(&leaving, from, depart, |link, at| {
                        let link = &self.links[link];
                        match link.free[h].is_finite() {
                            true => self.usual(link, haul, at, self.mean_luck, |_, _| {}),
                            false => Millis::NEVER,
                        }
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

    fn links_from(&self) -> impl Fn(u32) -> u32 {
        |link| self.links[link as usize].from
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

    /// Makes a belief about this network ready for use.
    pub fn believe(&self, belief: Belief) -> Believed {
        match belief {
            Belief::StraightLine => Believed::StraightLine,
            Belief::FreeFlow => Believed::FreeFlow,
            Belief::TimeOfDay { quantile: None } => Believed::AtTheHour {
                luck: self.mean_luck,
            },
            Belief::TimeOfDay { quantile: Some(q) } => {
                let at = (q * self.products.len() as f64) as usize;
                Believed::AtTheHour {
                    luck: self.products[at.min(self.products.len() - 1)],
                }
            }
            Belief::Live => Believed::Live,
        }
    }

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

    /// What that trip is delayed by on its way.
    pub fn delays(
        &self,
        state: &RoadState,
        leg: (PlaceId, PlaceId, Haul),
        depart: Millis,
        u: f64,
    ) -> Delays {
        let mut delays = Delays::default();
        if self.delays {
            self.drive(state, leg, depart, u, |kind, time| delays.add(kind, time));
        }
        delays
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
    fn drive_along(
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
        self.reckon(state, now, belief, leg, depart, |_, _| {})
    }

    /// What that trip is believed to be delayed by on its way.
    pub fn believed_delays(
        &self,
        state: &RoadState,
        now: Millis,
        belief: Believed,
        leg: (PlaceId, PlaceId, Haul),
        depart: Millis,
    ) -> Delays {
        let mut delays = Delays::default();
        if self.delays {
            self.reckon(state, now, belief, leg, depart, |kind, time| {
                delays.add(kind, time);
            });
        }
        delays
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
            Believed::AtTheHour { luck } => {
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

    /// The links of the way that a driver takes at `depart`, by position: of the ways that are quickest at the start of this
    /// hour and of the next, the one that is quicker by the usual traffic.
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
        let usual = |way| {
            self.walk(ways.links(way), depart, |_, link, at| {
                self.usual(link, haul, at, self.mean_luck, |_, _| {})
            })
        };
        ways.links(if usual(next) < usual(this) {
            next
        } else {
            this
        })
    }

    /// From one link to the next.
    #[inline]
    fn walk(
        &self,
        way: &[u32],
        depart: Millis,
        mut cross: impl FnMut(usize, &Link, Millis) -> Millis,
    ) -> Millis {
        let mut at = depart;
        for link in way {
            at = cross(*link as usize, &self.links[*link as usize], at);
        }
        at - depart
    }

    /// When a truck that comes to a link is at its end, as is usual at the hour.
    #[inline]
    fn usual(
        &self,
        link: &Link,
        haul: Haul,
        enter: Millis,
        luck: f64,
        tell: impl FnMut(Delay, Millis),
    ) -> Millis {
        let incidents = link
            .incidents
            .as_ref()
            .map_or(1.0, |incidents| incidents.mean_factor);
        self.cross(link, haul, enter, luck, tell, |_| {
            (1.0, incidents, Millis::NEVER)
        })
    }

    /// When a truck that comes to a link is at its end: past a closed gate and a weigh station, then driven piece by piece.
    /// `extra` has the factors of the day and of an incident beside that of the profile, and until when they hold; `tell` hears
    /// what holds the truck up.
    #[inline]
    fn cross(
        &self,
        link: &Link,
        haul: Haul,
        enter: Millis,
        luck: f64,
        mut tell: impl FnMut(Delay, Millis),
        extra: impl Fn(Millis) -> (f64, f64, Millis),
    ) -> Millis {
        let mut at = link.closed[haul as usize].after(enter);
        tell(Delay::Closed, at - enter);
        if let Some((open, lost)) = &link.weigh_station {
            let weighed = match open.since_last(at) {
                None => *lost,
                Some(closed) => (*lost - closed).max(Millis::ZERO),
            };
            at += weighed;
            tell(Delay::Weighed, weighed);
        }
        let mut left = link.free[haul as usize] * luck;
        loop {
            let (usual, end) = match link.profile {
                Some(profile) => self.profiles[profile as usize].piece(at),
                None => (1.0, Millis::NEVER),
            };
            let (day, incident, until) = extra(at);
            let factor = usual * (day * incident);
            let end = end.min(until);
            let whole = (end - at).0 as f64 / factor;
            let without = factor / incident;
            if left <= whole {
                let took = Millis((left * factor + 0.5) as i64);
                tell(Delay::Incident, beyond(took, left * without));
                return at + took;
            }
            tell(Delay::Incident, beyond(end - at, whole * without));
            left -= whole;
            at = end;
        }
    }
}

/// What a stretch took beyond the milliseconds that it takes without an incident.
fn beyond(took: Millis, without: f64) -> Millis {
    took - Millis((without + 0.5) as i64)
}

impl Link {
    fn new(data: &LinkData, network: &NetworkData) -> Self {
        let closed = [
            data.lifts.and(&data.closed_to_loaded),
            data.lifts.and(&Weekly::default()),
        ];
        let free = Haul::BOTH.map(|haul| {
            let weight = network.truck.weight_lb(haul);
            let legal = data.weight_limit_lb.is_none_or(|limit| weight <= limit)
                && !closed[haul as usize].is_always();
            let mph = network.truck.speed_mph(haul, data.mph, data.grade);
            if legal {
                data.miles / mph * Millis::HOUR.0 as f64
            } else {
                f64::INFINITY
            }
        });
        Self {
            from: data.from as u32,
            to: data.to as u32,
            miles: data.miles,
            free,
            profile: data.profile.map(|profile| profile as u32),
            area: data.area.map(|area| area as u32),
            closed,
            weigh_station: data
                .weigh_station
                .as_ref()
                .filter(|station| !station.open.is_empty())
                .map(|station| (station.open.clone(), Millis::from_minutes(station.minutes))),
            incidents: data
                .incidents
                .as_ref()
                .filter(|incidents| incidents.per_day > 0.0)
                .map(|incidents| Incidents::new(incidents, &data.name)),
        }
    }

    /// When a truck that comes to it is at its end if the road is empty and everything open.
    fn empty_road(&self, haul: Haul, at: Millis) -> Millis {
        let free = self.free[haul as usize];
        if free.is_finite() {
            at + Millis((free + 0.5) as i64)
        } else {
            Millis::NEVER
        }
    }

    /// Until when an incident is believed to last that is there `now`: as long as such a one still lasts on average after
    /// the time that it has lasted.
    fn known(&self, state: &RoadState, position: usize, now: Millis) -> Option<Millis> {
        let kind = self.incidents.as_ref()?;
        let (start, _) = state.next_incident(position, now)?;
        (start <= now).then(|| now + kind.remaining(now - start))
    }
}

impl Incidents {
    fn new(data: &IncidentData, name: &str) -> Self {
        // Whether the link is free of incidents at a moment: that an M/G/∞ queue is empty.
        let load = data.per_day * data.minutes.mean() / (24.0 * 60.0);
        let mut lengths: Vec<(f64, f64)> = quantiles(&data.minutes)
            .iter()
            .map(|minutes| (minutes * 60_000.0, 0.0))
            .collect();
        let mut sum = 0.0;
        for (length, rest) in lengths.iter_mut().rev() {
            sum += *length;
            *rest = sum;
        }
        Self {
            entity: Entity::named(name),
            per_day: data.per_day,
            minutes: data.minutes.sampler(),
            factor: data.factor,
            mean_factor: 1.0 - (data.factor - 1.0) * libm::expm1(-load),
            lengths,
        }
    }

    /// The mean of what is still to come after this time.
    fn remaining(&self, lasted: Millis) -> Millis {
        let lasted = lasted.0 as f64;
        let first = self
            .lengths
            .partition_point(|(length, _)| *length <= lasted);
        match self.lengths.get(first) {
            None => Millis::ZERO,
            Some((_, sum)) => {
                let longer = (self.lengths.len() - first) as f64;
                Millis((sum / longer - lasted + 0.5) as i64)
            }
        }
    }
}

/// Equally likely values of a spread, in order: one if it is a constant.
fn quantiles(spread: &Spread) -> Vec<f64> {
    if spread.variance() == 0.0 {
        return vec![spread.mean()];
    }
    let sampler = spread.sampler();
    (0..POINTS)
        .map(|point| sampler.at((point as f64 + 0.5) / POINTS as f64))
        .collect()
}

/// The products of two independent spreads as equally likely values, in order.
fn products(one: &Spread, other: &Spread) -> Vec<f64> {
    let other = quantiles(other);
    let mut products: Vec<f64> = quantiles(one)
        .iter()
        .flat_map(|a| other.iter().map(move |b| a * b))
        .collect();
    products.sort_unstable_by(f64::total_cmp);
    products
}
