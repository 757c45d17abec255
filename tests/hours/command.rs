//! `plantday hours`: what it answers on a log, and what it says about wrong ones. Times worked out by hand from 49 CFR 395.3.

use assert_cmd::cargo::cargo_bin_cmd;
use plantday::hours::{NAMES, RuleSet, built_in};
use plantday::scenario::rule_book;
use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

mod books;
mod exceptions;
mod governs;
mod history;
mod zones;

const LOG: &str = include_str!("../../scenarios/duty_log.csv");
const HISTORY: &str = include_str!("../../scenarios/duty_history.csv");
const HEADING: &str = "driver,status,start,end\n";

struct Said {
    code: Option<i32>,
    out: String,
    err: String,
}

fn hours(folder: &Path, arguments: &[&str]) -> Said {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .arg("hours")
        .args(arguments)
        .output()
        .expect("the program runs");
    let said = Said {
        code: output.status.code(),
        out: String::from_utf8(output.stdout).expect("output is UTF-8"),
        err: String::from_utf8(output.stderr).expect("messages are UTF-8"),
    };
    assert!(!said.err.contains("panicked"), "{}", said.err);
    said
}

fn folder(log: &str, history: &str) -> TempDir {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("log.csv"), log).expect("written");
    fs::write(folder.path().join("history.csv"), history).expect("written");
    folder
}

fn answer(log: &str, history: &str, more: &[&str]) -> Value {
    let folder = folder(log, history);
    let book: &[&str] = if more.contains(&"--rule-book") {
        &["log.csv", "--json"]
    } else {
        &["log.csv", "--json", "--rule-book", "us_property_2020"]
    };
    let said = hours(folder.path(), &[book, more].concat());
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
    serde_json::from_str(&said.out).expect("JSON")
}

fn refused(log: &str, history: &str, more: &[&str], words: &[&str]) {
    let folder = folder(log, history);
    let book = ["log.csv", "--rule-book", "us_property_2020"];
    let said = hours(folder.path(), &[&book, more].concat());
    assert_eq!(
        (said.code, said.out.as_str()),
        (Some(2), ""),
        "{}",
        said.err
    );
    for word in words {
        assert!(said.err.contains(word), "no {word:?} in:\n{}", said.err);
    }
}

#[test]
fn the_example_in_json() {
    let answer = answer(LOG, HISTORY, &["--history", "history.csv"]);
    // On duty from 05:00, so the window ends at 19:00; 10 h after the release at 19:25 it is 05:25. Two days off before.
    assert_eq!(
        answer["drivers"][0],
        json!({
            "driver": "I. Heron",
            "at": "2026-03-02T19:25",
            "may_drive": false,
            "governs": "MAY NOT DRIVE: the 14-hour window (49 CFR 395.3(a)(2)) ended at 19:00. May drive again from Tue 2026-03-03 05:25 \
                        if off duty until then: 10 hours off duty end then.",
            "assumed": null,
            "clocks": {"drive_left_min": 540, "window_left_min": 0, "on_duty_left_min": null,
                       "break_left_min": 450, "cycle_left_min": 60 * 60 - 865},
            "binds": {"rule": "window_14h", "citation": "49 CFR 395.3(a)(2)"},
            "barred_from": "2026-03-02T19:00",
            "after_break": null,
            "may_drive_again_at": "2026-03-03T05:25",
            "opened_by": "rest",
            "violations": [{"rule": "window_14h", "citation": "49 CFR 395.3(a)(2)",
                            "from": "2026-03-02T19:00", "to": "2026-03-02T19:10"}],
            "days_short": [],
            "exceptions": [],
            // The way home from 19:00 on: 49 CFR 395.1(o) or (b)(1), if their other conditions were met.
            "may_apply": ["long_day", "adverse"],
            "log_required": true,
            "short_haul_lost": [],
            "short_haul_until": null,
            "history_missing": []
        })
    );
    // 55.5 h on the six days before and 3 h 05 min today leave 1 h 25 min.
    let second = &answer["drivers"][1];
    assert_eq!(second["clocks"]["cycle_left_min"], 85);
    assert_eq!(second["barred_from"], "2026-03-02T11:30");
    assert_eq!(second["binds"]["citation"], "49 CFR 395.3(b)(1)");
    assert_eq!(second["may_drive_again_at"], Value::Null);
    assert_eq!(answer["in_force"], true);
}

