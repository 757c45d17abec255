//! A fleet without luck, worked out exactly: loading 6, out 25, unloading 15, wash 5, back 20, a cycle of 71 min, all trucks at the plant
//! at time zero. The fleet balances at 71 ÷ 6 = 11.83 trucks; below that N trucks bring N × 60 ÷ 71 loads an hour, above it 10.

use super::super::Work;
use super::super::check::{Basis, Sheet};
use super::{place, scenario, study};
use crate::engine::Luck;
use crate::plant::{Event, Observer, Plan, World};
use crate::units::Millis;

/// Trucks; loads begun and minutes waited for the bay until 08:00; loads in 71 h and the minutes that each then waits.
const FLEETS: [(u32, [u32; 2], [f64; 2]); 5] = [
    (4, [28, 36], [240.0, 0.0]),
    (8, [56, 168], [480.0, 0.0]),
    (11, [76, 330], [660.0, 0.0]),
    (12, [81, 465], [710.0, 1.0]), // 12 × 6 − 71
    (14, [81, 1417], [710.0, 13.0]),
];

pub(super) const CASES: usize = FLEETS.len();

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

/// Nobody waits on site. Measured over 71 h, which are 60 cycles, so that the count is whole: a load that leaves the bay at the first
/// moment of the span counts, one at the last does not.
fn text(trucks: u32) -> String {
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
        outlets = "(rate_yd3_min: 1), ".repeat(trucks as usize)
    )
}

pub(super) fn check(work: &Work<'_>, sheet: &mut Sheet) -> Option<()> {
    for (trucks, [loads, wait], [in_long_run, each_wait]) in FLEETS {
        let scenario = scenario(&text(trucks));
        let mut begun = Begun::default();
        World::new(&Plan::new(&scenario)).run(0, Luck::new(1, 0), &mut begun);
        let found = study(&scenario, 1, work)?;
        let figure = |key: &str| f64::from(found.rows.row(0, 0)[place(&found, key)]);
        sheet.about(
            format!("{trucks} trucks without luck, a cycle of 71 min, a bay of 6"),
            Basis::Paper,
            "Arithmetic: N trucks bring N × 60 ÷ 71 loads an hour up to 11.83 trucks, 10 above",
        );
        sheet.near(
            "loads begun by 08:00",
            begun.loads.into(),
            loads.into(),
            0.0,
        );
        sheet.near(
            "their waits in minutes",
            begun.wait.minutes(),
            wait.into(),
            0.0,
        );
        // Four-byte figures keep seven digits.
        let mut near = |words: &'static str, key: &str, value: f64| {
            sheet.close(words, figure(key), value, 1e-6);
        };
        near(
            "loads an hour",
            "P bays: throughput_per_h",
            in_long_run / 71.0,
        );
        near("loads placed in 71 h", "loads", in_long_run);
        near("mean wait in minutes", "P bays: mean_wait_min", each_wait);
        near(
            "share of time busy",
            "P bays: busy_share",
            in_long_run * 6.0 / 4260.0,
        );
        work.done(1)?;
    }
    Some(())
}
