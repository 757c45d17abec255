//! A working week of one truck without luck, worked out on paper.

use crate::day;

use day::{figures, lines, loads};
use plantday::observe::figure;

const WEEK: &str = r#"(
    name: "paper week",
    period: (first_day: Monday, days: 5),
    rule_books: [(name: "week", like: "none", rest_h: 10, window_h: 13)],
    rule_book: "week",
    concrete: (age_limit_min: None),
    company: (promise_horizon_min: 0),
    plants: [
        (name: "P", hours: [(open: "05:00", close: "18:00")], loading: Constant(6), rack: Constant(4), mixes: ["usual"],
            planned_outages: [(day: 2, from: "07:00", to: "08:00")]),
        (name: "Q", hours: [(open: "05:00", close: "18:00")], loading: Constant(6), rack: Constant(4), mixes: ["marine"]),
    ],
    sites: [(name: "A"), (name: "B"), (name: "C")],
    roads: (minutes: { "P": { "A": (20, 18), "B": 40, "C": 60, "Q": 30 }, "Q": { "A": 30, "B": 10, "C": 60 } }),
    trucks: [(name: "T", home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30", shift_h: 13)],
    helpers: [(name: "H", at: "P", from: "12:00", to: "23:00")],
    orders: [
        (name: "Mon", day: 1, site: "A", first: "07:00", volume_yd3: 20, spacing_min: 64, mix: "usual", STAY),
        (name: "Tue", day: 2, site: "A", first: "07:30", volume_yd3: 20, spacing_min: 30, mix: "usual", STAY),
        (name: "Wed", day: 3, site: "B", first: "08:00", volume_yd3: 20, spacing_min: 45, mix: "marine", STAY),
        (name: "Thu", day: 4, site: "C", first: "16:30", volume_yd3: 10, spacing_min: 0, setup_min: 60, mix: "usual", STAY),
        (name: "Fri", day: 5, site: "A", first: "06:45", volume_yd3: 20, spacing_min: 64, mix: "usual", STAY),
    ],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow, lend: Always, retrieval: Fetch)],
)"#;

fn week() -> String {
    WEEK.replace(
        "STAY",
        "position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)",
    )
}

/// Order and load, truck, in the bay, loaded, leaves the rack, on site, minutes late, discharge begins, empty, leaves the site; `+1` is
/// the day after Monday. A load from P to A is sent 30 min before it is due and takes 63 min in all.
///
/// Tuesday: P is down until 08:00; nothing moves, and the second load, due at 08:00, finds the truck back at 09:03.
/// Wednesday: only Q makes the mix. The truck is sent there when the load is due to be sent, 07:40, half an hour away; it comes home
/// from B in 40 min, and goes to Q again. Thursday: on site at 16:30 as ordered, but the form is ready at 17:30 only. Friday:
/// see below; the pre-trip is over at 06:20.
#[test]
fn every_load_of_the_week() {
    assert_eq!(
        loads(&week()),
        "\
Mon 1 T 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
Mon 2 T 07:34 07:40 07:44 08:04 +0 08:04 08:14 08:19
Tue 1 T 08:00 +1 08:06 +1 08:10 +1 08:30 +1 +60 08:30 +1 08:40 +1 08:45 +1
Tue 2 T 09:03 +1 09:09 +1 09:13 +1 09:33 +1 +93 09:33 +1 09:43 +1 09:48 +1
Wed 1 T 08:10 +2 08:16 +2 08:20 +2 08:30 +2 +30 08:30 +2 08:40 +2 08:45 +2
Wed 2 T 09:55 +2 10:01 +2 10:05 +2 10:15 +2 +90 10:15 +2 10:25 +2 10:30 +2
Thu 1 T 15:20 +3 15:26 +3 15:30 +3 16:30 +3 +0 17:30 +3 17:40 +3 17:45 +3
Fri 1 T 06:20 +4 06:26 +4 06:30 +4 06:50 +4 +5 06:50 +4 07:00 +4 07:05 +4
Fri 2 T 07:23 +4 07:29 +4 07:33 +4 07:53 +4 +4 07:53 +4 08:03 +4 08:08 +4
"
    );
}

/// On Thursday the window ends at 18:30, 13 h after the report. At 17:45 the hour home no longer fits: stranded on site. The helper is
/// there at 18:45 and has truck and driver home at 19:45; washed out and released at 20:05, and rested at 06:05 on Friday, 35 min
/// after the planned report. Every other evening ends with the way home (18, 18, 40 and 18 min) and 20 min of washing.
#[test]
fn every_evening_of_the_week() {
    let words = [
        "is down",
        "is back up",
        "stranded",
        "sets out",
        "home after",
        "comes",
        "off duty",
    ];
    assert_eq!(
        lines(&week(), &words),
        "\
08:57 D off duty after 3 h 27 min
07:00 +1 P is down
08:00 +1 P is back up
10:26 +1 D off duty after 4 h 56 min
11:30 +2 D off duty after 6 h 0 min
17:45 +3 D stranded at C
17:45 +3 a helper sets out for D
19:45 +3 D home after 120 min
20:05 +3 D off duty after 14 h 35 min
06:05 +4 D comes 35 min late
08:46 +4 D off duty after 2 h 41 min
"
    );
    // Overtime after 8 h of a day: on Thursday only, 14 h 35 min less 8 h. Of 31 h 39 min in the week none is beyond 40.
    let places = [
        figure::OVERTIME_H,
        figure::STRANDED,
        figure::STRANDED_SITE,
        figure::LATE_REPORTS,
        figure::LATE_LOADS,
        figure::VIOLATION_MIN,
    ];
    let expected = [395.0 / 60.0, 1.0, 1.0, 1.0, 4.0, 0.0];
    for (found, expected) in figures(&week(), &places).iter().zip(expected) {
        assert!(
            (f64::from(*found) - expected).abs() < 1e-4,
            "{found} for {expected}"
        );
    }
}
