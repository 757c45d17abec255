//! What governs a driver comes first: may drive or not, until when or from when again, by which limit. Each limit governs once; times
//! worked out by hand from the text that is named. On duty from 05:00 on Tuesday 3 March 2026 unless a log says otherwise.

use super::{HEADING, HISTORY, answer, folder, hours};
use serde_json::Value;
use std::fs;

fn day(rows: &[(&str, &str, &str)]) -> String {
    let rows = rows
        .iter()
        .map(|(status, from, to)| format!("A. Gull,{status},2026-03-03T{from},2026-03-03T{to}\n"));
    format!("{HEADING}{}", rows.collect::<String>())
}

fn driver(log: &str, history: &str, more: &[&str]) -> Value {
    answer(log, history, more)["drivers"][0].clone()
}

/// So many hours on each day before 3 March.
fn worked(hours: &[&str]) -> String {
    let days = ["24", "25", "26", "27", "28", "01", "02"];
    let first = days.len() - hours.len();
    let rows = days[first..].iter().zip(hours).map(|(day, hours)| {
        let month = if *day > "10" { "02" } else { "03" };
        format!("A. Gull,2026-{month}-{day},{hours}\n")
    });
    format!("driver,date,hours\n{}", rows.collect::<String>())
}

/// May drive until then, by this limit, in these words.
fn until(driver: &Value, until: &str, rule: &str, words: &str) {
    assert_eq!(driver["may_drive"], true, "{driver:#}");
    assert_eq!(
        driver["barred_from"],
        format!("2026-03-03T{until}"),
        "{driver:#}"
    );
    assert_eq!(driver["binds"]["rule"], rule, "{driver:#}");
    let governs = driver["governs"].as_str().expect("words");
    assert!(
        governs.starts_with(&format!("may drive until {until}: ")),
        "{governs}"
    );
    assert!(governs.contains(words), "{governs}");
}

/// 49 CFR 395.3(a)(3)(i): 10 of 11 hours are driven at 16:00, 5 of 8 since the break.
#[test]
fn eleven_hours_of_driving() {
    let log = day(&[
        ("on", "05:00", "05:30"),
        ("drive", "05:30", "10:30"),
        ("off", "10:30", "11:00"),
        ("drive", "11:00", "16:00"),
    ]);
    until(
        &driver(&log, HISTORY, &[]),
        "17:00",
        "drive_11h",
        "11 hours of driving are used up then if driving goes on without a pause (49 CFR 395.3(a)(3)(i)).",
    );
}

/// 49 CFR 395.3(a)(2): 14 hours after 05:00.
#[test]
fn the_window_of_fourteen_hours() {
    let log = day(&[
        ("on", "05:00", "06:00"),
        ("drive", "06:00", "08:00"),
        ("on", "08:00", "18:00"),
    ]);
    until(
        &driver(&log, HISTORY, &[]),
        "19:00",
        "window_14h",
        "the 14-hour window ends then (49 CFR 395.3(a)(2)).",
    );
}

/// 49 CFR 395.3(a)(3)(ii): 7 of 8 hours are driven at noon. After half an hour from 13:00 on, 3 of 11 hours are left.
#[test]
fn the_break_and_what_follows_it() {
    let log = day(&[("drive", "05:00", "12:00")]);
    let driver = driver(&log, HISTORY, &[]);
    until(
        &driver,
        "13:00",
        "break_30min",
        "a 30-minute break is due then, after 8 hours of driving (49 CFR 395.3(a)(3)(ii)). With the break, until 16:30: 11 hours of \
         driving are used up then",
    );
    assert_eq!(driver["after_break"]["barred_from"], "2026-03-03T16:30");
}

