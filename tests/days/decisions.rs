//! Decisions of a rule on days without luck, worked out on paper: each test holds the timetable as a table and expects exactly
//! that.

mod additions;
mod after_discharge;
mod bay_queue;
use crate::changed;
mod choose;
mod closing;
use crate::day;
mod overrides;
mod plant_hours;
mod reading;
mod redirect;
mod refusals;
mod shift;
mod spacing;

/// One plant, one bay, two trucks, one site, everything constant. Loading 6, rack 4, out 20, position 0, discharge 10 (10 yd³
/// at 1 yd³ a minute), chute wash 5, back 18: a round trip takes 63 min. Reports 05:30, pre-trip 15, washout and post-trip 20.
const PLAIN: &str = r#"(
    name: "paper day",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "17:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", count: 2, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 40, spacing_min: 30,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow)],
)"#;

/// The paper day with changes, all of which must be there.
fn changed(changes: &[(&str, &str)]) -> String {
    changed::changed(PLAIN, changes)
}
