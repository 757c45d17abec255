//! Luck belongs to what it happens to: one more truck shakes nobody else, and what cannot matter changes nothing.

use super::read;
use plantday::engine::Luck;
use plantday::plant::{Event, Observer, Plan, World};
use plantday::scenario::Scenario;
use plantday::units::Millis;
use std::collections::BTreeMap;

const DAY: &str = include_str!("../../../scenarios/estuary_day.ron");

/// How long each load took to load, check and discharge, by order and number.
#[derive(Default)]
struct Durations {
    load_of: BTreeMap<u32, (String, u32)>,
    names: Vec<String>,
    seen: BTreeMap<(String, u32, &'static str), Millis>,
}

impl Durations {
    fn of(scenario: &Scenario, rule: usize) -> Self {
        let plan = Plan::new(scenario);
        let names = scenario
            .orders
            .iter()
            .map(|order| order.name.clone())
            .collect();
        let mut durations = Self {
            names,
            ..Self::default()
        };
        World::new(&plan).run(rule, Luck::new(3, 9), &mut durations);
        durations
    }

    fn note(&mut self, truck: u32, stage: &'static str, took: Millis) {
        let (order, number) = self.load_of[&truck].clone();
        self.seen.insert((order, number, stage), took);
    }
}

impl Observer for Durations {
    fn event(&mut self, _: Millis, event: &Event) {
        match *event {
            Event::Promised {
                truck,
                order,
                number,
                ..
            } => {
                self.load_of
                    .insert(truck.0, (self.names[order.at()].clone(), number));
            }
            Event::RackLeft { truck, took, .. } => self.note(truck.0, "rack", took),
            Event::DischargeEnded { truck, took, .. } => self.note(truck.0, "discharge", took),
            Event::SiteLeft { truck, washed, .. } => self.note(truck.0, "wash", washed),
            _ => {}
        }
    }
}

#[test]
fn all_rules_meet_the_same_luck() {
    // A load that is rejected is another load the next time.
    let scenario =
        read(&DAY.replacen("plants: [", "concrete: (age_limit_min: None), plants: [", 1));
    let today = Durations::of(&scenario, 0);
    assert!(today.seen.len() > 250);
    for rule in [1, 2] {
        let other = Durations::of(&scenario, rule);
        let mut shared = 0;
        for (load, took) in &other.seen {
            if let Some(same) = today.seen.get(load) {
                assert_eq!(took, same, "{load:?}");
                shared += 1;
            }
        }
        assert!(shared > 200);
    }
}

#[test]
fn one_more_truck_shakes_no_other_draw() {
    let scenario = read(DAY);
    // The additional truck is listed first: luck belongs to names, not to positions in a list.
    let more = DAY
        .replacen(
            "    trucks: [",
            "    trucks: [\n        (name: \"Extra\", home: \"Upper lock\"),",
            1,
        )
        .replacen(
            "    drivers: [",
            "    drivers: [\n        (name: \"dx\", trucks: \"Extra\", report: \"05:00\"),",
            1,
        );
    let more = read(&more);
    assert_eq!(more.trucks.len(), scenario.trucks.len() + 1);
    let (before, after) = (Durations::of(&scenario, 2), Durations::of(&more, 2));
    let mut shared = 0;
    for (load, took) in &after.seen {
        if let Some(same) = before.seen.get(load) {
            assert_eq!(took, same, "{load:?}");
            shared += 1;
        }
    }
    assert!(shared > 200);
}

/// Everything that happens, as text with names.
fn story(scenario: &Scenario, rule: usize) -> String {
    let plan = Plan::new(scenario);
    let mut log = plantday::observe::Log::with_desk(scenario);
    World::new(&plan).run(rule, Luck::new(3, 9), &mut log);
    log.text()
}

#[test]
fn what_cannot_matter_changes_nothing() {
    let scenario = read(DAY);
    // A site that nobody orders for, listed first, and a rule more.
    let more = DAY
        .replacen(
            "    sites: [",
            "    sites: [\n        (name: \"Nowhere\", at: (50, 50)),",
            1,
        )
        .replacen(
            "    rules: [",
            "    rules: [\n        (name: \"Another\", belief: FreeFlow),",
            1,
        );
    let more = read(&more);
    for rule in 0..3 {
        assert_eq!(story(&scenario, rule), story(&more, rule + 1));
    }
}
