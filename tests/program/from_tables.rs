//! `plantday new --from`: a scenario made of the tables of somebody who has never written one is what a careful person would write by
//! hand from the same tables, and says what it had to assume.

use assert_cmd::cargo::cargo_bin_cmd;
use plantday::scenario::{Scenario, parse, read};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

pub(crate) const ORDERS: &str = "\
Two days,,,,,,,,
Date,Ticket group,Customer,Site,First load,Yd3,Spacing (min),Mix,Usual plant,Remarks
6/8/2026,T1,Tide Builders,Tower east deck,7:00 AM,60,15,4000,North,no gap
6/8/2026,T2,Otter Homes,Lock house 3,6:30 AM,24.5,20,3000,Quay,
6/9/2026,T3,Tide Builders,Tower stairs,1:15 PM,8,30,4000,North,
Total,,,,,92.5,,,,
";
pub(crate) const ROSTER: &str = "\
Name;Home plant;Report time;Licence;$/h;Truck;Remarks
Ann;North;5:15 AM;CDL B;29,50;N1;
Bo;North;6:30 AM;A;31;N2;late
Cy;Quay;5:45 AM;B;28;Q1;
";
pub(crate) const MINUTES: &str = "\
Site,North 5-7,North 7-9,North 9-15,Quay 5-7,Quay 7-9,Quay 9-15
Tower,12,17,14,24,33,27
Lock,30,38,31,9,12,10
North,,,,22,30,25
";

/// By hand. Hours: the first report to the last shift's end, 10 h, by half hours (05:15 and 16:30; 05:45 and 15:45).
const BY_HAND: &str = r#"(
    name: "North and Quay", about: "3 orders on 2 days, 3 drivers", period: (first_day: "2026-06-08", days: 2),
    plants: [(name: "North", hours: [(open: "05:00", close: "16:30")], bays: 1), (name: "Quay", hours: [(open: "05:30", close: "16:00")], bays: 1)],
    sites: [(name: "Tower"), (name: "Lock")],
    roads: (luck: Lognormal(mean: 1, cv: 0.2), minutes: {
        "North": { "Tower": [("00:00", 12), ("05:00", 12), ("07:00", 17), ("09:00", 14), ("15:00", 12)],
            "Lock": [("00:00", 30), ("05:00", 30), ("07:00", 38), ("09:00", 31), ("15:00", 30)] },
        "Quay": { "Tower": [("00:00", 24), ("05:00", 24), ("07:00", 33), ("09:00", 27), ("15:00", 24)],
            "Lock": [("00:00", 9), ("05:00", 9), ("07:00", 12), ("09:00", 10), ("15:00", 9)],
            "North": [("00:00", 22), ("05:00", 22), ("07:00", 30), ("09:00", 25), ("15:00", 22)] } }),
    trucks: [(name: "N1", home: "North"), (name: "N2", home: "North"), (name: "Q1", home: "Quay")],
    drivers: [(name: "Ann", trucks: "N1", report: "05:15", class: B, pay_per_h: 29.5),
        (name: "Bo", trucks: "N2", report: "06:30", class: A, pay_per_h: 31), (name: "Cy", trucks: "Q1", report: "05:45", class: B, pay_per_h: 28)],
    orders: [
        (name: "T1", customer: "Tide Builders", site: "Tower", day: 1, first: "07:00", volume_yd3: 60, spacing_min: 15, mix: "4000", plant: "North"),
        (name: "T2", customer: "Otter Homes", site: "Lock", day: 1, first: "06:30", volume_yd3: 24.5, spacing_min: 20, mix: "3000", plant: "Quay"),
        (name: "T3", customer: "Tide Builders", site: "Tower", day: 2, first: "13:15", volume_yd3: 8, spacing_min: 30, mix: "4000", plant: "North")],
    rules: [(name: "x")],
)"#;

fn folder() -> TempDir {
    let folder = TempDir::new().expect("a folder");
    for (name, text) in [
        ("orders.csv", ORDERS),
        ("roster.csv", ROSTER),
        ("minutes.csv", MINUTES),
    ] {
        fs::write(folder.path().join(name), text).expect("a file");
    }
    folder
}

fn plantday(folder: &Path, arguments: &[&str]) -> (i32, String, String) {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program runs");
    (
        output.status.code().unwrap_or(-1),
        String::from_utf8_lossy(&output.stdout).into_owned(),
        String::from_utf8_lossy(&output.stderr).into_owned(),
    )
}

fn found(folder: &Path, file: &str) -> Scenario {
    read(&folder.join(file)).unwrap_or_else(|error| panic!("{error}"))
}

/// All but the rules, where it comes from, and what is told of its tables.
fn content(mut scenario: Scenario) -> String {
    let by_hand = parse("x", BY_HAND).expect("it is right");
    scenario.origin = by_hand.origin;
    scenario.rules = by_hand.rules;
    scenario.ignored_columns.clear();
    scenario.table_notes.clear();
    format!("{scenario:?}")
}

