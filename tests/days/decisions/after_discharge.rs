//! Where empty trucks head for.

use super::changed;
use super::day::{figures, lines, loads, scenario_problems};
use plantday::observe::figure;

/// A second plant, Q, ten minutes from the site A and 25 from P. The one truck is P's.
fn two_plants(decision: &str, more: &[(&str, &str)]) -> String {
    let rule = format!("belief: FreeFlow, lend: Always, choose: SoonestOnSite, {decision}");
    let mut changes = vec![
        (
            "rack: Constant(4))]",
            "rack: Constant(4)), (name: \"Q\", loading: Constant(6), rack: Constant(4))]",
        ),
        (
            "\"A\": (20, 18) }",
            "\"A\": (20, 18), \"Q\": 25 }, \"Q\": { \"A\": 10 }",
        ),
        ("count: 2", "count: 1"),
        ("volume_yd3: 40", "volume_yd3: 20"),
        ("belief: FreeFlow", rule.as_str()),
    ];
    changes.extend_from_slice(more);
    changed(&changes)
}

/// The truck is empty at 07:15. From home (18 min) it would load at P from 07:33 on and be on site at 08:03; the nearest plant
/// is Q (10 min): loading at 07:25, on site at 07:45. After load 2, at 08:00, it heads for Q once more, finds nothing to do there
/// at 08:10, and is home 25 min later.
#[test]
fn the_nearest_plant_saves_a_way_to_the_next_load() {
    assert_eq!(
        loads(&two_plants("", &[])),
        "\
W 1 T 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T 07:33 07:39 07:43 08:03 +33 08:03 08:13 08:18
"
    );
    let nearest = two_plants("after_discharge: NearestPlant", &[]);
    assert_eq!(
        loads(&nearest),
        "\
W 1 T 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T 07:25 07:31 07:35 07:45 +15 07:45 07:55 08:00
"
    );
    // 08:00 + 10 + 25 + 20 of washing.
    assert_eq!(
        lines(&nearest, &["off duty"]),
        "08:55 D off duty after 3 h 25 min\n"
    );
}

/// The window ends at 08:30. After load 1, at 07:15, the way to Q and home ends at 07:50: it fits. After load 2, at 08:00, it would
/// end at 08:35: straight home, 08:18.
#[test]
fn who_would_not_get_home_from_there_drives_home() {
    let text = two_plants(
        "after_discharge: NearestPlant",
        &[("rule_book: \"none\"", "rule_book: DutyWindow(hours: 3)")],
    );
    assert_eq!(
        lines(&text, &["leaves the site", "off duty"]),
        "\
07:15 T leaves the site
08:00 T leaves the site
08:38 D off duty after 3 h 8 min
"
    );
    assert_eq!(figures(&text, &[figure::STRANDED]), [0.0]);
}

/// Load 2 is due at 10:00 only and would be sent from Q at 09:40. The truck stands at Q from 07:25 on; its driver's window ends at
/// 09:00, so it starts for home at 08:35 and is there at 09:00, within the law: whether the window follows from the report, or is
/// one clock of a book that is written out. A clock of an hour at the wheel, of which 30 min are driven, loses nothing by waiting.
#[test]
fn who_stands_elsewhere_starts_for_home_while_it_is_legal() {
    let written = "rule_books: [(name: \"short\", like: \"none\", rest_h: 10, window_h: 3.5, driving_h: 1)], rule_book: \"short\"";
    for book in ["rule_book: DutyWindow(hours: 3.5)", written] {
        let text = two_plants(
            "after_discharge: NearestPlant",
            &[
                ("rule_book: \"none\"", book),
                ("spacing_min: 30", "spacing_min: 180"),
            ],
        );
        assert_eq!(
            lines(&text, &["off duty", "washed out"]),
            "09:20 T washed out\n09:20 D off duty after 3 h 50 min\n"
        );
        let places = [figure::STRANDED, figure::VIOLATION_MIN];
        assert_eq!(figures(&text, &places), [0.0, 0.0]);
    }
}

/// Nothing waits when T is empty at 07:15 with load 1 of an order that is far ahead of itself: home. When load 2 waits (since
/// 06:55), it counts at Q, the nearest plant: there.
#[test]
fn the_plant_with_the_most_work() {
    let text = two_plants("after_discharge: MostWork", &[]);
    assert!(loads(&text).ends_with("W 2 T 07:25 07:31 07:35 07:45 +15 07:45 07:55 08:00\n"));
    let later = text.replace("spacing_min: 30", "spacing_min: 120");
    assert!(
        loads(&later).contains("W 2 T 08:30"),
        "sent from home: {}",
        loads(&later)
    );
}

#[test]
fn who_never_lends_cannot_head_for_another_plant() {
    let text = two_plants("after_discharge: NearestPlant", &[]).replace("lend: Always, ", "");
    let problems = scenario_problems(&text);
    assert!(
        problems.contains("trucks head for another plant, and the rule never lends them"),
        "{problems}"
    );
}
