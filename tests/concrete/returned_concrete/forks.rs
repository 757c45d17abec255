//! A look ahead knows what is in the drums of trucks that come back, and goes on as the day does.

use super::{scenario, with};
use plantday::engine::Luck;
use plantday::plant::{Event, Moment, Observer, Plan, World};
use plantday::units::Millis;

#[derive(Default)]
struct Tape(Vec<(Millis, Event)>);

impl Observer for Tape {
    fn event(&mut self, at: Millis, event: &Event) {
        self.0.push((at, *event));
    }
}

/// On a day without luck every fork is the day itself, whatever its luck: forked at the discharge, on the way back, while the truck
/// stands at the plant, in the bay on top of the old concrete, at the rack, on site, and on the way home.
#[test]
fn a_fork_of_a_day_without_luck_is_that_day() {
    let text = with("reuse: (age_limit_min: 70)");
    let scenario = scenario(&text);
    let plan = Plan::new(&scenario);
    let end = Millis::from_hours(12.0);
    for minutes in [6.9, 7.05, 7.2, 7.4, 7.55, 7.6, 7.7, 8.1, 8.2, 8.5].map(|hour| hour * 60.0) {
        let at = Millis::from_minutes(minutes);
        let mut world = World::new(&plan);
        world.run_to(0, Luck::new(1, 0), at, &mut ());
        let moment = Moment::new(world);
        let mut truth = World::new(&plan);
        truth.resume(&moment);
        let mut fork = World::new(&plan);
        fork.fork(&moment, Luck::new(99, 3));
        let (mut true_future, mut forked) = (Tape::default(), Tape::default());
        truth.go_on_to(end, &mut true_future);
        fork.go_on_to(end, &mut forked);
        assert_eq!(forked.0, true_future.0, "at {at}");
        assert!(
            forked
                .0
                .iter()
                .any(|(_, event)| matches!(event, Event::Returned { .. }))
        );
    }
}
