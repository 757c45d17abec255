//! Rule books, licences and histories as scenarios write them, right and wrong.

use plantday::hours::{Clock, RuleBook, RuleSet, built_in};
use plantday::scenario::{Class, Scenario, parse};
use plantday::units::Millis;

const DAY: &str = r#"(
    name: "people",
    rule_books: [(name: "ours", like: "us_property_2020", driving_h: 9.5, on_duty_h: 13, break_after_h: None, cycle: "70/8", restart_h: 24)],
    rule_book: "ours",
    plants: [(name: "P")],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": 20 } }),
    trucks: [(name: "T", count: 2, home: "P", needs: (class: B, endorsements: ["tank"], bars: ["automatic only"]))],
    drivers: [
        (name: "D", trucks: "T1", report: "05:30", class: A, endorsements: ["tank"], history: (hours: [9, 0, 7.5], released_h_before: 6, last_long_day: 3)),
        (name: "E", trucks: "T2", report: "05:30", rule_book: "us_intrastate_tx"),
    ],
    helpers: [(name: "H", at: "P", from: "06:00", to: "20:00", class: Ordinary)],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 40, spacing_min: 30)],
    rules: [(name: "R")],
)"#;

fn read(text: &str) -> Scenario {
    parse("people.ron", text).unwrap_or_else(|faults| panic!("{faults}"))
}

#[test]
fn a_rule_book_is_like_another_but_for_what_is_written() {
    let scenario = read(DAY);
    assert_eq!(scenario.rule_book, RuleBook::Set(0));
    let (ours, like) = (&scenario.rule_sets[0], built_in("us_property_2020"));
    let like = like.expect("built in");
    let hours = |rule: Clock| match rule {
        Clock::Driving => ours.driving.as_ref().map(|limit| limit.length.hours()),
        Clock::OnDuty => ours.on_duty.as_ref().map(|limit| limit.length.hours()),
        Clock::Window => ours.window.as_ref().map(|limit| limit.length.hours()),
        Clock::Break => ours.break_rule.as_ref().map(|rule| rule.after.hours()),
        Clock::Cycle => ours.cycle.as_ref().map(|cycle| cycle.limit.hours()),
    };
    let all = Clock::ALL.map(hours);
    assert_eq!(all, [Some(9.5), Some(14.0), Some(13.0), None, Some(70.0)]);
    let cycle = ours.cycle.as_ref().expect("weekly hours");
    assert_eq!((cycle.days, cycle.restart.length), (8, Millis::HOUR * 24));
    assert_eq!(ours.reset_rest, like.reset_rest);
    assert_eq!(ours.window, like.window);
}

#[test]
fn drivers_and_helpers_have_books_licences_and_a_past() {
    let scenario = read(DAY);
    let [ada, other] = &scenario.drivers[..] else {
        panic!("two drivers");
    };
    assert_eq!(ada.rule_book, RuleBook::Set(0));
    assert_eq!(
        ada.licence.as_ref().map(|licence| licence.class),
        Some(Class::A)
    );
    assert_eq!(ada.history.hours, [9.0, 0.0, 7.5]);
    assert_eq!(ada.history.released_before, Millis::HOUR * 6);
    assert_eq!(ada.history.tours().last_used, Some(-3));
    assert_eq!(
        (ada.history.days_in_row(), other.history.days_in_row()),
        (1, 0)
    );
    assert_eq!(other.rule_book, RuleBook::Set(1));
    assert_eq!(scenario.rule_sets[1].name, "us_intrastate_tx");
    assert_eq!(other.licence, None);
    assert_eq!(scenario.helpers[0].rule_book, RuleBook::Unlimited);
}

