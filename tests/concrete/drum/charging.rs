//! How fast a bay charges drums, through the whole program, against what a maker of plants publishes.

use super::day::scenario;
use plantday::engine::Luck;
use plantday::plant::{Event, Observer, Plan, World};
use plantday::units::Millis;

/// When trucks leave the bay.
#[derive(Default)]
struct Bay(Vec<Millis>);

impl Observer for Bay {
    fn event(&mut self, at: Millis, event: &Event) {
        if let Event::BayLeft { .. } = event {
            self.0.push(at);
        }
    }
}

/// Minutes from one full drum of 10 yd³ to the next where the bay needs so many minutes a yd³, and drums wait for it.
fn minutes_a_load(min_per_yd3: f64) -> f64 {
    let text = format!(
        r#"(
        name: "charging",
        rule_book: "none",
        concrete: (age_limit_min: None),
        company: (promise_horizon_min: 0),
        plants: [(name: "P", loading: PerYard(fixed_min: 0, min_per_yd3: {min_per_yd3}, luck: Constant(1)), rack: Constant(5))],
        sites: [(name: "A")],
        roads: (minutes: {{ "P": {{ "A": (20, 18) }} }}),
        trucks: [(name: "T", count: 12, home: "P")],
        drivers: [(name: "D", trucks: "T", report: "05:00")],
        orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 120, spacing_min: 0.1)],
        rules: [(name: "R", belief: FreeFlow)],
    )"#
    );
    let scenario = scenario(&text);
    let plan = Plan::new(&scenario);
    let mut bay = Bay::default();
    World::new(&plan).run(0, Luck::new(1, 0), &mut bay);
    assert_eq!(bay.0.len(), 12);
    (bay.0[11] - bay.0[0]).minutes() / 11.0
}

/// A typical truck is charged at 165 to 185 yd³ an hour: 3.64 to 3.24 min for 10 yd³. Weighing up takes a third of the batch time
/// and does not overlap with charging: 5.14 min at 175 yd³ an hour, 116.7 yd³ an hour sustained (public note of a maker of
/// plant equipment, which calls the plant one of 200 yd³ an hour).
#[test]
fn a_bay_charges_drums_as_published() {
    let near = |found: f64, expected: f64, slack: f64| {
        assert!((found - expected).abs() <= slack, "{found} for {expected}");
    };
    near(minutes_a_load(60.0 / 165.0), 3.636, 0.01);
    near(minutes_a_load(60.0 / 185.0), 3.243, 0.01);
    let charging_min = 10.0 * 60.0 / 175.0;
    let batch_min = minutes_a_load(charging_min / (1.0 - 1.0 / 3.0) / 10.0);
    near(batch_min, 5.142_857, 0.005 * 5.142_857);
    near(10.0 * 60.0 / batch_min, 116.666_667, 0.005 * 116.666_667);
}
