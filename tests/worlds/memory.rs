//! A warm world allocates nothing: the second time a replication is played, every list has its room already.

use crate::random_scenario;
use allocation_counter::measure;
use plantday::engine::Luck;
use plantday::observe::Figures;
use plantday::plant::{Plan, World};
use plantday::scenario::parse;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;

/// How often all rules of a scenario allocate in the same replication, the first time and the second.
fn allocations(text: &str) -> (u64, u64) {
    let scenario = parse("day.ron", text).unwrap_or_else(|faults| panic!("{faults}"));
    let plan = Plan::new(&scenario);
    let mut world = World::new(&plan);
    let mut figures = Figures::new(&plan, &scenario.money);
    let mut row = vec![0.0; figures.width()];
    let mut play = || {
        for rule in 0..scenario.rules.len() {
            figures.begin();
            world.run(rule, Luck::new(1, 7), &mut figures);
            figures.row(&mut row);
        }
    };
    let first = measure(&mut play).count_total;
    (first, measure(&mut play).count_total)
}

#[test]
fn the_second_run_of_a_replication_allocates_nothing() {
    for text in [
        include_str!("../../scenarios/estuary_day.ron"),
        include_str!("../../scenarios/shuttle_day.ron"),
        include_str!("../../scenarios/yard_study.ron"),
    ] {
        let (first, second) = allocations(text);
        assert!(first > 0, "the first run makes room");
        assert_eq!(second, 0, "{text}");
    }
}

/// Also where loads are lost, rejected and dried up, plants stand still and drivers are stranded.
#[test]
fn nor_in_any_small_world() {
    let mut runner = TestRunner::deterministic();
    for _ in 0..60 {
        let text = random_scenario::any_scenario().new_tree(&mut runner);
        let text = text.expect("a scenario").current();
        assert_eq!(allocations(&text).1, 0, "{text}");
        let text = random_scenario::with_clocks().new_tree(&mut runner);
        let text = text.expect("a scenario").current();
        assert_eq!(allocations(&text).1, 0, "{text}");
    }
}