/// 49 CFR 395.3(b)(1): 57 of 60 hours on the six days before, one today. (b)(2): 66 h 30 min of 70 on the seven days before, one today.
#[test]
fn the_weekly_hours() {
    let log = day(&[("on", "05:00", "06:00")]);
    let given = ["--history", "history.csv"];
    until(
        &driver(&log, &worked(&["9.5"; 6]), &given),
        "08:00",
        "cycle_60_7",
        "60 hours in 7 days are used up then (49 CFR 395.3(b)(1)).",
    );
    let other = [&given[..], &["--cycle", "70/8"]].concat();
    until(
        &driver(&log, &worked(&["9.5"; 7]), &other),
        "08:30",
        "cycle_70_8",
        "70 hours in 8 days are used up then (49 CFR 395.3(b)(2)).",
    );
}

/// 49 CFR 395.1(e)(1) of 2016 for trucks that are no ready-mix trucks: released within 12 hours no break is needed. At 17:00
/// more than 8 hours have passed without a break (395.3(a)(3)(ii) of 2013), so that one is due when the exception ends.
#[test]
fn the_release_that_short_haul_asks_for() {
    let log = day(&[
        ("on", "05:00", "07:00"),
        ("drive", "07:00", "10:00"),
        ("on", "10:00", "16:00"),
    ])
    .replace("2026", "2019");
    let folder = folder(&log, HISTORY);
    let book = "(name: \"ours\", like: \"us_short_haul_2016\", ready_mix_vehicles: false)";
    fs::write(folder.path().join("ours.ron"), book).expect("written");
    let said = hours(
        folder.path(),
        &["log.csv", "--json", "--rule-book", "ours.ron"],
    );
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
    let answer: Value = serde_json::from_str(&said.out).expect("JSON");
    let driver = &answer["drivers"][0];
    assert_eq!(driver["barred_from"], "2019-03-03T17:00");
    assert_eq!(driver["binds"]["rule"], "break_30min");
    let governs = driver["governs"].as_str().expect("words");
    let words = "may drive until 17:00: the short-haul exception ends then, 12 hours after coming on duty (49 CFR 395.1(e)(1), 49 USC \
                 31502(f)), and with it a 30-minute break is due";
    assert!(governs.starts_with(words), "{governs}");
    assert_eq!(driver["short_haul_until"], "2019-03-03T17:00");
}

/// 49 CFR 395.1(b)(1) since 2020: two hours more of the window. Twin: not claimed, 19:00.
#[test]
fn adverse_conditions_move_the_window() {
    let log = |claim: &str| {
        format!(
            "driver,status,start,end,exception\nA. Gull,on,2026-03-03T05:00,2026-03-03T17:00,\n\
             A. Gull,drive,2026-03-03T17:00,2026-03-03T18:00,{claim}\n"
        )
    };
    until(
        &driver(&log("adverse"), HISTORY, &[]),
        "21:00",
        "window_14h",
        "the 14-hour window, extended to 16 hours (adverse driving conditions, 49 CFR 395.1(b)(1)), ends then (49 CFR 395.3(a)(2)).",
    );
    until(
        &driver(&log(""), HISTORY, &[]),
        "19:00",
        "window_14h",
        "the 14-hour window ends then",
    );
}

/// 13 CCR 1212.5(a)(2)(B): no driving after the 16th hour. 37 TAC 4.12(a)(2): after 15 hours on duty, 11 of them worked at 18:00.
#[test]
fn rules_of_states() {
    let log = day(&[("on", "05:00", "18:00")]);
    until(
        &driver(&log, HISTORY, &["--rule-book", "us_intrastate_ca"]),
        "21:00",
        "ca_window_16h",
        "the 16-hour window ends then (13 CCR 1212.5(a)(2)(B)).",
    );
    let log = day(&[
        ("on", "05:00", "12:00"),
        ("off", "12:00", "14:00"),
        ("on", "14:00", "18:00"),
    ]);
    until(
        &driver(&log, HISTORY, &["--rule-book", "us_intrastate_tx"]),
        "22:00",
        "tx_onduty_15h",
        "15 hours on duty are used up then (37 TAC 4.12(a)(2)).",
    );
    let none = driver(&log, HISTORY, &["--rule-book", "none"]);
    assert_eq!(
        none["governs"],
        "may drive; no limit of this rule book ends driving."
    );
}

