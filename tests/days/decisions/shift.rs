//! When drivers are called, and who is sent home. The aim that the trade names: trucks in use for near two thirds of the paid
//! time in place of less than half (common practice, no source).

use super::changed;
use super::day::{figures, lines, loads};
use plantday::observe::figure;

/// The paper day with four trucks, under a rule with this decision.
fn four(decision: &str) -> String {
    changed(&[
        ("count: 2", "count: 4"),
        ("belief: FreeFlow", &format!("belief: FreeFlow, {decision}")),
    ])
}

/// From the first report, 05:30, on, twenty minutes apart.
#[test]
fn staggered_reports_are_moved_apart() {
    assert_eq!(
        lines(&four("shift: Staggered(minutes: 20)"), &["reports"]),
        "\
05:30 D1 reports, T1
05:50 D2 reports, T2
06:10 D3 reports, T3
06:30 D4 reports, T4
"
    );
}

/// Loads are sent at 06:30, 07:00, 07:30, 08:00, each truck is back 63 min later: at 07:33, 08:03, 08:33, 09:03. By half hour
/// from 06:30 on 1, 2, 3, 3, 2, 1 trucks are under way: drivers are called for 06:30, 07:00 and 07:30, each a quarter of an hour
/// earlier for the checks, and D4 not at all. All loads are in time. Paid are 98 + 98 + 188 min for 4 × 63 productive ones: 65.6
/// per cent; where all report at 05:30, 170 + 173 + 203 + 233 min: 32.3 per cent.
#[test]
fn drivers_called_for_the_order_book_are_in_use() {
    let matched = four("shift: Matched");
    let days = [
        "06:15 D1 reports, T1",
        "06:45 D2 reports, T2",
        "07:15 D3 reports, T3",
    ];
    let calls = format!("00:00 D4 is not called: no work\n{}\n", days.join("\n"));
    assert_eq!(lines(&matched, &["reports", "called"]), calls);
    assert_eq!(
        loads(&matched),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T2 07:00 07:06 07:10 07:30 +0 07:30 07:40 07:45
W 3 T3 07:30 07:36 07:40 08:00 +0 08:00 08:10 08:15
W 4 T1 08:00 08:06 08:10 08:30 +0 08:30 08:40 08:45
"
    );
    let places = [figure::PAID_H, figure::TRUCK_USE, figure::NOT_CALLED];
    let (paid, share) = (384.0 / 60.0, 252.0 / 384.0);
    assert_eq!(figures(&matched, &places), [paid, share, 1.0]);
    let (paid, share) = (779.0 / 60.0, 252.0 / 779.0);
    assert_eq!(figures(&four(""), &places), [paid, share, 0.0]);
    // One more is called with each of the first three, as long as there is one.
    assert_eq!(
        lines(&four("shift: Matched(spare: 1)"), &["reports"]),
        "06:15 D1 reports, T1\n06:15 D2 reports, T2\n06:45 D3 reports, T3\n07:15 D4 reports, T4\n"
    );
}

/// Day 1 has no orders. An order called in at 04:00 on day 2 is not known the evening before; one known from the start is.
#[test]
fn nobody_is_called_for_an_order_that_is_not_known() {
    let week = |called: &str| {
        four("shift: Matched")
            .replace(
                "name: \"paper day\",",
                "name: \"paper day\", period: (days: 2),",
            )
            .replace(
                "spacing_min: 30,",
                &format!("spacing_min: 30, day: 2, {called}"),
            )
    };
    assert_eq!(lines(&week("called: \"04:00\","), &["reports"]), "");
    assert_eq!(
        lines(&week(""), &["reports", "called"]),
        "\
00:00 D1 is not called: no work
00:00 D2 is not called: no work
00:00 D3 is not called: no work
00:00 D4 is not called: no work
17:00 D4 is not called: no work
06:15 +1 D1 reports, T1
06:45 +1 D2 reports, T2
07:15 +1 D3 reports, T3
"
    );
}

/// Three trucks are needed at most, four have reported at 05:30: the first to be free, T1 at 05:45, goes home. The other three
/// are home as in the day above.
#[test]
fn whoever_is_not_needed_goes_home() {
    assert_eq!(
        lines(&four("send_home: FirstInFirstOut"), &["off duty"]),
        "\
06:05 D1 off duty after 35 min
08:23 D3 off duty after 2 h 53 min
08:53 D4 off duty after 3 h 23 min
09:23 D2 off duty after 3 h 53 min
"
    );
}

/// One is held in reserve until the plant closes at 14:00: nobody leaves at 05:45. T1 takes load 4, T4 none. At 08:03 T2 is back
/// and stands with T4, and one of both goes; at 08:33 T3 stands with the other; at 09:03 T1. First out is who has stood longest
/// (T4, T2, T3), who has the longest day (all the same: in the listed order, T2, T3, T1), or the lowest seniority.
#[test]
fn one_is_held_until_the_plant_closes() {
    let released = |decision: &str| {
        let text = four(decision).replace("close: \"17:00\"", "close: \"14:00\"");
        lines(&text, &["off duty"])
            .lines()
            .map(|line| line.split(" off duty").next().unwrap_or(line).to_owned())
            .collect::<Vec<_>>()
    };
    assert_eq!(
        released("send_home: FirstInFirstOut(hold: 1)"),
        ["08:23 D4", "08:53 D2", "09:23 D3", "14:20 D1"]
    );
    assert_eq!(
        released("send_home: LongestDay(hold: 1)"),
        ["08:23 D2", "08:53 D3", "09:23 D1", "14:20 D4"]
    );
    assert_eq!(
        released("send_home: Seniority(hold: 1)"),
        ["08:23 D4", "08:53 D3", "09:23 D2", "14:20 D1"]
    );
}

