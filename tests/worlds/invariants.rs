//! What holds in every world, whatever the scenario and the rule: random small scenarios, and an observer that watches every
//! event.

mod clock_logs;
mod duty;
mod ideal;
mod idle;
mod luck;
pub(crate) mod recount;
pub(crate) mod watch;
pub(crate) mod watched;

use crate::attack::counted_twice;
use crate::{random_scenario, wide_scenario};
use duty::Duty;
use plantday::concrete::{ReturnedFate, Reuse};
use plantday::engine::Luck;
use plantday::observe::{Figures, LateCause, Ledger, Loss, figure};
use plantday::plant::{Event, MaterialStep, Observer, Plan, StrandCause, World};
use plantday::scenario::{Scenario, parse};
use plantday::units::Millis;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use std::collections::BTreeMap;
use watched::Watched;

/// In such worlds everything happens that the clocks are there for: the properties above are not empty.
#[test]
fn worlds_with_clocks_have_everything_that_clocks_cause() {
    let mut runner = TestRunner::deterministic();
    let mut seen: BTreeMap<String, u32> = BTreeMap::new();
    for _ in 0..700 {
        let text = random_scenario::with_clocks().new_tree(&mut runner);
        let scenario = read(&text.expect("a scenario").current());
        let plan = Plan::new(&scenario);
        let mut tape = Tape::default();
        World::new(&plan).run(0, Luck::new(8, 0), &mut tape);
        for (at, event) in tape.0 {
            let name = match event {
                Event::Stranded { cause, .. } => format!("stranded {cause:?}"),
                Event::Drove { limit, .. } if limit.passed_by(at) > Millis::ZERO => {
                    format!("past {:?}", limit.by)
                }
                Event::Refused { reason, .. } | Event::PromiseBroken { reason, .. } => {
                    reason.words().into_owned()
                }
                Event::OutOfHoursFull { how, .. } => format!("full {how:?}"),
                Event::Duty { status, .. } => format!("{status:?}"),
                other => format!("{other:?}")
                    .split(' ')
                    .next()
                    .unwrap_or_default()
                    .to_owned(),
            };
            *seen.entry(name).or_default() += 1;
        }
    }
    for name in [
        "Riding",
        "OffDuty",
        "Driving",
        "DriverDayLost",
        "ReportedLate",
        "LongDay",
        "HelperSent",
        "OwnDriverSent",
        "CarDriven",
        "HelperInVain",
        "Foreseen",
        "StrandedHome",
        "stranded LoadedTooLate",
        "stranded FarLend",
        "stranded Traffic",
        "stranded ClockShort",
        "full Lost",
        "full Relief",
        "full Stabilised",
        "past Some(Driving)",
        "past Some(Break)",
        "driving hours",
        "duty window",
        "hours on duty",
        "break due",
        "weekly hours",
        "company's finish",
        "minutes kept back",
        "kept in reserve",
    ] {
        // A gate's words go on with the clock that refused.
        let happens = seen.keys().any(|key| key.starts_with(name));
        assert!(happens, "{name} never happens: {seen:#?}");
    }
}

fn read(text: &str) -> Scenario {
    parse("random", text).unwrap_or_else(|faults| panic!("{faults}\n{text}"))
}

/// Keeps every event.
#[derive(Default, PartialEq, Debug)]
pub(crate) struct Tape(pub(crate) Vec<(Millis, Event)>);

