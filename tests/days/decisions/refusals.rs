//! A gate that looks at several clocks says which one refused. Limits of the scenario's own, on days without luck.

use super::changed;
use super::day::lines;

/// The paper day under a rule book of its own, with gates.
fn day(book: &str, rule: &str) -> String {
    changed(&[
        (
            "rule_book: \"none\"",
            &format!(
                "rule_books: [(name: \"own\", like: \"none\", rest_h: 10, {book})], rule_book: \"own\""
            ),
        ),
        ("belief: FreeFlow", &format!("belief: FreeFlow, {rule}")),
    ])
}

/// T1 reports at 05:30, is back from load 1 at 07:33 with 38 min driven, and load 3 waits. With it T1 would be on site at 08:03 with
/// 58 min driven, which every limit here allows, and home at 08:36 with 76 min driven and 3 h 06 min on duty.
#[test]
fn the_home_gate_says_which_clock_ends_before_home() {
    let home = "gates: [HomeWithin(probability: 0.5)]";
    for (too_short, enough, words) in [
        ("window_h: 3.05", "window_h: 3.1", "duty window could end"),
        (
            "driving_h: 1.25",
            "driving_h: 1.27",
            "driving hours could end",
        ),
        (
            "on_duty_h: 3.05",
            "on_duty_h: 3.1",
            "hours on duty could end",
        ),
        (
            "break_after_h: 1.25, break_min: 30",
            "break_after_h: 1.27, break_min: 30",
            "a break could be due",
        ),
    ] {
        assert_eq!(
            lines(&day(too_short, home), &["07:33 T1 refused"]),
            format!("07:33 T1 refused for W: get-home check, {words} before home\n")
        );
        assert!(
            lines(&day(enough, home), &["07:33 T1"]).contains("T1 promised to W load 3"),
            "{enough}"
        );
    }
}

/// Of 10 h in 7 days 6 h 57 min were worked the day before: 3 h 03 min are left for a tour that would take 3 h 06 min until home.
#[test]
fn weekly_hours_refuse_by_their_name() {
    let text = |worked: f64| {
        let text = day("cycle: \"10/7\"", "gates: [HomeWithin(probability: 0.5)]");
        let driver = "name: \"D\", trucks: \"T\", report: \"05:30\"";
        assert!(text.contains(driver));
        text.replace(
            driver,
            &format!("{driver}, history: (hours: [{worked}], released_h_before: 12)"),
        )
    };
    assert_eq!(
        lines(&text(6.95), &["07:33 T1 refused"]),
        "07:33 T1 refused for W: get-home check, weekly hours could end before home\n"
    );
    assert!(lines(&text(6.9), &["07:33 T1"]).contains("T1 promised to W load 3"));
}

/// Of several clocks the one with the least left: 1 min of driving and 6 of the window are lacking here, 10 and 6 there.
#[test]
fn of_several_clocks_the_one_with_the_least_left_is_named() {
    let home = "gates: [HomeWithin(probability: 0.5)]";
    let both = day("driving_h: 1.25, window_h: 3", home);
    assert!(lines(&both, &["07:33 T1 refused"]).contains("duty window"));
    let both = day("driving_h: 1.1, window_h: 3", home);
    assert!(lines(&both, &["07:33 T1 refused"]).contains("driving hours"));
}

/// Home with 6 min left of the window, or of driving, where 10 are kept.
#[test]
fn minutes_kept_are_of_a_clock() {
    let kept = "gates: [KeepMinutes(minutes: 10)]";
    for (book, words) in [
        ("window_h: 3.2", "of the duty window"),
        ("driving_h: 1.37", "of the driving hours"),
        (
            "break_after_h: 1.37, break_min: 30",
            "before a break is due",
        ),
    ] {
        assert_eq!(
            lines(&day(book, kept), &["07:33 T1 refused"]),
            format!("07:33 T1 refused for W: minutes kept back, too few left {words}\n")
        );
    }
}

/// The driver is asked for the way home: 1 h 15 min of driving, and 1 h 16 min until then.
#[test]
fn a_driver_says_which_clock_ends_on_the_way() {
    assert_eq!(
        lines(
            &day("driving_h: 1.25", "drivers_word: Heard"),
            &["07:33 T1 refused"]
        ),
        "07:33 T1 refused for W: driver's objection, driving hours would end before home\n"
    );
}

/// Somebody with an hour left is to stay. D2 may drive 54 min a day, enough for a load: D1 is kept, since D2 could help nobody.
#[test]
fn who_is_kept_in_reserve_and_what_the_others_lack() {
    let text = day("driving_h: 0.9", "gates: [Reserve(hours: 1)]").replace(
        "(name: \"D\", trucks: \"T\", report: \"05:30\")",
        "(name: \"D1\", trucks: \"T1\", report: \"05:30\", rule_book: \"none\"), (name: \"D2\", trucks: \"T2\", report: \"05:30\")",
    );
    assert_eq!(
        lines(&text, &["06:30 T1", "06:30 T2 promised"]),
        "\
06:30 T1 refused for W: kept in reserve, the others there are short of driving hours
06:30 T2 promised to W load 1, 10 yd³ from P, due 07:00
"
    );
}
