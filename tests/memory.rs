//! A warm world allocates nothing: the second time a replication is played, every list has its room already.

use allocation_counter::measure;
use plantday::engine::Luck;
use plantday::observe::Figures;
use plantday::plant::{Plan, World};
use plantday::scenario::parse;

#[test]
fn the_second_run_of_a_replication_allocates_nothing() {
    for text in [
        include_str!("../scenarios/estuary_day.ron"),
        include_str!("../scenarios/shuttle_day.ron"),
    ] {
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
        assert!(
            measure(&mut play).count_total > 0,
            "the first run makes room"
        );
        assert_eq!(measure(&mut play).count_total, 0, "{}", scenario.name);
    }
}