#[test]
fn the_moment_the_week_and_the_restart_can_be_chosen() {
    let history = ["--history", "history.csv"];
    let then = answer(
        LOG,
        HISTORY,
        &[&history[..], &["--at", "2026-03-02T18:00"]].concat(),
    );
    assert_eq!(then["drivers"][0]["clocks"]["window_left_min"], 60);
    assert_eq!(then["drivers"][0]["violations"], json!([]));
    let longer = answer(LOG, HISTORY, &[&history[..], &["--cycle", "70/8"]].concat());
    assert_eq!(longer["drivers"][1]["clocks"]["cycle_left_min"], 85 + 600);
    // Sunday off is 24 h: enough for construction materials (49 CFR 395.1(m), 395.2), not otherwise.
    let restart = answer(
        LOG,
        HISTORY,
        &[&history[..], &["--construction-materials"]].concat(),
    );
    assert_eq!(
        restart["drivers"][1]["clocks"]["cycle_left_min"],
        3600 - 185
    );
    let alone = answer(LOG, HISTORY, &[]);
    assert_eq!(alone["drivers"][1]["clocks"]["cycle_left_min"], 3600 - 185);
}

/// 49 CFR 395.1(e)(1): released within 14 hours no log is needed; 14 h 25 min is too late.
#[test]
fn short_haul_needs_no_log_while_it_holds() {
    let answer = answer(LOG, HISTORY, &["--rule-book", "us_short_haul_2020"]);
    assert_eq!(answer["drivers"][0]["log_required"], true);
    assert_eq!(answer["drivers"][1]["log_required"], false);
    assert_eq!(
        answer["drivers"][1]["clocks"]["break_left_min"],
        Value::Null
    );
}

/// 20 hours on the day before a log that begins at 02:00 leave at most 6 hours of rest: the shift goes on.
#[test]
fn a_history_can_say_that_there_was_no_full_rest() {
    let log = format!("{HEADING}A. Gull,drive,2026-03-03T02:00,2026-03-03T03:00\n");
    let history = "driver,date,hours\nA. Gull,2026-03-02,20\n";
    let with = answer(&log, history, &["--history", "history.csv"]);
    assert_eq!(with["drivers"][0]["violations"][0]["rule"], "window_14h");
    let without = answer(&log, history, &[]);
    assert_eq!(without["drivers"][0]["violations"], json!([]));
}

#[test]
fn people_get_a_table_and_a_caution() {
    let folder = folder(LOG, HISTORY);
    let said = hours(
        folder.path(),
        &["log.csv", "--rule-book", "us_property_2013"],
    );
    assert_eq!(said.code, Some(0));
    for words in [
        "Not in force on every date from 2026-03-02",
        "to 2020-09-28",
        "1 of 2 drivers MAY NOT DRIVE: I. Heron.",
        "I. Heron, Mon 2026-03-02 19:25: MAY NOT DRIVE: the 30-minute break (49 CFR 395.3(a)(3)(ii)) was due at 13:00; the 14-hour \
         window (49 CFR 395.3(a)(2)) ended at 19:00. May drive again from Tue 2026-03-03 05:25 if off duty until then: 10 hours off \
         duty end then.",
        "I. Heron: Drove past the 14-hour window (49 CFR 395.3(a)(2)): Mon 2026-03-02 19:00 to 19:10, 0 h 10 min.",
        "driving: 9 h 00 min left; 11 hours of driving (49 CFR 395.3(a)(3)(i))",
        "No history before the log of I. Heron, B. Tern",
        "planning aid",
        "carrier's own record decide",
    ] {
        let unwrapped = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(unwrapped.contains(words), "no {words:?} in:\n{}", said.out);
    }
    for id in ["window_14h", "drive_11h", "cycle_60_7", "break_30min"] {
        assert!(!said.out.contains(id), "{id} in:\n{}", said.out);
    }
    let widest = said.out.lines().map(|line| line.chars().count()).max();
    assert!(widest <= Some(100), "{}", said.out);
}