/// By hand: 10 hours off duty after 19:30 (395.3(a)(1)); half an hour after 8 hours of driving (395.3(a)(3)(ii)); at midnight 9 h 30 min
/// of seven days ago no longer count (395.3(b)(1)); 34 hours off after 20:00, as the oldest day that counts is three days old (395.3(c)).
#[test]
fn what_makes_driving_legal_again() {
    let given = ["--history", "history.csv"];
    let cases = [
        (
            day(&[("on", "05:00", "19:30")]),
            HISTORY.to_owned(),
            &[][..],
            "2026-03-04T05:30",
            "rest",
            "MAY NOT DRIVE: the 14-hour window (49 CFR 395.3(a)(2)) ended at 19:00. May drive again from Wed 2026-03-04 05:30 if off \
             duty until then: 10 hours off duty end then.",
        ),
        (
            day(&[("drive", "05:00", "13:00")]),
            HISTORY.to_owned(),
            &[],
            "2026-03-03T13:30",
            "break",
            "MAY NOT DRIVE: the 30-minute break (49 CFR 395.3(a)(3)(ii)) was due at 13:00. May drive again from 13:30 if off duty until \
             then: a 30-minute break ends then.",
        ),
        (
            day(&[("on", "05:00", "09:00")]),
            worked(&["9.5"; 6]),
            &given,
            "2026-03-04T00:00",
            "day",
            "MAY NOT DRIVE: the 60 hours in 7 days (49 CFR 395.3(b)(1)) were used up at 08:00. May drive again from Wed 2026-03-04 00:00 \
             if off duty until then: a new day begins then, and hours of an earlier one no longer count.",
        ),
        (
            day(&[("on", "05:00", "20:00")]),
            worked(&["15", "15", "15"]),
            &given,
            "2026-03-05T06:00",
            "restart",
            "34 hours off duty end then and start the weekly hours again.",
        ),
    ];
    for (log, history, more, again, by, words) in cases {
        let driver = driver(&log, &history, more);
        assert_eq!(driver["may_drive"], false, "{driver:#}");
        assert_eq!(driver["may_drive_again_at"], again, "{driver:#}");
        assert_eq!(driver["opened_by"], by, "{driver:#}");
        let governs = driver["governs"].as_str().expect("words");
        assert!(governs.contains(words), "{governs}");
    }
}

/// The order of the screen: what governs, violations, details.
#[test]
fn what_governs_comes_before_violations_and_details() {
    let log = day(&[("on", "05:00", "18:40"), ("drive", "18:40", "19:10")]);
    let folder = folder(&log, HISTORY);
    let said = hours(
        folder.path(),
        &["log.csv", "--rule-book", "us_property_2020"],
    );
    let place = |words: &str| {
        let found = said.out.find(words);
        found.unwrap_or_else(|| panic!("no {words:?} in:\n{}", said.out))
    };
    let places = [
        place("A. Gull, Tue 2026-03-03 19:10: MAY NOT DRIVE"),
        place("Violations"),
        place("Drove past the 14-hour window"),
        place("driving: 10 h 30 min left"),
        place("No time zone is given"),
    ];
    assert!(places.is_sorted(), "{places:?}\n{}", said.out);
}

