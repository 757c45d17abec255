//! Gates that are overridden, and drivers who are not heard: behaviours of desks that are modelled to show their cost. Nobody drives
//! past a limit for them.

use super::changed;
use super::day::{figures, lines, loads, scenario_problems};
use plantday::observe::figure;

/// No load whose loading would begin later than 06:45: load 1 only. A load that would be twenty minutes late goes all the same: load
/// 2, due at 07:30, at 07:20, since it is then on site at 07:50; load 3 at 07:50. Load 4 would go at 08:20, but T2 is back at
/// 08:23.
#[test]
fn a_gate_is_overridden_when_the_load_would_be_late() {
    let text = |rule: &str| {
        let rule = format!("belief: FreeFlow, gates: [LastLoadBy(hours: 1.25)]{rule}");
        changed(&[("belief: FreeFlow", &rule)])
    };
    let first = "W 1 T1 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15\n";
    assert_eq!(loads(&text("")), first);
    assert_eq!(
        loads(&text(", override_gates: IfLate(minutes: 20)")),
        format!(
            "{first}\
W 2 T2 07:20 07:26 07:30 07:50 +20 07:50 08:00 08:05
W 3 T1 07:50 07:56 08:00 08:20 +20 08:20 08:30 08:35
W 4 T2 08:23 08:29 08:33 08:53 +23 08:53 09:03 09:08
"
        )
    );
    let all = text(", override_gates: Share(1)");
    assert!(loads(&all).contains("W 2 T2 07:00"), "{}", loads(&all));
}

/// A truck that passes the gate goes before one that does not: D3 reports at 07:05 and is ready at 07:20, when load 2 would be twenty
/// minutes late with either.
#[test]
fn a_truck_that_passes_the_gate_goes_first() {
    let text = changed(&[
        ("volume_yd3: 40", "volume_yd3: 20"),
        (
            "belief: FreeFlow",
            "belief: FreeFlow, gates: [LastLoadBy(hours: 1.25)], override_gates: IfLate(minutes: 25)",
        ),
        ("count: 2", "count: 3"),
        (
            "(name: \"D\", trucks: \"T\", report: \"05:30\")",
            "(name: \"D\", count: 2, trucks: \"T\", report: \"05:30\"), \
             (name: \"L\", trucks: \"T3\", report: \"07:05\")",
        ),
    ]);
    assert!(loads(&text).contains("W 2 T3 07:20"), "{}", loads(&text));
}

/// The window ends at 08:00. With load 2, sent at 07:00, T2 leaves the site at 07:45 and would be home at 08:03: D2 says so. Heard,
/// the load waits for ever; overruled, or not asked, D2 drives it, and then stays on site, where a truck may stand: stranded, not a
/// minute driven past the limit.
#[test]
fn a_driver_who_is_overruled_stops_where_the_law_says() {
    overrules("rule_book: DutyWindow(hours: 2.5)");
}

/// The same day, the window one clock of a book that is written out.
#[test]
fn so_does_one_whose_clocks_are_carried_along() {
    overrules(
        "rule_books: [(name: \"short\", like: \"none\", rest_h: 10, window_h: 2.5)], rule_book: \"short\"",
    );
}

fn overrules(book: &str) {
    let text = |rule: &str| {
        changed(&[
            ("rule_book: \"none\"", book),
            ("volume_yd3: 40", "volume_yd3: 20"),
            ("belief: FreeFlow", &format!("belief: FreeFlow, {rule}")),
        ])
    };
    let places = [
        figure::STRANDED,
        figure::STRANDED_OVERRIDDEN,
        figure::UNDELIVERED,
        figure::VIOLATION_MIN,
    ];
    assert_eq!(figures(&text(""), &places), [1.0, 0.0, 0.0, 0.0]);
    let heard = text("drivers_word: Heard");
    assert_eq!(figures(&heard, &places), [0.0, 0.0, 1.0, 0.0]);
    assert!(lines(&heard, &["refused"]).starts_with(
        "\
07:00 T2 refused for W: driver's objection, duty window would end before home
"
    ));
    let overruled = text("drivers_word: Overruled");
    assert_eq!(figures(&overruled, &places), [1.0, 1.0, 0.0, 0.0]);
    assert_eq!(lines(&overruled, &["stranded"]), "07:45 D2 stranded at A\n");
    // The gate would have kept D2 at home.
    let gated = text("gates: [HomeWithin(probability: 0.5)]");
    assert_eq!(figures(&gated, &places), [0.0, 0.0, 1.0, 0.0]);
    let overridden = text("gates: [HomeWithin(probability: 0.5)], override_gates: Share(1)");
    assert_eq!(figures(&overridden, &places), [1.0, 1.0, 0.0, 0.0]);
}

#[test]
fn gates_that_are_not_there_cannot_be_overridden() {
    let text = changed(&[(
        "belief: FreeFlow",
        "belief: FreeFlow, override_gates: Share(0.5)",
    )]);
    let problems = scenario_problems(&text);
    assert!(
        problems.contains("gates are overridden, and the rule has none"),
        "{problems}"
    );
}
