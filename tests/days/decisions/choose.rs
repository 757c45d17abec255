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
