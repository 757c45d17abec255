//! Rule books by name and by file.

use super::{HEADING, HISTORY, LOG, answer, folder, hours, refused};
use plantday::hours::{NAMES, built_in};
use plantday::scenario::rule_book;
use serde_json::json;
use std::fs;

/// Every limit of every book is written out, so that it can be changed; what is changed no longer names the law as its source.
#[test]
fn exceptions_restarts_and_daily_rest_can_be_changed() {
    let change = |name: &str, from: &str, to: &str| {
        let text = rule_book::write(&built_in(name).expect("built in"));
        assert!(text.contains(from), "no {from:?} in\n{text}");
        rule_book::parse("book.ron", &text.replace(from, to))
            .unwrap_or_else(|faults| panic!("{faults}"))
    };
    let minutes = |span: plantday::units::Millis| span.minutes();
    let book = change(
        "us_short_haul_2016",
        "short_haul_air_miles: 100, short_haul_release_h: 12",
        "short_haul_air_miles: 50, short_haul_release_h: 10",
    );
    let exception = book.short_haul.expect("an exception");
    assert_eq!(
        (
            exception.radius_air_miles,
            minutes(exception.release_within)
        ),
        (50.0, 600.0)
    );
    assert_eq!(minutes(exception.release_within_ready_mix), 840.0);
    assert!(!exception.citation.contains("395"));
    let book = change(
        "us_short_haul_2020",
        "short_haul_air_miles: 150",
        "short_haul_air_miles: None",
    );
    assert_eq!(book.short_haul, None);
    let book = change(
        "us_property_2013_strict",
        "restart_nights: 2, restart_apart_h: 168",
        "restart_nights: 1, restart_apart_h: 0",
    );
    let restart = |cycle: &plantday::hours::Cycle| {
        (
            cycle.restart.nights,
            minutes(cycle.restart.since_last_began),
        )
    };
    assert_eq!(book.cycle.as_ref().map(restart), Some((1, 0.0)));
    assert!(book.cycles.iter().all(|cycle| restart(cycle) == (1, 0.0)));
    let book = change(
        "us_property_2020",
        "construction_restart_h: 24",
        "construction_restart_h: 30",
    );
    assert_eq!(book.construction_restart.map(minutes), Some(1800.0));
    let book = change(
        "us_property_2020",
        "adverse_driving_h: 2, adverse_window_h: 2",
        "adverse_driving_h: 1, adverse_window_h: 0.5",
    );
    let adverse = book.adverse.expect("an extension");
    assert_eq!(
        (minutes(adverse.driving), minutes(adverse.window)),
        (60.0, 30.0)
    );
    let book = change("ca_federal_south60", "daily_off_h: 10", "daily_off_h: 11");
    let daily = book.daily_off_duty.expect("a daily rest");
    assert_eq!(
        (minutes(daily.length), &*daily.law.rule),
        (660.0, "daily_off")
    );
    let book = change(
        "us_property_2013",
        "waiting_is_break_from: \"2015-04-02\"",
        "waiting_is_break_from: None",
    );
    assert_eq!(book.break_rule.expect("a break").waiting_counts_from, None);
    let none = rule_book::write(&plantday::hours::RuleSet::unlimited());
    assert!(rule_book::parse("book.ron", &none).is_ok(), "{none}");
}

#[test]
fn values_out_of_range_are_said() {
    let wrong = "(name: \"ours\", like: \"us_property_2020\", short_haul_release_h: 12, restart_nights: 9, adverse_driving_h: 30, daily_off_h: 25)";
    let faults = rule_book::parse("ours.ron", wrong)
        .expect_err("four problems")
        .to_string();
    for words in [
        "`short_haul_release_h` without `short_haul_air_miles`",
        "9",
        "30",
        "25",
        "at most 24",
        "0 to 7",
    ] {
        assert!(faults.contains(words), "no {words:?} in\n{faults}");
    }
}

#[test]
fn none_is_a_rule_book_and_a_file_needs_no_dot() {
    let none = answer(LOG, HISTORY, &["--rule-book", "none"]);
    assert_eq!(none["drivers"][0]["violations"], json!([]));
    assert_eq!(none["drivers"][0]["binds"], json!(null));
    let folder = folder(LOG, HISTORY);
    fs::write(
        folder.path().join("mini"),
        "(name: \"mine\", like: \"none\", driving_h: 1, rest_h: 10)",
    )
    .expect("written");
    for name in ["mini", "./mini"] {
        let said = hours(folder.path(), &["log.csv", "--json", "--rule-book", name]);
        assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
        assert!(said.out.contains("\"rule_book\": \"mine\""), "{}", said.out);
    }
    let said = hours(folder.path(), &["log.csv", "--rule-book", "minni"]);
    assert_eq!(said.code, Some(2));
    for words in [
        "there is no rule book \"minni\"",
        "there is no file \"minni\"",
        "./minni.ron",
    ] {
        assert!(said.err.contains(words), "no {words:?} in\n{}", said.err);
    }
    assert_eq!(NAMES.len(), 9);
}

/// Rests of weeks end within the calendar: a moment that cannot be told is not asked for.
#[test]
fn years_at_the_end_of_the_calendar_are_refused() {
    let log = format!("{HEADING}A. Gull,on,9999-12-31T05:00,9999-12-31T23:00\n");
    refused(&log, HISTORY, &[], &["log.csv:2:12", "1900 to 9998"]);
}
