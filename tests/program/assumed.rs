//! `plantday holds --assume`: a saving in drawn worlds by hand, a spread without width, addresses of draws, the same bytes, and bad spreads
//! at their place.

use crate::holds::{PAPER, cost, read, run};
use plantday::Watch;
use plantday::scenario::assume::{self, Assumption};
use plantday::scenario::{Input, Scenario, Surprise};
use plantday::studies::{self, HoldsQuestion, Question, UnderAssumptions};
use serde_json::Value;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const DAY: &str = include_str!("../../scenarios/estuary_day.ron");
const WEEK: &str = include_str!("../../scenarios/estuary_week.ron");
const YARD: &str = include_str!("../../scenarios/yard_study.ron");

fn assumed(scenario: &Scenario, written: &[&str]) -> Vec<Assumption> {
    let written: Vec<String> = written.iter().map(|one| (*one).to_owned()).collect();
    match assume::read(&written, scenario) {
        Ok(assumptions) => assumptions,
        Err(faults) => panic!("{faults}"),
    }
}

fn ask(scenario: &Scenario, rule: usize, written: &[&str], outer: u32) -> UnderAssumptions {
    let question = HoldsQuestion {
        compare: Question {
            replications: 3,
            ..Question::default()
        },
        rule: Some(rule),
        assumptions: assumed(scenario, written),
        outer,
        ..HoldsQuestion::default()
    };
    let found = studies::holds(scenario, &question, Watch::default());
    let found = found.expect("an answer");
    found.under_assumptions.expect("drawn worlds")
}

/// A day without luck: what "Any" saves is a straight line in the price of lateness. Each drawn world is that price by hand; nothing is left
/// to luck, and the interval is Student's of the drawn savings, as wide as for one more of them.
#[test]
fn savings_of_drawn_worlds_by_hand() {
    let day = read(PAPER);
    let found = ask(&day, 1, &["late_price=Uniform(0.5, 2)"], 5);
    assert_eq!(found.worlds.len(), 5);
    let mut savings = Vec::new();
    for world in &found.worlds {
        let [price] = world.values[..] else {
            panic!("one value")
        };
        assert!((0.5..=2.0).contains(&price));
        let there = Surprise::Times(Input::LatePrice, price)
            .apply(&day)
            .expect("it applies");
        let saving = cost(&there, 0) - cost(&there, 1);
        assert!((world.saving.expect("a saving") - saving).abs() < 1e-3);
        savings.push(world.saving.expect("a saving"));
    }
    let table = found.table.as_ref().expect("a table");
    assert_eq!(table.luck(0.95).half_width(), 0.0);
    assert_eq!(table.share_of_worlds(), Some(1.0));
    let mean = savings.iter().sum::<f64>() / 5.0;
    let variance = savings.iter().map(|s| (s - mean).powi(2)).sum::<f64>() / 4.0;
    // t with 4 degrees of freedom: 2.776445, printed in any table.
    let half = 2.776445 * (variance * 1.2).sqrt();
    assert!(half > 1.0);
    let both = table.luck_and_worlds(0.95);
    assert!((table.mean() - mean).abs() < 1e-9);
    assert!(
        (both.half_width() - half).abs() < 1e-5 * half,
        "{both:?} {half}"
    );
    // A straight line but for whole cents.
    let goes = found.correlations(0.95)[0].expect("it spreads");
    assert!(goes.told && goes.coefficient > 0.999, "{goes:?}");
    assert_eq!(found.saves(), savings.iter().filter(|s| **s > 0.0).count());
}

