//! Questions of the hour about the built-in week: text, tables, JSON and pages say the same, whatever the week's drivers and orders
//! are called.

use super::{alike, number, rows, said, told, week};
use crate::trip::sheet;
use plantday::units::Weekday;
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::sync::OnceLock;
use tempfile::TempDir;

/// A moment of the week, as the JSON tells it.
fn clock(minutes: &str) -> Value {
    static FIRST: OnceLock<Weekday> = OnceLock::new();
    let first = FIRST.get_or_init(|| week().period.first_day);
    let minutes = minutes.parse::<f64>().expect("minutes").round() as i64;
    let (day, minute) = (minutes.div_euclid(1440), minutes.rem_euclid(1440));
    let weekday = format!("{:?}", first.after(day));
    format!("{} {:02}:{:02}", &weekday[..3], minute / 60, minute % 60).into()
}

/// The time without its day.
fn time(at: &Value) -> &str {
    let at = at.as_str().expect("a moment");
    at.split_once(' ').expect("a day and a time").1
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().expect("a list")
}

fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key].as_str().expect("text")
}

fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn page(folder: &TempDir, name: &str) -> String {
    fs::read_to_string(folder.path().join("out").join(name)).expect("it is there")
}

fn load<'a>(driver: &'a Value, site: &Value) -> Option<&'a Value> {
    list(&driver["loads"])
        .iter()
        .find(|load| load["site"] == *site)
}

/// The time, or why there is none.
fn shown<'a>(load: &'a Value, probability: f64, late: &'a str, old: &'a str) -> &'a str {
    match &load["load_by"] {
        Value::Null => late,
        _ if number(&load["fresh"]) < probability => old,
        at => time(at),
    }
}

/// The board in the middle of a day, and that of the first day.
#[test]
fn the_last_loads_of_the_week_are_the_same_everywhere() {
    for asked in [
        &["--at", "Wed 13:00", "--last-loads"][..],
        &["--last-loads"],
    ] {
        let folder = TempDir::new().expect("a folder");
        let json = told(&folder, "trip", asked);
        let (code, screen) = said(&folder, "trip", asked);
        assert_eq!(code, 0);
        let (drivers, plants) = (list(&json["drivers"]), list(&json["plants"]));
        let probability = number(&json["probability"]);
        let decision = text(&json, "decision");
        assert!(words(&screen).contains(decision), "{screen}");
        assert!(sheet::plain(&page(&folder, "report.html")).contains(decision));

        // The screen has as many drivers as it has room for, the file all; near, middle and far are the plant's for each of them.
        let board = rows(&folder, "drivers.csv");
        assert_eq!(board.len(), drivers.len());
        for (at, (driver, row)) in drivers.iter().zip(&board).enumerate() {
            let name = text(driver, "driver");
            assert_eq!(
                (row["driver"].as_str(), &driver["plant"]),
                (name, &Value::from(row["plant"].as_str()))
            );
            assert_eq!(clock(&row["ready_min"]), driver["ready"]);
            assert_eq!(
                clock(&row["out_of_hours_min"]),
                driver["out_of_hours"]["at"]
            );
            assert_eq!(row["limit"], text(&driver["out_of_hours"], "limit"));
            let plant = plants
                .iter()
                .find(|plant| plant["plant"] == driver["plant"])
                .expect("its plant");
            let mut told = vec![time(&driver["ready"])];
            for place in ["near", "middle", "far"] {
                // Who is due tomorrow may have nothing to bring there.
                let Some(load) = load(driver, &plant[place]["site"]) else {
                    assert_eq!(row[&format!("{place}_min")], "");
                    continue;
                };
                match row[&format!("{place}_min")].as_str() {
                    "" => assert_eq!(load["load_by"], Value::Null),
                    minutes => assert_eq!(clock(minutes), load["load_by"]),
                }
                told.push(shown(load, probability, "too late", "too old"));
            }
            if at < 16 {
                let line = screen
                    .lines()
                    .find(|line| line.trim_start().starts_with(&format!("{name} ")));
                let line = words(line.expect("its line"));
                let expected = format!("{name} {} {}", text(driver, "plant"), told.join(" "));
                assert!(line.starts_with(&expected), "{line}: {expected}");
            }
        }

        let pairs = rows(&folder, "last_loads.csv");
        let loads: usize = drivers
            .iter()
            .map(|driver| list(&driver["loads"]).len())
            .sum();
        assert_eq!(pairs.len(), loads);
        for row in &pairs {
            let of = |driver: &&Value| driver["driver"] == row["driver"].as_str();
            let driver = drivers.iter().find(of).expect("a driver of the board");
            let load = load(driver, &row["site"].as_str().into()).expect("its last load");
            alike(&row["out_min"], &load["out_min"]);
            alike(&row["fresh"], &load["fresh"]);
            assert_eq!(row["ends"], text(load, "ends"));
            assert_eq!(row["to_come"] == "yes", load["to_come"] == true);
            for (key, told) in [("load_by_min", "load_by"), ("leave_by_min", "leave_by")] {
                match row[key].as_str() {
                    "" => assert_eq!(load[told], Value::Null),
                    minutes => assert_eq!(clock(minutes), load[told]),
                }
            }
        }

        // The sheet has a row for each driver and a column for each site that has loads to come.
        let sheet = sheet::rows(&page(&folder, "last-loads.html"));
        let heading = &sheet[0];
        assert_eq!(sheet.len(), 1 + plants.len() + drivers.len());
        let mut no_room = BTreeSet::new();
        for driver in drivers {
            let row = sheet.iter().find(|row| row[0] == text(driver, "driver"));
            let row = row.expect("its row");
            // Who comes on a later day only: with that day.
            let ready = text(driver, "ready");
            let (day, clock) = ready.split_once(' ').expect("a day and a time");
            let today = text(&json, "at").starts_with(day);
            assert_eq!(row[1], if today { clock } else { ready });
            let limit = text(&driver["out_of_hours"], "limit");
            let hours = format!("{} {limit}", time(&driver["out_of_hours"]["at"]));
            assert_eq!(row[2].trim_start_matches('+'), hours);
            for load in list(&driver["loads"])
                .iter()
                .filter(|load| load["to_come"] == true)
            {
                let site = text(load, "site");
                let Some(column) = heading.iter().position(|name| name == site) else {
                    no_room.insert(site.to_owned());
                    continue;
                };
                let mark = if load["ends"] == limit || load["load_by"].is_null() {
                    0
                } else {
                    1
                };
                let (cell, told) = (
                    row[column].trim_start_matches('+'),
                    shown(load, probability, "late", "old"),
                );
                assert!(cell.starts_with(told), "{site}: {cell}, {told}");
                let mark = if told == "old" { 0 } else { mark };
                assert_eq!(
                    cell.chars().count(),
                    told.chars().count() + mark,
                    "{site}: {cell}"
                );
            }
        }
        let more = match no_room.len() {
            0 => continue,
            1 => "1 more site with loads to come is in report.html".to_owned(),
            many => format!("{many} more sites with loads to come are in report.html"),
        };
        assert!(
            sheet::plain(&page(&folder, "last-loads.html")).contains(&more),
            "{more}"
        );
    }
}

