//! The decisions of a rule are all of it.

use crate::random_scenario;
use plantday::dispatch::{Habit, Rule, YardPractice};
use plantday::scenario::parse;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use std::collections::BTreeSet;

/// Every field of a rule but its name, its description and whether it is today's belongs to a decision: with all that two rules
/// differ in taken, the one is the other. A field that is added to the rule does not compile here before it is in one.
#[test]
fn all_decisions_together_are_the_rule() {
    let mut runner = TestRunner::deterministic();
    let mut rules: Vec<Rule> = Vec::new();
    for _ in 0..60 {
        let text = random_scenario::any_scenario().new_tree(&mut runner);
        let scenario = parse("random", &text.expect("a scenario").current()).expect("a scenario");
        rules.extend(scenario.rules);
    }
    let mut differed = BTreeSet::new();
    for (a, b) in rules.iter().zip(&rules[1..]) {
        let differing = Habit::differing(a, b);
        differed.extend(differing.iter().copied());
        assert_eq!(Habit::mixed(a, b, &differing), named_as(b, a));
    }
    assert!(
        differed.len() > 15,
        "only {differed:?} differ in such rules"
    );
}

/// A rule under another's name.
fn named_as(rule: &Rule, other: &Rule) -> Rule {
    let Rule {
        name: _,
        about: _,
        today: _,
        belief,
        send,
        early_min,
        bay_wait_min,
        bay_queue_seen,
        spacing_factor,
        sequence,
        choose,
        plants,
        gates,
        lend,
        load_size,
        room_kept_yd3,
        weight_margin_lb,
        retrieval,
        yard:
            YardPractice {
                warning,
                read_after,
                water_by,
                most_gal_yd3,
                probe,
                hrwr,
            },
        long_day,
        shift,
        send_home,
        override_gates,
        drivers_word,
        after_discharge,
        additions,
        plant_hours,
        redirect,
    } = rule.clone();
    Rule {
        name: other.name.clone(),
        about: other.about.clone(),
        today: other.today,
        belief,
        send,
        early_min,
        bay_wait_min,
        bay_queue_seen,
        spacing_factor,
        sequence,
        choose,
        plants,
        gates,
        lend,
        load_size,
        room_kept_yd3,
        weight_margin_lb,
        retrieval,
        yard: YardPractice {
            warning,
            read_after,
            water_by,
            most_gal_yd3,
            probe,
            hrwr,
        },
        long_day,
        shift,
        send_home,
        override_gates,
        drivers_word,
        after_discharge,
        additions,
        plant_hours,
        redirect,
    }
}