/// On duty from 05:00, driving from 12:00 when the log ends at 12:30. Asked at 13:40 the driver has driven on: 1 h 40 min. Twin: who is
/// off duty when the log ends is so still.
#[test]
fn who_is_at_work_at_the_end_is_so_until_it_is_asked() {
    let at = ["--at", "13:40"];
    let log = day(&[("on", "05:00", "12:00"), ("drive", "12:00", "12:30")]);
    let asked = driver(&log, HISTORY, &at);
    assert_eq!(asked["at"], "2026-03-03T13:40");
    assert_eq!(asked["clocks"]["drive_left_min"], 660 - 100);
    assert_eq!(
        asked["assumed"],
        "The last row of the log says driving until 12:30; taken as still driving since."
    );
    let twin = day(&[("on", "05:00", "12:00"), ("off", "12:00", "12:30")]);
    let twin = driver(&twin, HISTORY, &at);
    assert_eq!(twin["assumed"], Value::Null);
    assert_eq!(twin["clocks"]["window_left_min"], 14 * 60 - 520);
    // The same, with a last row that has no end.
    let open = log.replace("2026-03-03T12:00,2026-03-03T12:30", "2026-03-03T12:00,");
    assert_eq!(
        driver(&open, HISTORY, &at)["clocks"]["drive_left_min"],
        660 - 100
    );
    super::refused(
        &open,
        HISTORY,
        &[],
        &[
            "log.csv:3:32",
            "the end is missing",
            "--at with the moment until which this goes on",
        ],
    );
    let early = open.replace("2026-03-03T05:00,2026-03-03T12:00", "2026-03-03T05:00,");
    super::refused(
        &early,
        HISTORY,
        &at,
        &["log.csv:2:29", "only a driver's last row may go on"],
    );
}

#[test]
fn a_moment_is_asked_about_in_several_ways() {
    let log = day(&[("on", "05:00", "24:00")]);
    for at in [
        "13:40",
        "2026-03-03 13:40",
        "2026-03-03T13:40",
        "Tue 13:40",
        "tuesday 13:40",
    ] {
        let asked = driver(&log, HISTORY, &["--at", at]);
        assert_eq!(asked["at"], "2026-03-03T13:40", "{at}");
    }
    let end = driver(&log, HISTORY, &["--at", "24:00"]);
    assert_eq!(end["at"], "2026-03-04T00:00");
    // 24:00 is the end of the day: 19 hours on duty.
    assert_eq!(end["clocks"]["cycle_left_min"], 60 * 60 - 19 * 60);
}

/// The way home from 19:00 to 19:10 in the example is driven past the window (49 CFR 395.3(a)(2)); at 18:00 nothing is. The other driver
/// drives from 09:30 on, after 50 minutes of other work: 8 hours are driven at 17:30 if the drive has gone on (395.3(a)(3)(ii)).
#[test]
fn a_violation_can_fail_the_command() {
    let log = |name: &str| {
        let rows = super::LOG.lines().filter(|row| row.starts_with(name));
        rows.fold(HEADING.to_owned(), |log, row| log + row + "\n")
    };
    let said = |log: &str, more: &[&str]| {
        let folder = folder(log, HISTORY);
        let book = ["log.csv", "--rule-book", "us_property_2020"];
        let said = hours(folder.path(), &[&book[..], more].concat());
        assert_eq!(said.err, "");
        said
    };
    let code = |log: &str, more: &[&str]| said(log, more).code;
    let both = super::LOG;
    assert_eq!(code(both, &["--fail-on-violation"]), Some(1));
    assert_eq!(code(both, &["--fail-on-violation", "--json"]), Some(1));
    assert_eq!(code(both, &[]), Some(0));
    let at = ["--fail-on-violation", "--at", "18:00"];
    assert_eq!(code(&log("I. Heron"), &at), Some(0));
    assert_eq!(code(&log("B. Tern"), &["--fail-on-violation"]), Some(0));
    let gone_on = said(&log("B. Tern"), &at);
    assert_eq!(gone_on.code, Some(1));
    let text = gone_on.out.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = "Drove without the 30-minute break (49 CFR 395.3(a)(3)(ii)): Mon 2026-03-02 17:30 to 18:00, 0 h 30 min. The last row of \
                 the log ends before: taken as still driving.";
    assert!(text.contains(words), "{text}");
}

