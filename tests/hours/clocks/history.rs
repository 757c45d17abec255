//! What the hours of earlier days say of the time before a log: days off that follow each other are rest, and days without room for a
//! rest belong to the same shift. Days by hand from 49 CFR 395.3(b) and (c): sixty hours in seven days, begun anew by 34 hours off.

use super::cases::minutes;
use plantday::hours::{DutyStatus, Entry, RuleSet, WallClock, WithHistory, built_in, with_history};
use plantday::units::Millis;

fn book() -> RuleSet {
    built_in("us_property_2020").expect("a name")
}

/// On duty from 05:00 of day 0 for ten hours, after days with so many hours.
fn after(days: &[(i64, i64)]) -> WithHistory {
    let entries = vec![Entry {
        status: DutyStatus::OnDuty,
        from: minutes(300),
        to: minutes(900),
    }];
    let days = days
        .iter()
        .map(|(day, hours)| (*day, Millis::HOUR * *hours));
    with_history(&book(), entries, days, WallClock::default())
}

fn worked(found: &WithHistory) -> Vec<i64> {
    let prior = found.log.prior.iter();
    prior.map(|(_, worked)| worked.0 / Millis::HOUR.0).collect()
}

#[test]
fn two_days_off_in_a_row_begin_the_week_anew() {
    let in_a_row = after(&[(-4, 11), (-3, 0), (-2, 0), (-1, 9)]);
    assert_eq!(in_a_row.restarted_by, Some(-2));
    assert_eq!(worked(&in_a_row), [0, 0, 0, 9]);
    // With a day between of which nothing is said they are one day off each.
    let apart = after(&[(-5, 11), (-4, 0), (-2, 0), (-1, 9)]);
    assert_eq!(apart.restarted_by, None);
    assert_eq!(worked(&apart), [11, 0, 0, 9]);
    // So are two with work between.
    let broken = after(&[(-5, 11), (-4, 0), (-3, 8), (-2, 0), (-1, 9)]);
    assert_eq!(broken.restarted_by, None);
}

#[test]
fn days_of_which_nothing_is_said_are_named_back_to_the_restart() {
    // Seven days: six before today.
    assert_eq!(after(&[(-1, 9)]).missing, [-6, -5, -4, -3, -2]);
    assert_eq!(after(&[(-4, 0), (-3, 0), (-1, 9)]).missing, [-2]);
    assert!(after(&[(-2, 0), (-1, 0)]).missing.is_empty());
}

#[test]
fn days_off_just_before_the_log_are_rest() {
    let full_rest = minutes(300) - Millis::HOUR * 10;
    let day = |day: i64| Millis::DAY * day;
    assert_eq!(after(&[(-2, 11), (-1, 0)]).log.rested_since, day(-1));
    assert_eq!(
        after(&[(-3, 11), (-2, 0), (-1, 0)]).log.rested_since,
        day(-2)
    );
    // A day of which nothing is said lies between, or the day before was worked: a full rest and no more.
    assert_eq!(after(&[(-3, 0), (-2, 0)]).log.rested_since, full_rest);
    assert_eq!(after(&[(-2, 0), (-1, 9)]).log.rested_since, full_rest);
}

/// From 00:00 to 05:00 are five hours: nineteen hours of the day before leave room for a rest of ten, twenty do not.
#[test]
fn a_day_without_room_for_a_rest_belongs_to_the_shift() {
    let room = after(&[(-1, 19)]);
    assert!(!room.no_rest_before);
    assert_eq!(room.log.entries.len(), 1);
    assert_eq!(worked(&room), [19]);
    let none = after(&[(-1, 20)]);
    assert!(none.no_rest_before);
    let day = Millis::DAY * -1;
    let told: Vec<_> = none
        .log
        .entries
        .iter()
        .map(|e| (e.status, e.from, e.to))
        .collect();
    let released = day + Millis::HOUR * 20;
    assert_eq!(
        told,
        [
            (DutyStatus::OnDuty, day, released),
            (DutyStatus::OffDuty, released, minutes(300)),
            (DutyStatus::OnDuty, minutes(300), minutes(900)),
        ]
    );
    assert!(none.log.prior.is_empty());
    assert_eq!(none.log.rested_since, day - Millis::HOUR * 10);
}
