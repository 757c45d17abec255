//! Which truck is chosen: by seniority, by cost.

use super::changed;
use super::day::loads;

/// The trucks of the loads, in the order of leaving the site.
fn trucks(text: &str) -> Vec<String> {
    loads(text)
        .lines()
        .filter_map(|line| line.split(' ').nth(2))
        .map(str::to_owned)
        .collect()
}

/// Both stand at the plant at 06:30. The nearest plant has both, T1 is listed first; D2 is the most senior.
#[test]
fn the_most_senior_driver_goes_first() {
    let text = |choose: &str, first: &str| {
        changed(&[
            ("volume_yd3: 40", "volume_yd3: 10"),
            (
                "belief: FreeFlow",
                &format!("belief: FreeFlow, choose: {choose}"),
            ),
            (
                "(name: \"D\", trucks: \"T\", report: \"05:30\")",
                &format!(
                    "(name: \"D1\", trucks: \"T1\", report: \"05:30\"{first}), \
                     (name: \"D2\", trucks: \"T2\", report: \"05:30\", seniority: 4)"
                ),
            ),
        ])
    };
    assert_eq!(trucks(&text("Nearest", "")), ["T1"]);
    assert_eq!(trucks(&text("Seniority", "")), ["T2"]);
    assert_eq!(trucks(&text("Seniority", ", seniority: 3")), ["T1"]);
    // Equals in the order written.
    assert_eq!(trucks(&text("Seniority", ", seniority: 4")), ["T1"]);
}

/// Overtime begins after two hours. D1, here since 05:30, would be home with load 1 at 07:33, three minutes of it overtime; D2, here
/// since 06:00, has until 08:00.
#[test]
fn the_cheapest_saves_overtime() {
    let text = |choose: &str| {
        changed(&[
            ("volume_yd3: 40", "volume_yd3: 10"),
            (
                "belief: FreeFlow",
                &format!("belief: FreeFlow, choose: {choose}"),
            ),
            (
                "(name: \"D\", trucks: \"T\", report: \"05:30\")",
                "(name: \"D1\", trucks: \"T1\", report: \"05:30\"), \
                 (name: \"D2\", trucks: \"T2\", report: \"06:00\")",
            ),
            ("rules: [", "money: (overtime_after_h: 2), rules: ["),
        ])
    };
    assert_eq!(trucks(&text("Nearest")), ["T1"]);
    assert_eq!(trucks(&text("Cheapest")), ["T2"]);
}

/// Q is 12 min away, and the way back there takes an hour: 72 min of driving at 27 + 25 + 30 an hour are 98.40. From P it is 20 and
/// 18 min: 51.93. Called in at 06:40 the load from P is on site at 07:10, ten minutes late and tolerated: P is cheaper. Called in
/// at 06:50 it is on site at 07:20, five minutes beyond the tolerance: 50 + 5 × 2 more, and Q is cheaper.
#[test]
fn the_cheapest_weighs_driving_against_the_penalty() {
    let text = |choose: &str, called: &str| {
        changed(&[
            (
                "volume_yd3: 40",
                &format!("called: \"{called}\", volume_yd3: 10"),
            ),
            (
                "belief: FreeFlow",
                &format!("belief: FreeFlow, choose: {choose}"),
            ),
            (
                "count: 2, home: \"P\")",
                "home: \"P\"), (name: \"U\", home: \"Q\")",
            ),
            (
                "report: \"05:30\")",
                "report: \"05:30\"), (name: \"E\", trucks: \"U\", report: \"05:30\")",
            ),
            (
                "rack: Constant(4))]",
                "rack: Constant(4)), (name: \"Q\", loading: Constant(6), rack: Constant(4))]",
            ),
            (
                "\"A\": (20, 18) }",
                "\"A\": (20, 18), \"Q\": 25 }, \"Q\": { \"A\": (12, 60) }",
            ),
        ])
    };
    assert_eq!(trucks(&text("Nearest", "06:40")), ["U"]);
    assert_eq!(trucks(&text("Cheapest", "06:40")), ["T"]);
    assert_eq!(trucks(&text("Cheapest", "06:50")), ["U"]);
}

/// T stands at P, 20 min out and 18 back; U at Q, 12 min out and `back`. With `money`, and the reports of T's and U's driver.
fn of_p_or_q(money: &str, called: &str, reports: (&str, &str), back: f64) -> String {
    let text = changed(&[
        ("volume_yd3: 40", &format!("{called}volume_yd3: 10")),
        ("belief: FreeFlow", "belief: FreeFlow, choose: Cheapest"),
        (
            "count: 2, home: \"P\")",
            "home: \"P\"), (name: \"U\", home: \"Q\")",
        ),
        (
            "report: \"05:30\")",
            &format!(
                "report: \"{}\"), (name: \"E\", trucks: \"U\", report: \"{}\")",
                reports.0, reports.1
            ),
        ),
        (
            "rack: Constant(4))]",
            "rack: Constant(4)), (name: \"Q\", loading: Constant(6), rack: Constant(4))]",
        ),
        (
            "\"A\": (20, 18) }",
            &format!("\"A\": (20, 18), \"Q\": 25 }}, \"Q\": {{ \"A\": (12, {back}) }}"),
        ),
        ("rules: [", &format!("money: ({money}), rules: [")),
    ]);
    trucks(&text).remove(0)
}