#[test]
fn everything_wrong_in_a_log_is_said_at_once() {
    let log = format!(
        "{HEADING}\
         A. Gull,off,2026-03-02T00:00,2026-03-02T05:00\n\
         A. Gull,drve,2026-03-02T05:00,2026-03-02T06:00\n\
         B. Knot,on,2026-03-02T07:00,2026-03-02T06:00\n\
         B. Knot,on,2026-02-30T07:00,2026-03-02T08:00Z\n\
         C. Smew,on,2026-03-02T07:00\n\
         D. Teal,on,2026-03-02T07:00,2026-03-02T09:00\n\
         D. Teal,drive,2026-03-02T08:30,2026-03-02T10:00\n"
    );
    refused(
        &log,
        HISTORY,
        &[],
        &[
            "log.csv:3:9",
            "unknown status \"drve\"",
            "a similar name exists: drive",
            "log.csv:4:29",
            "this ends before it has begun",
            "log.csv:5:12",
            "\"2026-02-30T07:00\" is not a date and time",
            "\"2026-03-02T08:00Z\" is not a date and time",
            "log.csv:6:1",
            "this row has 3 cells",
            "log.csv:8:15",
            "lines 7 and 8 of D. Teal overlap",
        ],
    );
}

#[test]
fn gaps_columns_and_empty_files_are_said() {
    let gap = format!(
        "{HEADING}A. Gull,on,2026-03-02T05:00,2026-03-02T06:00\nA. Gull,on,2026-03-02T07:00,2026-03-02T08:00\n"
    );
    refused(
        &gap,
        HISTORY,
        &[],
        &["log.csv:3:12", "lines 2 and 3 of A. Gull leave a gap"],
    );
    let column = "driver,statsu,start,end\nA. Gull,on,2026-03-02T05:00,2026-03-02T06:00\n";
    refused(
        column,
        HISTORY,
        &[],
        &[
            "log.csv:1:8",
            "there is no column \"statsu\"",
            "a similar name exists: status",
        ],
    );
    refused(
        "driver,status,start\n",
        HISTORY,
        &[],
        &["the column \"end\" is missing"],
    );
    refused("", HISTORY, &[], &["the file is empty"]);
    refused(HEADING, HISTORY, &[], &["the log is empty"]);
    // Semicolons, a mark at the start, quotes and Windows line ends are all the same.
    let other =
        "\u{feff}driver;status;start;end\r\n\"A; Gull\";drve;2026-03-02T05:00;2026-03-02T06:00\r\n";
    refused(
        other,
        HISTORY,
        &[],
        &["log.csv:2:11", "unknown status \"drve\""],
    );
}

#[test]
fn a_history_must_go_with_its_log() {
    let history =
        "driver,date,hours\nI. Heroon,2026-03-01,9\nB. Tern,2026-03-02,9\nB. Tern,2026-03-01,25\n";
    refused(
        LOG,
        history,
        &["--history", "history.csv"],
        &[
            "history.csv:2:1",
            "there is no driver \"I. Heroon\" in the log",
            "a similar name exists: I. Heron",
            "history.csv:3:9",
            "the log of B. Tern holds 2026-03-02 already",
            "history.csv:4:20",
            "\"25\" is not a number of hours",
        ],
    );
}

