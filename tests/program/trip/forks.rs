//! A fork keeps what is revealed and nothing of what is to come.

use plantday::dispatch::{
    Additions, AfterDischarge, Fetch, Gate, Lend, Override, PlantHours, Redirect, Retrieval, Rule,
    SendHome, Shift,
};
use plantday::engine::Luck;
use plantday::plant::{Event, Moment, Observer, Plan, World};
use plantday::scenario::{self, Scenario};
use plantday::units::Millis;
use std::path::Path;

fn demo(name: &str) -> Scenario {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("scenarios")
        .join(name);
    scenario::read(&path).expect("the demo is right")
}

/// Everything that happens, as text.
#[derive(Default)]
struct Log(Vec<(Millis, String)>);

impl Observer for Log {
    fn event(&mut self, at: Millis, event: &Event) {
        self.0.push((at, format!("{event:?}")));
    }
}

fn times() -> impl Iterator<Item = (u64, Millis)> {
    // Through two days: early, in the rush, in the evening, at night.
    [5.2, 7.9, 10.0, 13.3, 16.7, 19.4, 23.5, 31.9, 39.5, 44.0]
        .into_iter()
        .zip(0..)
        .map(|(hour, replication)| (replication, Millis::from_hours(hour)))
}

fn future(world: &mut World<'_>, until: Millis) -> Vec<(Millis, String)> {
    let mut log = Log::default();
    world.go_on_to(until, &mut log);
    log.0
}

/// The rules of a scenario, and two more that make every further decision of the desk.
fn with_all_decisions(mut scenario: Scenario) -> Scenario {
    let fetch = Fetch {
        foreseen: true,
        waits: true,
        own_drivers: true,
        ..Fetch::default()
    };
    let usual = scenario.rules[0].clone();
    scenario.rules.push(Rule {
        retrieval: Retrieval::Fetch(fetch),
        shift: Shift::Matched { spare: 1 },
        send_home: SendHome::LongestDay { hold: 1 },
        after_discharge: AfterDischarge::MostWork,
        additions: Additions::FirstFreeTime { hours: 4.0 },
        plant_hours: PlantHours::KeptOpen { hours: 3.0 },
        redirect: Redirect::SameMix { wait_min: 5.0 },
        lend: Lend::Always,
        ..usual.clone()
    });
    scenario.rules.push(Rule {
        retrieval: Retrieval::FetchDriver(fetch),
        shift: Shift::Staggered {
            minutes: Some(20.0),
        },
        after_discharge: AfterDischarge::NearestPlant,
        additions: Additions::OnlyIfHolds,
        gates: vec![Gate::HomeWithin { probability: 0.9 }],
        override_gates: Override::Share { share: 0.3 },
        ..usual
    });
    scenario
}

/// Two worlds that differ only in the luck after a moment give the same forks, event by event; each fork differs from the
/// true future of both, and from other forks.
#[test]
fn forks_do_not_see_the_true_future() {
    for name in [
        "estuary_week.ron",
        "estuary_day.ron",
        "yard_study.ron",
        "shuttle_day.ron",
    ] {
        let scenario = with_all_decisions(demo(name));
        let plan = Plan::new(&scenario);
        let rules = [0, scenario.rules.len() - 2, scenario.rules.len() - 1];
        for rule in rules {
            for (replication, at) in times() {
                if at < plan.end {
                    one_moment(&plan, name, (rule, replication), at);
                }
            }
        }
    }
}

fn one_moment(plan: &Plan, name: &str, (rule, replication): (usize, u64), at: Millis) {
    let mut world = World::new(plan);
    world.run_to(rule, Luck::new(7, replication), at, &mut ());
    let first = Moment::new(world);
    let mut other = World::new(plan);
    other.fork(&first, Luck::new(8, replication).fork([1, 2, 3]));
    let second = Moment::new(other);
    let until = at + Millis::from_hours(16.0);
    let mut scratch = World::new(plan);
    let mut futures = Vec::new();
    for moment in [&first, &second] {
        scratch.resume(moment);
        futures.push(future(&mut scratch, until));
    }
    // Late in the evening there may be nothing to come.
    let open = futures[0].len() > 20;
    assert!(
        !open || futures[0] != futures[1],
        "{name} at {at}: one future"
    );
    for trial in 0..2 {
        let luck = Luck::new(9, 0).fork([replication, 0, trial]);
        scratch.fork(&first, luck);
        let of_first = future(&mut scratch, until);
        scratch.fork(&second, luck);
        let of_second = future(&mut scratch, until);
        for (position, (one, two)) in of_first.iter().zip(&of_second).enumerate() {
            assert_eq!(one, two, "{name} at {at}, rule {rule}, event {position}");
        }
        assert_eq!(of_first.len(), of_second.len());
        assert!(
            !open || !futures.contains(&of_first),
            "{name} at {at}: a fork came true"
        );
        futures.push(of_first);
    }
}

/// When each truck that is on the road arrives.
fn arrivals(log: &[(Millis, String)]) -> Vec<(String, Millis)> {
    let mut seen = Vec::new();
    for (at, event) in log {
        if let Some(rest) = event.strip_prefix("Drove { driver: ") {
            let truck = rest
                .split("truck: ")
                .nth(1)
                .and_then(|rest| rest.split(',').next());
            let truck = truck.expect("a drive names its truck").to_owned();
            if !seen.iter().any(|(other, _)| *other == truck) {
                seen.push((truck, *at));
            }
        }
    }
    seen
}

/// A drive that is under way ends in no fork to the millisecond when it truly ends, and not at one time in all forks.
#[test]
fn what_is_under_way_is_drawn_again() {
    let scenario = demo("estuary_week.ron");
    let plan = Plan::new(&scenario);
    let (mut same, mut all) = (0, 0);
    for (replication, at) in times() {
        let mut world = World::new(&plan);
        world.run_to(0, Luck::new(7, replication), at, &mut ());
        let moment = Moment::new(world);
        let until = at + Millis::HOUR * 3;
        let mut scratch = World::new(&plan);
        scratch.resume(&moment);
        let truth = arrivals(&future(&mut scratch, until));
        for trial in 0..20 {
            scratch.fork(&moment, Luck::new(9, 1).fork([replication, 1, trial]));
            for (truck, arrived) in arrivals(&future(&mut scratch, until)) {
                all += 1;
                same += usize::from(truth.contains(&(truck, arrived)));
            }
        }
    }
    assert!(all > 1_000, "there is something to compare: {all}");
    // Of 10^5 ms or so that a drive may end in, a few are met by chance.
    assert!(
        same * 500 <= all,
        "{same} of {all} drives end as they truly do"
    );
}
