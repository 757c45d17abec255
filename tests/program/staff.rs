//! `staff`: head counts, start patterns and tours as edits worked out by hand, and the command as users meet it.

use assert_cmd::cargo::cargo_bin_cmd;
use plantday::scenario::edit::roster::{
    OvertimeUse, StartPattern, regulars, with_drivers, with_growth, with_overtime, with_starts,
};
use plantday::scenario::{Scenario, parse};
use plantday::studies::trucks_needed;
use plantday::units::Millis;
use serde_json::Value;
use std::fs;
use tempfile::TempDir;

/// Loading 6, out 24, on site 20, back 20: every load takes a truck from 30 min before it is due to 40 min after.
const PAPER: &str = r#"(
    name: "roster on paper",
    rule_book: "none",
    plants: [(name: "P", loading: Constant(6), rack: Constant(0)), (name: "Q", loading: Constant(6), rack: Constant(0))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (24, 20), "Q": 60 }, "Q": { "A": (50, 50) } }),
    trucks: [(name: "T", count: 4, home: "P"), (name: "U", count: 2, home: "Q")],
    drivers: [(name: "D", trucks: "T", report: "05:00", stagger_min: 20, shift_h: 10),
        (name: "E", trucks: "U", report: "06:00", shift_h: 9)],
    orders: [(name: "Pour", site: "A", first: "08:00", volume_yd3: 40, spacing_min: 30, position: Constant(0),
        discharge: Constant(15), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    rules: [(name: "R", belief: FreeFlow, choose: LongestIdle, margin_min: 0, bay_wait_min: 0)],
)"#;

fn read(text: &str) -> Scenario {
    match parse("test", text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

/// Loads due at 08:00, 08:30, 09:00, 09:30 from the nearer plant: out 07:30–08:40, 08:00–09:10, 08:30–09:40, 09:00–10:10.
#[test]
fn the_need_for_trucks_by_half_hour() {
    let need = trucks_needed(&read(PAPER));
    // From 07:00 on, at the start of each half hour and whenever a truck goes out.
    assert_eq!(need[0][14..22], [0, 1, 2, 3, 3, 2, 1, 0]);
    assert!(need[1].iter().all(|need| *need == 0));
}

fn calls(scenario: &Scenario) -> Vec<Vec<String>> {
    let times = |calls: &Option<Vec<Millis>>| {
        let calls = calls.as_ref().expect("called in");
        calls.iter().map(Millis::to_string).collect()
    };
    scenario
        .drivers
        .iter()
        .map(|driver| times(&driver.calls))
        .collect()
}

/// One more than needed, half an hour before: 2 for 07:30, 3 for 08:00, 4 for 08:30; the far plant calls nobody.
#[test]
fn matched_starts_follow_the_order_book() {
    let scenario = read(PAPER);
    let matched = with_starts(&scenario, StartPattern::Matched, &trucks_needed(&scenario));
    let none: [&str; 0] = [];
    assert_eq!(
        calls(&matched),
        [
            &["07:00"][..],
            &["07:00"],
            &["07:30"],
            &["08:00"],
            &none,
            &none
        ]
    );
    let even = with_starts(&scenario, StartPattern::Staggered, &[]);
    let times = [
        &["05:00"][..],
        &["05:20"],
        &["05:40"],
        &["06:00"],
        &["06:00"],
        &["06:00"],
    ];
    assert_eq!(calls(&even), times);
    let rostered = with_starts(&scenario, StartPattern::Rostered, &[]);
    assert_eq!(rostered, scenario);
}

/// Sainte-Laguë: quotients of 4 are 4, 1.33, 0.8, 0.57, 0.44; of 2: 2, 0.67, 0.4. Six seats are 4 and 2, four are 3 and 1, nine
/// are 6 and 3.
#[test]
fn head_counts_are_shared_among_the_plants_as_now() {
    let scenario = read(PAPER);
    assert_eq!(regulars(&scenario).len(), 6);
    assert_eq!(with_drivers(&scenario, 6), scenario);
    let at = |scenario: &Scenario, plant: usize| {
        let home = |truck: usize| scenario.trucks[truck].home.at();
        scenario
            .drivers
            .iter()
            .filter(|driver| home(driver.truck.at()) == plant)
            .count()
    };
    for (total, first, second) in [(9, 6, 3), (6, 4, 2), (4, 3, 1), (1, 1, 0)] {
        let edited = with_drivers(&scenario, total);
        assert_eq!(
            (at(&edited, 0), at(&edited, 1)),
            (first, second),
            "{total} drivers"
        );
        let mut names: Vec<&str> = edited
            .drivers
            .iter()
            .map(|driver| driver.name.as_str())
            .collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), total as usize, "names are unique");
        let mut trucks: Vec<usize> = edited
            .drivers
            .iter()
            .map(|driver| driver.truck.at())
            .collect();
        trucks.sort_unstable();
        trucks.dedup();
        assert_eq!(trucks.len(), total as usize, "nobody shares a truck");
    }
}

#[test]
fn tours_and_growth() {
    let scenario = read(PAPER);
    let hours = |overtime: OvertimeUse| {
        let edited = with_overtime(&scenario, overtime);
        (
            edited.drivers[0].shift.hours(),
            edited.drivers[5].shift.hours(),
        )
    };
    assert_eq!(hours(OvertimeUse::None), (8.0, 8.0));
    assert_eq!(hours(OvertimeUse::Rostered), (10.0, 9.0));
    assert_eq!(hours(OvertimeUse::Longer), (12.0, 11.0));
    assert_eq!(with_growth(&scenario, 15.0).orders[0].volume.yd3(), 46.0);
}

fn program(folder: &TempDir, arguments: &[&str]) -> (Option<i32>, String, String) {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder.path())
        .arg("staff")
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

const CASE: [&str; 20] = [
    "--rule",
    "Soonest, home in time",
    "--drivers",
    "34,36",
    "--starts",
    "rostered,matched",
    "--overtime",
    "rostered",
    "--late-share",
    "0.9",
    "--undelivered",
    "0.5",
    "--growth",
    "10",
    "--hire-per-week",
    "500",
    "--day",
    "2",
    "-n",
    "6",
];

#[test]
fn the_same_bytes_for_any_number_of_threads() {
    let folder = TempDir::new().expect("a folder");
    let run = |out: &str, threads: &str| {
        let arguments = [&CASE[..], &["--out", out, "--threads", threads, "--json"]].concat();
        let (code, text, error) = program(&folder, &arguments);
        assert_eq!(code, Some(0), "{error}");
        let page = fs::read(folder.path().join(out).join("report.html")).expect("the page");
        (text, page)
    };
    let one = run("one", "1");
    assert!(one == run("two", "2"));
    let json: Value = serde_json::from_str(&one.0).expect("JSON");
    assert_eq!(json["today"]["drivers"], 36);
    let decided = &json["decision"]["drivers"];
    let staffings = json["staffings"].as_array().expect("staffings");
    let cost = |staffing: &Value| staffing["cost"]["mean"].as_f64().expect("a cost");
    let meets = |staffing: &&Value| staffing["meets_targets"] == true;
    let cheapest = staffings
        .iter()
        .filter(meets)
        .reduce(|best, next| if cost(next) < cost(best) { next } else { best })
        .expect("lax targets are met");
    assert_eq!(&cheapest["drivers"], decided);
    for staffing in staffings {
        let parts = staffing["parts"].as_object().expect("parts").values();
        let sum: f64 = parts.map(|part| part.as_f64().expect("money")).sum();
        assert!(
            (sum / cost(staffing) - 1.0).abs() < 1e-5,
            "the parts add up"
        );
    }
    let called = json["call_in"]["called"].as_array().expect("the sheet");
    assert!(called.len() > 20, "{} drivers on Tuesday", called.len());
    assert!(
        called.iter().any(|call| call["earliest_min"].is_number()),
        "who worked on Monday has an earliest report"
    );
}

#[test]
fn targets_out_of_reach_are_exit_code_1() {
    let folder = TempDir::new().expect("a folder");
    let (code, text, _) = program(
        &folder,
        &[
            "--drivers",
            "36",
            "--starts",
            "rostered",
            "--overtime",
            "rostered",
            "--late-share",
            "0",
            "-n",
            "4",
        ],
    );
    assert_eq!(code, Some(1));
    assert!(
        text.contains("No staffing tried meets the service targets"),
        "{text}"
    );
}

#[test]
fn bad_arguments_are_explained() {
    let folder = TempDir::new().expect("a folder");
    for (arguments, expected) in [
        (&["--starts", "machted"][..], "did you mean \"matched\"?"),
        (&["--overtime", "loger"], "did you mean \"longer\"?"),
        (&["--late-share", "10"], "0 to 1"),
        (&["--day", "9"], "expected 1 to 6"),
        (&["--growth", "-5"], "0 to 100"),
        (&["--hire-per-week", "-1"], "0 or more"),
        (&["--drivers", "0"], "--drivers"),
        (
            &["--rule", "Nearest on the mp"],
            "did you mean \"Nearest on the map\"?",
        ),
    ] {
        let arguments: Vec<String> = arguments
            .chunks(2)
            .map(|pair| format!("{}={}", pair[0], pair[1]))
            .collect();
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        let (code, _, error) = program(&folder, &arguments);
        assert_eq!(code, Some(2), "{arguments:?}: {error}");
        assert!(error.contains(expected), "{arguments:?}: {error}");
    }
}
