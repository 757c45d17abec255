//! Little's law as an identity: over a run that begins and ends empty, the time integral of the number present at a queue is
//! the sum of the stays in it. Little, Operations Research 9 (1961).

use super::{Fleet, read};
use plantday::engine::Luck;
use plantday::plant::{Event, Observer, Plan, World};
use plantday::units::Millis;

/// One queue, seen twice: as a level over time and as stays of trucks.
#[derive(Clone, Default)]
struct Queue {
    level: i64,
    since: Millis,
    integral: i64,
    joined: Vec<Option<Millis>>,
    stays: i64,
    passed: u64,
}

impl Queue {
    fn step(&mut self, at: Millis, change: i64) {
        self.integral += self.level * (at - self.since).0;
        self.since = at;
        self.level += change;
        assert!(self.level >= 0, "fewer than nobody in the queue at {at}");
    }

    fn join(&mut self, at: Millis, truck: usize) {
        self.step(at, 1);
        assert!(
            self.joined[truck].replace(at).is_none(),
            "truck {truck} is in the queue already at {at}"
        );
    }

    fn leave(&mut self, at: Millis, truck: usize) {
        self.step(at, -1);
        let joined = self.joined[truck]
            .take()
            .unwrap_or_else(|| panic!("truck {truck} was not in the queue at {at}"));
        self.stays += (at - joined).0;
        self.passed += 1;
    }
}

/// Bays and racks by plant, sites by spot; the wait and the whole stay of each apart.
struct Queues {
    bay_wait: Vec<Queue>,
    bay: Vec<Queue>,
    rack: Vec<Queue>,
    site_wait: Vec<Queue>,
    site: Vec<Queue>,
}

impl Queues {
    fn new(plan: &Plan) -> Self {
        let queue = Queue {
            joined: vec![None; plan.trucks.len()],
            ..Queue::default()
        };
        let (plants, spots) = (plan.plants.len(), plan.spots.len());
        Self {
            bay_wait: vec![queue.clone(); plants],
            bay: vec![queue.clone(); plants],
            rack: vec![queue.clone(); plants],
            site_wait: vec![queue.clone(); spots],
            site: vec![queue; spots],
        }
    }
}

impl Observer for Queues {
    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::BayJoined { truck, plant } => {
                self.bay_wait[plant.at()].join(at, truck.at());
                self.bay[plant.at()].join(at, truck.at());
            }
            Event::BayQuit { truck, plant } => {
                self.bay_wait[plant.at()].leave(at, truck.at());
                self.bay[plant.at()].leave(at, truck.at());
            }
            Event::BayEntered { truck, plant, .. } => {
                self.bay_wait[plant.at()].leave(at, truck.at())
            }
            Event::BayLeft { truck, plant, .. } => {
                self.bay[plant.at()].leave(at, truck.at());
                self.rack[plant.at()].join(at, truck.at());
            }
            Event::RackLeft { truck, plant, .. } => self.rack[plant.at()].leave(at, truck.at()),
            Event::SiteReached { truck, spot, .. } => {
                self.site_wait[spot.at()].join(at, truck.at());
                self.site[spot.at()].join(at, truck.at());
            }
            Event::PlaceTaken { truck, spot, .. } => {
                self.site_wait[spot.at()].leave(at, truck.at())
            }
            Event::DischargeEnded { truck, spot, .. } => self.site[spot.at()].leave(at, truck.at()),
            _ => {}
        }
    }
}

fn holds(text: &str, replications: u64) {
    let scenario = read(text);
    let plan = Plan::new(&scenario);
    let mut world = World::new(&plan);
    for rule in 0..scenario.rules.len() {
        for replication in 0..replications {
            let mut queues = Queues::new(&plan);
            world.run(rule, Luck::new(7, replication), &mut queues);
            let all = [
                &queues.bay_wait,
                &queues.bay,
                &queues.rack,
                &queues.site_wait,
                &queues.site,
            ];
            let mut passed = 0;
            for queue in all.into_iter().flatten() {
                assert_eq!(queue.level, 0, "everybody has left");
                assert_eq!(
                    queue.integral, queue.stays,
                    "whole milliseconds: the identity is exact"
                );
                passed += queue.passed;
            }
            assert!(passed > 100, "something went through the queues");
        }
    }
}

#[test]
fn littles_law_holds_on_the_estuary() {
    holds(include_str!("../../scenarios/estuary_day.ron"), 5);
}

#[test]
fn littles_law_holds_in_a_closed_fleet() {
    let fleet = Fleet {
        trucks: 9,
        bays: 2,
        loading: "Exponential(6)",
        rack: Some("Exponential(3)"),
        road: (15.0, 12.0),
        luck: "Lognormal(mean: 1, cv: 0.3)",
        sites: &[("Exponential(9)", 1), ("Lognormal(mean: 12, cv: 0.4)", 2)],
        days: 3,
    };
    holds(&fleet.text(), 3);
}
