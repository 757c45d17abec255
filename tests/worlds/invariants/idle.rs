//! Where nothing can refuse a truck, none stands idle while a load waits.

use super::{Tape, read};
use plantday::engine::Luck;
use plantday::plant::{Event, Plan, World};
use plantday::units::Millis;
use proptest::prelude::*;
use proptest::sample::select;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use std::collections::BTreeMap;

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

type Span = (Millis, Millis);

/// When each load waited for a truck: from its ask to its promise, or until its order is given up.
fn waits(tape: &Tape, end: Millis) -> Vec<Span> {
    let (mut asked, mut waits) = (BTreeMap::new(), Vec::new());
    for (at, event) in &tape.0 {
        match *event {
            Event::Asked { order } => {
                asked.entry(order).or_insert(*at);
            }
            Event::Promised { order, .. }
            | Event::LeftOver { order, .. }
            | Event::Undelivered { order, .. } => {
                waits.extend(asked.remove(&order).map(|since| (since, *at)));
            }
            _ => {}
        }
    }
    waits.extend(asked.into_values().map(|since| (since, end)));
    waits
}

/// When each truck stood idle at a plant: from being free to the next promise, or until it went home.
fn idles(tape: &Tape, trucks: usize) -> Vec<Span> {
    let mut free: Vec<Option<Millis>> = vec![None; trucks];
    let mut promised = vec![false; trucks];
    // Carries a load that nobody takes.
    let mut full = vec![false; trucks];
    // Drives back from a site.
    let mut back = vec![false; trucks];
    let mut idles = Vec::new();
    for (at, event) in &tape.0 {
        match *event {
            Event::Reported { truck, .. } => free[truck.at()] = Some(*at),
            Event::Emptied { truck, .. } => {
                full[truck.at()] = false;
                free[truck.at()] = Some(*at);
            }
            Event::Promised { truck, .. } => {
                promised[truck.at()] = true;
                idles.extend(free[truck.at()].take().map(|since| (since, *at)));
            }
            Event::Rejected { truck, spot, .. } => {
                promised[truck.at()] = false;
                full[truck.at()] = true;
                back[truck.at()] = spot.is_some();
            }
            Event::DischargeEnded { truck, .. } => promised[truck.at()] = false,
            Event::SiteLeft { truck, .. } => back[truck.at()] = true,
            Event::Drove { truck, took, .. } => {
                let truck = truck.at();
                if std::mem::take(&mut back[truck]) {
                    free[truck] = (!full[truck] && !promised[truck]).then_some(*at);
                } else {
                    // Home from another plant, where nothing was left to do when the drive began.
                    idles.extend(free[truck].take().map(|since| (since, *at - took)));
                }
            }
            Event::WashedOut { truck, .. } => {
                idles.extend(free[truck.at()].take().map(|since| (since, *at)));
            }
            _ => {}
        }
    }
    idles
}

/// How long loads waited, all in all; while none did a truck stand idle.
fn watch(text: &str, replication: u64) -> Millis {
    let scenario = read(text);
    let plan = Plan::new(&scenario);
    let mut tape = Tape::default();
    World::new(&plan).run(0, Luck::new(21, replication), &mut tape);
    let waits = waits(&tape, plan.end);
    for (free, busy) in idles(&tape, scenario.trucks.len()) {
        for (asked, promised) in &waits {
            let both = (free.max(*asked), busy.min(*promised));
            assert!(
                both.0 >= both.1,
                "a truck stands idle and a load waits from {} to {}",
                both.0,
                both.1
            );
        }
    }
    waits
        .iter()
        .map(|(asked, promised)| *promised - *asked)
        .sum()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_truck_stands_idle_while_a_load_waits(text in willing(), replication in 0..1000_u64) {
        watch(&text, replication);
    }
}

/// The property is worth something only where loads do wait.
#[test]
fn loads_do_wait_in_such_worlds() {
    let mut runner = TestRunner::deterministic();
    let waited = (0..20).map(|_| {
        let text = willing().new_tree(&mut runner).expect("a scenario");
        watch(&text.current(), 1)
    });
    assert!(waited.sum::<Millis>() > Millis::HOUR * 10);
}
