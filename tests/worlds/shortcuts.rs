//! What is not looked at changes nothing: a rule under which most trucks stand at another plant than the one that may load is judged
//! with every one of them, and without.

use crate::random_scenario;
use plantday::engine::Luck;
use plantday::observe::{Causes, Figures, Ledger};
use plantday::plant::{Event, Observer, Plan, World};
use plantday::scenario::{Scenario, parse};
use plantday::units::Millis;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;

/// Everything that happens but refusals; hears of each of them, or of some together.
#[derive(Default)]
struct Tape<const EACH: bool> {
    events: Vec<(Millis, Event)>,
    refusals: u64,
    together: u64,
}

impl<const EACH: bool> Observer for Tape<EACH> {
    const EACH_REFUSAL: bool = EACH;

    fn event(&mut self, at: Millis, event: &Event) {
        match event {
            Event::Refused { .. } => self.refusals += 1,
            Event::RefusedTogether { trucks, .. } => {
                self.refusals += u64::from(*trucks);
                self.together += u64::from(*trucks);
            }
            _ => self.events.push((at, *event)),
        }
    }
}

/// What a replication comes to, and its figures.
fn played<const EACH: bool>(
    scenario: &Scenario,
    rule: usize,
    luck: Luck,
) -> (Tape<EACH>, Vec<u32>, Causes) {
    let plan = Plan::new(scenario);
    let mut tape = Tape::default();
    let mut figures = Figures::new(&plan, &scenario.money);
    let mut ledger = Ledger::new(&plan);
    figures.begin();
    ledger.begin();
    World::new(&plan).run(rule, luck, &mut (&mut tape, (&mut figures, &mut ledger)));
    let mut row = vec![0.0_f32; figures.width()];
    figures.row(&mut row);
    // by their bits: what is not looked at is no number
    let row = row.into_iter().map(f32::to_bits).collect();
    (tape, row, ledger.causes)
}

/// The trucks that are refused together, which have been judged one by one as well.
fn judged_both_ways(text: &str, replications: std::ops::Range<u64>) -> u64 {
    let scenario = parse("day.ron", text).unwrap_or_else(|faults| panic!("{faults}"));
    let mut together = 0;
    for rule in 0..scenario.rules.len() {
        for replication in replications.clone() {
            let luck = Luck::new(5, replication);
            let (all, of_all, why) = played::<true>(&scenario, rule, luck);
            let (some, of_some, why_short) = played::<false>(&scenario, rule, luck);
            assert_eq!(all.together, 0);
            assert_eq!(all.refusals, some.refusals, "{text}");
            assert_eq!(all.events, some.events, "{text}");
            assert_eq!(of_all, of_some, "{text}");
            assert_eq!(why, why_short, "{text}");
            together += some.together;
        }
    }
    together
}

#[test]
fn trucks_refused_together_are_those_that_would_be_one_by_one() {
    let week = include_str!("../../scenarios/estuary_week.ron");
    assert!(judged_both_ways(week, 0..2) > 10_000);
    let mut runner = TestRunner::deterministic();
    let mut together = 0;
    for _ in 0..60 {
        let text = random_scenario::any_scenario().new_tree(&mut runner);
        together += judged_both_ways(&text.expect("a scenario").current(), 0..2);
        let text = random_scenario::with_clocks().new_tree(&mut runner);
        together += judged_both_ways(&text.expect("a scenario").current(), 0..2);
    }
    assert!(together > 1_000, "{together}");
}