/// A duty window is a rule book with one limit, its own whatever other books there are, and counted once.
#[test]
fn a_duty_window_is_a_rule_book() {
    let day = DAY.replacen("class: Ordinary", "rule_book: DutyWindow(hours: 3)", 1);
    let scenario = read(&day.replacen(
        "rule_book: \"ours\",",
        "rule_book: DutyWindow(hours: 3, rest_hours: 10),",
        1,
    ));
    let book = scenario.rule_book.of(&scenario.rule_sets);
    let window = RuleSet::lone_window(Millis::HOUR * 3, Millis::HOUR * 10);
    assert_eq!(book, Some(&window));
    assert_eq!(window.name, "3-hour window");
    assert_eq!(scenario.helpers[0].rule_book, scenario.rule_book);
    let nameless = day.replacen("rule_book: \"ours\",", "rule_book: \"3-hour window\",", 1);
    let faults = parse("people.ron", &nameless).expect_err("a window has no name that can be used");
    assert!(
        faults
            .to_string()
            .contains("unknown rule book \"3-hour window\"")
    );
}

/// What is said about a change to the file: all that is wrong, one after the other.
fn said(from: &str, to: &str) -> String {
    assert!(DAY.contains(from));
    let faults = parse("people.ron", &DAY.replacen(from, to, 1)).expect_err("it is wrong");
    faults.to_string()
}

#[test]
fn who_may_not_drive_the_truck_is_a_problem_of_the_file() {
    for (from, to, expected) in [
        (
            "class: A, endorsements",
            "class: C, endorsements",
            "class B",
        ),
        (
            "class: A, endorsements: [\"tank\"]",
            "class: A",
            "the endorsement \"tank\"",
        ),
        (
            "class: A,",
            "class: A, restrictions: [\"automatic only\"],",
            "a licence without the restriction \"automatic only\"",
        ),
    ] {
        let said = said(from, to);
        assert!(said.contains("\"D\" may not drive \"T1\""), "{said}");
        assert!(
            said.contains(&format!("the truck needs {expected}")),
            "{said}"
        );
    }
}

#[test]
fn wrong_books_and_pasts_are_told_with_what_would_be_right() {
    for (from, to, expected) in [
        (
            "\"us_intrastate_tx\"",
            "\"us_intrastate_tex\"",
            "unknown rule book \"us_intrastate_tex\"",
        ),
        (
            "like: \"us_property_2020\"",
            "like: \"us_property_2021\"",
            "unknown rule book \"us_property_2021\"",
        ),
        (
            "name: \"ours\"",
            "name: \"none\"",
            "\"none\" is a rule book of the program",
        ),
        ("\"70/8\"", "\"70 in 8\"", "no weekly hours: \"70 in 8\""),
        (
            "like: \"us_property_2020\"",
            "like: \"none\"",
            "no rest that resets them",
        ),
        (
            "class: A, endorsements",
            "endorsements",
            "a licence without its class",
        ),
        (
            "released_h_before: 6",
            "released_h_before: 40",
            "released before the day that was worked last",
        ),
        (
            "hours: [9, 0, 7.5], released_h_before: 6",
            "hours: [23], released_h_before: 20",
            "23 h on duty do not fit into the day before this release",
        ),
        (
            "hours: [9, 0, 7.5], released_h_before: 6",
            "hours: [0, 9], released_h_before: 6",
            "released on a day that is written with 0 hours",
        ),
        ("class: Ordinary", "class: D", "unknown licence class `D`"),
    ] {
        let said = said(from, to);
        assert!(said.contains(expected), "{to}: {said}");
    }
}

/// What is wrong in a rule book is said once, not again wherever the book is used.
#[test]
fn a_wrong_book_brings_no_second_problem() {
    let said = said("like: \"us_property_2020\"", "like: \"us_property_2021\"");
    assert!(!said.contains("unknown rule book \"ours\""), "{said}");
    assert_eq!(said.lines().count(), 1, "{said}");
}

/// By hand: 20 h between a day's start at 04:00 and midnight hold no 22 h on duty.
#[test]
fn yesterday_begins_with_the_carriers_day() {
    let late = DAY.replace("driving_h: 9.5", "day_start: \"04:00\", driving_h: 9.5");
    let past = |hours: &str| late.replace("hours: [9, 0, 7.5], released_h_before: 6", hours);
    let faults = parse("people.ron", &past("hours: [22]")).expect_err("it is wrong");
    let said = faults.to_string();
    assert!(
        said.contains("22 h on duty do not fit into yesterday"),
        "{said}"
    );
    let scenario = read(&past("hours: [19]"));
    assert_eq!(scenario.drivers[0].history.released_before, Millis::HOUR);
}
