//! Three days of clocks on paper: without luck, the timetable of every load and every driver, minute by minute.

use crate::day;

use day::{figures, lines, loads};
use plantday::observe::figure;

/// Two plants, 70 min apart. Trucks and people are of North quay; Farholm alone makes white concrete and has no truck of its
/// own. Drivers keep hours of the scenario's own: 6 h of driving, a window of 11 h, 10 h off, 33 h in 7 days with a restart of
/// 48 h, half an hour's break within 8 h, which waiting with the truck can be. The company starts no load later than 9 h after
/// report. The desk lends always and looks at no clock.
///
/// Loading 6, rack 4, chute wash 5, nothing to position; pre-trip 15, washout 12, post-trip 8. Quay: 25 out, 20 back to
/// North quay, a yd³ a minute. Slip: 20 from Farholm, 85 back to North quay, a yd³ in 4 min.
const THREE_DAYS: &str = r#"(
    name: "three days",
    period: (first_day: Monday, days: 3),
    rule_books: [(name: "yard hours", like: "us_property_2013", driving_h: 6, window_h: 11, rest_h: 10, cycle: "33/7", restart_h: 48)],
    rule_book: "yard hours",
    company: (no_load_after_h: 9, promise_horizon_min: 0, latest_report_h: 4, stranded_drive_car: false),
    plants: [
        (name: "North quay", loading: Constant(6), rack: Constant(4), mixes: ["grey"]),
        (name: "Farholm", loading: Constant(6), rack: Constant(4), mixes: ["white"]),
    ],
    sites: [(name: "Quay"), (name: "Slip")],
    roads: (minutes: {
        "North quay": { "Farholm": 70, "Quay": (25, 20), "Slip": (85, 85) },
        "Farholm": { "Quay": (80, 80), "Slip": (20, 18) },
    }),
    trucks: [(name: "T", count: 3, home: "North quay", needs: (class: B))],
    drivers: [
        (name: "Ada", trucks: "T1", report: "04:00", shift_h: 11, class: B, history: (hours: [0, 8, 8], released_h_before: 30)),
        (name: "Bo", trucks: "T2", report: "04:00", shift_h: 11, class: A),
        (name: "Nell", trucks: "T3", report: "19:00", shift_h: 9, days: [Monday], class: B),
    ],
    helpers: [
        (name: "Mo", at: "North quay", from: "06:00", to: "22:00", class: Ordinary, rule_book: "yard hours", history: (hours: [12, 11, 10], released_h_before: 3)),
        (name: "Vic", at: "North quay", from: "16:00", to: "23:00", class: B, rule_book: "yard hours", history: (hours: [6, 6], released_h_before: 12)),
    ],
    orders: [
        (name: "Early", site: "Quay", mix: "grey", first: "05:00", volume_yd3: 20, spacing_min: 20, position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)),
        (name: "White", site: "Slip", mix: "white", first: "12:18", volume_yd3: 10, spacing_min: 0, outlets: [(rate_yd3_min: 0.25)], position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)),
        (name: "Late", site: "Quay", mix: "grey", first: "14:30", volume_yd3: 10, spacing_min: 0, position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)),
        (name: "Night", site: "Quay", mix: "grey", first: "22:00", volume_yd3: 30, spacing_min: 40, position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)),
        (name: "Second", site: "Quay", mix: "grey", day: 2, first: "05:00", volume_yd3: 20, spacing_min: 20, position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)),
        (name: "Third", site: "Quay", mix: "grey", day: 3, first: "05:00", volume_yd3: 20, spacing_min: 20, position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)),
    ],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "blind", belief: FreeFlow, choose: Nearest, lend: Always, retrieval: Fetch(waits: true, own_drivers: true))],
)"#;