/// At the value as written nothing is edited, of every input of every scenario that comes with the program; and a spread without width at
/// that value gives the savings as assumed in every drawn world, to the last bit.
#[test]
fn a_spread_that_is_a_point_as_written_changes_nothing() {
    let mut tried = 0;
    for text in [DAY, WEEK, YARD] {
        let scenario = read(text);
        for input in Input::ALL {
            let Ok(written) = input.as_written(&scenario) else {
                continue;
            };
            assert_eq!(input.set(&scenario, written).expect("it is set"), scenario);
            tried += 1;
        }
    }
    assert!(tried > 40, "{tried}");
    let day = read(DAY);
    let point = [
        "traffic=1",
        "age_limit=90",
        "not_ready=Constant(0)",
        "orders=Uniform(1, 1)",
    ];
    let found = ask(&day, 2, &point, 3);
    let saving = found.as_assumed.expect("a saving");
    assert!(saving != 0.0);
    for world in &found.worlds {
        assert_eq!(world.values, [1.0, 90.0, 0.0, 1.0]);
        assert_eq!(world.saving.map(f64::to_bits), Some(saving.to_bits()));
        assert_eq!(world.interval, found.as_assumed_interval);
    }
    let table = found.table.expect("a table");
    assert_eq!(table.share_of_worlds(), Some(0.0));
    assert_eq!(table.luck_and_worlds(0.95), table.luck(0.95));
    // A hundredth more traffic is not nothing.
    let more = ask(&day, 2, &["traffic=1.01"], 2);
    assert_ne!(more.worlds[0].saving, Some(saving));
}

/// A draw has an address of its own: one more input, another rule or more worlds shake none that was there.
#[test]
fn one_more_input_or_rule_shakes_no_draw() {
    let day = read(DAY);
    let values = |rule, written: &[&str], outer| -> Vec<Vec<f64>> {
        let found = ask(&day, rule, written, outer);
        found.worlds.into_iter().map(|world| world.values).collect()
    };
    let (traffic, rain) = ("traffic=Triangular(0.9, 1, 1.3)", "rain=Uniform(0, 0.2)");
    let alone = values(2, &[traffic], 3);
    let both = values(1, &[rain, traffic], 5);
    for (nth, world) in alone.iter().enumerate() {
        assert_eq!(world[0], both[nth][1]);
    }
    let mut all: Vec<f64> = both.into_iter().flatten().collect();
    all.sort_by(f64::total_cmp);
    all.dedup();
    assert_eq!(all.len(), 10, "every draw is one of its own");
}

/// Today's rule itself is set against the best of the others.
#[test]
fn todays_rule_is_set_against_the_best_other_one() {
    let found = ask(&read(PAPER), 0, &["late_price=Uniform(0.9, 1.1)"], 2);
    assert_eq!((found.rule, found.against), (0, 1));
    assert_eq!(found.saves(), 0);
}

/// The program: the same bytes for one and two threads, one line for each drawn world in CSV and JSON, a screen that is not wider than it
/// should be.
#[test]
fn the_same_bytes_and_one_line_for_each_drawn_world() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fs::write(path.join("day.ron"), DAY).expect("a file");
    let holds = |out: &str, more: &[&str]| {
        let assume = [
            "--assume",
            "traffic=Triangular(0.9, 1, 1.3)",
            "--assume",
            "late_price=Uniform(0.5, 2)",
        ];
        let arguments = [
            &["holds", "day.ron", "-n", "3", "--outer", "4", "--out", out],
            &assume[..],
            more,
        ]
        .concat();
        let (code, text, error) = run(path, &arguments);
        assert_eq!(code, Some(0), "{error}");
        let file = |name: &str| fs::read(path.join(out).join(name)).expect("a file");
        (
            text,
            file("assumed.csv"),
            file("assumed_averages.csv"),
            file("holds.html"),
        )
    };
    let one = holds("one", &["--json", "--threads", "1"]);
    assert!(one == holds("two", &["--json", "--threads", "2"]));
    let json: Value = serde_json::from_str(&one.0).expect("JSON");
    let drawn = &json["under_assumptions"];
    let worlds = drawn["worlds"].as_array().expect("worlds");
    let mut csv = csv::Reader::from_reader(one.1.as_slice());
    let headings: Vec<String> = csv
        .headers()
        .expect("headings")
        .iter()
        .map(str::to_owned)
        .collect();
    assert_eq!(headings[..4], ["drawn", "traffic", "late_price", "saving"]);
    let rows: Vec<csv::StringRecord> = csv.records().map(|row| row.expect("a row")).collect();
    assert_eq!((rows.len(), worlds.len()), (4, 4));
    let close = |one: f64, other: &Value| {
        let other = other.as_f64().expect("a number");
        assert!((one - other).abs() <= 1e-12 * one.abs(), "{one} {other}");
    };
    for (row, world) in rows.iter().zip(worlds) {
        let number = |at: usize| row[at].parse::<f64>().expect("a number");
        close(number(1), &world["values"][0]);
        close(number(2), &world["values"][1]);
        close(number(3), &world["saving"]);
        assert_eq!(number(3), -number(4), "less cost is a saving");
    }
    let mean = worlds
        .iter()
        .map(|world| world["saving"].as_f64().expect("a number"))
        .sum::<f64>()
        / 4.0;
    assert!((drawn["saving"].as_f64().expect("a number") - mean).abs() < 1e-6 * mean.abs());
    let ends = |name: &str| drawn[name].as_f64().expect("a number");
    assert!(ends("low") <= ends("luck_low") && ends("luck_high") <= ends("high"));
    let (text, ..) = holds("screen", &[]);
    assert!(
        text.lines().all(|line| line.chars().count() <= 100),
        "{text}"
    );
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "With trip times between 0.9 and 1.3 times and the price of lateness between 0.5 and 2 times what is written:",
        "luck and assumptions together; luck alone",
    ] {
        assert!(flat.contains(words), "{words}: {text}");
    }
    let saves = drawn["saves_in"].as_u64().expect("a number");
    let words = match saves {
        4 => "it saves in all 4 drawn worlds.".to_owned(),
        saves => format!("it saves in {saves} of 4 drawn worlds."),
    };
    assert!(flat.contains(&words), "{words}: {text}");
}