#[test]
fn three_tables_are_what_one_would_write_by_hand() {
    let folder = folder();
    let by_hand = content(parse("x", BY_HAND).expect("it is right"));
    for file in ["day.ron", "day.xlsx"] {
        // In any order: they are told apart by their headings.
        let (code, said, error) = plantday(
            folder.path(),
            &[
                "new",
                file,
                "--from",
                "minutes.csv",
                "orders.csv",
                "roster.csv",
            ],
        );
        assert_eq!(code, 0, "{error}");
        assert!(said.lines().count() <= 36, "{said}");
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        for told in [
            "orders.csv: 3 orders on 2 days from 2026-06-08 on, with customers and usual plants",
            "roster.csv: 3 drivers, with trucks, report times, licenses and pay",
            "minutes from North and Quay to 2 places by time of day",
            "plants' hours: North 05:00–16:30, Quay 05:30–16:00",
            "3 orders at the known place within their site: \"Tower east deck\" at \"Tower\"",
            "one loading bay at each plant",
            "orders.csv: column \"Remarks\"",
            "roster.csv: column \"Remarks\"",
            "plantday compare day.",
        ] {
            assert!(said.contains(told), "{told} in {said}");
        }
        let read = found(folder.path(), file);
        assert_eq!(read.rules.len(), 3);
        assert!(read.rules[0].today);
        assert_eq!(content(read), by_hand, "{file}");
        let (code, _, error) = plantday(folder.path(), &["compare", file, "-n", "4"]);
        assert_eq!(code, 0, "{error}");
    }
}

/// From another folder the scenario finds the tables where they are; without a name it is called plantday.ron, and a name behind the
/// tables is no table.
#[test]
fn names_and_folders() {
    let folder = folder();
    fs::create_dir(folder.path().join("in")).expect("a folder");
    let tables = ["orders.csv", "roster.csv", "minutes.csv"];
    let run = |more: &[&str]| plantday(folder.path(), &[more, &tables[..]].concat());
    assert_eq!(run(&["new", "in/day.ron", "--from"]).0, 0);
    let text = fs::read_to_string(folder.path().join("in/day.ron")).expect("a file");
    assert!(text.contains("Table(\"../minutes.csv\")"), "{text}");
    assert_eq!(run(&["new", "--from"]).0, 0);
    assert!(folder.path().join("plantday.ron").exists());
    let (code, ..) = plantday(
        folder.path(),
        &[
            "new",
            "--from",
            "orders.csv",
            "roster.csv",
            "minutes.csv",
            "last.ron",
        ],
    );
    assert_eq!(code, 0);
    assert!(folder.path().join("last.ron").exists());
    let (code, _, error) = run(&["new", "last.ron", "--from"]);
    assert_eq!(
        (code, error.contains("last.ron exists already")),
        (2, true),
        "{error}"
    );
}

#[test]
fn what_cannot_be_made_is_told() {
    let folder = folder();
    fs::write(folder.path().join("notes.csv"), "see,also\na,b\n").expect("a file");
    fs::write(folder.path().join("more.csv"), ORDERS).expect("a file");
    for (tables, told) in [
        (
            &["orders.csv", "roster.csv"][..],
            "no table of minutes is among the files; found: orders.csv (orders), roster.csv (drivers)",
        ),
        (&["orders.csv", "minutes.csv"], "no table of drivers"),
        (&["notes.csv"], "no table of orders"),
        (
            &["orders.csv", "more.csv", "roster.csv", "minutes.csv"],
            "are both tables of orders",
        ),
        (&["none.csv"], "cannot read none.csv"),
    ] {
        let (code, out, error) = plantday(
            folder.path(),
            &[&["new", "x.ron", "--from"], tables].concat(),
        );
        assert_eq!(code, 2);
        assert!(error.contains(told) && out.is_empty(), "{told} in {error}");
        assert!(!folder.path().join("x.ron").exists());
    }
    // What is wrong in a table is told at its place.
    let wrong = ROSTER.replace("5:45 AM", "quarter to six");
    fs::write(folder.path().join("roster.csv"), wrong).expect("a file");
    let tables = ["orders.csv", "roster.csv", "minutes.csv"];
    let (code, _, error) = plantday(
        folder.path(),
        &[&["new", "x.ron", "--from"], &tables[..]].concat(),
    );
    assert_eq!(code, 2);
    assert!(error.contains("row 4, column \"Report time\""), "{error}");
}

/// A roster without trucks and with one plant, orders without dates, a plain matrix: a truck each.
#[test]
fn less_is_assumed_for() {
    let folder = TempDir::new().expect("a folder");
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).expect("a file");
    write(
        "o.csv",
        "Job,Start,Yards,Interval\nTower,7:00,30,15\nTower,9:00,20,15\nLock,10:00,5,0\n",
    );
    write("d.csv", "Driver,Clock in\nAnn,6:00\nBo,6:30\n");
    write("m.csv", "Site,North\nTower,12\nLock,20\n");
    let (code, said, error) = plantday(
        folder.path(),
        &["new", "x.ron", "--from", "o.csv", "d.csv", "m.csv"],
    );
    assert_eq!(code, 0, "{error}");
    for told in [
        "a truck for each driver",
        "no traffic",
        "drivers paid $27 an hour",
        "orders are called by their sites",
    ] {
        assert!(said.contains(told), "{told} in {said}");
    }
    let scenario = found(folder.path(), "x.ron");
    assert_eq!((scenario.trucks.len(), scenario.drivers.len()), (2, 2));
    let names: Vec<&str> = scenario
        .orders
        .iter()
        .map(|order| order.name.as_str())
        .collect();
    assert_eq!(names, ["Tower", "Tower (2)", "Lock"]);
}