/// `+1` and `+2` after a time are days later; `+70` is minutes late.
///
/// Early: sent 35 min before (6 + 4 + 25), one load with Ada, one with Bo.
///
/// White is due at 12:18 and asks 30 min before, at 11:48, when both stand free at North quay. Ada, listed first, drives 70
/// min to Farholm and loads at 12:58: 8 h 58 after report, two minutes inside the company's limit. The way home would have
/// ended at 13:08 + 20 + 40 + 5 + 85 = 15:38, and her window ends at 15:00.
///
/// Late asks at 13:55. Bo stands there, 9 h 55 after report: refused. Nell, ready at 19:15, takes it 320 min late. With her
/// truck alone Night is 30 and 60 min behind, as a round takes 70 min and the spacing is 40; it ends after midnight.
///
/// On the second day Ada is ready at 05:25 only: the second load, sent at 04:45 if there were a truck, is 40 min late. On the
/// third she is not called: Bo is back at 05:35, and the second load is 50 min late.
#[test]
fn every_load_of_the_three_days() {
    assert_eq!(
        loads(THREE_DAYS),
        "\
Early 1 T1 04:25 04:31 04:35 05:00 +0 05:00 05:10 05:15
Early 2 T2 04:45 04:51 04:55 05:20 +0 05:20 05:30 05:35
White 1 T1 12:58 13:04 13:08 13:28 +70 13:28 14:08 14:13
Late 1 T3 19:15 19:21 19:25 19:50 +320 19:50 20:00 20:05
Night 1 T3 21:25 21:31 21:35 22:00 +0 22:00 22:10 22:15
Night 2 T3 22:35 22:41 22:45 23:10 +30 23:10 23:20 23:25
Night 3 T3 23:45 23:51 23:55 00:20 +1 +60 00:20 +1 00:30 +1 00:35 +1
Second 1 T2 04:25 +1 04:31 +1 04:35 +1 05:00 +1 +0 05:00 +1 05:10 +1 05:15 +1
Second 2 T1 05:25 +1 05:31 +1 05:35 +1 06:00 +1 +40 06:00 +1 06:10 +1 06:15 +1
Third 1 T2 04:25 +2 04:31 +2 04:35 +2 05:00 +2 +0 05:00 +2 05:10 +2 05:15 +2
Third 2 T2 05:35 +2 05:41 +2 05:45 +2 06:10 +2 +50 06:10 +2 06:20 +2 06:25 +2
"
    );
}

/// Ada is stranded at Slip at 14:13. Bo is free at North quay, but his window ends at 15:00 and the way there and back takes
/// 170 min. Mo has the car and no licence for a truck. Vic of another fleet comes on call at 16:00; the two set out, Mo for the
/// car, though Mo's week has but minutes left: a car is no truck. 85 min out, 85 back: home at 18:50, 4 h 37 after. Washout and
/// post-trip: released at 19:10, 10 h off until 05:10, 70 min after the planned report.
///
/// Bo's tour is over at 15:00, and he is released at 15:20. Nell is back at 00:55 and released at 01:15.
///
/// Ada's week: 16 h before the first day, 15 h 10 on the first, 1 h 45 (05:10 to 06:55) on the second: 5 min of the 33 h are
/// left on the third, less than the hour for which anybody is called.
#[test]
fn every_driver_of_the_three_days() {
    let words = ["Ada", "Bo", "Nell", "helper", "car", "home"];
    assert_eq!(
        lines(THREE_DAYS, &words),
        "\
04:00 Ada reports, T1
04:00 Bo reports, T2
14:13 Ada stranded at Slip
15:20 Bo off duty after 11 h 20 min
16:00 a helper sets out for Ada
16:00 a car for T1: 170 min
18:50 Ada home after 277 min
19:00 Nell reports, T3
19:10 Ada off duty after 15 h 10 min
01:15 +1 Nell off duty after 6 h 15 min
04:00 +1 Bo reports, T2
05:10 +1 Ada comes 70 min late
05:10 +1 Ada reports, T1
05:55 +1 Bo off duty after 1 h 55 min
06:55 +1 Ada off duty after 1 h 45 min
04:00 +2 Bo reports, T2
04:00 +2 Ada is not called: no hours
07:05 +2 Bo off duty after 3 h 5 min
"
    );
}

/// One stranding by a lend, none for another cause, nobody past a limit; what followed is counted.
#[test]
fn what_the_three_days_count() {
    let places = [
        figure::STRANDED,
        figure::STRANDED_LENT,
        figure::STRANDED_LOADED_LATE,
        figure::VIOLATION_MIN,
        figure::LATE_REPORTS,
        figure::DAYS_LOST,
        figure::FETCHED,
        figure::STRANDED_HOME_H,
        figure::LATE_LOADS,
    ];
    let found = figures(THREE_DAYS, &places);
    let home = 277.0 / 60.0;
    assert_eq!(found, [1.0, 1.0, 0.0, 0.0, 1.0, 1.0, 1.0, home, 6.0]);
}

/// A desk that asks whether the driver will be home in time does not send Ada. The price is paid in time: White goes with
/// Nell in the evening.
#[test]
fn a_desk_that_knows_the_clocks_strands_nobody_and_is_later() {
    let text = THREE_DAYS.replace(
        "lend: Always,",
        "lend: Always, gates: [HomeWithin(probability: 0.9)],",
    );
    let places = [figure::STRANDED, figure::DAYS_LOST, figure::LATE_REPORTS];
    assert_eq!(figures(&text, &places), [0.0, 0.0, 0.0]);
    let refused = lines(&text, &["get-home check", "company's last load"]);
    assert_eq!(
        refused,
        "\
11:48 T1 refused for White: get-home check, duty window could end before home
11:48 T2 refused for White: get-home check, duty window could end before home
13:55 T1 refused for Late: company's last load
13:55 T2 refused for Late: company's last load
"
    );
    let late = |text: &str| figures(text, &[figure::LATE_MIN])[0];
    assert!(late(&text) > late(THREE_DAYS));
}
