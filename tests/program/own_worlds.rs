//! Worlds that a scenario writes: read with every problem at its place, tried before the usual ones and marked, on paper, and without a
//! trace on anything else.

use crate::changed::changed;
use crate::holds::{PAPER, ask, cost, read, run};
use plantday::scenario::{Down, Input, Otherwise, OwnWorld, Scenario, Surprise, parse};
use plantday::studies::Standing;
use plantday::units::{Millis, PlantId};
use serde_json::Value;
use std::fs;
use tempfile::TempDir;

/// The paper day with worlds.
fn with(worlds: &str) -> String {
    changed(
        PAPER,
        &[(
            "    rules: [",
            &format!("    worlds: [{worlds}],\n    rules: ["),
        )],
    )
}

#[test]
fn every_change_is_read() {
    use Surprise::{Is, Times};
    let q = PlantId::new(1);
    let down = |day, from, until| {
        let (from, until) = (Millis::from_hours(from), Millis::from_hours(until));
        Surprise::PlantDown(Down {
            plant: q,
            day,
            from,
            until,
        })
    };
    for (written, expected) in [
        ("Orders(times: 1.1)", Times(Input::Orders, 1.1)),
        ("Orders(more: 0.25)", Times(Input::Orders, 1.25)),
        ("Orders(less: 0.25)", Times(Input::Orders, 0.75)),
        ("Traffic(1.2)", Times(Input::Traffic, 1.2)),
        ("RoadLuck(times: 2)", Times(Input::RoadLuck, 2.0)),
        ("Discharge(more: 0.5)", Times(Input::Discharge, 1.5)),
        ("NotReady(times: 2)", Times(Input::NotReady, 2.0)),
        ("NotReady(share: 0.2)", Is(Input::NotReady, 0.2)),
        ("Cancelled(share: 0.1)", Is(Input::Cancelled, 0.1)),
        ("Rain(share: 0)", Is(Input::Rain, 0.0)),
        ("Misread(share: 1)", Is(Input::Misread, 1.0)),
        ("NoShows(less: 0.5)", Times(Input::NoShows, 0.5)),
        ("Absent(share: 0.07)", Is(Input::Absent, 0.07)),
        ("Breakdowns(times: 2)", Times(Input::Breakdowns, 2.0)),
        ("Outages(times: 0.5)", Times(Input::Outages, 0.5)),
        ("AgeLimit(min: 60)", Is(Input::AgeLimit, 60.0)),
        ("AgeLimit(60)", Is(Input::AgeLimit, 60.0)),
        (
            "Price(of: Lateness, times: 0)",
            Times(Input::LatePrice, 0.0),
        ),
        ("Price(Goodwill, 2)", Times(Input::Goodwill, 2.0)),
        ("Price(of: Pay, more: 0.5)", Times(Input::Pay, 1.5)),
        ("Price(of: Driving, times: 2)", Times(Input::Driving, 2.0)),
        ("Price(of: Sale, times: 2)", Times(Input::SalePrice, 2.0)),
        ("PlantDown(plant: \"Q\")", down(None, 0.0, 24.0)),
        (
            "PlantDown(plant: \"Q\", until: \"12:00\")",
            down(None, 0.0, 12.0),
        ),
        (
            "PlantDown(plant: \"Q\", day: 1, from: \"06:00\", until: \"07:30\")",
            down(Some(1), 6.0, 7.5),
        ),
        ("TruckFewer", Surprise::TruckFewer(None, 1)),
        (
            "TruckFewer(plant: \"Q\", count: 2)",
            Surprise::TruckFewer(Some(q), 2),
        ),
        ("DriverFewer(count: 2)", Surprise::DriverFewer(None, 2)),
        ("RainyDay", Surprise::RainyDay),
    ] {
        for list in [written.to_owned(), format!("[{written}, RainyDay]")] {
            let world = format!("(name: \"W\", change: {list})");
            let mut changes = vec![expected];
            if list != written {
                changes.push(Surprise::RainyDay);
            }
            let name = "W".into();
            assert_eq!(read(&with(&world)).worlds, [OwnWorld { name, changes }]);
        }
    }
    assert_eq!(read(PAPER).worlds, []);
}

