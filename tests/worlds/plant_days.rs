//! Days at plants of random scenarios, one after the other: the world stays consistent and every figure is a recount of what happened. A
//! plant day is a day of a plant in one replication under one rule.
//!
//! `PLANT_DAYS=1000000 cargo test --release --test worlds plant_days` plays so many, those of the short run first. A scenario that fails is
//! told by its number and text.

use crate::attack::counted_twice;
use crate::invariants::watched::Watched;
use crate::{random_scenario, wide_scenario};
use plantday::engine::Luck;
use plantday::plant::Plan;
use plantday::scenario::parse;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use std::env;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;

/// The scenario of a number, always the same.
fn text_of(number: u64) -> String {
    let mut seed = [0; 32];
    seed[..8].copy_from_slice(&number.to_le_bytes());
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &seed);
    let mut runner = TestRunner::new_with_rng(Config::default(), rng);
    let worlds = match number % 3 {
        0 => random_scenario::any_scenario().boxed(),
        1 => random_scenario::with_clocks().boxed(),
        _ => wide_scenario::any_fields().boxed(),
    };
    let text = worlds.new_tree(&mut runner);
    text.expect("a scenario").current()
}

/// Plays it; gives its plant days.
fn play(text: &str) -> u64 {
    let read = parse("random", text).unwrap_or_else(|faults| panic!("{faults}"));
    let scenario = counted_twice(&read);
    let plan = Plan::new(&scenario);
    let mut watched = Watched::new(&scenario, &plan);
    let replications = 3;
    for rule in 0..scenario.rules.len() {
        for replication in 0..replications {
            let tape = watched.play(rule, Luck::new(41, replication));
            let infinite = watched.row().iter().any(|figure| figure.is_infinite());
            assert!(!infinite, "an infinite figure");
            assert_eq!(
                watched.differences(&tape),
                [""; 0],
                "rule {rule}, replication {replication}"
            );
        }
    }
    scenario.rules.len() as u64
        * replications
        * u64::from(scenario.period.days)
        * scenario.plants.len() as u64
}

#[test]
fn plant_days_of_random_scenarios() {
    let asked = env::var("PLANT_DAYS").ok();
    let asked: u64 = asked.map_or(12_000, |asked| {
        asked.parse().expect("a number of plant days")
    });
    let (next, played) = (AtomicU64::new(0), AtomicU64::new(0));
    let work = || {
        while played.load(Ordering::Relaxed) < asked {
            let number = next.fetch_add(1, Ordering::Relaxed);
            let text = text_of(number);
            match catch_unwind(AssertUnwindSafe(|| play(&text))) {
                Ok(days) => played.fetch_add(days, Ordering::Relaxed),
                Err(_) => panic!("scenario {number} fails:\n{text}"),
            };
        }
    };
    thread::scope(|scope| {
        let threads = [scope.spawn(work), scope.spawn(work)];
        for thread in threads {
            thread.join().expect("all scenarios hold");
        }
    });
    println!(
        "{} plant days of {} scenarios",
        played.into_inner(),
        next.into_inner()
    );
}
