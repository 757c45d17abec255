//! Every figure of a row is set, and blank where the scenario has not what it says it needs.

use plantday::engine::Luck;
use plantday::observe::{Figures, columns};
use plantday::plant::{Plan, World};
use plantday::scenario;

/// A row is written whole: what stands in it before is in it no more, in no column.
#[test]
fn every_figure_is_set() {
    // Not a number that no arithmetic makes.
    let untouched = f32::from_bits(0x7fc0_1234);
    for text in [
        include_str!("../../scenarios/shuttle_day.ron"),
        include_str!("../../scenarios/yard_study.ron"),
    ] {
        let scenario = scenario::parse("test", text).expect("a shipped scenario");
        let plan = Plan::new(&scenario);
        let mut figures = Figures::new(&plan, &scenario.money);
        figures.begin();
        World::new(&plan).run(0, Luck::new(1, 0), &mut figures);
        let mut row = vec![untouched; figures.width()];
        figures.row(&mut row);
        for (column, value) in columns(&scenario).iter().zip(&row) {
            let key = &column.key;
            assert_ne!(value.to_bits(), untouched.to_bits(), "{key} is never set");
            let lacks = column.needs.lacking(&scenario).is_some();
            assert!(
                !lacks || value.is_nan(),
                "{key} has a value without what it needs"
            );
        }
    }
}
