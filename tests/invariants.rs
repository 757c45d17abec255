//! What holds in every world, whatever the scenario and the rule: random small scenarios, and an observer that watches every
//! event.

#[path = "invariants/duty.rs"]
mod duty;
#[path = "invariants/ideal.rs"]
mod ideal;
#[path = "invariants/idle.rs"]
mod idle;
#[path = "invariants/luck.rs"]
mod luck;
#[path = "invariants/random_scenario.rs"]
mod random_scenario;
#[path = "invariants/watch.rs"]
mod watch;

use duty::Duty;
use plantday::engine::Luck;
use plantday::observe::{Figures, figure};
use plantday::plant::{Event, Observer, Plan, World};
use plantday::scenario::{Scenario, parse};
use plantday::units::Millis;
use proptest::prelude::*;
use std::collections::BTreeMap;
use watch::Watch;

fn read(text: &str) -> Scenario {
    parse("random", text).unwrap_or_else(|faults| panic!("{faults}\n{text}"))
}

/// Keeps every event.
#[derive(Default, PartialEq, Debug)]
struct Tape(Vec<(Millis, Event)>);

impl Observer for Tape {
    fn event(&mut self, at: Millis, event: &Event) {
        self.0.push((at, *event));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// Nobody is in two places, no server serves too many, volumes balance, clocks are kept, everybody comes home.
    #[test]
    fn every_event_keeps_the_world_consistent(text in random_scenario::any_scenario()) {
        let scenario = read(&text);
        let plan = Plan::new(&scenario);
        let mut world = World::new(&plan);
        for rule in 0..scenario.rules.len() {
            for replication in 0..2 {
                let mut watch = Watch::new(&scenario, &plan);
                let mut tape = Tape::default();
                world.run(rule, Luck::new(11, replication), &mut (&mut watch, &mut tape));
                watch.end();
                let (policy, tape) = (&plan.policies[rule], &tape.0);
                Duty { scenario: &scenario, plan: &plan, policy, tape }.check();
            }
        }
    }

    /// A warm world plays a replication exactly as a fresh one does, and as its clone does.
    #[test]
    fn a_warm_world_repeats_itself(text in random_scenario::any_scenario()) {
        let scenario = read(&text);
        let plan = Plan::new(&scenario);
        let mut world = World::new(&plan);
        let mut play = |rule: usize, replication: u64| {
            let mut tape = Tape::default();
            world.run(rule, Luck::new(5, replication), &mut tape);
            tape
        };
        let last = scenario.rules.len() - 1;
        let first = play(0, 3);
        play(last, 4);
        prop_assert_eq!(&play(0, 3), &first);
        let mut fresh = Tape::default();
        World::new(&plan).run(0, Luck::new(5, 3), &mut fresh);
        prop_assert_eq!(&fresh, &first);
        let mut cloned = Tape::default();
        world.clone().run(0, Luck::new(5, 3), &mut cloned);
        prop_assert_eq!(&cloned, &first);
    }

    /// The ready time of a load belongs to the order alone: the same under every rule. It is never before the due time.
    #[test]
    fn ready_times_are_the_same_under_every_rule(text in random_scenario::any_scenario()) {
        let scenario = read(&text);
        let plan = Plan::new(&scenario);
        let mut world = World::new(&plan);
        let mut seen: BTreeMap<(u32, i64), Millis> = BTreeMap::new();
        for rule in 0..scenario.rules.len() {
            let mut tape = Tape::default();
            world.run(rule, Luck::new(11, 1), &mut tape);
            for (_, event) in tape.0 {
                if let Event::SiteReached { order, due, ready, judged: true, .. } = event {
                    prop_assert!(ready >= due);
                    // Loads of one order are told apart by when they are due, unless the spacing is zero.
                    if scenario.orders[order.at()].spacing > Millis::ZERO {
                        let first = *seen.entry((order.0, due.0)).or_insert(ready);
                        prop_assert_eq!(first, ready);
                    }
                }
            }
        }
    }

    /// The figures are what a plain recount of the events gives.
    #[test]
    fn figures_are_a_recount_of_the_events(text in random_scenario::any_scenario()) {
        let scenario = read(&text);
        let plan = Plan::new(&scenario);
        let mut world = World::new(&plan);
        let mut figures = Figures::new(&plan, &scenario.money);
        let mut row = vec![0.0; figures.width()];
        for rule in 0..scenario.rules.len() {
            figures.begin();
            let mut tape = Tape::default();
            world.run(rule, Luck::new(2, 0), &mut (&mut figures, &mut tape));
            figures.row(&mut row);
            let recount = Recount::of(&scenario, &tape.0);
            for (place, value) in recount.figures() {
                let (found, value) = (f64::from(row[place]), value);
                prop_assert!((found - value).abs() <= 1e-5 * value.abs().max(1.0), "figure {}: {} for {}", place, found, value);
            }
        }
    }
}

/// A second way to count, plainly.
#[derive(Default)]
struct Recount {
    loads: f64,
    late: f64,
    undelivered: f64,
    stranded: f64,
    placed: f64,
    batched: f64,
    dumped: f64,
    left: f64,
    paid_h: f64,
    overtime_h: f64,
    cost: f64,
}

impl Recount {
    fn of(scenario: &Scenario, tape: &[(Millis, Event)]) -> Self {
        let mut sum = Self::default();
        let money = &scenario.money;
        let mut driven_h = 0.0;
        let mut helper_h = 0.0;
        let mut crew_h: f64 = 0.0;
        let mut beyond_min = 0.0;
        let mut undelivered_yd3 = 0.0;
        let mut came = BTreeMap::new();
        for (at, event) in tape {
            match *event {
                Event::DischargeEnded { volume, .. } => {
                    sum.loads += 1.0;
                    sum.placed += volume.yd3();
                }
                Event::BayLeft { volume, .. } => sum.batched += volume.yd3(),
                Event::LoadLost { volume, .. } => sum.dumped += volume.yd3(),
                Event::LeftOver { volume, .. } => sum.left += volume.yd3(),
                Event::SiteReached {
                    order,
                    truck,
                    ready,
                    judged,
                    ..
                } => {
                    let late =
                        |_| (*at - ready).minutes() - scenario.orders[order.at()].late.minutes();
                    came.insert(truck, judged.then_some(()).map_or(0.0, late).max(0.0));
                }
                // A load that is turned away has not come: its lateness is that of what replaces it.
                Event::DischargeBegun { truck, .. } => {
                    let late = came[&truck];
                    sum.late += f64::from(u8::from(late > 0.0));
                    beyond_min += late;
                }
                Event::Rejected { volume, .. } => sum.dumped += volume.yd3(),
                Event::Undelivered { volume, .. } => {
                    sum.late += 1.0;
                    sum.undelivered += 1.0;
                    undelivered_yd3 += volume.yd3();
                }
                Event::Stranded { .. } => sum.stranded += 1.0,
                Event::Released { tour, .. } => {
                    sum.paid_h += tour.hours();
                    sum.overtime_h += (tour.hours() - money.overtime_after.hours()).max(0.0);
                }
                Event::Drove { took, .. } => driven_h += took.hours(),
                Event::HelperSent { takes, .. } => helper_h += takes.hours(),
                Event::CrewStayed { time, .. } => crew_h += time.hours(),
                _ => {}
            }
        }
        for plant in &scenario.plants {
            for day in 0..i64::from(scenario.period.days) {
                let weekday = scenario.period.first_day.after(day);
                let open = plant
                    .hours
                    .iter()
                    .filter(|hours| hours.days.contains(&weekday));
                crew_h += if plant.hours.is_empty() {
                    24.0
                } else {
                    open.map(|h| (h.close - h.open).hours()).sum()
                };
            }
        }
        sum.cost = money.pay_per_h.units()
            * (sum.paid_h - sum.overtime_h + sum.overtime_h * money.overtime_factor)
            + money.truck_per_duty_h.units() * sum.paid_h
            + money.truck_per_driven_h.units() * driven_h
            + money.crew_per_open_h.units() * crew_h
            + money.material_per_yd3.units() * sum.batched
            + money.dumped_per_yd3.units() * sum.dumped
            + money.late_per_load.units() * sum.late
            + money.late_per_min.units() * beyond_min
            + money.undelivered_per_yd3.units() * undelivered_yd3
            + money.stranded.units() * sum.stranded
            + money.helper_per_h.units() * helper_h;
        sum
    }

    fn figures(&self) -> Vec<(usize, f64)> {
        vec![
            (figure::LOADS, self.loads),
            (figure::LATE_LOADS, self.late),
            (figure::UNDELIVERED, self.undelivered),
            (figure::STRANDED, self.stranded),
            (figure::PLACED_YD3, self.placed),
            (figure::BATCHED_YD3, self.batched),
            (figure::DUMPED_YD3, self.dumped),
            (figure::LEFT_YD3, self.left),
            (figure::PAID_H, self.paid_h),
            (figure::OVERTIME_H, self.overtime_h),
            (figure::COST, self.cost),
        ]
    }
}
