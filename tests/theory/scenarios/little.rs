//! Little's law as an identity: over a run that begins and ends empty, the time integral of the number present at a queue is
//! the sum of the stays in it, to the millisecond (Little, Operations Research 9, 1961; Stidham 1974). And the program's own
//! queue figures are what this second count gives.

use plantday::engine::Luck;
use plantday::observe::{Figures, columns};
use plantday::plant::{Event, Observer, Plan, World};
use plantday::scenario::{Scenario, parse};
use plantday::studies::verify::queues::Fleet;
use plantday::units::Millis;
use std::collections::BTreeMap;

/// One level, seen twice: as a number over time and as stays of trucks.
#[derive(Clone)]
struct Level {
    name: String,
    /// The span over which the program averages, and the one in which it counts.
    spans: [(Millis, Millis); 2],
    level: i64,
    since: Millis,
    integral: i64,
    /// The part of the integral inside the first span.
    averaged: i64,
    joined: BTreeMap<usize, Millis>,
    stays: i64,
    passed: u64,
    /// Stays that ended as they should inside the second span.
    counted: (u64, i64),
}

impl Level {
    fn new(plan: &Plan, name: &str) -> Self {
        Self {
            name: name.to_owned(),
            spans: [plan.measure, plan.counted],
            level: 0,
            since: Millis::ZERO,
            integral: 0,
            averaged: 0,
            joined: BTreeMap::new(),
            stays: 0,
            passed: 0,
            counted: (0, 0),
        }
    }

    fn step(&mut self, at: Millis, change: i64) {
        let (from, to) = self.spans[0];
        self.integral += self.level * (at - self.since).0;
        self.averaged += self.level * (at.clamp(from, to) - self.since.clamp(from, to)).0;
        self.since = at;
        self.level += change;
    }

    fn join(&mut self, at: Millis, truck: usize) {
        self.step(at, 1);
        let before = self.joined.insert(truck, at);
        assert_eq!(before, None, "{}: truck {truck} at {at}", self.name);
    }

    /// Leaves without having got what it came for.
    fn quit(&mut self, at: Millis, truck: usize) -> i64 {
        self.step(at, -1);
        let joined = self.joined.remove(&truck);
        let joined = joined.unwrap_or_else(|| panic!("{}: no truck {truck} at {at}", self.name));
        let stay = (at - joined).0;
        self.stays += stay;
        self.passed += 1;
        stay
    }

    fn leave(&mut self, at: Millis, truck: usize) {
        let stay = self.quit(at, truck);
        let (from, to) = self.spans[1];
        if at >= from && at < to {
            self.counted.0 += 1;
            self.counted.1 += stay;
        }
    }

    fn little(&self) {
        assert_eq!(self.level, 0, "{}: everybody has left", self.name);
        assert_eq!(self.integral, self.stays, "{}", self.name);
    }
}

/// A queue with its servers.
#[derive(Clone)]
struct Station {
    servers: usize,
    waiting: Level,
    present: Level,
    busy: Level,
}

impl Station {
    fn new(plan: &Plan, name: &str, servers: usize) -> Self {
        let level = |part: &str| Level::new(plan, &format!("{name}, {part}"));
        Self {
            servers,
            waiting: level("waiting"),
            present: level("present"),
            busy: level("busy"),
        }
    }

    fn join(&mut self, at: Millis, truck: usize) {
        self.waiting.join(at, truck);
        self.present.join(at, truck);
    }

    fn leave(&mut self, at: Millis, truck: usize) {
        self.busy.leave(at, truck);
        self.present.leave(at, truck);
    }

    fn little(&self) -> u64 {
        self.waiting.little();
        self.present.little();
        self.busy.little();
        self.present.passed
    }
}

/// Bays and racks by plant, sites by spot.
struct Stations {
    bays: Vec<Station>,
    racks: Vec<Station>,
    sites: Vec<Station>,
}

impl Stations {
    fn new(plan: &Plan) -> Self {
        let plants = || plan.plants.iter().enumerate();
        let spots = plan.spots.iter().enumerate();
        Self {
            bays: plants()
                .map(|(i, plant)| Station::new(plan, &format!("bays {i}"), plant.bays as usize))
                .collect(),
            racks: plants()
                .map(|(i, plant)| {
                    Station::new(plan, &format!("rack {i}"), plant.rack_places as usize)
                })
                .collect(),
            sites: spots
                .map(|(i, spot)| Station::new(plan, &format!("spot {i}"), spot.outlet_places.len()))
                .collect(),
        }
    }
}

impl Observer for Stations {
    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::BayJoined { truck, plant } => self.bays[plant.at()].join(at, truck.at()),
            Event::BayQuit { truck, plant } => {
                self.bays[plant.at()].waiting.quit(at, truck.at());
                self.bays[plant.at()].present.quit(at, truck.at());
            }
            Event::BayEntered { truck, plant, .. } => {
                self.bays[plant.at()].waiting.leave(at, truck.at());
                self.bays[plant.at()].busy.join(at, truck.at());
            }
            Event::BayLeft { truck, plant, .. } => {
                self.bays[plant.at()].leave(at, truck.at());
                self.racks[plant.at()].join(at, truck.at());
            }
            Event::RackEntered { truck, plant, .. } => {
                self.racks[plant.at()].waiting.leave(at, truck.at());
                self.racks[plant.at()].busy.join(at, truck.at());
            }
            Event::RackLeft { truck, plant, .. } => self.racks[plant.at()].leave(at, truck.at()),
            Event::SiteReached { truck, spot, .. } => self.sites[spot.at()].join(at, truck.at()),
            Event::PlaceTaken { truck, spot, .. } => {
                self.sites[spot.at()].waiting.leave(at, truck.at());
            }
            Event::Rejected {
                truck,
                spot: Some(spot),
                ..
            } => {
                self.sites[spot.at()].present.quit(at, truck.at());
            }
            Event::DischargeBegun { truck, spot, .. } => {
                self.sites[spot.at()].busy.join(at, truck.at());
            }
            Event::DischargeEnded { truck, spot, .. } => {
                self.sites[spot.at()].leave(at, truck.at())
            }
            _ => {}
        }
    }
}

