//! What the days before a log say.

use super::{HEADING, HISTORY, LOG, answer, folder, hours};
use serde_json::json;
use std::fs;

/// 20 hours on the day before leave no full rest before 02:00, whatever hour the carrier's day starts at (49 CFR 395.2: any hour that the
/// carrier names). On duty since the start of that day, driving at 05:00 the next morning is beyond the window of 14 hours.
#[test]
fn no_full_rest_whatever_hour_the_day_starts_at() {
    let log = format!(
        "{HEADING}A. Gull,on,2026-03-03T02:00,2026-03-03T05:00\nA. Gull,drive,2026-03-03T05:00,2026-03-03T06:00\n"
    );
    let history = "driver,date,hours\nA. Gull,2026-03-02,20\n";
    for day_start in ["00:00", "02:00", "04:00", "20:00"] {
        let folder = folder(&log, history);
        let book =
            format!("(name: \"ours\", like: \"us_property_2020\", day_start: {day_start:?})");
        fs::write(folder.path().join("ours.ron"), book).expect("written");
        let said = hours(
            folder.path(),
            &[
                "log.csv",
                "--json",
                "--rule-book",
                "ours.ron",
                "--history",
                "history.csv",
            ],
        );
        assert_eq!((said.code, said.err.as_str()), (Some(0), ""), "{day_start}");
        let answer: serde_json::Value = serde_json::from_str(&said.out).expect("JSON");
        let driver = &answer["drivers"][0];
        assert_eq!(driver["violations"][0]["rule"], "window_14h", "{day_start}");
        assert_eq!(driver["violations"][0]["from"], "2026-03-03T05:00");
        assert_eq!(driver["violations"][0]["to"], "2026-03-03T06:00");
        assert_eq!(driver["clocks"]["window_left_min"], 0, "{day_start}");
        // The window had ended at 18:00 at the latest: no exception reaches as far.
        assert_eq!(driver["may_apply"], json!([]), "{day_start}");
    }
}

/// By hand: with 8 hours on the day before, 16 are free; an hour off at the start of the log belongs to the rest.
#[test]
fn room_for_a_full_rest_is_a_full_rest() {
    let log = format!(
        "{HEADING}A. Gull,off,2026-03-03T00:00,2026-03-03T05:00\nA. Gull,drive,2026-03-03T05:00,2026-03-03T06:00\n"
    );
    for (worked, left) in [("8", 13 * 60), ("19", 13 * 60), ("19.5", 0)] {
        let history = format!("driver,date,hours\nA. Gull,2026-03-02,{worked}\n");
        let answer = answer(&log, &history, &["--history", "history.csv"]);
        let driver = &answer["drivers"][0];
        assert_eq!(driver["clocks"]["window_left_min"], left, "{worked}");
    }
}

/// By hand: 13 h on Monday and 22 h on Tuesday, then Wednesday from 03:00. Tuesday leaves 5 h before the log, Monday 11 h before Tuesday:
/// one shift since Tuesday's start. With 15 h on Monday it has lasted since Monday's.
#[test]
fn a_shift_can_go_back_over_several_days() {
    let log = format!("{HEADING}A. Gull,drive,2026-03-04T03:00,2026-03-04T03:30\n");
    for monday in ["13", "15"] {
        let history =
            format!("driver,date,hours\nA. Gull,2026-03-02,{monday}\nA. Gull,2026-03-03,22\n");
        let answer = answer(&log, &history, &["--history", "history.csv"]);
        let driver = &answer["drivers"][0];
        assert_eq!(driver["violations"][0]["rule"], "window_14h");
        // 60 h less both days and half an hour, wherever they lie.
        let used = 60 * (monday.parse::<i64>().expect("a number") + 22) + 30;
        assert_eq!(driver["clocks"]["cycle_left_min"], 3600 - used);
    }
}

/// Of the six days before Tuesday 3 March, 2 are given; days before a restart do not matter (49 CFR 395.3(c)).
#[test]
fn days_that_a_history_leaves_out_are_named() {
    let log = format!("{HEADING}A. Gull,on,2026-03-03T05:00,2026-03-03T06:00\n");
    let partial = "driver,date,hours\nA. Gull,2026-02-26,14\nA. Gull,2026-02-28,14\n";
    let given = ["--history", "history.csv"];
    let driver = &answer(&log, partial, &given)["drivers"][0];
    assert_eq!(
        driver["history_missing"],
        json!(["2026-02-25", "2026-02-27", "2026-03-01", "2026-03-02"])
    );
    let folder = folder(&log, partial);
    let said = hours(
        folder.path(),
        &[
            "log.csv",
            "--rule-book",
            "us_property_2020",
            "--history",
            "history.csv",
        ],
    );
    let text = said.out.replace("\n  ", " ").replace('\n', " ");
    assert!(
        text.contains(
            "says nothing of 2026-02-25, 2026-02-27, 2026-03-01, 2026-03-02: taken as no hours"
        ),
        "{text}"
    );
    let restarted = format!("{partial}A. Gull,2026-03-01,0\nA. Gull,2026-03-02,0\n");
    let driver = &answer(&log, &restarted, &given)["drivers"][0];
    assert_eq!(driver["history_missing"], json!([]));
    // The example's histories reach as far as 60 hours in 7 days look; for 70 in 8 a day of the second is missing.
    let longer = answer(LOG, HISTORY, &[&given[..], &["--cycle", "70/8"]].concat());
    assert_eq!(longer["drivers"][0]["history_missing"], json!([]));
    assert_eq!(
        longer["drivers"][1]["history_missing"],
        json!(["2026-02-23"])
    );
}

#[test]
fn a_moment_before_one_log_leaves_the_others() {
    let log = format!(
        "{HEADING}A. Gull,on,2026-03-03T05:00,2026-03-03T06:00\nB. Knot,on,2026-03-03T07:00,2026-03-03T08:00\n"
    );
    let at = ["--at", "2026-03-03T06:00"];
    let then = answer(&log, HISTORY, &at);
    assert_eq!(then["not_yet"], json!(["B. Knot"]));
    assert_eq!(then["drivers"].as_array().expect("a list").len(), 1);
    assert_eq!(then["drivers"][0]["driver"], "A. Gull");
    let folder = folder(&log, HISTORY);
    let said = hours(
        folder.path(),
        &[&["log.csv", "--rule-book", "us_property_2020"], &at[..]].concat(),
    );
    assert_eq!(said.code, Some(0));
    assert!(
        said.out
            .contains("Not judged: the log of B. Knot begins after that moment."),
        "{}",
        said.out
    );
}
