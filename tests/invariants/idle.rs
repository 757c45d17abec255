//! Where nothing can refuse a truck, none stands idle while a load waits.

use super::read;
use plantday::engine::Luck;
use plantday::plant::{Event, Observer, Plan, World};
use plantday::units::Millis;
use proptest::prelude::*;
use proptest::sample::select;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

/// Two plants that make everything and never close, lending without limit, no hours: loads are still turned away and made again.
fn willing() -> impl Strategy<Value = String> {
    let concrete = select(vec![
        "",
        "age_limit_min: 55",
        "age_limit_min: 70, rack: (misread: 0.4, found: 0.6, dry_up_room_yd3: 0.4)",
    ]);
    let choose = select(vec!["Nearest", "LongestIdle", "SoonestOnSite"]);
    let send = select(vec!["AsOrdered", "Paced"]);
    let horizon = select(vec!["0", "20"]);
    let endless = select(vec![
        "",
        "(name: \"E\", arrivals: Exponential(30), to: Drawn, destinations: [(site: \"A\"), (site: \"B\")])",
    ]);
    (concrete, choose, send, horizon, endless, 1..4_u32, 5..80_u32, 0..40_u32).prop_map(
        |(concrete, choose, send, horizon, endless, trucks, volume, spacing)| {
            format!(
                r#"(
    name: "willing",
    rule_book: "none",
    company: (promise_horizon_min: {horizon}),
    concrete: ({concrete}),
    plants: [(name: "P", bays: 2), (name: "Q", at: (4, 0))],
    sites: [(name: "A", at: (2, 1)), (name: "B", at: (7, 3))],
    roads: (minutes: {{ "P": {{ "A": (18, 15), "B": 30, "Q": 12 }}, "Q": {{ "A": 22, "B": 19 }} }},
        luck: Lognormal(mean: 1, cv: 0.4)),
    trucks: [(name: "T", count: {trucks}, home: "P"), (name: "U", count: {trucks}, home: "Q")],
    drivers: [(name: "D", trucks: "T", report: "05:00", shift_h: 18, stagger_min: 20), (name: "F", trucks: "U", report: "06:00", shift_h: 17)],
    orders: [(name: "V", site: "A", first: "07:00", volume_yd3: {volume}, spacing_min: {spacing}),
        (name: "W", site: "B", first: "08:10", volume_yd3: 45, spacing_min: 25)],
    endless: [{endless}],
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    rules: [(name: "R", choose: {choose}, send: {send}, lend: Always)],
)"#
            )
        },
    )
}

/// Which trucks stand idle and which orders wait, at every moment.
struct Idle {
    now: Millis,
    /// Until when this is asked: the end of the period.
    until: Millis,
    waiting: Vec<bool>,
    idle: Vec<bool>,
    promised: Vec<bool>,
    /// Carries a load that nobody takes.
    full: Vec<bool>,
    /// Drives back from a site.
    back: Vec<bool>,
    /// Moments at which a load waited.
    looked: u32,
}

impl Idle {
    fn new(plan: &Plan) -> Self {
        let none = vec![false; plan.trucks.len()];
        Self {
            now: Millis::ZERO,
            until: plan.end,
            waiting: vec![false; plan.orders.len()],
            idle: none.clone(),
            promised: none.clone(),
            full: none.clone(),
            back: none,
            looked: 0,
        }
    }

    fn watch(text: &str, replication: u64) -> u32 {
        let scenario = read(text);
        let plan = Plan::new(&scenario);
        let mut idle = Self::new(&plan);
        World::new(&plan).run(0, Luck::new(21, replication), &mut idle);
        idle.looked
    }
}

impl Observer for Idle {
    fn event(&mut self, at: Millis, event: &Event) {
        if at > self.now && at < self.until {
            let waits = self.waiting.iter().any(|waits| *waits);
            self.looked += u32::from(waits);
            let idle = self.idle.iter().position(|idle| *idle).filter(|_| waits);
            assert_eq!(
                idle, None,
                "a truck stands idle from {} to {at} while a load waits",
                self.now
            );
        }
        self.now = at;
        match *event {
            Event::Asked { order } => self.waiting[order.at()] = true,
            Event::Promised { order, truck, .. } => {
                self.waiting[order.at()] = false;
                self.idle[truck.at()] = false;
                self.promised[truck.at()] = true;
            }
            Event::LeftOver { order, .. } | Event::Undelivered { order, .. } => {
                self.waiting[order.at()] = false;
            }
            Event::Reported { truck, .. } => self.idle[truck.at()] = true,
            Event::WashedOut { truck, .. } => self.idle[truck.at()] = false,
            Event::Rejected { truck, spot, .. } => {
                self.promised[truck.at()] = false;
                self.full[truck.at()] = true;
                self.back[truck.at()] = spot.is_some();
            }
            Event::Emptied { truck, .. } => {
                self.full[truck.at()] = false;
                self.idle[truck.at()] = true;
            }
            Event::DischargeEnded { truck, .. } => self.promised[truck.at()] = false,
            Event::SiteLeft { truck, .. } => self.back[truck.at()] = true,
            Event::Drove { truck, .. } if std::mem::take(&mut self.back[truck.at()]) => {
                self.idle[truck.at()] = !self.full[truck.at()] && !self.promised[truck.at()];
            }
            _ => {}
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_truck_stands_idle_while_a_load_waits(text in willing(), replication in 0..1000_u64) {
        Idle::watch(&text, replication);
    }
}

/// The property is worth something only where loads do wait.
#[test]
fn loads_do_wait_in_such_worlds() {
    let mut runner = TestRunner::deterministic();
    let looked = (0..20).map(|_| {
        let text = willing().new_tree(&mut runner).expect("a scenario");
        Idle::watch(&text.current(), 1)
    });
    assert!(looked.sum::<u32>() > 200);
}
