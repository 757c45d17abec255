//! Q43: a fleet without luck, worked out exactly: loading 6, out 25, unloading 15, wash 5, back 20, a cycle of 71 min, all
//! trucks at the plant at time zero. Arithmetic, computed: the fleet balances at 71 ÷ 6 = 11.83 trucks; below that N trucks
//! bring N × 60 ÷ 71 loads an hour, above it 10.

use super::fleet::{place, read, study};
use plantday::engine::Luck;
use plantday::plant::{Event, Observer, Plan, World};
use plantday::units::Millis;

/// Loads begun up to and with minute 480, and their waits for the bay.
#[derive(Default)]
struct Begun {
    loads: u32,
    wait: Millis,
}

impl Observer for Begun {
    fn event(&mut self, at: Millis, event: &Event) {
        if let Event::BayEntered { waited, .. } = *event
            && at <= Millis::from_minutes(480.0)
        {
            self.loads += 1;
            self.wait += waited;
        }
    }
}

fn text(trucks: usize) -> String {
    format!(
        r#"(
    name: "fleet on paper",
    period: (days: 7, measure: (from_h: 71, to_h: 142)),
    rule_book: "none", concrete: (age_limit_min: None),
    company: (promise_horizon_min: 0),
    plants: [(name: "P", bay_queue: FirstCome, loading: Constant(6), rack: Constant(0))],
    sites: [(name: "A")],
    roads: (minutes: {{ "P": {{ "A": (25, 20) }} }}),
    trucks: [(name: "T", count: {trucks}, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "00:00", shift_h: 168, days: [Monday])],
    endless: [(name: "E", destinations: [(site: "A", outlets: [{outlets}], position: Constant(0),
        discharge: Constant(15), chute_wash: Constant(5))])],
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    rules: [(name: "R", belief: FreeFlow, choose: LongestIdle, early_min: 0, bay_wait_min: 0)],
)"#,
        outlets = "(rate_yd3_min: 1), ".repeat(trucks) // nobody waits on site
    )
}

#[test]
fn q43_loads_and_waits_of_the_first_eight_hours() {
    for (trucks, loads, wait) in [
        (4, 28, 36),
        (8, 56, 168),
        (11, 76, 330),
        (12, 81, 465),
        (14, 81, 1417),
    ] {
        let scenario = read(&text(trucks));
        let plan = Plan::new(&scenario);
        let mut begun = Begun::default();
        World::new(&plan).run(0, Luck::new(1, 0), &mut begun);
        assert_eq!(
            (begun.loads, begun.wait),
            (loads, Millis::from_minutes(f64::from(wait))),
            "{trucks} trucks"
        );
    }
}

/// Measured over 71 h, which are 60 cycles, so that the count is whole: a load that leaves the bay at the first moment of the
/// span counts, one at the last does not. Four-byte figures keep seven digits.
#[test]
fn q43_loads_an_hour_in_the_long_run() {
    for (trucks, loads, wait_min) in [
        (4, 240.0, 0.0),
        (8, 480.0, 0.0),
        (11, 660.0, 0.0),
        (12, 710.0, 1.0), // 12 × 6 − 71
        (14, 710.0, 13.0),
    ] {
        let comparison = study(&read(&text(trucks)), 1);
        let row = comparison.rows.row(0, 0);
        let found = |key: &str| f64::from(row[place(&comparison, key)]);
        let near = |found: f64, value: f64| (found - value).abs() <= 1e-6 * value;
        let throughput = found("P bays: throughput_per_h");
        assert!(near(throughput, loads / 71.0), "{trucks}: {throughput}");
        let placed = found("loads");
        assert!(near(placed, loads), "{trucks}: {placed}");
        let wait = found("P bays: mean_wait_min");
        assert!(near(wait, wait_min), "{trucks}: {wait}");
        let busy = found("P bays: busy_share");
        assert!(near(busy, loads * 6.0 / 4260.0), "{trucks}: {busy}");
    }
}
