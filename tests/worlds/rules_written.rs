//! A rule written as text is the same rule when it is read.

use crate::random_scenario;
use plantday::dispatch::{Habit, Rule};
use plantday::scenario::{Scenario, parse, rule_text};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;

/// Of random rules and of all that are shipped; what is as usual is not written.
#[test]
fn a_rule_written_is_the_rule_read() {
    let mut runner = TestRunner::deterministic();
    let mut texts: Vec<String> = Vec::new();
    for _ in 0..60 {
        let text = random_scenario::any_scenario().new_tree(&mut runner);
        texts.push(text.expect("a scenario").current());
        let text = random_scenario::with_clocks().new_tree(&mut runner);
        texts.push(text.expect("a scenario").current());
    }
    texts.extend(
        [
            include_str!("../../scenarios/estuary_week.ron"),
            include_str!("../../scenarios/yard_study.ron"),
            include_str!("../../scenarios/starter.ron"),
        ]
        .map(str::to_owned),
    );
    let mut written = 0;
    for text in &texts {
        let scenario = parse("random", text).expect("a scenario");
        for rule in &scenario.rules {
            let again = read_again(text, &scenario, rule);
            assert!(
                Habit::differing(rule, &again).is_empty(),
                "{}",
                rule_text(rule)
            );
            assert_eq!(again.about, rule.about);
            written += 1;
        }
    }
    assert!(written > 300);
    let usual = Rule {
        name: "A \"usual\" one".into(),
        ..Rule::USUAL
    };
    assert_eq!(
        rule_text(&usual),
        "(\n    name: \"A \\\"usual\\\" one\",\n),\n"
    );
}

/// The rule as text, pasted at the end of its scenario's rules under a new name.
fn read_again(text: &str, scenario: &Scenario, rule: &Rule) -> Rule {
    let named = Rule {
        name: "written again".into(),
        today: false,
        ..rule.clone()
    };
    let rules = text.find("rules: [").expect("rules") + "rules: [".len();
    let pasted = format!(
        "{}\n{}{}",
        &text[..rules],
        rule_text(&named),
        &text[rules..]
    );
    let read = parse("pasted", &pasted).unwrap_or_else(|faults| panic!("{faults}\n{pasted}"));
    assert_eq!(read.rules.len(), scenario.rules.len() + 1);
    read.rules[0].clone()
}
