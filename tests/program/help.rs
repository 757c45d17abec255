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
        "reading",
        "simulated",
        "rules",
        "tables",
        "tickets",
        "hours",
        "concrete",
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
