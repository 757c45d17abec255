//! Nights on which the clock is changed. Summer time in the United States: from 2:00 on the second Sunday of March to 2:00 on the first
//! Sunday of November (15 USC 260a), 8 March and 1 November 2026. Hours counted by hand; each case has its twin without a change.

use super::{HEADING, HISTORY, answer, folder, hours, refused};
use serde_json::{Value, json};

const ZONE: [&str; 2] = ["--zone", "America/New_York"];
/// There the clock is not changed.
const STEADY: [&str; 2] = ["--zone", "America/Phoenix"];

fn driver(log: &str, more: &[&str]) -> Value {
    answer(log, HISTORY, more)["drivers"][0].clone()
}

/// A shift from 09:00, a rest over a night, and an hour of driving next day.
fn night(evening: &str, morning: &str, off: &str, on: &str) -> String {
    format!(
        "{HEADING}A. Gull,on,{evening}T09:00,{evening}T10:00\nA. Gull,drive,{evening}T10:00,{evening}T15:00\n\
         A. Gull,on,{evening}T15:00,{evening}T{off}\nA. Gull,off,{evening}T{off},{morning}T{on}\n\
         A. Gull,on,{morning}T{on},{morning}T07:00\nA. Gull,drive,{morning}T07:00,{morning}T08:00\n"
    )
}

/// From 20:00 to 06:00 by the clock are 9 hours in the night in which it goes forward: no rest of 10 hours (49 CFR 395.3(a)(1)), the
/// window ended at 23:00.
#[test]
fn a_night_in_spring_is_an_hour_shorter() {
    let log = night("2026-03-07", "2026-03-08", "20:00", "06:00");
    let short = driver(&log, &ZONE);
    assert_eq!(
        short["violations"],
        json!([{"rule": "window_14h", "citation": "49 CFR 395.3(a)(2)",
                "from": "2026-03-08T07:00-04:00", "to": "2026-03-08T08:00-04:00"}])
    );
    assert_eq!(short["at"], "2026-03-08T08:00-04:00");
    for twin in [&[][..], &STEADY] {
        let twin = driver(&log, twin);
        assert_eq!(twin["violations"], json!([]));
        assert_eq!(twin["clocks"]["window_left_min"], 12 * 60);
    }
    let before = night("2026-03-06", "2026-03-07", "20:00", "06:00");
    assert_eq!(driver(&before, &ZONE)["violations"], json!([]));
}

/// From 21:00 to 06:00 by the clock are 10 hours in the night in which it goes back: a full rest.
#[test]
fn a_night_in_autumn_is_an_hour_longer() {
    let log = night("2026-10-31", "2026-11-01", "21:00", "06:00");
    let long = driver(&log, &ZONE);
    assert_eq!(long["violations"], json!([]));
    assert_eq!(long["clocks"]["window_left_min"], 12 * 60);
    for twin in [&[][..], &STEADY] {
        assert_eq!(driver(&log, twin)["violations"][0]["rule"], "window_14h");
    }
}

#[test]
fn a_time_that_does_not_exist_is_a_problem_with_its_place() {
    let log = format!(
        "{HEADING}A. Gull,off,2026-03-07T12:00,2026-03-08T01:00\nA. Gull,on,2026-03-08T01:00,2026-03-08T02:30\n\
         A. Gull,drive,2026-03-08T02:30,2026-03-08T04:00\n"
    );
    refused(
        &log,
        HISTORY,
        &ZONE,
        &[
            "log.csv:3:29",
            "log.csv:4:15",
            "2026-03-08 02:30 does not exist in America/New_York",
            "the clock goes from 02:00 to 03:00 then",
        ],
    );
    assert_eq!(driver(&log, &STEADY)["clocks"]["drive_left_min"], 660 - 90);
    assert_eq!(driver(&log, &[])["clocks"]["drive_left_min"], 660 - 90);
    // By a clock that shows it, the drive from 01:30 to 04:00 lasts an hour and a half.
    let over = log.replace("T02:30", "T01:30");
    assert_eq!(driver(&over, &ZONE)["clocks"]["drive_left_min"], 660 - 90);
    assert_eq!(
        driver(&over, &STEADY)["clocks"]["drive_left_min"],
        660 - 150
    );
    refused(
        &over,
        HISTORY,
        &[&ZONE[..], &["--at", "02:30"]].concat(),
        &[
            "2026-03-08 02:30 does not exist in America/New_York, where the clock goes from 02:00 to 03:00",
        ],
    );
}

