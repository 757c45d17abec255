//! Loads whose send time lies beyond the closing of their plant.

use super::day::loads;
use super::{changed, day};
use plantday::observe::figure;

/// The paper day with one load due at `first`, the plant closing at 17:00, a tour of 12 h from 06:00 on: a load is sent 30 min
/// before it is due.
fn due(first: &str, more: &[(&str, &str)]) -> String {
    let first = format!("first: \"{first}\"");
    let usual = [
        ("first: \"07:00\"", &first[..]),
        ("volume_yd3: 40", "volume_yd3: 10"),
        ("report: \"05:30\"", "report: \"06:00\", shift_h: 12"),
    ];
    let mut text = changed(&usual);
    for (from, to) in more {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    text
}

fn undelivered(text: &str) -> f32 {
    day::figures(text, &[figure::UNDELIVERED])[0]
}

/// Due 17:35, it would be sent at 17:05, and the plant closes at 17:00: loaded then, it is on site at 17:30, 5 min before its site
/// takes it. With the plant open until 18:00 it goes as ever.
#[test]
fn the_last_load_is_loaded_as_the_plant_closes() {
    assert_eq!(
        loads(&due("17:35", &[])),
        "W 1 T1 17:00 17:06 17:10 17:30 +0 17:35 17:45 17:50\n"
    );
    let open = due("17:35", &[("close: \"17:00\"", "close: \"18:00\"")]);
    assert_eq!(
        loads(&open),
        "W 1 T1 17:05 17:11 17:15 17:35 +0 17:35 17:45 17:50\n"
    );
    // With 3 min allowed for the bay line it joins that at 16:57.
    let line = due(
        "17:35",
        &[("belief: FreeFlow", "belief: FreeFlow, bay_wait_min: 3")],
    );
    assert_eq!(
        loads(&line),
        "W 1 T1 16:57 17:03 17:07 17:27 +0 17:35 17:45 17:50\n"
    );
}

/// On site at 17:30 at the earliest: 15 min before 17:45 is what the order bears (`late_min`, 15 where nothing is written), 16 is not.
/// A rule that sends everything 10 min early would have it there at 17:40 and may have it at 17:30 too, but no earlier.
#[test]
fn no_load_is_earlier_than_its_order_bears() {
    let early = [("belief: FreeFlow", "belief: FreeFlow, early_min: 10")];
    for more in [&[][..], &early] {
        assert_eq!(
            loads(&due("17:45", more)),
            "W 1 T1 17:00 17:06 17:10 17:30 +0 17:45 17:55 18:00\n"
        );
        assert_eq!(undelivered(&due("17:46", more)), 1.0);
    }
    let patient = due(
        "17:46",
        &[("spacing_min: 30", "spacing_min: 30, late_min: 16")],
    );
    assert_eq!(undelivered(&patient), 0.0);
}

/// Batched at 17:00, taken at 17:45, 10 min of discharge and 5 of chute wash: 60 min old when the truck leaves. A limit of 60 min bears
/// that, one of 59 does not, although the load would be 45 min old without the wait on site.
#[test]
fn its_age_has_to_bear_the_wait_on_site() {
    let limit = |minutes: &str| {
        let concrete = format!("concrete: (age_limit_min: {minutes}), rules: [");
        due("17:45", &[("rules: [", &concrete)])
    };
    assert_eq!(undelivered(&limit("60")), 0.0);
    assert_eq!(undelivered(&limit("59")), 1.0);
}

/// The site is no lawful parking: taken at 17:45, the truck leaves at 18:00 and is home at 18:18. A window of 14 h (a planning value)
/// that began at 04:18 holds, one that began at 04:17 does not, although 18:03 would do without the wait.
#[test]
fn the_drivers_hours_have_to_bear_the_wait_on_site() {
    let from = |report: &str| {
        let report = format!("report: \"{report}\", shift_h: 14");
        due(
            "17:45",
            &[
                (
                    "rule_book: \"none\"",
                    "rule_book: DutyWindow(hours: 14, rest_hours: 10)",
                ),
                ("(name: \"A\")", "(name: \"A\", parking: false)"),
                ("report: \"06:00\", shift_h: 12", &report),
            ],
        )
    };
    assert_eq!(undelivered(&from("04:18")), 0.0);
    assert_eq!(undelivered(&from("04:17")), 1.0);
}

/// Q is open all evening and 50 min away: it sends the load due at 17:35 at 16:35 from its own truck. Where the concrete may be no older
/// than 70 min (Q's would be 75), P loads it as it closes.
#[test]
fn a_plant_that_is_open_comes_first() {
    let two = [
        (
            "rack: Constant(4))]",
            "rack: Constant(4)), (name: \"Q\", loading: Constant(6), rack: Constant(4))]",
        ),
        (
            "(20, 18) } }",
            "(20, 18), \"Q\": 30 }, \"Q\": { \"A\": (50, 50) } }",
        ),
        (
            "(name: \"T\", count: 2, home: \"P\")",
            "(name: \"T\", count: 2, home: \"P\"), (name: \"U\", home: \"Q\")",
        ),
        (
            "drivers: [",
            "drivers: [(name: \"E\", trucks: \"U\", report: \"06:00\", shift_h: 12), ",
        ),
    ];
    assert_eq!(
        loads(&due("17:35", &two)),
        "W 1 U 16:35 16:41 16:45 17:35 +0 17:35 17:45 17:50\n"
    );
    let near = due("17:35", &two).replace("rules: [", "concrete: (age_limit_min: 70), rules: [");
    assert_eq!(
        loads(&near),
        "W 1 T1 17:00 17:06 17:10 17:30 +0 17:35 17:45 17:50\n"
    );
}
