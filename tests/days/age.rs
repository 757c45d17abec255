//! How old concrete may be by the order: a limit of its own, a site that waives it, a stabilizer.
//!
//! Loading 6 min, rack 4, discharge 10, chute wash 5: a load is its way and 20 min old when it is discharged, and the desk reckons with
//! 25. The limit of all is 90 min (ASTM C94-13 to C94-20; since then purchaser and producer agree on one).

use crate::{changed, day};

use changed::changed;
use day::{figures, scenario, scenario_problems};
use plantday::engine::Luck;
use plantday::observe::{Figures, figure};
use plantday::plant::{Plan, World};

const DAY: &str = r#"(
    name: "paper day",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    concrete: (age_limit_min: 90),
    plants: [(name: "P", hours: [(open: "05:00", close: "17:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:00")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 10, spacing_min: 30,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow)],
)"#;

/// The way out takes so long; the order says this of its age.
fn far(out: u32, order: &str) -> String {
    changed(
        DAY,
        &[
            ("(20, 18)", &format!("({out}, 18)")),
            ("spacing_min: 30,", &format!("spacing_min: 30, {order}")),
        ],
    )
}

/// Loads placed, turned away as too old, undelivered.
fn fate(text: &str) -> Vec<f32> {
    figures(text, &[figure::LOADS, figure::OLD, figure::UNDELIVERED])
}

const SENT: [f32; 3] = [1.0, 0.0, 0.0];
const NOT_SENT: [f32; 3] = [0.0, 0.0, 1.0];

/// 25 + 35 min are 60. The desk knows the limit of the order: nothing is batched that the site would turn away.
#[test]
fn the_limit_of_the_order_holds() {
    let own = "age_limit_min: 60,";
    assert_eq!(fate(&far(35, own)), SENT);
    assert_eq!(fate(&far(36, own)), NOT_SENT);
    assert_eq!(figures(&far(36, own), &[figure::BATCHED_YD3]), [0.0]);
    assert_eq!(fate(&far(36, "")), SENT);
    // Longer than that of all.
    assert_eq!(fate(&far(66, "")), NOT_SENT);
    assert_eq!(fate(&far(66, "age_limit_min: 100,")), SENT);
    // Where nothing limits the others.
    let free = |text: String| text.replace("age_limit_min: 90", "age_limit_min: None");
    assert_eq!(fate(&free(far(36, own))), NOT_SENT);
    assert_eq!(fate(&free(far(66, ""))), SENT);
}

/// Another order goes by the limit of all.
#[test]
fn the_limit_of_one_order_is_not_that_of_another() {
    let two = far(36, "age_limit_min: 60,").replace(
        "orders: [",
        "orders: [(name: \"V\", site: \"A\", first: \"10:00\", volume_yd3: 10, spacing_min: 30, position: Constant(0), \
         discharge_luck: Constant(1), chute_wash: Constant(5)), ",
    );
    assert_eq!(fate(&two), [1.0, 0.0, 1.0]);
}

/// 25 + 95 min are 120: 30 beyond 90. With a stabilizer for 30 min at $5 a yd³ the load goes, and costs $50 more than one that may be so
/// old without.
#[test]
fn a_stabilizer_has_its_minutes_and_its_price() {
    let stabilizer = "stabilizer: (min: 30, per_yd3: 5),";
    assert_eq!(fate(&far(95, "")), NOT_SENT);
    assert_eq!(fate(&far(95, stabilizer)), SENT);
    assert_eq!(fate(&far(96, stabilizer)), NOT_SENT);
    // It adds to the order's own limit too: 60 + 30.
    let own = format!("age_limit_min: 60, {stabilizer}");
    assert_eq!(fate(&far(65, &own)), SENT);
    assert_eq!(fate(&far(66, &own)), NOT_SENT);
    let cost = |order: &str| figures(&far(95, order), &[figure::CASH_PAID])[0];
    let more = cost(stabilizer) - cost("age_limit_min: 120,");
    assert!((more - 50.0).abs() < 0.01, "{more}");
}

/// The site says 07:00 and is ready at 08:00: the load, batched from 06:30 on, would be discharged at 08:10, 100 min old.
fn waits(order: &str) -> String {
    far(20, order).replace(
        "company: (",
        "changes: (not_ready: 1, not_ready_min: Constant(60)), company: (",
    )
}

/// Loads turned away as too old in each of so many days.
fn turned_away(text: &str, days: u64) -> Vec<bool> {
    let scenario = scenario(text);
    let plan = Plan::new(&scenario);
    let mut figures = Figures::new(&plan, &scenario.money);
    let mut row = vec![0.0; figures.width()];
    let day = |replication| {
        figures.begin();
        World::new(&plan).run(0, Luck::new(1, replication), &mut figures);
        figures.row(&mut row);
        // What is made again is fresh, and taken.
        assert_eq!(row[figure::LOADS], 1.0);
        row[figure::OLD] > 0.0
    };
    (0..days).map(day).collect()
}

/// The limit is hard unless the purchaser waives it, as ASTM C94 allows for concrete that can be placed without added water.
#[test]
fn a_site_may_waive_the_limit() {
    assert_eq!(turned_away(&waits(""), 3), [true; 3]);
    assert_eq!(turned_away(&waits("age_waived_share: 0,"), 3), [true; 3]);
    assert_eq!(turned_away(&waits("age_waived_share: 1,"), 3), [false; 3]);
    // Of 400 first loads 0.3 are waived: 120, with a standard deviation of 9.2. Whoever waives at 0.3 does at 0.6.
    let rare = turned_away(&waits("age_waived_share: 0.3,"), 400);
    let often = turned_away(&waits("age_waived_share: 0.6,"), 400);
    let waived = |days: &[bool]| days.iter().filter(|old| !**old).count();
    assert!((88..=152).contains(&waived(&rare)), "{}", waived(&rare));
    assert!((208..=272).contains(&waived(&often)), "{}", waived(&often));
    assert!(rare.iter().zip(&often).all(|(rare, often)| *rare || !often));
}

/// Whether a site waives is not known before: a load that would be too old is not sent.
#[test]
fn nobody_counts_on_a_site_that_waives() {
    assert_eq!(fate(&far(66, "age_waived_share: 1,")), NOT_SENT);
}

#[test]
fn what_is_written_wrongly_is_said() {
    let said = scenario_problems(&far(
        20,
        "age_limit_min: 0, age_waived_share: 30, stabilizer: (min: 30, per_yard: 5),",
    ));
    for part in [
        "0 is out of range (expected minutes, more than 0",
        "30 is out of range (expected share of loads, 0 to 1)",
        "unknown field `per_yard` in a stabilizer block",
    ] {
        assert!(said.contains(part), "{part} in\n{said}");
    }
}
