//! What the desk is told, and when: days that differ in what nobody knows yet are decided alike until it is told.

use crate::changed::changed;
use crate::day::scenario;
use plantday::engine::Luck;
use plantday::observe::Log;
use plantday::plant::{Plan, World};

/// One plant, three trucks, one site, everything constant: loading 6, rack 4, out 20, discharge 10, chute wash 5, back 18. Loads are
/// due at 07:00, 07:30 and 08:00 and sent 30 min before. Concrete of any age is taken.
const PLAIN: &str = r#"(
    name: "paper day",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    concrete: (age_limit_min: None),
    changes: (),
    plants: [(name: "P", loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A"), (name: "B")],
    roads: (minutes: { "P": { "A": (20, 18), "B": 15 } }),
    trucks: [(name: "T", count: 3, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 30, spacing_min: 30,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow, send: Paced)],
)"#;

/// The log of a replication, only lines that hold one of the words.
fn lines_of(text: &str, replication: u64, words: &[&str]) -> String {
    let scenario = scenario(text);
    let plan = Plan::new(&scenario);
    let mut log = Log::with_desk(&scenario);
    World::new(&plan).run(0, Luck::new(1, replication), &mut log);
    let text = log.text();
    let lines = text
        .lines()
        .filter(|line| words.iter().any(|word| line.contains(word)));
    lines.map(|line| format!("{line}\n")).collect()
}

/// The first replication whose log has this line.
fn replication_with(text: &str, line: &str) -> u64 {
    (0..64)
        .find(|replication| lines_of(text, *replication, &[line]).contains(line))
        .unwrap_or_else(|| panic!("no luck brings {line:?}"))
}

/// A site that is not ready, as often 10 min late as 70. At 07:00 the desk hears of it and reckons 40 min: the second load,
/// due at 07:30 and to be sent at 07:00, is to come when the first is gone, at 07:50, and is to be sent at 07:20.
const NOT_READY: &str = "changes: (not_ready: 1, not_ready_min: Empirical([10, 70]))";

/// Ready at 07:10, the desk hears so: the second load is sent at once and comes at 07:40, 10 min after it could have been taken.
#[test]
fn a_site_that_is_ready_sooner_than_reckoned_gets_its_next_load_at_once() {
    let text = changed(PLAIN, &[("changes: ()", NOT_READY)]);
    let soon = replication_with(&text, "07:10 W takes loads now");
    assert_eq!(
        lines_of(&text, soon, &["takes", "in the bay", "on site"]),
        "\
06:30 T1 in the bay at P
07:00 W takes no loads for now
07:00 T1 on site, W load 1, 0 min late
07:10 W takes loads now
07:10 T2 in the bay at P
07:30 T3 in the bay at P
07:40 T2 on site, W load 2, 10 min late
08:00 T3 on site, W load 3, 0 min late
"
    );
}

/// Not ready at 07:20, it has to be one of those that take 70 min: the second load is to come at 08:20, when the first is gone, and is
/// sent at 07:50.
#[test]
fn a_site_that_is_not_ready_yet_is_reckoned_with_as_those_that_take_so_long() {
    let text = changed(PLAIN, &[("changes: ()", NOT_READY)]);
    let late = replication_with(&text, "08:10 W takes loads now");
    assert_eq!(
        lines_of(&text, late, &["takes", "in the bay", "on site"]),
        "\
06:30 T1 in the bay at P
07:00 W takes no loads for now
07:00 T1 on site, W load 1, 0 min late
07:50 T2 in the bay at P
08:00 T3 in the bay at P
08:10 W takes loads now
08:20 T2 on site, W load 2, 0 min late
08:30 T3 on site, W load 3, 0 min late
"
    );
}

/// At 07:00 a load stands before W, and Y waits for one. By what the desk can reckon W takes it in 40 min, whichever of the two it will
/// be: a rule that redirects from 40 min on does so, one from 41 min on does not.
#[test]
fn a_load_is_redirected_by_what_can_be_reckoned() {
    let text = changed(
        PLAIN,
        &[
            ("changes: ()", NOT_READY),
            ("count: 3", "count: 1"),
            ("volume_yd3: 30", "volume_yd3: 10"),
            ("send: Paced", "redirect: SameMix(wait_min: 40)"),
            (
                "orders: [",
                "orders: [(name: \"Y\", site: \"B\", first: \"07:05\", volume_yd3: 10, spacing_min: 0, \
                 position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)), ",
            ),
        ],
    );
    let patient = text.replace("wait_min: 40", "wait_min: 41");
    let sent_on = "07:00 T sent on: W is not ready\n";
    for opens in ["07:10 W takes loads now", "08:10 W takes loads now"] {
        let replication = replication_with(&patient, opens);
        assert_eq!(
            lines_of(&text, replication, &["sent on"]),
            sent_on,
            "{opens}"
        );
        assert_eq!(lines_of(&patient, replication, &["sent on"]), "", "{opens}");
    }
}

/// W is due at half past midnight and sent at midnight; a driver is on duty from 22:00 on. That its customer will cancel is told at
/// midnight: until then the driver waits for it, and is off duty twenty minutes later.
#[test]
fn an_order_that_will_be_cancelled_is_waited_for_until_that_is_told() {
    let text = changed(
        PLAIN,
        &[
            (
                "company:",
                "period: (first_day: Wednesday, days: 2), company:",
            ),
            ("changes: ()", "changes: (cancelled: 1)"),
            ("count: 3", "count: 1"),
            (
                "report: \"05:30\"",
                "report: \"22:00\", shift_h: 6, days: [Wednesday]",
            ),
            (
                "first: \"07:00\", volume_yd3: 30",
                "day: 2, first: \"00:30\", volume_yd3: 10",
            ),
        ],
    );
    assert_eq!(
        lines_of(&text, 0, &["cancelled", "off duty"]),
        "\
00:00 +1 W cancelled
00:20 +1 D off duty after 2 h 20 min
"
    );
}

/// X may be called in at 10:00 and is the only order. Whether it will be, nobody knows before: all three drivers, free at 05:45, stay.
/// It is not called in: they go home, and are off duty twenty minutes later.
#[test]
fn drivers_wait_for_an_order_that_may_be_called_in() {
    let text = changed(
        PLAIN,
        &[(
            "first: \"07:00\"",
            "first: \"11:00\", called: \"10:00\", chance: 0.5",
        )],
    );
    let without = replication_with(&text, "W not ordered");
    let off_duty = "\
10:20 D1 off duty after 4 h 50 min
10:20 D2 off duty after 4 h 50 min
10:20 D3 off duty after 4 h 50 min
";
    let told = lines_of(&text, without, &["off duty"]);
    let mut lines: Vec<&str> = told.lines().collect();
    lines.sort_unstable();
    assert_eq!(lines.join("\n") + "\n", off_duty);
    let with = replication_with(&text, "W load 3");
    let until_ten = |replication| {
        let all = lines_of(&text, replication, &[""]);
        let said_before_ten = |line: &&str| line[..5] < *"10:00" && !line.contains("not ordered");
        all.lines()
            .filter(said_before_ten)
            .map(str::to_owned)
            .collect::<Vec<_>>()
    };
    assert_eq!(until_ten(with), until_ten(without));
}