/// The load asks at 06:30, when it must leave P; U would wait 8 min for the send time of Q. T costs 38 min of driving, U 12 and the way
/// back besides the wait: the way back at which both cost the same follows by hand, and a twentieth of a minute less or more decides.
/// From 06:30 the drivers' overtime begins `overtime_after_h` after their reports; T would be home at 07:33, U at 07:15 and its way back.
#[test]
fn the_cheapest_changes_where_both_cost_the_same() {
    let early = ("05:30", "05:30");
    let then = ("05:30", "06:00");
    for (money, reports, same) in [
        // 38 × 82 / 60 = (12 + b) × 82 / 60 + 8 × 52 / 60
        ("overtime_after_h: 10", early, 20.927),
        // 38 × 52 = (12 + b) × 52 + 8 × 52
        ("overtime_after_h: 10, truck_per_driven_h: 0", early, 18.0),
        // the wait costs nothing
        (
            "overtime_after_h: 10, pay_per_h: 0, truck_per_duty_h: 0",
            early,
            26.0,
        ),
        // 38 × 117 = (12 + b) × 117 + 8 × 87
        ("overtime_after_h: 10, truck_per_duty_h: 60", early, 20.051),
        // 3 min of T are overtime: 27 × 0.5 an hour on top; none of U, whose driver came at 06:00
        ("overtime_after_h: 2", then, 21.421),
        ("overtime_after_h: 2, overtime_factor: 2", then, 21.915),
        // all that is still to come is overtime: 63 min of T, 45 and the way back of U
        ("overtime_after_h: 0.5", then, 20.513),
    ] {
        let first = |back| of_p_or_q(money, "", reports, back);
        assert_eq!(first(same - 0.05), "U", "{money}");
        assert_eq!(first(same + 0.05), "T", "{money}");
    }
}

/// Called in at 06:50, T is on site at 07:20, five minutes later than is borne, U at 07:12; called in at 06:45, T is there just when
/// it is still borne.
#[test]
fn the_cheapest_counts_what_a_late_load_costs() {
    for (money, called, same) in [
        // 38 × 82 / 60 + 10 + 5 × 3 = (12 + b) × 82 / 60
        ("late_per_load: 10, late_per_min: 3", "06:50", 44.293),
        ("late_per_load: 0, late_per_min: 3", "06:50", 36.976),
        ("late_per_load: 10, late_per_min: 3", "06:45", 26.0),
    ] {
        let called = format!("called: \"{called}\", ");
        let first = |back| of_p_or_q(money, &called, ("05:30", "05:30"), back);
        assert_eq!(first(same - 0.05), "U", "{money} {called}");
        assert_eq!(first(same + 0.05), "T", "{money} {called}");
    }
}

/// Only P makes the mix. T, here since 05:30, has overtime at three times its pay from 06:30 on: 38 × 82 / 60 + 63 × 54 / 60. U
/// drives 25 min to P, 20 to the site and home to Q, there at 07:40 and the way back; its driver's overtime begins at 07:29:
/// (45 + b) × 82 / 60 + (11 + b) × 54 / 60.
#[test]
fn the_cheapest_counts_the_way_to_the_plant_and_home() {
    let first = |back: f64| {
        let text = changed(&[
            ("volume_yd3: 40", "mix: \"grey\", volume_yd3: 10"),
            (
                "belief: FreeFlow",
                "belief: FreeFlow, choose: Cheapest, lend: Always",
            ),
            (
                "count: 2, home: \"P\")",
                "home: \"P\"), (name: \"U\", home: \"Q\")",
            ),
            (
                "report: \"05:30\")",
                "report: \"05:30\"), (name: \"E\", trucks: \"U\", report: \"06:29\")",
            ),
            ("pre_trip: Constant(15)", "pre_trip: Constant(1)"),
            (
                "rack: Constant(4))]",
                "rack: Constant(4), mixes: [\"grey\"]), \
                 (name: \"Q\", loading: Constant(6), rack: Constant(4), mixes: [\"white\"])]",
            ),
            (
                "\"A\": (20, 18) }",
                &format!("\"A\": (20, 18), \"Q\": 25 }}, \"Q\": {{ \"A\": (12, {back}) }}"),
            ),
            (
                "rules: [",
                "money: (overtime_after_h: 1, overtime_factor: 3, late_per_load: 0, late_per_min: 0), rules: [",
            ),
        ]);
        trucks(&text).remove(0)
    };
    assert_eq!(first(16.40), "U");
    assert_eq!(first(16.45), "T");
}