/// Each change gives the scenario in which the changed number is written, and nothing else is otherwise.
#[test]
fn a_change_is_what_would_be_written() {
    const WEEK: &str = include_str!("../../scenarios/estuary_week.ron");
    let cases: [(&str, &[(&str, &str)]); 15] = [
        (
            "Misread(share: 0.06)",
            &[(
                "misread: 0.015, misread_if_warned: 0.005",
                "misread: 0.06, misread_if_warned: 0.02",
            )],
        ),
        ("NoShows(times: 2)", &[("no_show: 0.01", "no_show: 0.02")]),
        ("Rain(share: 0.2)", &[("rain: 0.06", "rain: 0.2")]),
        (
            "Cancelled(share: 0)",
            &[("cancelled: 0.04", "cancelled: 0")],
        ),
        (
            "NotReady(less: 0.5)",
            &[("not_ready: 0.08", "not_ready: 0.04")],
        ),
        (
            "Breakdowns(times: 2)",
            &[("mean_h_between: 800", "mean_h_between: 400")],
        ),
        (
            "Outages(times: 2)",
            &[
                ("mean_h_between: 450", "mean_h_between: 225"),
                ("mean_h_between: 400", "mean_h_between: 200"),
            ],
        ),
        (
            "AgeLimit(min: 60)",
            &[("age_limit_min: 90, ", "age_limit_min: 60, ")],
        ),
        // The price of a first load is twice that of others where it is not written.
        (
            "Price(of: Lateness, times: 2)",
            &[(
                "late_per_load: 60, late_per_min: 3,",
                "late_per_load: 120, late_per_min: 6,",
            )],
        ),
        (
            "Price(of: Goodwill, times: 2)",
            &[
                ("undelivered_per_yd3: 180", "undelivered_per_yd3: 360"),
                ("stranded: 250", "stranded: 500"),
            ],
        ),
        (
            "Price(of: Pay, times: 2)",
            &[("pay_per_h: 27", "pay_per_h: 54")],
        ),
        (
            "Price(of: Driving, times: 2)",
            &[(
                "truck_per_driven_h: 15, truck_per_mile: 0.8",
                "truck_per_driven_h: 30, truck_per_mile: 1.6",
            )],
        ),
        (
            "Price(of: Sale, times: 2)",
            &[("revenue: (per_yd3: 175", "revenue: (per_yd3: 350")],
        ),
        (
            "RoadLuck(times: 2)",
            &[(
                "luck: Lognormal(mean: 1, cv: 0.22)",
                "luck: Lognormal(mean: 1, cv: 0.44)",
            )],
        ),
        // What is planned at the time anyway lasts as long as planned.
        (
            "PlantDown(plant: \"Upper lock\", day: 6, from: \"09:00\", until: \"12:00\")",
            &[(
                "(day: 6, from: \"11:00\", to: \"12:30\")",
                "(day: 6, from: \"09:00\", to: \"12:30\")",
            )],
        ),
    ];
    for (change, written) in cases {
        let worlds = format!("    worlds: [(name: \"W\", change: {change})],\n    rules: [");
        let week = read(&WEEK.replacen("    rules: [", &worlds, 1));
        let [world] = week.worlds.as_slice() else {
            panic!("one world")
        };
        let edited = Otherwise::Own(world.clone()).apply(&week).expect(change);
        // Whether a value is written or stands by default is all in which they may differ, and the text that was read.
        let expected = Scenario {
            origin: edited.origin.clone(),
            marks: edited.marks.clone(),
            worlds: edited.worlds.clone(),
            ..read(&changed(WEEK, written))
        };
        assert!(edited == expected, "{change}");
    }
}