/// 49 CFR 395.1(e)(1)(ii): back and released within 14 hours of coming on duty at 06:00. Released at 20:10 the exception is lost at 20:00,
/// a record is needed (395.8), and the ordinary break rule holds: 9 hours are driven with 20 minutes between them. Guidance: 395.1
/// question 33, 78 FR 76757. Twin: released at 20:00 it holds.
#[test]
fn short_haul_that_is_lost_is_said_since_when_and_why() {
    let log = |released: &str| {
        format!(
            "{HEADING}A. Gull,off,2026-05-31T20:00,2026-06-01T06:00\nA. Gull,on,2026-06-01T06:00,2026-06-01T06:30\n\
             A. Gull,drive,2026-06-01T06:30,2026-06-01T11:30\nA. Gull,on,2026-06-01T11:30,2026-06-01T11:50\n\
             A. Gull,drive,2026-06-01T11:50,2026-06-01T15:50\nA. Gull,on,2026-06-01T15:50,2026-06-01T{released}\n\
             A. Gull,off,2026-06-01T{released},2026-06-02T06:10\n"
        )
    };
    let book = ["--rule-book", "us_short_haul_2020"];
    let lost = driver(&log("20:10"), HISTORY, &book);
    assert_eq!(
        lost["short_haul_lost"],
        serde_json::json!([{"since": "2026-06-01T20:00", "by": "released_late", "came_on_duty": "2026-06-01T06:00"}])
    );
    assert_eq!(lost["log_required"], true);
    assert_eq!(lost["violations"][0]["from"], "2026-06-01T14:50");
    let text = |log: &str| {
        let folder = folder(log, HISTORY);
        let said = hours(folder.path(), &[&["log.csv"], &book[..]].concat());
        said.out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let said = text(&log("20:10"));
    for words in [
        "Short-haul exception lost Mon 2026-06-01 20:00: not released within 14 hours of coming on duty at 06:00 (49 CFR 395.1(e)(1)).",
        "From then a record of duty status is needed for that day (49 CFR 395.8) and the break rule applies (49 CFR 395.3(a)(3)(ii)).",
        "question 33 (78 FR 76757",
    ] {
        assert!(said.contains(words), "no {words:?} in:\n{said}");
    }
    let held = driver(&log("20:00"), HISTORY, &book);
    assert_eq!(held["short_haul_lost"], serde_json::json!([]));
    assert_eq!(held["log_required"], false);
    assert_eq!(held["violations"], serde_json::json!([]));
    assert!(!text(&log("20:00")).contains("question 33"));
}

/// 40 drivers with 900 rows each are read and judged. By hand: of each day from 05:00 to 15:00 nine half hours are driven.
#[test]
fn a_fleets_log_of_many_weeks_is_judged() {
    let mut log = HEADING.to_owned();
    for driver in 1..=40 {
        for day in 0..45 {
            let (month, date) = if day < 31 {
                ("01", day + 1)
            } else {
                ("02", day - 30)
            };
            let day = format!("2026-{month}-{date:02}");
            let mut row = |status: &str, from: &str, to: &str| {
                log += &format!("Driver {driver},{status},{day}T{from},{day}T{to}\n");
            };
            row("off", "00:00", "05:00");
            for half in 0..18 {
                let at = |half: i32| format!("{:02}:{:02}", 5 + half / 2, half % 2 * 30);
                let status = if half % 2 == 0 { "on" } else { "drive" };
                row(status, &at(half), &at(half + 1));
            }
            row("off", "14:00", "24:00");
        }
    }
    assert_eq!(log.lines().count(), 36_001);
    let answer = answer(&log, HISTORY, &["--cycle", "70/8", "--at", "13:00"]);
    let drivers = answer["drivers"].as_array().expect("drivers");
    assert_eq!(drivers.len(), 40);
    for driver in drivers {
        // Eight half hours of driving from 05:00 to 13:00; 8 hours today, 9 on each of seven days.
        assert_eq!(driver["clocks"]["drive_left_min"], 660 - 240);
        assert_eq!(driver["clocks"]["cycle_left_min"], 0);
        assert!(
            driver["violations"]
                .as_array()
                .is_some_and(|all| !all.is_empty())
        );
    }
    // The last row is found where it stands.
    let wrong = format!("{log}Driver 40,drve,2026-02-15T00:00,2026-02-15T05:00\n");
    super::refused(
        &wrong,
        HISTORY,
        &[],
        &["log.csv:36002:11", "unknown status \"drve\""],
    );
}
