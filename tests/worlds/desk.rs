//! No decision rests on what nobody knows.
//!
//! A world that has come to a moment has its true future, and forks of it have others: the same past, other luck from then on. In all
//! of them the same is decided until the futures first show themselves to differ. So the first event in which a fork differs from the
//! truth is one that brings news: a stage that ends, a site that speaks, a driver who does not come, and not an ask, a promise, a
//! refusal, a load sent on or a driver sent home.

use crate::random_scenario;
use plantday::dispatch::Override;
use plantday::engine::{Luck, Spread};
use plantday::hours::DutyStatus;
use plantday::plant::{Event, LoadPlan, Moment, Observer, Plan, World};
use plantday::roads::Belief;
use plantday::scenario::{self, Scenario, parse};
use plantday::units::{DriverId, Millis};
use proptest::prelude::*;
use std::path::Path;

#[derive(Default)]
struct Tape(Vec<(Millis, Event)>);

impl Observer for Tape {
    fn event(&mut self, at: Millis, event: &Event) {
        self.0.push((at, as_seen(*event)));
    }
}

/// The event without what it tells observers of the luck to come.
fn as_seen(mut event: Event) -> Event {
    match &mut event {
        Event::SiteReached {
            ready, lateness, ..
        } => (*ready, *lateness) = (Millis::ZERO, None),
        Event::Taken { lateness, .. } => lateness.after_ready = Millis::ZERO,
        Event::Undelivered { ready, late, .. } => (*ready, *late) = (Millis::ZERO, Millis::ZERO),
        Event::HelperSent { takes, .. }
        | Event::CarDriven { takes, .. }
        | Event::HelperInVain { takes, .. } => *takes = Millis::ZERO,
        Event::Promised { plan, .. } => *plan = LoadPlan::default(),
        _ => {}
    }
    event
}

/// Whether an event is one by which everybody learns how luck has fallen since a moment.
fn is_news(
    scenario: &Scenario,
    since: Millis,
    (_, event): &(Millis, Event),
    rides: impl Fn(DriverId) -> bool,
) -> bool {
    match *event {
        Event::Cancelled { .. }
        | Event::BalanceCalled { .. }
        | Event::SiteWaits { .. }
        | Event::SiteGoesOn { .. }
        | Event::SitePhones { .. }
        | Event::PlantDown { .. }
        | Event::PlantUp { .. }
        | Event::DayOff { .. }
        | Event::NoShow { .. }
        | Event::BayLeft { .. }
        | Event::RackLeft { .. }
        | Event::DryUp { .. }
        | Event::Rejected { .. }
        | Event::BrokeDown { .. }
        | Event::BrokenDrum { .. }
        | Event::Repaired { .. }
        | Event::TowedHome { .. }
        | Event::Material { .. }
        | Event::Emptied { .. }
        | Event::Drove { .. }
        | Event::SiteReached { .. }
        | Event::PlaceTaken { .. }
        | Event::Taken { .. }
        | Event::DischargeBegun { .. }
        | Event::DischargeEnded { .. }
        | Event::SiteLeft { .. }
        | Event::WashedOut { .. }
        | Event::StrandedHome { .. } => true,
        // Who is driven somewhere learns under way how long it takes.
        Event::Duty { driver, status } => status == DutyStatus::Riding || rides(driver),
        // A load of a stream comes.
        Event::Asked { order } if order.at() >= scenario.orders.len() => true,
        // One that came while every plant was closed has asked with those before it, and is told with its promise.
        Event::Promised { order, due, .. } if order.at() >= scenario.orders.len() => due > since,
        _ => false,
    }
}

/// Makes the luck of such moments as are told by no event into none, and takes decisions by lot out of the rules.
fn without_silent_luck(mut scenario: Scenario) -> Scenario {
    scenario.yard.pre_trip = Spread::Constant(scenario.yard.pre_trip.mean());
    scenario.rules.retain(|rule| rule.belief != Belief::Live);
    for rule in &mut scenario.rules {
        if let Override::Share { .. } = rule.override_gates {
            rule.override_gates = Override::Never;
        }
    }
    scenario
}