#[test]
fn every_problem_of_a_world_is_told_at_its_place() {
    let worlds = r#"
        (name: "a", change: Trafic(times: 2)),
        (name: "a", change: [PlantDown(plant: "R", day: 2), Orders(times: 3)]),
        (name: "c", change: Traffic(times: 2, more: 1)),
        (name: "d", change: Traffic()),
        (name: "e", change: Price(of: Latenes, times: 2)),
        (name: "f", change: PlantDown(plant: "P", from: "12:00", until: "09:00")),
        (name: "g", change: Misread(share: 1.5)),
        (name: "h", change: Traffic(share: 0.5)),
        (name: "i"),
        (name: "j", change: []),
        (name: "k", chance: RainyDay),
        (name: "l", change: RainyDay(2)),
        (name: "m", change: TruckFewer(plant: "p")),
"#;
    let faults = parse("day.ron", &with(worlds)).expect_err("it is wrong");
    let told: Vec<String> = faults.to_string().lines().map(str::to_owned).collect();
    let first = with("")
        .lines()
        .position(|line| line.contains("worlds"))
        .expect("worlds")
        + 2;
    for (nth, column, words) in [
        (0, 29, "unknown change `Trafic`"),
        (1, 16, "the world \"a\" exists already"),
        (1, 47, "there is no plant \"R\""),
        (1, 57, "day 2 is after the end of the period (expected 1"),
        (1, 75, "3 is out of range"),
        (2, 53, "`times` and `more` are both written"),
        (3, 29, "`times` or `more` is missing"),
        (4, 39, "unknown price `Latenes`"),
        (
            5,
            73,
            "down from 12:00 until 09:00 (expected a time after 12:00)",
        ),
        (6, 44, "1.5 is out of range (expected share, 0 to 1)"),
        (7, 37, "unknown field `share`"),
        (8, 9, "field `change` is missing"),
        (9, 29, "there is no change"),
        (10, 21, "unknown field `chance`"),
        (11, 37, "`RainyDay` takes no values"),
        (12, 47, "there is no plant \"p\""),
    ] {
        let place = format!("day.ron:{}:", first + nth);
        let line = told
            .iter()
            .find(|line| line.starts_with(&place) && line.contains(words));
        let line = line.unwrap_or_else(|| panic!("{place} {words}: {told:#?}"));
        assert!(
            line.starts_with(&format!("{place}{column}:")),
            "{line}, not {column}"
        );
    }
    let near = |words: &str| {
        let problem = faults.problems.iter().find(|one| one.title.contains(words));
        let found = problem.expect("it is told").suggestion.clone();
        found.expect("a nearest name").text
    };
    assert_eq!(near("`Trafic`"), "Traffic");
    assert_eq!(near("`Latenes`"), "Lateness");
    assert_eq!(near("plant \"p\""), "\"P\"");
}

/// Two changes at once are those changes, as if they had been written: half the prices of lateness, and trips of 1.05 times their minutes.
/// Own worlds stand first, in the order written, whatever they change.
#[test]
fn a_pair_of_changes_is_both_of_them() {
    let worlds = r#"
        (name: "Nothing much", change: Price(of: Lateness, times: 0.99)),
        (name: "Late is cheap", change: Price(of: Lateness, times: 0)),
        (name: "Both", change: [Traffic(times: 1.05), Price(of: Lateness, times: 0.5)]),
    "#;
    let usual = vec![Surprise::Times(Input::LatePrice, 0.25), Surprise::RainyDay];
    let found = ask(&read(&with(worlds)), Some(1), usual);
    let names: Vec<&str> = found.own();
    assert_eq!(names, ["Nothing much", "Late is cheap", "Both"]);
    assert_eq!(found.worlds.len(), 4, "rain changes nothing indoors");
    assert!(
        found.worlds[..3]
            .iter()
            .all(|world| world.otherwise.is_own())
    );
    assert!(matches!(
        found.worlds[1].standing,
        Standing::Loses { to: 0, .. }
    ));
    let written = read(&changed(
        PAPER,
        &[
            ("roads: (minutes:", "roads: (luck: Constant(1.05), minutes:"),
            (
                "late_per_min: 1, first_late_per_min: 1",
                "late_per_min: 0.5, first_late_per_min: 0.5",
            ),
        ],
    ));
    let by_hand = cost(&written, 1) - cost(&written, 0);
    assert!(by_hand.abs() > 1.0, "{by_hand}");
    assert!(
        (found.worlds[2].against_base - by_hand).abs() < 1e-3,
        "{by_hand}"
    );
}