impl Stations {
    /// The stations by the names of their figures.
    fn named<'a>(&'a self, scenario: &Scenario, plan: &Plan) -> BTreeMap<String, Vec<&'a Station>> {
        let mut named: BTreeMap<String, Vec<&Station>> = BTreeMap::new();
        for (id, plant) in scenario.plants.iter().enumerate() {
            named.insert(format!("{} bays", plant.name), vec![&self.bays[id]]);
            if plant.rack_places.is_some() {
                named.insert(format!("{} rack", plant.name), vec![&self.racks[id]]);
            }
        }
        for (spot, station) in plan.spots.iter().zip(&self.sites) {
            let name = if plan.orders[spot.order.at()].endless {
                let order = scenario.order_name(spot.order);
                format!("{order} at {}", scenario.place_name(spot.place))
            } else {
                "sites of orders".to_owned()
            };
            named.entry(name).or_default().push(station);
        }
        named
    }

    /// The same figures as the program's, in its order.
    fn figures(stations: &[&Station], plan: &Plan) -> [(&'static str, f64); 5] {
        let span = plan.measure.1 - plan.measure.0;
        let all = |of: &dyn Fn(&Station) -> i64| stations.iter().map(|s| of(s)).sum::<i64>() as f64;
        let mean = |of: &dyn Fn(&Station) -> i64| all(of) / span.0 as f64;
        let servers: usize = stations.iter().map(|station| station.servers).sum();
        let entered = all(&|station| station.waiting.counted.0 as i64);
        let waited = all(&|station| station.waiting.counted.1);
        let left = all(&|station| station.present.counted.0 as i64);
        let wait = if entered > 0.0 {
            waited / entered / 60_000.0
        } else {
            0.0
        };
        [
            ("throughput_per_h", left / span.hours()),
            ("mean_waiting", mean(&|station| station.waiting.averaged)),
            ("mean_present", mean(&|station| station.present.averaged)),
            (
                "busy_share",
                mean(&|station| station.busy.averaged) / servers as f64,
            ),
            ("mean_wait_min", wait),
        ]
    }
}

fn holds(text: &str, replications: u64) {
    let scenario = parse("test", text).unwrap_or_else(|faults| panic!("{faults}"));
    let plan = Plan::new(&scenario);
    let columns = columns(&scenario);
    let mut world = World::new(&plan);
    let mut figures = Figures::new(&plan, &scenario.money);
    let mut row = vec![0.0; figures.width()];
    for rule in 0..scenario.rules.len() {
        for replication in 0..replications {
            let mut stations = Stations::new(&plan);
            figures.begin();
            let luck = Luck::new(7, replication);
            world.run(rule, luck, &mut (&mut figures, &mut stations));
            figures.row(&mut row);
            let all = [&stations.bays, &stations.racks, &stations.sites];
            let passed: u64 = all.into_iter().flatten().map(Station::little).sum();
            assert!(passed > 100, "something went through the queues");
            let mut compared = 0;
            for (queue, stations) in stations.named(&scenario, &plan) {
                for (key, value) in Stations::figures(&stations, &plan) {
                    let key = format!("{queue}: {key}");
                    let place = columns.iter().position(|column| column.key == key);
                    let found = f64::from(row[place.unwrap_or_else(|| panic!("no figure {key}"))]);
                    // Four-byte figures keep seven digits.
                    let near = (found - value).abs() <= 1e-6 * value.abs();
                    assert!(near, "{key}: {found} for {value}");
                    compared += 1;
                }
            }
            let queues = columns.iter().filter(|column| column.key.contains(": "));
            assert_eq!(compared, queues.count(), "every queue was compared");
        }
    }
}

#[test]
fn littles_law_holds_on_the_estuary() {
    holds(include_str!("../../../scenarios/estuary_day.ron"), 5);
}

/// Six days with night pours, an age limit, loads turned away on site, dry-ups and outages.
#[test]
fn littles_law_holds_through_a_week_on_the_estuary() {
    holds(include_str!("../../../scenarios/estuary_week.ron"), 2);
}

const FLEET: Fleet = Fleet {
    trucks: 9,
    bays: 2,
    loading: "Exponential(6)",
    rack: Some("Exponential(3)"),
    road: (15.0, 12.0),
    luck: "Lognormal(mean: 1, cv: 0.3)",
    sites: &[("Exponential(9)", 1), ("Lognormal(mean: 12, cv: 0.4)", 2)],
    days: 3,
};

#[test]
fn littles_law_holds_in_a_closed_fleet() {
    holds(&FLEET.text(), 3);
}

/// Without a measured span the loads that are discharged after the last midnight count as well.
#[test]
fn littles_law_holds_past_the_end_of_the_period() {
    let text = FLEET.text();
    let measure = text.find(", measure: ").expect("a measured span");
    let end = text[measure..].find("))").expect("its end") + measure;
    let whole = format!("{}{}", &text[..measure], &text[end + 1..]);
    holds(&whole, 3);
}
