//! Days without luck, worked out on paper: each test holds the timetable as a table and expects exactly that.

#[path = "support/day.rs"]
mod day;

use day::{lines, loads};

/// One plant, one bay, two trucks, one site, everything constant. Loading 6, rack 4, out 20, position 0, discharge 10 (10 yd³
/// at 1 yd³ a minute), chute wash 5, back 18: a round trip takes 63 min. Reports 05:30, pre-trip 15.
const PLAIN: &str = r#"(
    name: "paper day",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "17:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", count: 2, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 40, spacing_min: 30,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow, choose: Nearest, margin_min: 0, bay_wait_min: 0)],
)"#;

/// Load k is due at 07:00 + 30 k and asks 30 min before (6 + 4 + 20). Both trucks are ready from 05:45; T1 takes loads 1 and
/// 3, T2 loads 2 and 4. A round trip is 63 min and two trucks must keep a spacing of 30: three minutes are lost each turn.
#[test]
fn two_trucks_and_a_round_trip_of_63_minutes_lose_3_at_a_spacing_of_30() {
    assert_eq!(
        loads(PLAIN),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T2 07:00 07:06 07:10 07:30 +0 07:30 07:40 07:45
W 3 T1 07:33 07:39 07:43 08:03 +3 08:03 08:13 08:18
W 4 T2 08:03 08:09 08:13 08:33 +3 08:33 08:43 08:48
"
    );
    // After load 4 is promised at 08:03 nothing is left to send. T1 is back at 08:36, T2 at 09:06; washout and post-trip 20.
    assert_eq!(
        lines(PLAIN, &["reports", "released"]),
        "\
05:30 D1 reports, T1
05:30 D2 reports, T2
08:56 D1 released after 206 min
09:26 D2 released after 236 min
"
    );
}

/// Trucks = round trip ÷ spacing: at a spacing of 31.5 min two trucks of a 63-minute round trip are exactly enough.
#[test]
fn round_trip_over_spacing_is_the_number_of_trucks() {
    let text = PLAIN
        .replace("spacing_min: 30", "spacing_min: 31.5")
        .replace("volume_yd3: 40", "volume_yd3: 100");
    assert!(
        loads(&text).lines().all(|line| line.contains(" +0 ")),
        "{}",
        loads(&text)
    );
    let text = PLAIN
        .replace("spacing_min: 30", "spacing_min: 31")
        .replace("volume_yd3: 40", "volume_yd3: 100");
    assert!(
        loads(&text)
            .lines()
            .skip(2)
            .all(|line| !line.contains(" +0 ")),
        "{}",
        loads(&text)
    );
}