/// For a driver who has time left, and for one who has none where there is such a driver; and who should take the load. The exit code is
/// that of the verdict.
#[test]
fn whether_a_load_of_the_week_may_go_is_the_same_everywhere() {
    let folder = TempDir::new().expect("a folder");
    let at = ["--at", "Wed 13:00"];
    let board = told(&folder, "trip", &[&at[..], &["--last-loads"]].concat());
    let drivers = list(&board["drivers"]);
    let pair = |late: bool| {
        drivers.iter().find_map(|driver| {
            let mut loads = list(&driver["loads"]).iter();
            let load =
                loads.find(|load| load["to_come"] == true && load["load_by"].is_null() == late);
            Some((text(driver, "driver"), text(load?, "order")))
        })
    };
    let (driver, order) = pair(false).expect("somebody has time left");
    let mut questions = vec![
        vec!["--driver", driver, "--order", order],
        vec!["--order", order],
    ];
    if let Some((driver, order)) = pair(true) {
        questions.push(vec!["--driver", driver, "--order", order]);
    }
    for question in questions {
        let asked = [&at[..], &question, &["-n", "60"]].concat();
        let (code, screen) = said(&folder, "trip", &asked);
        let (code_json, json) = said(&folder, "trip", &[&asked[..], &["--json"]].concat());
        let json: Value = serde_json::from_str(&json).expect("JSON");
        let (verdict, decision) = (text(&json, "verdict"), text(&json, "decision"));
        assert_eq!((code, code_json), (i32::from(verdict != "yes"), code));
        assert_eq!(
            decision.starts_with("Yes: "),
            verdict == "yes",
            "{decision}"
        );
        assert!(words(&screen).contains(decision), "{screen}");
        assert!(sheet::plain(&page(&folder, "report.html")).contains(decision));
        assert_eq!(json["order"], *question.last().expect("an order"));

        let (asked, others) = (&json["asked"], list(&json["others"]));
        if question[0] == "--driver" {
            assert_eq!(asked["driver"], question[1]);
        }
        let first = Some(&json["first"]).filter(|first| !first.is_null());
        let all: Vec<&Value> = std::iter::once(asked).chain(others).chain(first).collect();
        let table = rows(&folder, "trip.csv");
        assert_eq!(table.len(), all.len());
        let on_page = sheet::rows(&page(&folder, "report.html"));
        let mut shown = on_page.iter().skip(1);
        for (row, candidate) in table.iter().zip(all) {
            let fate = &candidate["fate"];
            assert_eq!(row["driver"], text(candidate, "driver"));
            assert_eq!(row["plant"], text(candidate, "plant"));
            assert_eq!(
                row["asked"] == "yes",
                candidate["driver"] == asked["driver"]
            );
            alike(&row["all"], &fate["all"]["share"]);
            alike(&row["all_low"], &fate["all"]["low"]);
            alike(&row["stranded"], &fate["stranded"]["share"]);
            // Rounded on screen and page.
            let percent = format!("{:.0}%", 100.0 * number(&fate["all"]["share"]));
            let name = format!("{}, {}", row["driver"], row["plant"]);
            let shown = shown.next().expect("its row");
            assert!(shown[0].contains(&name), "{shown:?}: {name}");
            let refused = shown[1].starts_with("no: ");
            assert!(
                refused || shown[1].starts_with(&percent),
                "{shown:?}: {percent}"
            );
            assert!(refused || screen.contains(&percent), "{screen}");
        }
    }
}
