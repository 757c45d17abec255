//! `plantday holds`: a decision that turns with one surprise, on paper; prices at which it turns, run again at that price; changes that
//! change nothing; the same bytes; wrong arguments.

use crate::changed;
use assert_cmd::cargo::cargo_bin_cmd;
use plantday::Watch;
use plantday::scenario::{self, Down, Input, Otherwise, Scenario, Surprise};
use plantday::studies::{self, Holds, HoldsQuestion, Question, Standing};
use plantday::units::PlantId;
use serde_json::Value;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// Three loads half an hour apart. "Near" serves them from "P", 20 min away, with one truck that is back after 65 min; "Any" from "Q" too, 40
/// min away, with three trucks. Nothing costs but driving and lateness.
pub(crate) const PAPER: &str = r#"(
    name: "paper day",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", mixes: ["a"], loading: Constant(6), rack: Constant(4)), (name: "Q", mixes: ["b", "a"], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 20), "Q": (30, 30) }, "Q": { "A": (40, 40) } }),
    trucks: [(name: "T", home: "P"), (name: "U", count: 3, home: "Q")],
    drivers: [(name: "D", trucks: "T", report: "05:30"), (name: "E", trucks: "U", report: "05:30")],
    orders: [(name: "W", site: "A", mix: "a", first: "07:00", volume_yd3: 30, spacing_min: 30, late_min: 0,
        outlets: [(rate_yd3_min: 1, places: 2)], position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    money: (pay_per_h: 0, gap_per_min: 0, late_per_load: 0, late_per_min: 1, first_late_per_min: 1),
    rules: [
        (name: "Near", today: true, belief: FreeFlow, choose: Nearest, lend: Never, plants: NearestFirst(late_min: 600)),
        (name: "Any", belief: FreeFlow, choose: SoonestOnSite, lend: Never, plants: Any),
    ],
)"#;

pub(crate) fn read(text: &str) -> Scenario {
    match scenario::parse("test", text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

pub(crate) fn ask(scenario: &Scenario, rule: Option<usize>, surprises: Vec<Surprise>) -> Holds {
    let question = HoldsQuestion {
        compare: Question {
            replications: 2,
            ..Question::default()
        },
        rule,
        surprises,
        ..HoldsQuestion::default()
    };
    studies::holds(scenario, &question, Watch::default()).expect("an answer")
}

pub(crate) fn cost(scenario: &Scenario, rule: usize) -> f64 {
    let question = Question {
        replications: 2,
        ..Question::default()
    };
    let found = studies::compare(scenario, &question, Watch::default());
    let found = found.expect("an answer");
    found.judged(rule).summary.mean().expect("a cost")
}

/// "Any" drives twice as far and is never late. Where its plant is down for the morning it cannot, and does as "Near" does; where a
/// minute late costs next to nothing, the long drives lose.
#[test]
fn a_decision_holds_until_its_plant_is_down_or_lateness_is_cheap() {
    let day = read(PAPER);
    let near_q = Surprise::PlantDown(Down::morning(PlantId::new(1)));
    let cheap = Surprise::Times(Input::LatePrice, 0.0);
    let found = ask(
        &day,
        None,
        vec![near_q, cheap, Surprise::Times(Input::Traffic, 1.05)],
    );
    assert_eq!(found.assumed.rules[found.rule].name, "Any");
    assert_eq!(found.as_assumed.standing, Standing::Wins);
    let standing = |surprise: Surprise| {
        let mut worlds = found.worlds.iter();
        let world = worlds.find(|world| world.otherwise == Otherwise::Surprise(surprise));
        world.expect("it was tried").standing.clone()
    };
    assert_eq!(
        standing(Surprise::Times(Input::Traffic, 1.05)),
        Standing::Wins
    );
    assert!(matches!(standing(cheap), Standing::Loses { to: 0, .. }));
    assert_eq!(found.held(), 2, "{:?}", found.worlds);
    // Lost by just what the two cost in that world.
    let Standing::Loses { by, .. } = standing(cheap) else {
        panic!("lost")
    };
    let world = cheap.apply(&day).expect("it applies");
    assert!((by - (cost(&world, 1) - cost(&world, 0))).abs() < 1e-3);
}

/// At the price at which it turns the two cost the same; a tenth below the other is better, a tenth above this one.
#[test]
fn at_the_price_that_turns_it_both_cost_the_same() {
    let day = read(PAPER);
    let found = ask(&day, None, Vec::new());
    let points = found.break_even.iter();
    let mut late = points.filter(|point| point.price == "lateness");
    let late = late.next().expect("lateness turns it");
    assert!(late.factor < 1.0 && late.to == 0, "{late:?}");
    let difference = |factor: f64| {
        let at = Surprise::Times(Input::LatePrice, factor)
            .apply(&day)
            .expect("it applies");
        cost(&at, 1) - cost(&at, 0)
    };
    // A minute's price is whole cents.
    assert!(
        difference(late.factor).abs() < 0.5,
        "{}",
        difference(late.factor)
    );
    assert!(difference(0.9 * late.factor) > 0.0);
    assert!(difference(1.1 * late.factor) < 0.0);
}

/// Half an order book more or less is whole orders; what is left meets the same luck.
#[test]
fn orders_are_added_and_left_out_whole() {
    let week = read(include_str!("../../scenarios/estuary_week.ron"));
    let written = |scenario: &Scenario| {
        let orders = scenario.orders.iter().filter(|order| order.slot.is_none());
        orders
            .map(|order| (order.name.clone(), order.volume))
            .collect::<Vec<_>>()
    };
    let all = written(&week);
    for factor in [0.9, 1.1] {
        let edited = Surprise::Times(Input::Orders, factor)
            .apply(&week)
            .expect("it applies");
        let other = written(&edited);
        let changed = (all.len() as f64 * 0.1).round() as usize;
        assert!(changed > 0);
        if factor < 1.0 {
            assert_eq!(other.len(), all.len() - changed);
            assert!(other.iter().all(|order| all.contains(order)));
        } else {
            assert_eq!(other[..all.len()], all);
            assert_eq!(other.len(), all.len() + changed);
        }
    }
}

/// What cannot matter changes nothing: a plant is down that no rule uses, sites that are always ready, drivers who always come.
#[test]
fn a_surprise_that_cannot_matter_changes_nothing() {
    let day = read(&changed::changed(
        PAPER,
        &[
            (
                "plants: [(name: \"P\"",
                "plants: [(name: \"Idle\", mixes: [\"z\"]), (name: \"P\"",
            ),
            (
                "roads: (minutes: {",
                "roads: (minutes: { \"Idle\": { \"A\": (9, 9), \"P\": (9, 9), \"Q\": (9, 9) },",
            ),
        ],
    ));
    let idle = Surprise::PlantDown(Down::morning(PlantId::new(0)));
    let none = [
        Surprise::Times(Input::NotReady, 2.0),
        Surprise::Times(Input::NoShows, 2.0),
        Surprise::Times(Input::Misread, 2.0),
    ];
    let found = ask(&day, None, [&[idle], none.as_slice()].concat());
    assert_eq!(found.worlds.len(), 1);
    assert_eq!(found.worlds[0].against_base, found.as_assumed.against_base);
    assert_eq!(found.not_applying.len(), 3);
}

pub(crate) fn run(folder: &Path, arguments: &[&str]) -> (Option<i32>, String, String) {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("output is UTF-8");
    (
        output.status.code(),
        text(output.stdout),
        text(output.stderr),
    )
}

/// The program on the built-in day: the same bytes for one and two threads, JSON and CSV alike, one screen.
#[test]
fn the_same_bytes_and_the_same_numbers() {
    let folder = TempDir::new().expect("a folder");
    let day = folder.path().join("day.ron");
    fs::write(&day, include_str!("../../scenarios/estuary_day.ron")).expect("a file");
    let day = day.display().to_string();
    let holds = |out: &str, more: &[&str]| {
        let arguments = [&["holds", &day, "-n", "4", "--out", out], more].concat();
        let (code, text, error) = run(folder.path(), &arguments);
        assert_eq!(code, Some(0), "{error}");
        let csv = fs::read_to_string(folder.path().join(out).join("worlds.csv"));
        (text, csv.expect("worlds.csv"))
    };
    let (json, csv) = holds("one", &["--json", "--threads", "1"]);
    assert!((json.clone(), csv.clone()) == holds("two", &["--json", "--threads", "2"]));
    let json: Value = serde_json::from_str(&json).expect("JSON");
    let mut rows = csv::Reader::from_reader(csv.as_bytes());
    let rows: Vec<csv::StringRecord> = rows.records().map(|row| row.expect("a row")).collect();
    let worlds = json["worlds"].as_array().expect("worlds");
    assert_eq!(rows.len(), worlds.len() + 1);
    assert!(worlds.len() >= 10, "{}", worlds.len());
    for (row, world) in rows[1..].iter().zip(worlds) {
        assert_eq!(world["world"], row[1]);
        let there = row[2].parse::<f64>().expect("a number");
        let mean = world["against_base"].as_f64().expect("a number");
        assert!((there - mean).abs() <= 1e-9 * mean.abs().max(1.0));
    }
    let (text, _) = holds("screen", &[]);
    assert!(text.lines().count() <= 36, "{text}");
    assert!(
        text.lines().all(|line| line.chars().count() <= 100),
        "{text}"
    );
}

#[test]
fn wrong_arguments_are_named() {
    let folder = TempDir::new().expect("a folder");
    for (arguments, expected) in [
        (["holds", "--rule", "Nobody"], "there is no rule \"Nobody\""),
        (
            ["holds", "--judge", "profit"],
            "there is no figure to judge by \"profit\"",
        ),
        (["holds", "-n", "1"], "a whole number from 2 to 1,000,000"),
    ] {
        let (code, _, error) = run(folder.path(), &arguments);
        assert_eq!(code, Some(2), "{arguments:?}");
        assert!(error.contains(expected), "{error}");
    }
}
