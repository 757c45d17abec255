//! States that cannot be: each is refused with its place and what is expected, beside the same state put right, which is taken; and all
//! that is wrong in a file is told at once.

use super::desk::YARD;
use plantday::scenario::{self, Scenario, day_state};

/// The slipway yard, with a second plant that makes lean concrete alone.
fn two_plants() -> Scenario {
    let lean = r#"plants: [(name: "Lean quay", hours: [(open: "05:00", close: "18:00")], mixes: ["lean"]), "#;
    let way = r#"minutes: { "Lean quay": { "Near": 20, "Half": 20, "Far": 20, "Slipway": 5 }, "#;
    let text = YARD
        .replace("LUCK", "Constant(1)")
        .replacen("plants: [", lean, 1)
        .replacen("minutes: { ", way, 1);
    match scenario::parse("yard", &text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

const D1: &str = r#"(name: "D1", doing: DrivingLoaded, order: "Wall", load: 1, yd3: 10, plant: "Slipway",
    batched: "13:20", since: "13:32", reported: "06:00", week_h: 20)"#;
const D2: &str = r#"(name: "D2", doing: AtRack, order: "Wall", load: 2, yd3: 10, plant: "Slipway",
    batched: "13:30", since: "13:36", reported: "06:30", week_h: 20)"#;

fn state(first: &str, second: &str) -> String {
    format!(
        "(day: 1, at: \"13:40\", drivers: [\n{first},\n{second},\n(name: \"D3\", doing: Off), (name: \"E\", doing: Off)],\n\
         orders: [(name: \"Wall\", sent_yd3: 20, loads: 2)])"
    )
}

fn said(scenario: &Scenario, text: &str) -> String {
    match day_state::parse("now.ron", text, scenario) {
        Ok(_) => String::new(),
        Err(faults) => faults.to_string(),
    }
}

/// What is wrong in the second driver's line, what is said of it, and the same put right.
const CONTRADICTIONS: [(&str, &str, &str, &str, &str); 5] = [
    (
        "load: 2",
        "load: 1",
        "now.ron:4:",
        "this load of its order stands twice (expected each once)",
        "load: 2",
    ),
    (
        "plant: \"Slipway\"",
        "plant: \"Lean quay\"",
        "now.ron:4:",
        "this plant does not make the order's mix \"standard\" (expected a plant that makes it)",
        "plant: \"Slipway\"",
    ),
    (
        "since: \"13:36\"",
        "since: \"13:29\"",
        "now.ron:5:",
        "this began before the load was batched (expected a time after `batched`)",
        "since: \"13:30\"",
    ),
    (
        "reported: \"06:30\"",
        "reported: \"13:31\"",
        "now.ron:5:",
        "this load was batched before its driver reported (expected a time after `reported`)",
        "reported: \"13:30\"",
    ),
    (
        "batched: \"13:30\"",
        "batched: \"13:41\"",
        "now.ron:5:",
        "this is after the moment of the file (expected a time that has passed by `at`)",
        "batched: \"13:36\"",
    ),
];

#[test]
fn each_is_refused_and_its_twin_is_taken() {
    let scenario = two_plants();
    assert_eq!(said(&scenario, &state(D1, D2)), "");
    for (stands, wrong, place, title, right) in CONTRADICTIONS {
        assert!(D2.contains(stands), "{stands}");
        let refused = said(&scenario, &state(D1, &D2.replace(stands, wrong)));
        let line = refused.lines().find(|line| line.contains(title));
        let line = line.unwrap_or_else(|| panic!("{wrong} does not say {title:?}:\n{refused}"));
        assert!(line.starts_with(place), "{line}");
        assert_eq!(said(&scenario, &state(D1, &D2.replace(stands, right))), "");
    }
}

#[test]
fn all_of_them_are_told_at_once() {
    let scenario = two_plants();
    let mut second = D2.to_owned();
    for (stands, wrong, ..) in &CONTRADICTIONS[..4] {
        second = second.replace(stands, wrong);
    }
    let refused = said(&scenario, &state(D1, &second));
    for (.., title, _) in &CONTRADICTIONS[..4] {
        assert!(refused.contains(title), "{title}:\n{refused}");
    }
}

/// What a driver does says which fields there are: left out or misspelt, it is told that it is missing, and no field is called unknown.
#[test]
fn a_driver_without_what_is_done_is_told() {
    let scenario = two_plants();
    assert_eq!(said(&scenario, &state(D1, D2)), "");
    let without = D2.replace("doing: AtRack, ", "");
    let misspelt = D2.replace("doing: AtRack", "doign: AtRack");
    for (second, expected) in [
        (
            without,
            "field `doing` is missing in a driver (expected `doing` in the block that begins here)",
        ),
        (
            misspelt,
            "unknown field `doign` in a driver (expected a field of a driver)",
        ),
    ] {
        let told = said(&scenario, &state(D1, &second));
        assert!(
            told.contains("now.ron:4:") && told.contains(expected),
            "{told}"
        );
        assert_eq!(told.matches("now.ron:").count(), 1, "{told}");
    }
}

/// What may be left out may be written `None`, and means the same: a report that is needed is missing either way, and is told so.
#[test]
fn what_is_written_as_none_is_left_out() {
    let scenario = two_plants();
    for (written, name, missing) in [
        (
            r#", reported: "06:30""#,
            "reported",
            "when the driver reported is missing",
        ),
        (r#", since: "13:36""#, "since", ""),
    ] {
        assert!(D2.contains(written));
        let left_out = said(&scenario, &state(D1, &D2.replace(written, "")));
        let none = D2.replace(written, &format!(", {name}: None"));
        let none = said(&scenario, &state(D1, &none));
        assert_eq!(none.is_empty(), missing.is_empty(), "{none}");
        assert!(
            none.contains(missing) && left_out.contains(missing),
            "{none}"
        );
    }
    let down = |since: &str| {
        let plants = format!(r#"plants: [(name: "Slipway", {since}until: "14:00")], drivers: ["#);
        said(&scenario, &state(D1, D2).replace("drivers: [", &plants))
    };
    assert_eq!(down(r#"down_since: "13:20", "#), "");
    for since in ["", "down_since: None, "] {
        let told = down(since);
        assert!(
            told.contains("field `down_since` is missing in a plant"),
            "{told}"
        );
    }
}