impl Observer for Tape {
    fn event(&mut self, at: Millis, event: &Event) {
        self.0.push((at, *event));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// Nobody is in two places, no server serves too many, volumes balance, clocks are kept, everybody comes home.
    #[test]
    fn every_event_keeps_the_world_consistent(text in random_scenario::any_scenario()) {
        let scenario = read(&text);
        let plan = Plan::new(&scenario);
        let mut watched = Watched::new(&scenario, &plan);
        for rule in 0..scenario.rules.len() {
            for replication in 0..2 {
                let mut tape = watched.play(rule, Luck::new(11, replication));
                // Who is on duty tells nothing of where a truck is.
                let statuses = |(_, event): &(Millis, Event)| matches!(event, Event::Duty { .. });
                tape.0.retain(|told| !statuses(told));
                let (policy, tape) = (&plan.policies[rule], &tape.0);
                Duty { scenario: &scenario, plan: &plan, policy, tape }.check();
            }
        }
    }

    /// With rule books of many clocks: the world stays consistent, the figures are a recount, and whenever somebody drives, the
    /// clocks that the world carries along say the same as the definitions say of that driver's whole log.
    #[test]
    fn the_clocks_of_the_world_are_those_of_the_log(text in random_scenario::with_clocks()) {
        let scenario = read(&text);
        let plan = Plan::new(&scenario);
        let mut watched = Watched::new(&scenario, &plan);
        for rule in 0..scenario.rules.len() {
            let tape = watched.play(rule, Luck::new(11, 0));
            clock_logs::check(&scenario, &tape.0, false);
            prop_assert_eq!(watched.differences(&tape), [""; 0]);
        }
    }

    /// Whatever else may be written in a scenario: the world stays consistent, and the figures are a recount.
    #[test]
    fn any_field_leaves_the_world_consistent(text in wide_scenario::any_fields()) {
        let scenario = counted_twice(&read(&text));
        let plan = Plan::new(&scenario);
        let mut watched = Watched::new(&scenario, &plan);
        for rule in 0..scenario.rules.len() {
            let tape = watched.play(rule, Luck::new(31, 0));
            prop_assert_eq!(watched.differences(&tape), [""; 0]);
        }
    }

    /// Where every order gives something back and it is reused as long as it may be, volumes and masses balance, component by
    /// component, all of it is reused or got rid of once, and the figures are a recount.
    #[test]
    fn what_comes_back_is_reused_or_got_rid_of_once(text in random_scenario::with_clocks()) {
        let mut scenario = read(&text);
        scenario.changes.returned = 1.0;
        let age_limit = Millis::from_hours(6.0);
        scenario.concrete.reuse = Some(Reuse { age_limit, share: 0.9 });
        let plan = Plan::new(&scenario);
        let mut watched = Watched::new(&scenario, &plan);
        for rule in 0..scenario.rules.len() {
            let tape = watched.play(rule, Luck::new(21, 0));
            prop_assert_eq!(watched.differences(&tape), [""; 0]);
        }
    }

    /// Without luck on the road nobody ever drives past a limit, however long sites take.
    #[test]
    fn without_luck_on_the_road_nobody_breaks_a_limit(text in random_scenario::with_clocks()) {
        let text = text.replace("}, luck: Lognormal(mean: 1, cv: 0.4)", "}, luck: Constant(1)");
        let mut scenario = read(&text);
        // Rain and breakdowns are luck on the road as well.
        scenario.changes.rain_slows = 1.0;
        scenario.trucks.iter_mut().for_each(|truck| truck.breakdowns = None);
        let plan = Plan::new(&scenario);
        let mut world = World::new(&plan);
        for rule in 0..scenario.rules.len() {
            let mut tape = Tape::default();
            world.run(rule, Luck::new(4, 0), &mut tape);
            clock_logs::check(&scenario, &tape.0, true);
        }
    }

    /// A warm world plays a replication exactly as a fresh one does, and as its clone does.
    #[test]
    fn a_warm_world_repeats_itself(text in random_scenario::any_scenario()) {
        let scenario = read(&text);
        let plan = Plan::new(&scenario);
        let mut world = World::new(&plan);
        let mut play = |rule: usize, replication: u64| {
            let mut tape = Tape::default();
            world.run(rule, Luck::new(5, replication), &mut tape);
            tape
        };
        let last = scenario.rules.len() - 1;
        let first = play(0, 3);
        play(last, 4);
        prop_assert_eq!(&play(0, 3), &first);
        let mut fresh = Tape::default();
        World::new(&plan).run(0, Luck::new(5, 3), &mut fresh);
        prop_assert_eq!(&fresh, &first);
        let mut cloned = Tape::default();
        world.clone().run(0, Luck::new(5, 3), &mut cloned);
        prop_assert_eq!(&cloned, &first);
    }

    /// The ready time of a load belongs to the order alone: the same under every rule. It is never before the due time.
    #[test]
    fn ready_times_are_the_same_under_every_rule(text in random_scenario::any_scenario()) {
        // An order that is taken for another time has other times.
        let scenario = read(&text.replace("FirstFreeTime(hours: 12)", "OnlyIfHolds"));
        let plan = Plan::new(&scenario);
        let mut world = World::new(&plan);
        let mut seen: BTreeMap<(u32, i64), Millis> = BTreeMap::new();
        for rule in 0..scenario.rules.len() {
            let mut tape = Tape::default();
            world.run(rule, Luck::new(11, 1), &mut tape);
            for (_, event) in tape.0 {
                if let Event::SiteReached { order, due, ready, lateness: Some(_), .. } = event {
                    prop_assert!(ready >= due);
                    // Loads of one order are told apart by when they are due, unless the spacing is zero.
                    if scenario.orders[order.at()].spacing > Millis::ZERO {
                        let first = *seen.entry((order.0, due.0)).or_insert(ready);
                        prop_assert_eq!(first, ready);
                    }
                }
            }
        }
    }

    /// The parts of all late loads add up exactly to the minutes that they are late, and every late load is a whole one.
    #[test]
    fn the_ledger_adds_up(text in random_scenario::any_scenario()) {
        let scenario = read(&text);
        let plan = Plan::new(&scenario);
        let mut world = World::new(&plan);
        let mut figures = Figures::new(&plan, &scenario.money);
        let mut row = vec![0.0; figures.width()];
        for rule in 0..scenario.rules.len() {
            figures.begin();
            let mut ledger = Ledger::new(&plan);
            ledger.begin();
            let mut tape = Tape::default();
            world.run(rule, Luck::new(7, 0), &mut (&mut figures, (&mut ledger, &mut tape)));
            figures.row(&mut row);
            let mut arrived = vec![Millis::ZERO; plan.trucks.len()];
            let mut late = Millis::ZERO;
            for (at, event) in &tape.0 {
                match *event {
                    Event::SiteReached { truck, order, ready, lateness, .. } => {
                        let by = (*at - ready).max(Millis::ZERO);
                        let counts = lateness.is_some() && by > plan.orders[order.at()].late;
                        arrived[truck.at()] = if counts { by } else { Millis::ZERO };
                        late += arrived[truck.at()];
                    }
                    Event::Rejected { truck, spot: Some(_), .. } => late -= arrived[truck.at()],
                    Event::Undelivered { late: by, .. } => late += by,
                    _ => {}
                }
            }
            let causes = ledger.causes;
            let known = |loss: &Loss| scenario.concrete.material.is_some() || !loss.of_computed_concrete();
            let of_row = |loss: Loss| loss.count(|figure| f64::from(row[figure])) as u64;
            let count = |of: &dyn Fn(&Loss) -> bool| -> u64 {
                Loss::ALL.into_iter().filter(known).filter(of).map(of_row).sum()
            };
            let wasted = row[figure::REBATCHED] + row[figure::LOADS_LOST] + row[figure::GIVEN_UP];
            prop_assert_eq!(count(&|loss| loss.is_stranding() && !loss.is_place()), row[figure::STRANDED] as u64);
            prop_assert_eq!(count(&|loss| loss.is_place()), row[figure::STRANDED] as u64);
            prop_assert_eq!(count(&|loss| !loss.is_stranding()), wasted as u64);
            prop_assert_eq!(causes.loads, row[figure::LATE_LOADS] as u64);
            prop_assert_eq!(causes.late.iter().sum::<i64>(), late.0);
            prop_assert_eq!(causes.parts.iter().sum::<i64>(), 1_000_000 * causes.loads as i64);
            prop_assert!(LateCause::ALL.iter().all(|cause| causes.late[*cause as usize] >= 0));
        }
    }

    /// The figures are what a plain recount of the events gives.
    #[test]
    fn figures_are_a_recount_of_the_events(text in random_scenario::any_scenario()) {
        let scenario = read(&text);
        let plan = Plan::new(&scenario);
        let mut watched = Watched::new(&scenario, &plan);
        for rule in 0..scenario.rules.len() {
            let tape = watched.play(rule, Luck::new(2, 0));
            prop_assert_eq!(watched.differences(&tape), [""; 0]);
        }
    }
}

/// The properties are worth something only where all that rules decide does happen.
#[test]
fn every_decision_is_taken_in_such_worlds() {
    let mut runner = TestRunner::deterministic();
    let mut counts = [0_u32; 8];
    for _ in 0..600 {
        let text = random_scenario::any_scenario().new_tree(&mut runner);
        let scenario = read(&text.expect("a scenario").current());
        let plan = Plan::new(&scenario);
        for rule in 0..scenario.rules.len() {
            let mut tape = Tape::default();
            World::new(&plan).run(rule, Luck::new(3, 0), &mut tape);
            for (_, event) in tape.0 {
                let which = match event {
                    Event::NotCalled { .. } => 0,
                    Event::Declined { .. } => 1,
                    Event::Moved { .. } => 2,
                    Event::KeptOpen { .. } => 3,
                    Event::Redirected { .. } => 4,
                    Event::Stranded {
                        cause: StrandCause::Overridden,
                        ..
                    } => 5,
                    Event::Returned {
                        fate: ReturnedFate::Reused,
                        ..
                    } => 6,
                    Event::Material {
                        step: MaterialStep::Under(_),
                        ..
                    } => 7,
                    _ => continue,
                };
                counts[which] += 1;
            }
        }
    }
    assert!(counts.iter().all(|count| *count > 0), "{counts:?}");
}
