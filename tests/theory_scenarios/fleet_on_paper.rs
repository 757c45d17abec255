//! Q43: a fleet without luck, worked out exactly: loading 6, out 25, unloading 15, wash 5, back 20, a cycle of 71 min, all
//! trucks at the plant at time zero. Loads begun up to and with minute 480 are counted, and their waits for the bay. The
//! fleet balances at 71 ÷ 6 = 11.83 trucks. Arithmetic, computed.

use super::read;
use plantday::engine::Luck;
use plantday::plant::{Event, Observer, Plan, World};
use plantday::units::Millis;

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

#[test]
fn q43_a_fleet_without_luck() {
    for (trucks, loads, wait) in [
        (4, 28, 36),
        (8, 56, 168),
        (11, 76, 330),
        (12, 81, 465),
        (14, 81, 1417),
    ] {
        let text = format!(
            r#"(
    name: "fleet on paper",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", bay_queue: FirstCome, loading: Constant(6), rack: Constant(0))],
    sites: [(name: "A")],
    roads: (minutes: {{ "P": {{ "A": (25, 20) }} }}),
    trucks: [(name: "T", count: {trucks}, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "00:00", shift_h: 24)],
    endless: [(name: "E", destinations: [(site: "A", outlets: [{outlets}], position: Constant(0),
        discharge: Constant(15), chute_wash: Constant(5))])],
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    rules: [(name: "R", belief: FreeFlow, choose: LongestIdle, margin_min: 0, bay_wait_min: 0)],
)"#,
            outlets = "(rate_yd3_min: 1), ".repeat(trucks) // nobody waits on site
        );
        let scenario = read(&text);
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
