//! The ideal timeline against the site itself: where every load stands on site before the first is taken, a load is taken exactly
//! when it is ready.

use super::{Tape, read};
use plantday::engine::Luck;
use plantday::plant::{Event, Plan, World};
use plantday::units::Millis;
use proptest::prelude::*;
use proptest::sample::select;

/// One order whose loads come in their order, all before the site is set up. Positioning takes a constant time, so that whoever
/// takes a place first also discharges first; discharge has its luck.
fn crowd() -> impl Strategy<Value = (String, u32)> {
    let outlets = select(vec![
        "(rate_yd3_min: 1)",
        "(rate_yd3_min: 1, places: 2)",
        "(rate_yd3_min: 1), (rate_yd3_min: 0.4)",
        "(rate_yd3_min: 0.8, places: 2), (rate_yd3_min: 1)",
        "(rate_yd3_min: 0.8, places: 2), (rate_yd3_min: 1, places: 3)",
        "(rate_yd3_min: 1), (rate_yd3_min: 0.5, places: 2), (rate_yd3_min: 2)",
    ]);
    (outlets, 1..12_u32, 1..10_u32, 0..5_u32).prop_map(
        |(outlets, full, rest, position)| {
            let volume = 10 * full + rest;
            let text = format!(
                r#"(
    name: "crowd",
    rule_book: "none",
    concrete: (age_limit_min: None),
    plants: [(name: "P", loading: Constant(3), rack: Constant(4), bay_queue: FirstCome)],
    sites: [(name: "A")],
    roads: (minutes: {{ "P": {{ "A": 20 }} }}),
    trucks: [(name: "T", count: 13, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: {volume}, spacing_min: 0, setup_min: 120,
        outlets: [{outlets}], position: Constant({position}), discharge_luck: Lognormal(mean: 1, cv: 0.5))],
    rules: [(name: "R", belief: FreeFlow)],
)"#
            );
            (text, full + 1)
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_load_that_waits_on_site_is_taken_when_it_is_ready((text, loads) in crowd(), replication in 0..1000_u64) {
        let scenario = read(&text);
        let plan = Plan::new(&scenario);
        let mut tape = Tape::default();
        World::new(&plan).run(0, Luck::new(8, replication), &mut tape);
        let mut ready_of = vec![Millis::NEVER; scenario.trucks.len()];
        let (mut came, mut taken) = (0, 0);
        for (at, event) in tape.0 {
            match event {
                Event::SiteReached { truck, ready, number, .. } => {
                    prop_assert_eq!(number, came, "in the order of their numbers");
                    came += 1;
                    ready_of[truck.at()] = ready;
                }
                Event::PlaceTaken { truck, .. } => {
                    taken += 1;
                    prop_assert_eq!(at, ready_of[truck.at()], "load {} of {}", taken, loads);
                }
                _ => {}
            }
        }
        prop_assert_eq!((came, taken), (loads, loads));
    }
}
