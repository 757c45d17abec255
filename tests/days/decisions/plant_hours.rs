//! Plants that are kept open.

use super::changed;
use super::day::{figures, lines, loads};
use plantday::observe::figure;

fn early_close(rule: &str, money: &str) -> String {
    changed(&[
        ("close: \"17:00\"", "close: \"07:45\""),
        ("belief: FreeFlow", &format!("belief: FreeFlow{rule}")),
        ("rules: [", &format!("money: ({money}), rules: [")),
    ])
}

const PLACES: [usize; 2] = [figure::UNDELIVERED, figure::KEPT_OPEN_H];

/// Load 4 is sent at 08:00, and the plant closes at 07:45. It would cost 50 for a late load and 10 × 180 for the volume; an hour of
/// the crew costs 110. The plant stays open until 08:45 and then has nothing left to refuse.
#[test]
fn a_plant_stays_open_while_it_saves_more_than_it_costs() {
    assert_eq!(figures(&early_close("", ""), &PLACES), [1.0, 0.0]);
    let kept = early_close(", plant_hours: KeptOpen(hours: 3)", "");
    assert_eq!(figures(&kept, &PLACES), [0.0, 1.0]);
    assert_eq!(
        lines(&kept, &["kept", "crew"]),
        "07:45 P is kept open for 60 min\n"
    );
    assert!(loads(&kept).ends_with("W 4 T2 08:03 08:09 08:13 08:33 +3 08:33 08:43 08:48\n"));
    // Crews are paid for it: 05:00 to 07:45 and an hour.
    let cost = |text: &str| figures(text, &[figure::COST])[0];
    let paid = early_close(", plant_hours: KeptOpen(hours: 3)", "crew_per_open_h: 0");
    assert_eq!(cost(&kept) - cost(&paid), 110.0 * 3.75);
}

/// At 5 for a yd³ the load costs 50 + 50 only: less than the crew. Fifteen minutes, until 08:00, are too short to send it.
#[test]
fn a_plant_closes_where_that_is_cheaper() {
    let cheap = early_close(
        ", plant_hours: KeptOpen(hours: 3)",
        "undelivered_per_yd3: 5, late_per_load: 50",
    );
    assert_eq!(figures(&cheap, &PLACES), [1.0, 0.0]);
    let short = early_close(", plant_hours: KeptOpen(hours: 0.25)", "");
    assert_eq!(figures(&short, &PLACES), [1.0, 0.0]);
    let half = early_close(", plant_hours: KeptOpen(hours: 0.5)", "");
    assert_eq!(figures(&half, &PLACES), [0.0, 0.5]);
}