/// How many forks differed from the truth before the day was over, and first by news.
fn forks_differ_by_news(
    scenario: &Scenario,
    plan: &Plan,
    (rule, replication): (usize, u64),
    at: Millis,
) -> usize {
    let mut world = World::new(plan);
    let mut past = Tape::default();
    world.run_to(rule, Luck::new(11, replication), at, &mut past);
    let moment = Moment::new(world);
    // At midnight the weather and the roads of the next day are told, and when it would be called in whether an order is.
    let called = scenario.orders.iter().map(|order| order.called);
    let silent = called
        .chain([Millis::midnight(at.day() + 1)])
        .filter(|told| *told > at);
    let until = silent.min().unwrap_or(at) - Millis(1);
    let mut scratch = World::new(plan);
    scratch.resume(&moment);
    let mut truth = Tape::default();
    scratch.go_on_to(until, &mut truth);
    let mut differ = 0;
    for trial in 0..2 {
        let mut other = Tape::default();
        scratch.fork(&moment, Luck::new(12, 0).fork([replication, 0, trial]));
        scratch.go_on_to(until, &mut other);
        let same = truth
            .0
            .iter()
            .zip(&other.0)
            .take_while(|(one, two)| one == two);
        let same = same.count();
        let firsts = [&truth.0, &other.0].map(|tape| tape.get(same));
        let first = firsts.iter().flatten().map(|(at, _)| *at).min();
        let Some(first) = first else { continue };
        let told = past.0.iter().chain(&truth.0[..same]);
        let rides = |driver: DriverId| {
            let last = told.clone().rev().find_map(|(_, event)| match event {
                Event::Duty { driver: of, status } if *of == driver => Some(*status),
                _ => None,
            });
            last == Some(DutyStatus::Riding)
        };
        let at_first = firsts.iter().flatten().filter(|(at, _)| *at == first);
        assert!(
            at_first
                .clone()
                .any(|event| is_news(scenario, at, event, rides)),
            "{}, rule {rule}, replication {replication}, from {at}: decided by what nobody knows: {firsts:?}\nafter {:?}",
            scenario.name,
            truth.0[..same].last(),
        );
        differ += 1;
    }
    differ
}

/// Everything constant but what customers, sites, plants and drivers spring on the desk: a decision that looked ahead would come before
/// any news. No round minutes: of two things at one instant a fork may take the other first. No planned outage: a repair that ends
/// during one is told by no event.
const QUIET: &str = r#"(
    name: "quiet",
    period: (first_day: Tuesday, days: 2),
    rule_book: "us_property_2020",
    concrete: (age_limit_min: None),
    changes: (no_show: 0.15, rain: 0.2, cancelled: 0.2, not_ready: 0.6, not_ready_min: Lognormal(mean: 40, cv: 0.8), phones_ahead: 0.5, phones_ahead_min: 67.3, hold: 0.6,
        hold_min: Lognormal(mean: 40, cv: 0.8), returned: 0.4, balance: 0.4),
    plants: [
        (name: "P", at: (0, 0), hours: [(open: "05:00", close: "16:00")], loading: Constant(6.0131), rack: Constant(4.0077),
            outages: (mean_h_between: 5, minutes: Lognormal(mean: 50, cv: 0.8))),
        (name: "Q", at: (9, 0), hours: [(open: "05:00", close: "18:00")], loading: Constant(6.0131), rack: Constant(4.0077),
            outages: (mean_h_between: 5, minutes: Lognormal(mean: 50, cv: 0.8))),
        (name: "N", at: (9, 9), loading: Constant(6.0131), rack: Constant(4.0077)),
    ],
    sites: [(name: "A", at: (2, 2)), (name: "B", at: (6, 3)), (name: "C", at: (9, 8))],
    roads: (minutes: { "P": { "A": (20.011, 18.017), "B": 32.023, "C": 55.037, "Q": 25.041, "N": 40.053 }, "Q": { "A": 33.061, "B": 21.067, "C": 38.071, "N": 20.083 },
        "N": { "A": 60.091, "B": 45.097, "C": 15.103 } }),
    trucks: [(name: "T", count: 4, home: "P"), (name: "U", count: 3, home: "Q"), (name: "V", count: 2, home: "N")],
    drivers: [(name: "D", count: 4, trucks: "T", report: "05:00", stagger_min: 30), (name: "E", count: 3, trucks: "U", report: "05:30", stagger_min: 60),
        (name: "F", count: 2, trucks: "V", report: "16:00", shift_h: 10)],
    orders: [ORDERS],
    yard: (pre_trip: Constant(15.019), washout: Constant(12.029), post_trip: Constant(8.031)),
    rules: [
        (name: "Paced", belief: FreeFlow, send: Paced, choose: SoonestOnSite, lend: Always),
        (name: "Redirects", belief: FreeFlow, send: Paced, redirect: SameMix(wait_min: 15), lend: IfSaves(minutes: 5), send_home: FirstInFirstOut,
            plants: NearestFirst(late_min: 10)),
        (name: "Choosy", belief: FreeFlow, additions: FirstFreeTime(hours: 3), shift: Matched(spare: 1), send_home: LongestDay(hold: 1),
            plant_hours: KeptOpen(hours: 2), redirect: SameMix(wait_min: 30), lend: Always, after_discharge: MostWork),
    ],
)"#;

