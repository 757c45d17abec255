//! Every worked example of the regulations: the list of `plantday verify`. Sources stand with the examples, one by one; so does which
//! answers are published.

use crate::agree::all_agree;
use plantday::hours::review::drivable_at;
use plantday::hours::{Clock, DutyLog, DutyStatus, Entry, built_in};
use plantday::studies::verify::Check;
use plantday::studies::verify::hours::{CASES, checks};
use plantday::units::Millis;
use std::collections::BTreeSet;

pub(crate) fn minutes(minutes: i64) -> Millis {
    Millis::MINUTE * minutes
}

#[test]
fn worked_examples_agree() {
    let found = checks(CASES);
    all_agree(&found);
    let examples: BTreeSet<_> = found.iter().map(|check| &check.about).collect();
    assert_eq!(examples.len(), 86, "no example is passed over");
}

/// A minute changed in an example turns the checks that rest on it, and no other.
#[test]
fn a_wrong_example_is_found() {
    for (right, wrong, turned) in [
        ("\"window_14h\": 1200}", "\"window_14h\": 1201}", 1),
        (
            "\"at\": 1140, \"drive_left\": 195",
            "\"at\": 1140, \"drive_left\": 194",
            1,
        ),
        ("\"longest_off_min\": 2160", "\"longest_off_min\": 2161", 1),
        (
            "\"max_distance_air_miles\": 150.33",
            "\"max_distance_air_miles\": 150.35",
            1,
        ),
        ("\"ten_hours_met\": true", "\"ten_hours_met\": false", 1),
    ] {
        assert!(CASES.contains(right), "{right}");
        let found = checks(&CASES.replacen(right, wrong, 1));
        let disagree = |check: &&Check| !check.agrees();
        assert_eq!(found.iter().filter(disagree).count(), turned, "{wrong}");
    }
}

/// No published source: by hand from the guide's example of the 14-hour window, which ends at 20:00: on duty from 06:00 on.
#[test]
fn driving_on_is_barred_at_the_end_of_the_first_clock() {
    let rules = built_in("us_property_2020").expect("a name");
    let entry = |status, from, to| Entry {
        status,
        from: minutes(from),
        to: minutes(to),
    };
    let log = DutyLog {
        entries: vec![
            entry(DutyStatus::OffDuty, 0, 360),
            entry(DutyStatus::OnDuty, 360, 1260),
            entry(DutyStatus::OffDuty, 1260, 1440),
        ],
        rested_since: -rules.reset_rest,
        ..DutyLog::default()
    };
    let drivable = drivable_at(&log, &rules, minutes(360));
    assert_eq!(
        (drivable.until, drivable.by),
        (minutes(360 + 480), Some(Clock::Break))
    );
    let drivable = drivable_at(&log, &rules, minutes(1000));
    assert_eq!(
        (drivable.until, drivable.by),
        (minutes(1200), Some(Clock::Window))
    );
}