/// Two rows with 01:30 between them: which one it is nobody can tell. With the offset, or where the rows leave one way, it is told.
#[test]
fn a_time_that_comes_twice_is_told_by_the_rows_or_its_offset() {
    let log = |middle: &str, next: &str| {
        format!(
            "{HEADING}A. Gull,on,2026-11-01T00:30,2026-11-01T{middle}\nA. Gull,drive,2026-11-01T{next},2026-11-01T03:00\n"
        )
    };
    refused(
        &log("01:30", "01:30"),
        HISTORY,
        &ZONE,
        &[
            "log.csv:2:29",
            "2026-11-01 01:30 comes twice in America/New_York",
            "2026-11-01T01:30-04:00 or 2026-11-01T01:30-05:00",
        ],
    );
    // From 01:30 to 03:00 by the clock: 2 h 30 min from the first, 1 h 30 min from the second.
    for (middle, next, driven) in [
        ("01:30-04:00", "01:30-04:00", 150),
        ("01:30-05:00", "01:30-05:00", 90),
        ("01:30", "01:30-05:00", 90),
        ("01:30-04:00", "01:30", 150),
    ] {
        let driver = driver(&log(middle, next), &ZONE);
        assert_eq!(
            driver["clocks"]["drive_left_min"],
            660 - driven,
            "{middle} {next}"
        );
    }
    for twin in [&STEADY[..], &[]] {
        let driver = driver(&log("01:30", "01:30"), twin);
        assert_eq!(driver["clocks"]["drive_left_min"], 660 - 90);
    }
    // The clock goes back within the drive: 01:30 is the first, 01:15 the second.
    let told = format!(
        "{HEADING}A. Gull,on,2026-11-01T00:30,2026-11-01T01:30\nA. Gull,drive,2026-11-01T01:30,2026-11-01T01:15\n\
         A. Gull,on,2026-11-01T01:15,2026-11-01T03:00\n"
    );
    let driver = driver(&told, &ZONE);
    assert_eq!(driver["clocks"]["drive_left_min"], 660 - 45);
    assert_eq!(driver["clocks"]["cycle_left_min"], 60 * 60 - 210);
    refused(
        &told,
        HISTORY,
        &STEADY,
        &["log.csv:3:32", "this ends before it has begun"],
    );
    refused(
        &log("01:30-06:00", "01:30-06:00"),
        HISTORY,
        &ZONE,
        &[
            "another offset at 2026-11-01 01:30",
            "expected -04:00 or -05:00",
        ],
    );
    refused(
        &log("01:30-05:00", "01:30-05:00"),
        HISTORY,
        &[],
        &["an offset from UTC without a time zone"],
    );
    refused(
        &told,
        HISTORY,
        &[&ZONE[..], &["--at", "01:20"]].concat(),
        &[
            "comes twice",
            "2026-11-01T01:20-04:00 or 2026-11-01T01:20-05:00",
        ],
    );
    let asked = answer(
        &told,
        HISTORY,
        &[&ZONE[..], &["--at", "2026-11-01T01:20-05:00"]].concat(),
    );
    assert_eq!(asked["drivers"][0]["at"], "2026-11-01T01:20-05:00");
}