fn quiet() -> Scenario {
    let mut orders = String::new();
    for day in 1..3 {
        for (n, (site, first, yd3, spacing, more)) in [
            ("A", "06:30", 60, 20, ""),
            ("B", "06:45", 40, 15, "outdoor: true,"),
            ("A", "08:00", 30, 10, "setup_min: 20,"),
            ("B", "09:30", 50, 12, "called: \"08:00\", chance: 0.6,"),
            ("A", "11:00", 45, 30, "outdoor: true,"),
            ("B", "13:00", 20, 25, "called: \"12:30\","),
            ("A", "14:30", 30, 15, ""),
            ("C", "17:00", 20, 30, ""),
            ("C", "00:20", 30, 20, "called: \"00:00\","),
            ("C", "20:00", 20, 30, "called: \"19:00\", chance: 0.5,"),
        ]
        .into_iter()
        .enumerate()
        {
            let makes = format!(
                "(name: \"O{day}{n}\", site: \"{site}\", day: {day}, first: \"{first}\", volume_yd3: {yd3}, spacing_min: {spacing}, {more} \
                 position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)), "
            );
            orders += &makes;
        }
    }
    parse("quiet", &QUIET.replace("ORDERS", &orders)).unwrap_or_else(|faults| panic!("{faults}"))
}

#[test]
fn nothing_is_decided_by_what_nobody_knows_on_quiet_days() {
    let scenario = without_silent_luck(quiet());
    let plan = Plan::new(&scenario);
    let mut differ = 0;
    for rule in 0..scenario.rules.len() {
        for replication in 0..12 {
            for quarter in 16..184 {
                let at = Millis::from_minutes(f64::from(quarter) * 15.0 + 1.0);
                differ += forks_differ_by_news(&scenario, &plan, (rule, replication), at);
            }
        }
    }
    assert!(differ > 3_000, "{differ}: there is something to compare");
}

#[test]
fn nothing_is_decided_by_what_nobody_knows_in_the_shipped_scenarios() {
    for (name, step) in [
        ("estuary_week.ron", 11.3),
        ("estuary_day.ron", 0.37),
        ("yard_study.ron", 1.7),
        ("shuttle_day.ron", 1.3),
        ("starter.ron", 0.9),
    ] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("scenarios")
            .join(name);
        let scenario = without_silent_luck(scenario::read(&path).expect("the demo is right"));
        let plan = Plan::new(&scenario);
        let mut differ = 0;
        for rule in 0..scenario.rules.len() {
            let moments = (1..).map(|k| Millis::from_hours(4.0 + step * f64::from(k)));
            for (replication, at) in (0..).zip(moments.take_while(|at| *at < plan.end)) {
                differ += forks_differ_by_news(&scenario, &plan, (rule, replication), at);
            }
        }
        assert!(differ > 10, "{name}: {differ}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(48) })]

    #[test]
    fn nothing_is_decided_by_what_nobody_knows(
        text in prop_oneof![random_scenario::any_scenario(), random_scenario::with_clocks()],
        hours in prop::collection::vec(3.0_f64..40.0, 6),
        replication in 0_u64..1_000,
    ) {
        // Where a load of a stream goes is drawn with its promise.
        let text = text.replace("to: Drawn, ", "");
        let scenario = without_silent_luck(parse("random", &text).expect("a scenario"));
        let plan = Plan::new(&scenario);
        for rule in 0..scenario.rules.len() {
            for at in hours.iter().map(|hours| Millis::from_hours(*hours)) {
                forks_differ_by_news(&scenario, &plan, (rule, replication), at);
            }
        }
    }
}
