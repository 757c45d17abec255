//! Random networks, and the quickest way over one by looking at all paths and driving each second by second.

use plantday::engine::{Entity, Luck, Spread};
use plantday::roads::{
    Haul, IncidentData, LinkData, NetworkData, RoadTruck, Traffic, Weekly, WeighStationData,
};
use plantday::units::{Millis, Purpose, Weekday};
use std::cell::RefCell;
use std::collections::BTreeMap;

/// Numbers that follow from a seed.
pub(crate) struct Random {
    luck: Luck,
    drawn: u32,
}

impl Random {
    pub(crate) fn new(seed: u64) -> Self {
        Self {
            luck: Luck::new(seed, 0),
            drawn: 0,
        }
    }

    fn uniform(&mut self, low: f64, high: f64) -> f64 {
        self.drawn += 1;
        let block = self.luck.block(Purpose::RoadDay, Entity(0), self.drawn, 0);
        low + (high - low) * block.uniform(0)
    }

    fn below(&mut self, n: usize) -> usize {
        self.uniform(0.0, n as f64) as usize
    }

    fn chance(&mut self, share: f64) -> bool {
        self.uniform(0.0, 1.0) < share
    }

    fn days(&mut self) -> Vec<Weekday> {
        let days: Vec<Weekday> = Weekday::ALL
            .into_iter()
            .filter(|_| self.chance(0.7))
            .collect();
        if days.is_empty() {
            Weekday::ALL.to_vec()
        } else {
            days
        }
    }

    /// One to three spans on some days.
    fn weekly(&mut self, longest_min: f64) -> Weekly {
        let spans: Vec<(Vec<Weekday>, Millis, Millis)> = (0..1 + self.below(3))
            .map(|_| {
                let from = self.below(1_380) as i64;
                let to = (from + 1 + self.uniform(0.0, longest_min) as i64).min(1_440);
                (self.days(), Millis::MINUTE * from, Millis::MINUTE * to)
            })
            .collect();
        let spans = spans.iter().map(|(days, from, to)| (&days[..], *from, *to));
        Weekly::new(Weekday::Wednesday, spans)
    }

    fn profile(&mut self) -> Traffic {
        let weekdays = self.days();
        let mut factors = Vec::new();
        let mut minute = self.below(300) as i64;
        while minute < 1_440 {
            factors.push((Millis::MINUTE * minute, self.uniform(0.3, 5.0)));
            minute += 5 + self.below(300) as i64;
        }
        Traffic::new(
            Weekday::Wednesday,
            [(&weekdays[..], &factors[..])].into_iter(),
        )
    }
}

/// A plain link of so many minutes.
pub(crate) fn link(name: &str, from: usize, to: usize, minutes: f64) -> LinkData {
    LinkData {
        name: name.into(),
        from,
        to,
        miles: minutes,
        mph: 60.0,
        grade: 0.0,
        profile: None,
        area: None,
        weight_limit_lb: None,
        closed_to_loaded: Weekly::default(),
        lifts: Weekly::default(),
        weigh_station: None,
        incidents: None,
    }
}

fn network(random: &mut Random, nodes: usize) -> NetworkData {
    NetworkData {
        first_day: Weekday::Wednesday,
        at: vec![(0.0, 0.0), (3.0, 4.0)],
        plants: 1,
        onward: vec![false; 2],
        junctions: nodes - 2,
        links: Vec::new(),
        profiles: (0..3).map(|_| random.profile()).collect(),
        areas: vec!["north".into(), "south".into()],
        day_luck: Spread::Constant(1.0),
        luck: Spread::Constant(1.0),
        truck: RoadTruck::USUAL,
        straight_line_mph: 35.0,
        ways_round: false,
    }
}

/// A link with something of everything.
fn any_link(random: &mut Random, from: usize, to: usize, name: &str) -> LinkData {
    let minutes = random.uniform(0.5, 25.0);
    let mut link = link(name, from, to, minutes);
    link.grade = random.uniform(-0.08, 0.08);
    link.profile = random.chance(0.8).then(|| random.below(3));
    if random.chance(0.3) {
        link.lifts = random.weekly(30.0);
    }
    if random.chance(0.3) {
        link.closed_to_loaded = random.weekly(240.0);
    }
    if random.chance(0.3) {
        link.weigh_station = Some(WeighStationData {
            open: random.weekly(600.0),
            minutes: random.uniform(0.0, 15.0),
        });
    }
    link
}

