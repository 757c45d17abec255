//! `plantday help`: topics and commands, and a guide to rules that names what the reader takes.

use assert_cmd::cargo::cargo_bin_cmd;
use std::fs;

fn said(arguments: &[&str]) -> String {
    let output = cargo_bin_cmd!("plantday").args(arguments).output().unwrap();
    assert!(output.status.success(), "{arguments:?}");
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn the_list_names_every_topic_and_each_is_there() {
    let list = said(&["help"]);
    for topic in [
        "scenario",
        "spreads",
        "reading",
        "scenarios",
        "simulated",
        "rules",
        "tables",
        "units",
        "tickets",
        "hours",
        "concrete",
        "parts",
    ] {
        assert!(list.contains(&format!("\n  {topic:10} ")), "{list}");
    }
    for (topic, word) in [
        ("reading", "Exit codes"),
        ("simulated", "What is not"),
        ("rules", "Which plant and truck"),
        ("concrete", "What a better practice is worth"),
    ] {
        let text = said(&["help", topic]);
        assert!(text.contains(word), "{text}");
        assert!(
            !text.lines().any(|line| line.starts_with(['#', '|'])),
            "{text}"
        );
    }
}

#[test]
fn a_command_is_explained_as_by_its_own_help() {
    let text = said(&["help", "replay"]);
    assert_eq!(text, said(&["replay", "--help"]));
}

#[test]
fn hours_is_a_topic_and_its_options_are_a_call_away() {
    let text = said(&["help", "hours"]);
    assert!(text.contains("Duty logs"), "{text}");
    assert!(said(&["hours", "--help"]).contains("--rule-book"));
}

#[test]
fn a_misspelt_topic_is_told_the_nearest() {
    let output = cargo_bin_cmd!("plantday")
        .args(["help", "concerte"])
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    let text = String::from_utf8(output.stderr).unwrap();
    assert!(text.contains("did you mean \"concrete\"?"), "{text}");
    assert!(text.contains("\"compare\""), "{text}");
}

/// What the reader expects where a rule is written wrongly is what the guide tells: fields, and the choices of each.
#[test]
fn the_guide_to_rules_names_every_field_and_choice_that_the_reader_takes() {
    let guide = said(&["help", "rules"]).replace('\n', " ");
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("wrong.ron");
    let choices = [
        "gates: [X]",
        "belief: X",
        "choose: X",
        "send: X",
        "sequence: X",
        "plants: X",
        "lend: X",
        "after_discharge: X",
        "redirect: X",
        "override_gates: X",
        "drivers_word: X",
        "shift: X",
        "send_home: X",
        "plant_hours: X",
        "retrieval: X",
        "load_size: X",
        "additions: X",
        "yard: (warning: X, read_after: X, water_by: X, hrwr: X, other: 1)",
        "other: 1",
    ];
    let wrong = format!("today: true, {}, about", choices.join(", "));
    let text = include_str!("../../scenarios/starter.ron").replace("today: true, about", &wrong);
    fs::write(&file, text).unwrap();
    let output = cargo_bin_cmd!("plantday")
        .arg("check")
        .arg(&file)
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    let told = String::from_utf8(output.stderr).unwrap();
    let mut names = 0;
    for line in told.lines() {
        let list = line
            .split_once("expected one of ")
            .or_else(|| line.split_once("the fields are "));
        let Some((_, list)) = list else { continue };
        let list = list.split(" and ").next().unwrap();
        for name in list.split(", ").map(str::trim) {
            // Slump practice has shorter names for what stands first; places and people are told in words.
            assert!(guide.contains(name), "{name} of {line} is not in the guide");
            names += 1;
        }
    }
    assert!(names >= 60, "only {names} names were told:\n{told}");
}

/// What `check` says of the starter with one thing written otherwise.
fn told(from: &str, to: &str) -> String {
    let starter = include_str!("../../scenarios/starter.ron");
    assert!(starter.contains(from), "the starter has {from:?}");
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("wrong.ron");
    fs::write(&file, starter.replacen(from, to, 1)).unwrap();
    let output = cargo_bin_cmd!("plantday")
        .arg("check")
        .arg(&file)
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    String::from_utf8(output.stderr).unwrap()
}

#[test]
fn the_blocks_of_a_scenario_fit_on_a_screen() {
    let text = said(&["help", "scenario"]);
    assert!(text.lines().count() <= 36, "{text}");
    assert!(
        text.lines().all(|line| line.chars().count() <= 100),
        "{text}"
    );
    // What the reader itself names where a block is misspelt.
    let told = told("plants:", "plant:");
    let list = told.split_once("the fields are ").unwrap().1;
    let list = list.lines().next().unwrap();
    assert!(list.split(", ").count() >= 20, "{list}");
    for name in list.split(", ") {
        let stands = |line: &str| {
            line.trim_start().trim_end_matches('*') == name
                || line.trim_start().starts_with(&format!("{name} "))
                || line.trim_start().starts_with(&format!("{name}* "))
        };
        assert!(text.lines().any(stands), "{name} is not in\n{text}");
    }
}

/// The reader names its fields where it finds one that it does not know; help has all of them, with what the reader expects of one.
#[test]
fn a_block_is_explained_with_every_field_that_the_reader_takes() {
    for (block, from, to) in [
        ("plants", "bays: 2,", "bays: 2, zzz: 1,"),
        ("orders", "name: \"Floor\",", "name: \"Floor\", zzz: 1,"),
        ("company", "plants:", "company: (zzz: 1), plants:"),
        ("changes", "plants:", "changes: (zzz: 1), plants:"),
        ("weighing", "plants:", "weighing: (zzz: 1), plants:"),
        ("yard", "plants:", "yard: (zzz: 1), plants:"),
        ("money", "plants:", "money: (zzz: 1), plants:"),
        (
            "money.show_up",
            "plants:",
            "money: (show_up: (zzz: 1)), plants:",
        ),
        ("concrete", "plants:", "concrete: (zzz: 1), plants:"),
        (
            "concrete.mixes",
            "plants:",
            "concrete: (mixes: [(zzz: 1)]), plants:",
        ),
        (
            "rule_books",
            "plants:",
            "rule_books: [(name: \"x\", like: \"none\", zzz: 1)], plants:",
        ),
        ("drawn", "plants:", "drawn: [(zzz: 1)], plants:"),
        ("helpers", "plants:", "helpers: [(zzz: 1)], plants:"),
        ("worlds", "plants:", "worlds: [(zzz: 1)], plants:"),
        ("rules", "today: true,", "today: true, zzz: 1,"),
    ] {
        let help = said(&["help", "scenario", block]);
        let told = told(from, to);
        let fields = told
            .split_once("unknown field `zzz`")
            .and_then(|(_, rest)| rest.split_once("the fields are "))
            .unwrap_or_else(|| panic!("{block}: {told}"))
            .1;
        let fields = fields.lines().next().unwrap();
        let fields = fields.split(" and ").next().unwrap();
        for name in fields.split(", ") {
            let stands =
                |line: &str| line.split_whitespace().find(|word| *word != "·") == Some(name);
            assert!(
                help.lines().any(stands),
                "{name} of {block} is not in\n{help}"
            );
        }
    }
}

#[test]
fn a_field_is_told_with_range_default_and_source() {
    let text = said(&["help", "scenario", "overtime_factor"]);
    for words in [
        "money.overtime_factor",
        "factor, 1 to 10",
        "1.5 times the pay",
        "29 USC 207",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    // The same range as in the reader's own message.
    let told = told("plants:", "money: (overtime_factor: 11), plants:");
    assert!(told.contains("factor, 1 to 10"), "{told}");
    // A name that stands in several blocks is told of each.
    let text = said(&["help", "scenario", "balance_yd3"]);
    assert!(
        text.contains("orders.balance_yd3") && text.contains("changes.balance_yd3"),
        "{text}"
    );
    let text = said(&["help", "scenario", "orders.outlets"]);
    assert!(text.contains("yd³ a minute, 0.01 to 20"), "{text}");
}

#[test]
fn a_decision_is_told_with_its_choices_and_what_holds_if_it_is_left_out() {
    let text = said(&["help", "rules", "choose"]);
    for words in ["Nearest", "LongestIdle", "Cheapest", "Left out: Nearest"] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let text = said(&["help", "rules", "gates"]);
    assert!(
        text.contains("probability, 0.5 to 0.999") && text.contains("Left out: none"),
        "{text}"
    );
    let text = said(&["help", "rules", "yard.hrwr"]);
    assert!(text.contains("Left out: AtPlant"), "{text}");
}

/// What is told to hold where a decision is left out is what the reader takes: written out it is the same rule.
#[test]
fn the_choice_that_is_told_as_default_is_the_one_that_holds() {
    let outline = plantday::scenario::outline();
    let rules = outline.field("rules").unwrap();
    let mut tried = 0;
    for field in &rules.takes.fields {
        if field.takes.choices.is_empty() || field.takes.list.is_some() {
            continue;
        }
        let text = said(&["help", "rules", field.name]);
        let line = text
            .lines()
            .find_map(|line| line.strip_prefix("Left out: "));
        let default = line.unwrap_or_else(|| panic!("{text}"));
        let rule = plantday::scenario::decided("test", field.name, default).unwrap();
        let usual = plantday::dispatch::Rule::USUAL;
        assert_eq!(
            format!("{rule:?}").replace("\"varied\"", "\"\""),
            format!("{usual:?}"),
            "{}",
            field.name
        );
        tried += 1;
    }
    assert!(tried >= 14, "{tried}");
}

#[test]
fn every_spread_is_told_with_its_values() {
    let text = said(&["help", "spreads"]);
    let told = told("plants:", "yard: (washout: Zzz), plants:");
    let list = told.split_once("expected one of ").unwrap().1;
    for name in list.lines().next().unwrap().split(", ") {
        assert!(
            text.lines()
                .any(|line| line.trim_start().starts_with(name.trim())),
            "{name}: {text}"
        );
    }
    assert!(text.contains("coefficient of variation, 0 to 10"), "{text}");
}

#[test]
fn a_misspelt_block_field_or_decision_is_told_the_nearest() {
    for (arguments, hint) in [
        (["scenario", "ordres"], "did you mean \"orders\"?"),
        (["scenario", "pay_per_hr"], "did you mean \"pay_per_h\"?"),
        (["scenario", "orders.outlet"], "did you mean \"outlets\"?"),
        (["rules", "chose"], "did you mean \"choose\"?"),
        (["hours", "orders"], "has no parts"),
    ] {
        let output = cargo_bin_cmd!("plantday")
            .arg("help")
            .args(arguments)
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(2));
        let text = String::from_utf8(output.stderr).unwrap();
        assert!(text.contains(hint), "{arguments:?}: {text}");
    }
}