/// A world does nothing to the answer but to stand beside it, and one that cannot matter is as assumed to the last digit.
#[test]
fn a_world_that_cannot_matter_changes_no_byte() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let day = include_str!("../../scenarios/estuary_day.ron");
    let places = [
        "North quay",
        "South mole",
        "Upper lock",
        "Harbor wall",
        "School slab",
        "Lighthouse road",
        "Mill floor",
        "Ferry ramp",
        "Pump house",
        "Viaduct pier",
        "Quarry road",
        "Clinic mat",
        "Sea wall",
    ];
    let far = places.map(|place| format!("\"{place}\": 90"));
    let idle = changed(
        day,
        &[
            (
                "    plants: [\n",
                "    plants: [\n        (name: \"Idle\", mixes: [\"none asked for\"]),\n",
            ),
            (
                "        minutes: {\n",
                &format!(
                    "        minutes: {{\n            \"Idle\": {{ {} }},\n",
                    far.join(", ")
                ),
            ),
            (
                "change: PlantDown(plant: \"South mole\", until: \"12:00\")",
                "change: PlantDown(plant: \"Idle\", until: \"12:00\")",
            ),
        ],
    );
    let (begins, _) = idle.split_once("    worlds: [").expect("worlds");
    fs::write(path.join("idle.ron"), &idle).expect("a file");
    fs::write(path.join("none.ron"), format!("{begins})")).expect("a file");
    for name in ["idle", "none"] {
        let file = format!("{name}.ron");
        let (code, _, error) = run(path, &["compare", &file, "-n", "5", "--out", name]);
        assert_eq!(code, Some(0), "{error}");
    }
    let figures = |name: &str| fs::read(path.join(name).join("figures.csv")).expect("figures");
    assert_eq!(figures("idle"), figures("none"));
    let (code, text, error) = run(path, &["holds", "idle.ron", "-n", "5", "--json"]);
    assert_eq!(code, Some(0), "{error}");
    let json: Value = serde_json::from_str(&text).expect("JSON");
    let own = &json["worlds"][0];
    assert_eq!(own["world"], "own: South mole down until noon");
    assert_eq!(
        (&own["yours"], &json["worlds"][1]["yours"]),
        (&true.into(), &false.into())
    );
    for key in ["against_base", "low", "high", "standing"] {
        assert_eq!(own[key], json["as_assumed"][key], "{key}");
    }
}

/// The comparison tries them too, says so, and names one in which the decision does not hold.
#[test]
fn the_comparison_tries_them_and_says_so() {
    let folder = TempDir::new().expect("a folder");
    let decision = |worlds: &str| {
        fs::write(folder.path().join("day.ron"), with(worlds)).expect("a file");
        let (code, text, error) = run(folder.path(), &["compare", "day.ron", "-n", "250"]);
        assert_eq!(code, Some(0), "{error}");
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let held = decision("(name: \"Dear\", change: Price(of: Lateness, times: 3))");
    assert!(held.contains(", also in your \"Dear\""), "{held}");
    let lost = decision("(name: \"Free\", change: Price(of: Lateness, times: 0))");
    let words = "not if it is as in your \"Free\" (\"Near\" is better)";
    assert!(lost.contains(words), "{lost}");
    let without = decision("");
    assert!(!without.contains("your"), "{without}");
}

/// What the reader expects where a change is written wrongly is what the guide tells.
#[test]
fn the_guide_names_every_change() {
    let (_, guide, _) = run(std::path::Path::new("."), &["help", "reading"]);
    let wrong = with("(name: \"a\", change: X), (name: \"b\", change: Price(of: X, times: 1))");
    let faults = parse("day.ron", &wrong)
        .expect_err("it is wrong")
        .to_string();
    let mut names = 0;
    for line in faults.lines() {
        let (_, list) = line.split_once("expected one of ").expect("a list");
        for name in list.trim_end_matches(')').split(", ") {
            assert!(guide.contains(name), "{name} is not in the guide");
            names += 1;
        }
    }
    assert_eq!(names, 18 + 5);
    for input in Input::ALL {
        assert!(
            guide.contains(input.name()),
            "{} is not in the guide",
            input.name()
        );
    }
}