/// D4 is the most senior: D3 goes first.
#[test]
fn seniority_is_as_written() {
    let text = four("send_home: Seniority(hold: 1)").replace(
        "(name: \"D\", trucks: \"T\", report: \"05:30\")",
        "(name: \"D\", count: 3, trucks: \"T\", report: \"05:30\", seniority: 7), \
         (name: \"D4\", trucks: \"T4\", report: \"05:30\", seniority: 2)",
    );
    assert!(lines(&text, &["off duty"]).ends_with("15:50 D4 off duty after 10 h 20 min\n"));
}

/// The desk calls at 17:00 the day before, unless another time is written: an order called in at 17:30 is not on the book by then.
#[test]
fn drivers_are_called_from_the_book_as_it_is_then() {
    let week = |called: &str, company: &str| {
        let text = four("shift: Matched")
            .replace(
                "company: (",
                &format!("period: (days: 2), company: ({company}"),
            )
            .replace(
                "spacing_min: 30,",
                &format!("spacing_min: 30, day: 2, called: \"{called}\","),
            );
        lines(&text, &["reports"])
    };
    let called = "06:15 +1 D1 reports, T1\n06:45 +1 D2 reports, T2\n07:15 +1 D3 reports, T3\n";
    assert_eq!(week("16:30 -1", ""), called);
    assert_eq!(week("17:30 -1", ""), "");
    assert_eq!(week("17:30 -1", "call_time: \"18:00\", "), called);
    assert_eq!(week("16:30 -1", "call_time: \"16:00\", "), "");
}

/// The order of the second day is cancelled. At 17:00 nobody knows, and three are called. They come and go home after 35 min, or at
/// midnight they are called off. With show-up pay, 4 h of a shift of 10 (8 CCR 11090(5)(A)), both are paid for 12 h; without it,
/// calling off is free, and coming 1 h 45 min.
#[test]
fn whoever_is_called_off_has_show_up_pay() {
    let week = |cancelled: u32, company: &str, money: &str| {
        four("shift: Matched")
            .replace(
                "company: (",
                &format!("period: (days: 2), changes: (cancelled: {cancelled}), money: ({money}), company: ({company}"),
            )
            .replace("spacing_min: 30,", "spacing_min: 30, day: 2,")
    };
    let off = "call_off: true, ";
    let second_day = |text: &str| {
        let all = lines(text, &["reports", "called"]);
        let rest = all.lines().skip_while(|line| line.starts_with("00:00 D"));
        rest.map(|line| format!("{line}\n")).collect::<String>()
    };
    let come = "\
17:00 D4 is not called: no work
06:15 +1 D1 reports, T1
06:45 +1 D2 reports, T2
07:15 +1 D3 reports, T3
";
    assert_eq!(second_day(&week(1, "", "")), come);
    // Nothing is cancelled: nobody is called off.
    assert_eq!(second_day(&week(0, off, "")), come);
    let called_off = week(1, off, "");
    assert_eq!(
        second_day(&called_off),
        "\
17:00 D4 is not called: no work
00:00 +1 D1 is called off: no work left
00:00 +1 D2 is called off: no work left
00:00 +1 D3 is called off: no work left
"
    );
    let places = [figure::PAID_H, figure::UNWORKED_H, figure::CALLED_OFF];
    assert_eq!(figures(&called_off, &places), [0.0, 0.0, 3.0]);
    assert_eq!(figures(&week(1, "", ""), &places), [1.75, 0.0, 0.0]);
    let show_up = "show_up: ()";
    assert_eq!(figures(&week(1, off, show_up), &places), [12.0, 12.0, 3.0]);
    assert_eq!(figures(&week(1, "", show_up), &places), [12.0, 10.25, 0.0]);
}

/// Three of four are needed. By the roster D4 is not called. Where the rule goes by seniority, D4, the most senior, is called first, and the
/// least senior stays at home.
#[test]
fn the_most_senior_are_called_first() {
    let called = |home: &str| {
        let text = four(&format!("shift: Matched, {home}")).replace(
            "(name: \"D\", trucks: \"T\", report: \"05:30\")",
            "(name: \"D\", count: 3, trucks: \"T\", report: \"05:30\", seniority: 7), \
             (name: \"D4\", trucks: \"T4\", report: \"05:30\", seniority: 2)",
        );
        lines(&text, &["reports", "called"])
    };
    assert_eq!(
        called("send_home: Seniority"),
        "\
00:00 D3 is not called: no work
06:15 D4 reports, T4
06:45 D1 reports, T1
07:15 D2 reports, T2
"
    );
    assert_eq!(
        called("send_home: FirstInFirstOut"),
        "\
00:00 D4 is not called: no work
06:15 D1 reports, T1
06:45 D2 reports, T2
07:15 D3 reports, T3
"
    );
}

#[test]
fn a_call_time_is_a_time_of_day() {
    let text = four("shift: Matched").replace(
        "company: (",
        "company: (call_time: \"27:00\", call_off: maybe, ",
    );
    let text = text.replace("spacing_min: 30,", "spacing_min: 30, called: \"25:00 -1\",");
    let said = super::day::scenario_problems(&text);
    for part in [
        "\"27:00\" is not such a time",
        "expected `true` or `false`, found `maybe`",
        "\"25:00 -1\" is not such a time (expected a time of day \"HH:MM\", on the day before \"HH:MM -1\")",
    ] {
        assert!(said.contains(part), "{part} in\n{said}");
    }
}
