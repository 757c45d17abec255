//! Orders that are added to the day.

use super::changed;
use super::day::{figures, lines, loads};
use plantday::observe::figure;

/// W has one load: a truck is under way from 06:30 to 07:33, in the half hours from 06:30, 07:00 and 07:30. X, called in at 06:00 for
/// 07:00, wants two trucks in the same ones: three in all, and two drivers are on shift.
fn with_x(rule: &str) -> String {
    changed(&[
        ("volume_yd3: 40", "volume_yd3: 10"),
        ("belief: FreeFlow", &format!("belief: FreeFlow{rule}")),
        (
            "orders: [",
            "orders: [(name: \"X\", site: \"A\", called: \"06:00\", first: \"07:00\", volume_yd3: 20, spacing_min: 0, \
             finish_by: \"08:00\", position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)), ",
        ),
    ])
}

const PLACES: [usize; 5] = [
    figure::DECLINED,
    figure::ORDERED_YD3,
    figure::LEFT_YD3,
    figure::LATE_LOADS,
    figure::POURS_LATE,
];

#[test]
fn an_addition_is_taken_although_it_does_not_hold() {
    let text = with_x("");
    assert_eq!(loads(&text).lines().count(), 3);
    // X is written first and takes both trucks; W waits for T1, back at 07:33.
    assert_eq!(figures(&text, &PLACES), [0.0, 30.0, 0.0, 1.0, 0.0]);
}

/// Refused: nothing of it is ordered, late or left over.
#[test]
fn an_addition_that_does_not_hold_is_refused() {
    let text = with_x(", additions: OnlyIfHolds");
    assert_eq!(lines(&text, &["X"]), "06:00 X refused\n");
    assert_eq!(loads(&text).lines().count(), 1);
    assert_eq!(figures(&text, &PLACES), [1.0, 10.0, 0.0, 0.0, 0.0]);
    // With a third driver it holds.
    let three = text.replace("count: 2", "count: 3");
    assert_eq!(figures(&three, &PLACES), [0.0, 30.0, 0.0, 0.0, 0.0]);
}

/// An hour later its trucks would still be wanted in the half hour from 07:30 on. An hour and a half later, due at 08:30 and sent at
/// 08:00, they are not; and what was agreed for 08:00 is then due at 09:30. The outlet has load 1 until 08:40, when load 2 is
/// ready to be taken.
#[test]
fn an_addition_is_moved_to_the_first_time_at_which_it_holds() {
    let text = with_x(", additions: FirstFreeTime(hours: 3)");
    assert_eq!(
        lines(&text, &["taken for"]),
        "06:00 X taken for 90 min later\n"
    );
    assert!(
        loads(&text).ends_with(
            "\
X 1 T1 08:00 08:06 08:10 08:30 +0 08:30 08:40 08:45
X 2 T2 08:06 08:12 08:16 08:36 +0 08:40 08:50 08:55
"
        ),
        "{}",
        loads(&text)
    );
    assert_eq!(figures(&text, &PLACES), [0.0, 30.0, 0.0, 0.0, 0.0]);
    // An hour is not enough.
    let short = with_x(", additions: FirstFreeTime(hours: 1)");
    assert_eq!(lines(&short, &["X"]), "06:00 X refused\n");
}
