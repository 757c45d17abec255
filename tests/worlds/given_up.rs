//! A load that a truck has given up is not promised to it again at the same moment. By hand: a road that is closed to loaded trucks for a
//! time lets a start three minutes later look better than one at once, so that what the desk reckons with a wait for the bay, and the
//! driver without, need not agree.

use plantday::engine::Luck;
use plantday::plant::{Event, Observer, Plan, World};
use plantday::scenario::parse;
use plantday::units::{Millis, OrderId, TruckId};

/// A bridge that is closed to loaded trucks from seven to nine, a long way round, a window of six hours, three minutes for the bay. Found
/// among random worlds; the luck hangs on the names.
const DAY: &str = r#"(
    name: "closed bridge", period: (first_day: Friday),
    rule_book: DutyWindow(hours: 6),
    plants: [(name: "P0", pull_in_min: 1.5)],
    sites: [(name: "S1")],
    roads: Network(
        junctions: ["West", "East", "Mid"],
        links: [
            (from: "P0", to: "West", miles: 2, mph: 30), (from: "East", to: "S1", miles: 4, mph: 25),
            (from: "West", to: "East", miles: 1, mph: 30, closed_to_loaded: [(from: "07:00", to: "09:00")]),
            (from: "West", to: "Mid", miles: 4, mph: 40), (from: "Mid", to: "East", miles: 3, mph: 40),
        ],
        luck: Lognormal(mean: 1, cv: 0.2)),
    trucks: [(name: "T0", count: 4, home: "P0", axles: [(at_ft: 0, empty_lb: 12000, share: 0.15),
        (at_ft: 16, empty_lb: 8500, share: 0.42), (at_ft: 20.5, empty_lb: 8500, share: 0.43)])],
    drivers: [(name: "D0", trucks: "T0", report: "07:00"), (name: "M", count: 1, trucks: "T0", report: "00:15", shift_h: 3)],
    drawn: [(name: "few", outlets: [(rate_yd3_min: 0.8)], per_day: Poisson(1.2), first: ("06:00", "15:00"), volume_yd3: Uniform(1, 30),
        spacing_min: 12, site: "S1")],
    rules: [(name: "R0", bay_wait_min: 3, shift: Staggered)],
)"#;

/// Loads that were given up and when, and how many of their trucks were refused for them at that moment.
#[derive(Default)]
struct GivenUp {
    last: Option<(Millis, TruckId, OrderId)>,
    times: u32,
    refused: u32,
}

impl Observer for GivenUp {
    const EACH_REFUSAL: bool = true;

    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::PromiseBroken { order, truck, .. } => {
                self.times += 1;
                self.last = Some((at, truck, order));
            }
            Event::Refused { order, truck, .. } => {
                self.refused += u32::from(self.last == Some((at, truck, order)));
            }
            Event::Promised { order, truck, .. } => {
                assert_ne!(self.last, Some((at, truck, order)));
            }
            _ => {}
        }
    }
}

#[test]
fn what_a_truck_gives_up_it_is_not_promised_at_once() {
    let scenario = parse("day.ron", DAY).unwrap_or_else(|faults| panic!("{faults}"));
    let plan = Plan::new(&scenario);
    let mut world = World::new(&plan);
    let mut seen = GivenUp::default();
    for replication in 0..400 {
        world.run(0, Luck::new(41, replication), &mut seen);
    }
    assert!(seen.times > 0 && seen.refused > 0, "{}", seen.times);
}
