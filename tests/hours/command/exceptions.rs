//! Exceptions: when they are used, claimed, refused, and when they may apply.

use super::{HEADING, HISTORY, answer, folder, hours, refused};
use serde_json::{Value, json};

const COLUMNS: &str = "driver,status,start,end,exception\n";

/// On duty from 05:00, on the road home from 19:10 to 20:00, released at 20:30: 15 h 30 min.
fn long_tour(first: &str, last: &str) -> String {
    format!(
        "{COLUMNS}\
         A. Gull,on,2026-03-03T05:00,2026-03-03T06:00,{first}\n\
         A. Gull,drive,2026-03-03T06:00,2026-03-03T09:00,\n\
         A. Gull,on,2026-03-03T09:00,2026-03-03T19:10,\n\
         A. Gull,drive,2026-03-03T19:10,2026-03-03T20:00,{last}\n\
         A. Gull,on,2026-03-03T20:00,2026-03-03T20:30,\n"
    )
}

fn driver(log: &str, history: &str, more: &[&str]) -> Value {
    answer(log, history, more)["drivers"][0].clone()
}

/// Exemption 80 FR 17819 of 2 April 2015: before it, waiting with the truck was work and no break (49 CFR 395.3(a)(3)(ii) of 2013). On duty
/// at 05:00: driving is barred from 13:00 on; from that date on the break ends at 11:00.
#[test]
fn waiting_is_a_break_from_the_exemption_on() {
    let book = ["--rule-book", "us_property_2013"];
    let log = |date: &str| {
        format!(
            "{HEADING}\
             A. Gull,on,{date}T05:00,{date}T06:00\nA. Gull,drive,{date}T06:00,{date}T10:00\n\
             A. Gull,waiting,{date}T10:00,{date}T11:00\nA. Gull,drive,{date}T11:00,{date}T15:00\n"
        )
    };
    for date in ["2014-06-02", "2015-04-01"] {
        let violations = &driver(&log(date), HISTORY, &book)["violations"];
        assert_eq!(
            *violations,
            json!([{"rule": "break_30min", "citation": "49 CFR 395.3(a)(3)(ii)",
                    "from": format!("{date}T13:00"), "to": format!("{date}T15:00")}])
        );
    }
    let after = driver(&log("2015-04-02"), HISTORY, &book);
    assert_eq!(after["violations"], json!([]));
}

/// 49 CFR 395.1(e)(1)(iii): the limit of 11 hours of driving is a condition of the exception. 11 h 30 min at the wheel: a log is needed,
/// and the break rule held that day, from 8 hours of driving on.
#[test]
fn short_haul_ends_with_eleven_hours_of_driving() {
    let log = |home: &str| {
        format!(
            "{HEADING}A. Gull,on,2026-03-03T05:00,2026-03-03T05:30\n\
             A. Gull,drive,2026-03-03T05:30,2026-03-03T{home}\nA. Gull,on,2026-03-03T{home},2026-03-03T18:00\n"
        )
    };
    let book = ["--rule-book", "us_short_haul_2020"];
    let beyond = driver(&log("17:00"), HISTORY, &book);
    assert_eq!(beyond["log_required"], true);
    let rules: Vec<_> = beyond["violations"]
        .as_array()
        .expect("a list")
        .iter()
        .collect();
    assert_eq!(rules[0]["rule"], "break_30min");
    assert_eq!(rules[0]["from"], "2026-03-03T13:30");
    assert_eq!(rules[1]["rule"], "drive_11h");
    assert_eq!(rules[1]["from"], "2026-03-03T16:30");
    let within = driver(&log("16:30"), HISTORY, &book);
    assert_eq!(within["log_required"], false);
    assert_eq!(within["violations"], json!([]));
}

/// 49 CFR 395.1(o): where it is not claimed, the driver is told that it may apply; claimed, the window is 16 hours.
#[test]
fn a_long_day_is_claimed_or_said_to_be_possible() {
    let plain = driver(&long_tour("", ""), HISTORY, &[]);
    assert_eq!(plain["violations"][0]["rule"], "window_14h");
    assert_eq!(plain["violations"][0]["from"], "2026-03-03T19:10");
    assert_eq!(plain["may_apply"], json!(["long_day", "adverse"]));
    for (first, last) in [("long_day", ""), ("", "long_day")] {
        let claimed = driver(&long_tour(first, last), HISTORY, &[]);
        assert_eq!(claimed["violations"], json!([]));
        assert_eq!(claimed["may_apply"], json!([]));
        assert_eq!(claimed["exceptions"][0]["holds"], true);
        assert_eq!(claimed["clocks"]["window_left_min"], 30);
    }
    let folder = folder(&long_tour("", ""), HISTORY);
    let said = hours(
        folder.path(),
        &["log.csv", "--rule-book", "us_property_2020"],
    );
    let text = said.out.replace('\n', " ").replace("  ", " ");
    assert!(text.contains("49 CFR 395.1(o) may apply"), "{text}");
    assert!(text.contains("a late pour"), "{text}");
}