#[test]
fn wrong_arguments_are_said() {
    let folder = folder(LOG, HISTORY);
    let refused = |arguments: &[&str], words: &[&str]| {
        let said = hours(folder.path(), arguments);
        assert_eq!(
            (said.code, said.out.as_str()),
            (Some(2), ""),
            "{}",
            said.err
        );
        for word in words {
            assert!(said.err.contains(word), "no {word:?} in:\n{}", said.err);
        }
    };
    let book = ["log.csv", "--rule-book"];
    refused(
        &[&book[..], &["us_propertty_2020"]].concat(),
        &["did you mean \"us_property_2020\"?", "ca_federal_south60"],
    );
    let fine = [&book[..], &["us_property_2020"]].concat();
    refused(
        &[&fine[..], &["--at", "noon"]].concat(),
        &["\"noon\" is not a time", "Mon 13:40"],
    );
    refused(
        &[&fine[..], &["--at", "2026-03-01T10:00"]].concat(),
        &["lies before every log, such as that of \"I. Heron\""],
    );
    refused(
        &[&fine[..], &["--cycle", "80/8"]].concat(),
        &["expected one of \"60/7\", \"70/8\""],
    );
    refused(
        &["none.csv", "--rule-book", "us_property_2020"],
        &["cannot read none.csv"],
    );
    refused(
        &[
            "log.csv",
            "--rule-book",
            "us_intrastate_tx",
            "--construction-materials",
        ],
        &["has no 24-hour restart"],
    );
}

/// Every built-in book written out and read back holds the same limits from the same sources in the same years, under a name of its
/// own.
#[test]
fn a_book_written_out_is_the_same_book() {
    for name in NAMES {
        let book = built_in(name).expect("built in");
        let text = rule_book::write(&book);
        let read = rule_book::parse("book.ron", &text).unwrap_or_else(|faults| panic!("{faults}"));
        let expected = RuleSet {
            name: format!("{name}, changed").into(),
            ..book
        };
        assert_eq!(read, expected, "{text}");
    }
}

/// With six hours at the wheel in place of eleven, from the report at 05:00 on; what is not changed keeps its source.
#[test]
fn a_changed_book_is_used_from_its_file() {
    let folder = folder(LOG, HISTORY);
    let written = hours(folder.path(), &["--write-rule-book", "us_property_2020"]);
    assert_eq!((written.code, written.err.as_str()), (Some(0), ""));
    assert!(written.out.contains("driving_h: 11,"), "{}", written.out);
    let changed = written.out.replace("driving_h: 11,", "driving_h: 6,");
    fs::write(folder.path().join("own.ron"), &changed).expect("written");
    let arguments = [
        "log.csv",
        "--json",
        "--rule-book",
        "own.ron",
        "--history",
        "history.csv",
    ];
    let said = hours(folder.path(), &arguments);
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
    let answer: Value = serde_json::from_str(&said.out).expect("JSON");
    let driver = &answer["drivers"][0];
    // Two hours driven: 9 h are left of 11, 4 h of 6.
    assert_eq!(driver["clocks"]["drive_left_min"], 240);
    assert_eq!(driver["binds"]["citation"], "49 CFR 395.3(a)(2)");

    let wrong = changed
        .replace("window_h", "windw_h")
        .replace("rest_h: 10", "rest_h: 100");
    fs::write(folder.path().join("own.ron"), wrong).expect("written");
    let said = hours(folder.path(), &arguments);
    assert_eq!((said.code, said.out.as_str()), (Some(2), ""));
    for words in ["windw_h", "`window_h`", "own.ron:9:5", "at most 48"] {
        assert!(said.err.contains(words), "no {words:?} in:\n{}", said.err);
    }
}

/// 60 h in the seven days before are reached at 11:30: until then the driver may drive (49 CFR 395.3(b)(1)).
#[test]
fn who_may_drive_is_told_until_when() {
    let folder = folder(LOG, HISTORY);
    let said = hours(
        folder.path(),
        &[
            "log.csv",
            "--rule-book",
            "us_property_2020",
            "--history",
            "history.csv",
            "--out",
            "answer",
        ],
    );
    let text = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = "B. Tern, Mon 2026-03-02 10:05: may drive until 11:30: 60 hours in 7 days are used up then (49 CFR 395.3(b)(1)).";
    assert!(text.contains(words), "{}", said.out);
    let page = fs::read_to_string(folder.path().join("answer/report.html")).expect("a page");
    assert!(page.contains("MAY NOT DRIVE"), "{page}");
    let table = fs::read_to_string(folder.path().join("answer/hours.csv")).expect("a table");
    assert!(
        table.contains(
            "I. Heron,Mon 2026-03-02 19:25,window,0,14-hour window,49 CFR 395.3(a)(2),no"
        ),
        "{table}"
    );
}