#[test]
fn what_is_wrong_with_an_assumption_is_told_at_its_place() {
    let wrong = |written: &[&str], expected: &[&str]| {
        let folder = TempDir::new().expect("a folder");
        fs::write(folder.path().join("day.ron"), DAY).expect("a file");
        let each = written.iter().flat_map(|one| ["--assume", *one]);
        let arguments: Vec<&str> = ["holds", "day.ron"].into_iter().chain(each).collect();
        let (code, out, error) = run(folder.path(), &arguments);
        assert_eq!((code, out.as_str()), (Some(2), ""), "{error}");
        for words in expected {
            assert!(error.contains(words), "{words}:\n{error}");
        }
        assert!(!Path::new(&folder.path().join("plantday-holds")).exists());
    };
    // All at once, each on the line of its option.
    wrong(
        &[
            "trafic=Unifrm(1, 2)",
            "rain=Uniform(0.4, 0.1)",
            "rain=0.1",
            "orders",
            "pay=",
        ],
        &[
            "--assume:1:1",
            "there is no input `trafic`",
            "a similar one exists: `traffic`",
            "--assume:2:6",
            "low 0.4 is above high 0.1",
            "--assume:3:1",
            "`rain` has two spreads",
            "--assume:4:1",
            "there is no `=`",
            "--assume:5:1",
            "nothing behind the `=`",
        ],
    );
    wrong(
        &["traffic=Unifrm(1, 2)"],
        &["--assume:1:9", "`Unifrm`", "`Uniform`"],
    );
    wrong(
        &["no_shows=Uniform(0, 2)"],
        &["--assume:1:21", "2 is out of range", "share, 0 to 1"],
    );
    wrong(
        &["no_shows=Lognormal(mean: 0.5, cv: 2)"],
        &["--assume:1:10", "would come to", "expected share, 0 to 1"],
    );
    wrong(&["orders=Uniform(1, 3)"], &["--assume:1:8", "0.1 to 2"]);
    wrong(
        &["misread=0.02"],
        &["--assume:1:1", "cannot be assumed here", "slump rack"],
    );
    wrong(&["traffic=Uniform(1, 2"], &["--assume:1:"]);
    let folder = TempDir::new().expect("a folder");
    let (code, _, error) = run(folder.path(), &["holds", "--outer", "5"]);
    assert_eq!(code, Some(2));
    assert!(error.contains("--assume"), "{error}");
}
