//! The queue for a bay.

use super::changed;
use super::day::lines;

/// Four loads due at 07:00, all misread, all found; the rack takes 10 min, so they are sent at 06:24. T1 is back from the rack at
/// 06:40, T2 at 06:46, T3 at 06:52; the bay, free at 06:42, has T1 until 06:54. Then two wait: who came back first is dried up
/// first, T2 until 07:06, T3 until 07:18; then T4 has its first turn, and at 07:34 its second.
#[test]
fn loads_that_come_back_are_dried_up_in_turn() {
    for queue in ["ByRule", "FirstCome"] {
        let text = changed(&[
            (
                "plants: [(name: \"P\",",
                &format!(
                    "concrete: (rack: (misread: 1, found: 1, dry_up_room_yd3: 0.4, dry_up: Constant(12))), \
                     plants: [(name: \"P\", bay_queue: {queue},"
                ),
            ),
            (
                "volume_yd3: 40, spacing_min: 30",
                "load_yd3: 9.5, volume_yd3: 38, spacing_min: 0",
            ),
            ("count: 2", "count: 4"),
            ("rack: Constant(4)", "rack: Constant(10)"),
            ("belief:", "room_kept_yd3: 0.5, belief:"),
        ]);
        assert_eq!(
            lines(&text, &["in the bay"]),
            "\
06:24 T1 in the bay at P
06:30 T2 in the bay at P
06:36 T3 in the bay at P
06:42 T1 in the bay at P
06:54 T2 in the bay at P
07:06 T3 in the bay at P
07:18 T4 in the bay at P
07:34 T4 in the bay at P
"
        );
    }
}
