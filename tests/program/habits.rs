//! `plantday habits`: shares against brute force over all mixes of two rules, a day on paper, the same bytes whatever the threads, JSON
//! against CSV, and wrong arguments.

use assert_cmd::cargo::cargo_bin_cmd;
use plantday::Watch;
use plantday::dispatch::Habit;
use plantday::scenario::{self, Scenario};
use plantday::studies::{self, Habits, HabitsQuestion, Question, Valued};
use serde_json::Value;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// Two loads due at once on a site with two places; one truck each at "P", 20 min away, and "Q", 50 min away. "Near" has the near plant
/// do both with its one truck; "Any, early" uses both plants, sends 10 min early and prints a warning.
const PAPER: &str = r#"(
    name: "paper day",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", loading: Constant(6), rack: Constant(4)), (name: "Q", loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 20), "Q": (30, 30) }, "Q": { "A": (50, 50) } }),
    trucks: [(name: "T", home: "P"), (name: "U", home: "Q")],
    drivers: [(name: "D", trucks: "T", report: "05:30"), (name: "E", trucks: "U", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 20, spacing_min: 0, late_min: 0,
        outlets: [(rate_yd3_min: 1, places: 2)], position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [
        (name: "Near", today: true, belief: FreeFlow, choose: Nearest, lend: Never, plants: NearestFirst(late_min: 600), send: AsOrdered),
        (name: "Any, early", belief: FreeFlow, choose: Nearest, lend: Never, plants: Any, early_min: 10, yard: (warning: OnAdmixture)),
    ],
)"#;

fn read(text: &str) -> Scenario {
    match scenario::parse("test", text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

fn ask(scenario: &Scenario, question: &HabitsQuestion) -> Habits {
    studies::habits(scenario, question, Watch::default()).expect("an answer")
}

/// The near truck alone is at the bay again after 65 min (6 loading, 4 rack, 20 out, 10 discharge, 5 chute, 20 back): its second load is
/// late, sent early or not. With the far plant in, which sends 30 min sooner, both are there at seven. A warning on a ticket changes
/// nothing where no ticket is misread.
#[test]
fn a_day_on_paper() {
    let found = ask(
        &read(PAPER),
        &HabitsQuestion {
            replications: 2,
            ..HabitsQuestion::default()
        },
    );
    let habits: Vec<Habit> = found.habits.iter().map(|result| result.habit).collect();
    assert_eq!(habits.len(), 3);
    let of = |habit: Habit| {
        let result = found.habits.iter().find(|result| result.habit == habit);
        result.expect("a decision in which they differ")
    };
    let plants = of(Habit::Plants).of(Valued::LateLoads);
    assert_eq!(
        (plants.alone.mean, plants.last.mean, plants.share.mean),
        (-1.0, -1.0, -1.0)
    );
    let warning = of(Habit::Warning);
    for valued in Valued::ALL {
        let value = warning.of(valued);
        assert_eq!((value.alone.mean, value.last.mean), (0.0, 0.0));
        assert!(value.share.mean.abs() < 1e-9);
    }
    assert_eq!(found.whole(Valued::LateLoads).mean, -1.0);
    assert_eq!((found.orders, found.rules_run), (None, 8));
}

/// On the built-in day two rules that differ in five decisions: the shares are the mean of what each decision adds, over all 120
/// orders of adding them, each of the 32 mixes compared by itself; alone and last are single comparisons. All add up.
#[test]
fn shares_are_those_of_all_mixes() {
    let mut day = read(include_str!("../../scenarios/estuary_day.ron"));
    let from = day.rules[day.todays_rule()].clone();
    let other = &day.rules[day.rules.len() - 1];
    let five: Vec<Habit> = Habit::differing(&from, other).into_iter().take(5).collect();
    assert_eq!(five.len(), 5);
    let mut to = Habit::mixed(&from, other, &five);
    (to.name, to.today) = ("mixed".into(), false);
    day.rules = vec![from.clone(), to.clone()];
    let n = 6;
    let found = ask(
        &day,
        &HabitsQuestion {
            replications: n,
            ..HabitsQuestion::default()
        },
    );
    assert_eq!((found.orders, found.rules_run), (None, 32));

    let mut mixes = day.clone();
    mixes.rules = (0..32_u32)
        .map(|set| {
            let taken = (0..5).filter(|at| set & (1 << at) != 0);
            Habit::mixed(&from, &to, taken.map(|at| &five[at]))
        })
        .collect();
    let question = Question {
        replications: n,
        ..Question::default()
    };
    let all = studies::compare(&mixes, &question, Watch::default()).expect("rows");
    for valued in Valued::ALL {
        let mean = |set: usize| {
            let values = all.rows.values(set, valued.column());
            values.sum::<f64>() / n as f64
        };
        let (mut shares, mut orders) = ([0.0; 5], 0.0);
        let mut open: Vec<Vec<usize>> = vec![Vec::new()];
        while let Some(order) = open.pop() {
            if order.len() == 5 {
                orders += 1.0;
                let mut set = 0_usize;
                for at in order {
                    let before = mean(set);
                    set |= 1_usize << at;
                    let added: f64 = mean(set) - before;
                    shares[at] += added;
                }
                continue;
            }
            for at in (0..5_usize).filter(|at| !order.contains(at)) {
                open.push([order.as_slice(), &[at]].concat());
            }
        }
        let near = |a: f64, b: f64| {
            let size = mean(0).abs().max(1.0);
            assert!((a - b).abs() < 1e-6 * size, "{valued:?}: {a} and {b}");
        };
        for (at, habit) in five.iter().enumerate() {
            let result = found.habits.iter().find(|result| result.habit == *habit);
            let value = result.expect("it differs").of(valued);
            near(value.share.mean, shares[at] / orders);
            near(value.alone.mean, mean(1 << at) - mean(0));
            near(value.last.mean, mean(31) - mean(31 & !(1 << at)));
        }
        let sum: f64 = found.habits.iter().map(|r| r.of(valued).share.mean).sum();
        near(sum, found.whole(valued).mean);
        near(sum, mean(31) - mean(0));
    }
}

fn habits(folder: &Path, arguments: &[&str]) -> (Option<i32>, String, String) {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .arg("habits")
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

fn day(folder: &TempDir) -> String {
    let file = folder.path().join("day.ron");
    fs::write(&file, include_str!("../../scenarios/estuary_day.ron")).expect("a file");
    file.display().to_string()
}

/// Many decisions, so that orders are drawn: the same bytes for one and two threads, and JSON and CSV say the same.
#[test]
fn the_same_bytes_and_the_same_numbers() {
    let folder = TempDir::new().expect("a folder");
    let file = day(&folder);
    let run = |out: &str, threads: &str| {
        let arguments = [
            &file,
            "-n",
            "4",
            "--orders",
            "2",
            "--json",
            "--threads",
            threads,
            "--out",
            out,
        ];
        let (code, text, error) = habits(folder.path(), &arguments);
        assert_eq!(code, Some(0), "{error}");
        let csv =
            fs::read_to_string(folder.path().join(out).join("habits.csv")).expect("habits.csv");
        let page = fs::read(folder.path().join(out).join("habits.html")).expect("a page");
        (text, csv, page)
    };
    let one = run("one", "1");
    assert!(one == run("two", "2"), "threads change the answer");
    let json: Value = serde_json::from_str(&one.0).expect("JSON");
    assert!(json["orders"] == 4 || json["orders"].is_null());
    let mut rows = csv::Reader::from_reader(one.1.as_bytes());
    let mut checked = 0;
    let mut shares = 0.0;
    for row in rows.records() {
        let row = row.expect("a row");
        let (decision, figure, share) =
            (&row[0], &row[4], row[11].parse::<f64>().expect("a number"));
        let there = if decision == "all" {
            &json["all"][figure]
        } else {
            let mut all = json["decisions"].as_array().expect("decisions").iter();
            let found = all.find(|found| found["decision"] == decision);
            &found.expect("the decision")["figures"][figure]["share"]
        };
        let mean = there["mean"].as_f64().expect("a mean");
        assert!(
            (mean - share).abs() <= 1e-9 * share.abs().max(1.0),
            "{decision} {figure}"
        );
        if figure == "cost" {
            shares += if decision == "all" { -share } else { share };
        }
        checked += 1;
    }
    assert!(checked >= 14, "{checked}");
    assert!(shares.abs() < 1e-6 * 1e6, "the shares add up: {shares}");
}

#[test]
fn wrong_arguments_are_named() {
    let folder = TempDir::new().expect("a folder");
    let file = day(&folder);
    let text = fs::read_to_string(&file).expect("the day");
    let today = read(&text).rules[0].name.clone();
    for (arguments, expected) in [
        (
            vec![file.as_str(), "--to", "Nobody"],
            "there is no rule \"Nobody\"",
        ),
        (
            vec![file.as_str(), "--from", &today, "--to", &today],
            "decide alike in everything",
        ),
        (
            vec![file.as_str(), "-n", "0"],
            "a whole number from 1 to 1,000,000",
        ),
    ] {
        let (code, _, error) = habits(folder.path(), &arguments);
        assert_eq!(code, Some(2), "{arguments:?}");
        assert!(error.contains(expected), "{error}");
    }
    let alone = folder.path().join("alone.ron");
    let one = PAPER
        .split("        (name: \"Any")
        .next()
        .expect("a part")
        .to_owned()
        + "    ],\n)";
    fs::write(&alone, one).expect("a file");
    let (code, _, error) = habits(folder.path(), &[&alone.display().to_string()]);
    assert_eq!(code, Some(2));
    assert!(error.contains("one rule only"), "{error}");
}