#[test]
fn a_zone_stands_in_the_log_or_in_an_option() {
    let with = |first: &str, second: &str| {
        format!(
            "driver,status,start,end,zone\nA. Gull,off,2026-03-07T20:00,2026-03-08T06:00,{first}\n\
             A. Gull,drive,2026-03-08T06:00,2026-03-08T07:00,{second}\n"
        )
    };
    let both = with("America/New_York", "america/new_york");
    assert_eq!(answer(&both, HISTORY, &[])["zone"], "America/New_York");
    let first = answer(&with("America/New_York", ""), HISTORY, &ZONE);
    assert_eq!(first["drivers"][0]["at"], "2026-03-08T07:00-04:00");
    refused(
        &with("America/New_York", "America/Phoenix"),
        HISTORY,
        &[],
        &[
            "log.csv:3:49",
            "the log is in America/New_York already",
            "named here",
        ],
    );
    refused(
        &with("", "America/Phoenix"),
        HISTORY,
        &ZONE,
        &["log.csv:3:49", "--zone says America/New_York"],
    );
    refused(
        &with("America/New_Yrok", ""),
        HISTORY,
        &[],
        &[
            "log.csv:2:47",
            "there is no time zone \"America/New_Yrok\"",
            "a similar name exists: America/New_York",
        ],
    );
    let log = format!("{HEADING}A. Gull,on,2026-03-08T06:00,2026-03-08T07:00\n");
    for (name, near) in [
        ("America/New_Yrok", "America/New_York"),
        ("phoenix", "America/Phoenix"),
    ] {
        refused(
            &log,
            HISTORY,
            &["--zone", name],
            &[&format!(
                "there is no time zone \"{name}\"; did you mean \"{near}\"?"
            )],
        );
    }
}

/// It is said which clock counts.
#[test]
fn a_screen_says_which_clock_counts() {
    let log = night("2026-03-07", "2026-03-08", "20:00", "06:00");
    let text = |more: &[&str]| {
        let folder = folder(&log, HISTORY);
        let book = ["log.csv", "--rule-book", "us_property_2020"];
        let said = hours(folder.path(), &[&book[..], more].concat());
        said.out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(text(&[]).contains("No time zone is given: the clock is taken never to be changed"));
    let zoned = text(&ZONE);
    let words = "Times are those of America/New_York. A night on which the clock is changed counts its real hours; it went forward by 1 h 00 \
                 min on Sun 2026-03-08.";
    assert!(zoned.contains(words), "{zoned}");
    assert!(text(&STEADY).contains("it was not changed within the log"));
    assert!(
        zoned.contains(
            "MAY NOT DRIVE: the 14-hour window (49 CFR 395.3(a)(2)) ended at Sat 2026-03-07 23:00"
        ),
        "{zoned}"
    );
}

/// A carrier's day begins by the clock (49 CFR 395.2): 60 hours in 7 days, 57 of them on the six days before Sunday 8 March, which lasts 23
/// hours. On duty from 21:00 on Sunday for two hours and a half; at midnight 9 h 30 min of Monday a week ago no longer count, 23 hours after
/// the midnight before; had the day 24, nothing would be left at 00:15.
#[test]
fn days_begin_by_the_clock() {
    let log = format!(
        "{HEADING}A. Gull,off,2026-03-08T00:00,2026-03-08T21:00\nA. Gull,on,2026-03-08T21:00,2026-03-09T00:30\n"
    );
    let history = "driver,date,hours\n".to_owned()
        + &["02", "03", "04", "05", "06", "07"]
            .map(|day| format!("A. Gull,2026-03-{day},9.5\n"))
            .concat();
    let given = ["--history", "history.csv"];
    let at = |more: &[&str], at: &str| {
        let all = [&given[..], more, &["--at", at]].concat();
        answer(&log, &history, &all)["drivers"][0]["clocks"]["cycle_left_min"].clone()
    };
    for zone in [&ZONE[..], &STEADY, &[]] {
        // 57 h and 2 h 45 min; after midnight 47 h 30 min and 3 h 15 min.
        assert_eq!(at(zone, "2026-03-08T23:45"), 15);
        assert_eq!(at(zone, "2026-03-09T00:15"), 3600 - (47 * 60 + 30 + 195));
    }
}
