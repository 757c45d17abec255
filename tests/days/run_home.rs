//! A day that does not end when the period does, worked out on paper: everybody is brought home, and every hour is counted.

use crate::changed;
use crate::day::{figures, loads};

use plantday::observe::figure;

/// One plant, one truck, one site, everything constant. Loading 6, rack 4, out 20, discharge 10, chute wash 3, back 18, washout 12,
/// post-trip 8. One load, due at 07:00: loading begins at 06:30. The driver reports at 05:30 and is paid $30 an hour.
const DAY: &str = r#"(
    name: "paper day",
    period: (days: 1),
    rule_book: "none",
    concrete: (age_limit_min: None, empty: Constant(15)),
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "17:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 10, spacing_min: 20, late_min: 0,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(3))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    changes: (not_ready: 1, not_ready_min: Constant(0), phones_ahead: 0),
    money: (
        pay_per_h: 30, overtime_after_h: 24, overtime_factor: 1, truck_per_duty_h: 20, truck_per_driven_h: 0, crew_per_open_h: 0,
        material_per_yd3: 0, per_washout: 0,
    ),
    rules: [(name: "R", belief: FreeFlow, choose: Nearest, early_min: 0, bay_wait_min: 0)],
)"#;

const TOLD: [usize; 6] = [
    figure::LOADS,
    figure::UNDELIVERED,
    figure::REJECTED,
    figure::PLACED_YD3,
    figure::DUMPED_YD3,
    figure::PAID_H,
];

/// The site is not ready for 3,000 min: until 09:00 two days later, when the period has been over for a day and nine hours.
fn waits() -> String {
    changed::changed(DAY, &[("Constant(0), phones", "Constant(3000), phones")])
}

/// The truck leaves the site at 07:13 and is home at 07:31; the driver is released at 07:51, after 2 h 21. Where it waits, all that
/// follows comes 50 h later.
#[test]
fn who_waits_on_site_when_the_period_ends_comes_home_and_is_paid() {
    assert_eq!(
        loads(DAY),
        "W 1 T 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:13\n"
    );
    assert_eq!(
        loads(&waits()),
        "W 1 T 06:30 06:36 06:40 07:00 +0 09:00 +2 09:10 +2 09:13 +2\n"
    );
    assert_eq!(figures(DAY, &TOLD), [1.0, 0.0, 0.0, 10.0, 0.0, 2.35]);
    assert_eq!(figures(&waits(), &TOLD), [1.0, 0.0, 0.0, 10.0, 0.0, 52.35]);
}

/// Concrete of 50 h is taken by no site that has the limit of 90 min: at 09:00 the truck is turned away, drives home in 18 min, is
/// emptied in 15 and washed out; the driver is released at 09:53, after 52 h 23.
#[test]
fn a_load_that_is_too_old_when_its_site_is_ready_has_not_come() {
    let limit = [("age_limit_min: None", "age_limit_min: 90")];
    let (taken, too_old) = (
        changed::changed(DAY, &limit),
        changed::changed(&waits(), &limit),
    );
    assert_eq!(figures(&taken, &TOLD), [1.0, 0.0, 0.0, 10.0, 0.0, 2.35]);
    let hours = 52.0 + 23.0 / 60.0;
    assert_eq!(figures(&too_old, &TOLD), [0.0, 1.0, 1.0, 0.0, 10.0, hours]);
}

/// Where the way home takes 15 h and nobody may drive later than 14 h after reporting, no rest makes it legal: the driver is released
/// beside the truck at 07:13, after 1 h 43, and the run ends without them.
#[test]
fn who_may_never_drive_home_stays_where_the_truck_stands() {
    let told = [figure::LOADS, figure::STRANDED, figure::PAID_H];
    let window = ("rule_book: \"none\"", "rule_book: DutyWindow(hours: 14)");
    let near = changed::changed(DAY, &[window]);
    assert_eq!(figures(&near, &told), [1.0, 0.0, 2.35]);
    let far = changed::changed(&near, &[("(20, 18)", "(20, 900)")]);
    assert_eq!(figures(&far, &told), [1.0, 1.0, 103.0 / 60.0]);
}