/// 49 CFR 395.1(o)(2) and (3): released within 16 hours; not used on the six days before, unless 34 hours off have come since.
#[test]
fn a_claim_is_looked_up_in_log_and_history() {
    let late = long_tour("long_day", "").replace("T20:30", "T21:10");
    let late = driver(&late, HISTORY, &[]);
    assert_eq!(late["exceptions"][0]["holds"], false);
    assert!(
        late["exceptions"][0]["why_not"]
            .as_str()
            .is_some_and(|why| why.contains("too late"))
    );
    assert_eq!(late["violations"][0]["rule"], "window_14h");

    let given = ["--history", "history.csv"];
    let history = |used: &str, rest: &str| {
        format!("driver,date,hours,exception\nA. Gull,{used},15,long_day\n{rest}")
    };
    let worked = "A. Gull,2026-03-01,8,\nA. Gull,2026-03-02,8,\n";
    let six_days = driver(
        &long_tour("long_day", ""),
        &history("2026-02-25", worked),
        &given,
    );
    assert_eq!(six_days["exceptions"][0]["holds"], false);
    let why = six_days["exceptions"][0]["why_not"]
        .as_str()
        .expect("a reason");
    assert!(why.contains("2026-02-25"), "{why}");
    assert_eq!(six_days["may_apply"], json!(["adverse"]));
    let seven_days = driver(
        &long_tour("long_day", ""),
        &history("2026-02-24", worked),
        &given,
    );
    assert_eq!(seven_days["exceptions"][0]["holds"], true);
    let off = "A. Gull,2026-02-27,0,\nA. Gull,2026-02-28,0,\nA. Gull,2026-03-01,8,\nA. Gull,2026-03-02,8,\n";
    let restarted = driver(
        &long_tour("long_day", ""),
        &history("2026-02-25", off),
        &given,
    );
    assert_eq!(restarted["exceptions"][0]["holds"], true);

    // A second long day in the same log.
    let second = long_tour("long_day", "")
        .replace(COLUMNS, "")
        .replace("2026-03-03", "2026-03-04");
    let both = format!(
        "{}A. Gull,off,2026-03-03T20:30,2026-03-04T05:00,\n{second}",
        long_tour("long_day", "")
    );
    // 8 h 30 min off are no full rest: the same tour, 39 h 30 min long.
    assert_eq!(driver(&both, HISTORY, &[])["exceptions"][1]["holds"], false);
    let rested = both.replace("2026-03-04", "2026-03-05");
    let rested = driver(&rested, HISTORY, &[]);
    assert_eq!(rested["exceptions"][0]["holds"], true);
    let why = rested["exceptions"][1]["why_not"]
        .as_str()
        .expect("a reason");
    assert!(why.contains("2026-03-03"), "{why}");
}

/// 49 CFR 395.1(b)(1) since 2020: two more hours of driving and of the window; before it, of driving only.
#[test]
fn adverse_conditions_hold_from_where_they_are_claimed() {
    let log = long_tour("", "adverse");
    let claimed = driver(&log, HISTORY, &[]);
    assert_eq!(claimed["violations"], json!([]));
    assert_eq!(claimed["exceptions"][0]["exception"], "adverse");
    assert_eq!(claimed["exceptions"][0]["from"], "2026-03-03T19:10");
    let before = driver(&log, HISTORY, &["--rule-book", "us_property_2013"]);
    let window = |violation: &&Value| violation["rule"] == "window_14h";
    let violations = before["violations"].as_array().expect("a list");
    assert_eq!(violations.iter().filter(window).count(), 1);
    let folder = folder(&log, HISTORY);
    let said = hours(
        folder.path(),
        &["log.csv", "--rule-book", "us_property_2020"],
    );
    let text = said.out.replace('\n', " ").replace("  ", " ");
    assert!(
        text.contains("A late pour, waiting to load or unload"),
        "{text}"
    );
    let none = driver(&log, HISTORY, &["--rule-book", "us_intrastate_tx"]);
    assert_eq!(
        none["exceptions"][0]["why_not"],
        "the rule book has no such exception"
    );
}

#[test]
fn an_exception_that_nobody_knows_is_said() {
    refused(
        &long_tour("longday", ""),
        HISTORY,
        &[],
        &[
            "log.csv:2:",
            "unknown exception \"longday\"",
            "a similar name exists: long_day",
        ],
    );
    refused(
        &long_tour("", ""),
        "driver,date,hours,exception\nA. Gull,2026-03-02,9,adverse\n",
        &["--history", "history.csv"],
        &[
            "history.csv:2:",
            "unknown exception \"adverse\"",
            "an exception is long_day",
        ],
    );
}

/// SOR/2005-313 s. 14(1): ten hours off duty in a day, in stretches of at least 30 minutes. By hand: 5 h before the report, 1 h 30 min at
/// noon and 2 h 30 min after the release are 9 h; an hour less at work makes 10.
#[test]
fn a_day_must_hold_ten_hours_off_in_canada() {
    let log = |to: &str| {
        format!(
            "{HEADING}A. Gull,on,2026-03-03T05:00,2026-03-03T13:00\nA. Gull,off,2026-03-03T13:00,2026-03-03T14:30\n\
             A. Gull,on,2026-03-03T14:30,2026-03-03T{to}\n"
        )
    };
    let book = ["--rule-book", "ca_federal_south60"];
    let short = driver(&log("21:30"), HISTORY, &book);
    assert_eq!(
        short["days_short"],
        json!([{"rule": "can_daily_off_10h", "citation": "SOR/2005-313 s.14(1)", "from": "2026-03-03T00:00",
                "to": "2026-03-04T00:00", "off_duty_min": 540}])
    );
    assert_eq!(
        driver(&log("20:30"), HISTORY, &book)["days_short"],
        json!([])
    );
    // At 20:00 the day can still be met.
    let early = [&book[..], &["--at", "2026-03-03T20:00"]].concat();
    assert_eq!(
        driver(&log("21:30"), HISTORY, &early)["days_short"],
        json!([])
    );
    let folder = folder(&log("21:30"), HISTORY);
    let said = hours(folder.path(), &[&["log.csv"], &book[..]].concat());
    let text = said.out.replace('\n', " ").replace("  ", " ");
    assert!(
        text.contains("Too little time off (SOR/2005-313 s.14(1)): 9 h 00 min in the day"),
        "{text}"
    );
    assert!(text.contains("Not in this rule book: cycle 2"), "{text}");
}
