//! Every figure of a row is set, and blank or zero where the scenario has not what it says it needs.

use super::random_scenario;
use plantday::engine::Luck;
use plantday::observe::{Figures, columns};
use plantday::plant::{Plan, World};
use plantday::scenario;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use std::collections::BTreeSet;

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
                !lacks || value.is_nan() || *value == 0.0,
                "{key} has a value without what it needs"
            );
        }
    }
}

/// What is not looked at never happens, whatever the world: and random worlds have figures that are and that are not.
#[test]
fn nothing_happens_that_is_not_looked_at() {
    let mut runner = TestRunner::deterministic();
    let (mut lacked, mut happened) = (BTreeSet::new(), BTreeSet::new());
    for n in 0..400 {
        let text = if n % 2 == 0 {
            let tree = random_scenario::any_scenario().new_tree(&mut runner);
            tree.expect("a scenario").current()
        } else {
            let tree = random_scenario::with_clocks().new_tree(&mut runner);
            tree.expect("a scenario").current()
        };
        let scenario = scenario::parse("random", &text).expect("a scenario");
        let plan = Plan::new(&scenario);
        let mut figures = Figures::new(&plan, &scenario.money);
        figures.begin();
        World::new(&plan).run(0, Luck::new(5, n), &mut figures);
        let mut row = vec![0.0; figures.width()];
        figures.row(&mut row);
        for (column, value) in columns(&scenario).iter().zip(&row) {
            let any = !value.is_nan() && *value != 0.0;
            if column.lacks.is_some() {
                assert!(
                    !any,
                    "{} is {value} without what it needs\n{text}",
                    column.key
                );
                lacked.insert(column.key.clone());
            } else if any {
                happened.insert(column.key.clone());
            }
        }
    }
    for key in [
        "stranded",
        "breakdowns",
        "no_shows",
        "rejected_old",
        "dry_ups",
    ] {
        assert!(lacked.contains(key), "{key} is looked at in every world");
        assert!(happened.contains(key), "{key} never happens");
    }
}