/// Links in a row from the first place to the second: there is one way only.
pub(crate) fn line(random: &mut Random, count: usize) -> NetworkData {
    let mut data = network(random, count.max(1) + 1);
    data.day_luck = Spread::Lognormal { mean: 1.0, cv: 0.3 };
    data.luck = Spread::Lognormal { mean: 1.0, cv: 0.3 };
    if count == 0 {
        data.day_luck = Spread::Constant(1.0);
        data.luck = Spread::Constant(1.0);
    }
    for k in 0..count {
        // Nodes along the row: place 0, junctions 2, 3 …, place 1.
        let from = if k == 0 { 0 } else { k + 1 };
        let to = if k + 1 == count { 1 } else { k + 2 };
        let mut link = any_link(random, from, to, &format!("link {k}"));
        link.area = random.chance(0.7).then(|| random.below(2));
        if random.chance(0.7) {
            link.incidents = Some(IncidentData {
                per_day: random.uniform(0.0, 12.0),
                minutes: Spread::Lognormal {
                    mean: 25.0,
                    cv: 1.0,
                },
                factor: random.uniform(1.0, 8.0),
            });
        }
        data.links.push(link);
    }
    data
}

/// A network of so many nodes and links at random, some of them with a weight limit.
pub(crate) fn random(random: &mut Random, nodes: usize, links: usize) -> NetworkData {
    let mut data = network(random, nodes);
    for k in 0..links {
        let from = random.below(nodes);
        let to = (from + 1 + random.below(nodes - 1)) % nodes;
        let mut link = any_link(random, from, to, &format!("link {k}"));
        if random.chance(0.2) {
            link.weight_limit_lb = Some(random.uniform(20_000.0, 80_000.0));
        }
        data.links.push(link);
    }
    data
}

/// The quickest time from the first place to the second over all simple paths. None without one.
pub(crate) fn quickest(data: &NetworkData, haul: Haul, depart: Millis) -> Option<Millis> {
    let mut best = None;
    let mut visited = vec![false; data.at.len() + data.junctions];
    visited[0] = true;
    let known = RefCell::new(BTreeMap::new());
    all_paths(
        data,
        haul,
        0,
        depart.0 as f64,
        &mut visited,
        &mut best,
        &known,
    );
    best.map(|arrival: f64| Millis(arrival.round() as i64) - depart)
}

type Known = RefCell<BTreeMap<(usize, u64), f64>>;

fn all_paths(
    data: &NetworkData,
    haul: Haul,
    node: usize,
    at: f64,
    visited: &mut [bool],
    best: &mut Option<f64>,
    known: &Known,
) {
    if node == 1 {
        *best = Some(best.map_or(at, |best: f64| best.min(at)));
        return;
    }
    for (position, link) in data.links.iter().enumerate() {
        let weight = data.truck.weight_lb(haul);
        let legal = link.weight_limit_lb.is_none_or(|limit| weight <= limit);
        if link.from != node || visited[link.to] || !legal {
            continue;
        }
        let key = (position, at.to_bits());
        let cached = known.borrow().get(&key).copied();
        let arrival = cached.unwrap_or_else(|| second_by_second(data, link, haul, at));
        known.borrow_mut().insert(key, arrival);
        visited[link.to] = true;
        all_paths(data, haul, link.to, arrival, visited, best, known);
        visited[link.to] = false;
    }
}

/// Stands before a gate second by second, then drives second by second. All changes fall on whole minutes.
fn second_by_second(data: &NetworkData, link: &LinkData, haul: Haul, enter: f64) -> f64 {
    let inside = |weekly: &Weekly, at: f64| {
        !weekly.is_empty() && weekly.since_last(Millis(at as i64)).is_none()
    };
    let next_second = |at: f64| ((at / 1000.0).floor() + 1.0) * 1000.0;
    let mut at = enter;
    while inside(&link.lifts, at) || (haul == Haul::Loaded && inside(&link.closed_to_loaded, at)) {
        at = next_second(at);
    }
    if let Some(station) = &link.weigh_station {
        let lost = station.minutes * 60_000.0;
        if inside(&station.open, at) {
            at += lost;
        } else if let Some(closed) = station.open.since_last(Millis(at as i64)) {
            at += (lost - closed.0 as f64 - at.fract()).max(0.0);
        }
    }
    let crawl = match haul {
        Haul::Loaded => 375.0 * 0.85 * data.truck.hp / (data.truck.loaded_lb * (link.grade + 0.01)),
        Haul::Empty => 375.0 * 0.85 * data.truck.hp / (data.truck.empty_lb * (link.grade + 0.01)),
    };
    let mph = if link.grade > -0.01 {
        link.mph.min(crawl)
    } else {
        link.mph
    };
    let mut miles = link.miles;
    loop {
        let factor = link.profile.map_or(1.0, |profile| {
            data.profiles[profile].piece(Millis(at as i64)).0
        });
        let per_ms = mph / factor / 3_600_000.0;
        let end = next_second(at);
        if miles <= per_ms * (end - at) {
            return at + miles / per_ms;
        }
        miles -= per_ms * (end - at);
        at = end;
    }
}
