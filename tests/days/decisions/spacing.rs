//! The spacing at which a desk sends loads. Due times stay as ordered.

use super::changed;
use super::day::{loads, scenario_problems};

fn spaced(factor: &str) -> String {
    changed(&[(
        "belief: FreeFlow",
        &format!("belief: FreeFlow, spacing_factor: {factor}"),
    )])
}

/// Due at 07:00, 07:30, 08:00 and 08:30; sent for 07:00, 08:00, 09:00 and 10:00, each half an hour before: the second is half an hour
/// late, the third an hour, the fourth an hour and a half.
#[test]
fn a_desk_that_stretches_the_spacing_sends_later_and_later() {
    assert_eq!(
        loads(&spaced("2")),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T2 07:30 07:36 07:40 08:00 +30 08:00 08:10 08:15
W 3 T1 08:30 08:36 08:40 09:00 +60 09:00 09:10 09:15
W 4 T2 09:30 09:36 09:40 10:00 +90 10:00 10:10 10:15
"
    );
}

#[test]
fn the_ordered_spacing_is_the_usual() {
    assert_eq!(loads(&spaced("1")), loads(&changed(&[])));
}

#[test]
fn a_spacing_out_of_range_is_said() {
    let problems = scenario_problems(&spaced("3"));
    assert!(problems.contains("0.5 to 2"), "{problems}");
}
