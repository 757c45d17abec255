//! Days without luck whose late loads are explained on paper: how many minutes of lateness go to which cause.

use crate::agree::all_agree;
use crate::changed;
use crate::day;

use plantday::Watch;
use plantday::engine::Luck;
use plantday::observe::{LateCause, LateLoads, Ledger};
use plantday::plant::{Plan, World};
use plantday::studies::verify::days::TWO_TRUCKS;
use plantday::studies::verify::{Family, VerifyQuestion, verify};
use plantday::units::Millis;

/// Late loads, and the minutes of each cause that has some, on the days of a replication.
fn causes_on(replication: u64, changes: &[(&str, &str)]) -> (u64, Vec<(LateCause, f64)>) {
    let text = changed::changed(TWO_TRUCKS, changes);
    let scenario = day::scenario(&text);
    let plan = Plan::new(&scenario);
    let mut ledger = Ledger::new(&plan);
    ledger.begin();
    World::new(&plan).run(0, Luck::new(1, replication), &mut ledger);
    let minutes = |cause: LateCause| ledger.causes.late[cause as usize] as f64 / 60_000.0;
    let some = LateCause::ALL
        .into_iter()
        .map(|cause| (cause, minutes(cause)));
    (
        ledger.causes.loads,
        some.filter(|(_, minutes)| *minutes > 0.0).collect(),
    )
}

/// The days of `plantday verify` that were worked out on paper: late loads, waiting on site, fleets for a pour.
#[test]
fn days_on_paper_agree() {
    let question = VerifyQuestion {
        families: vec![Family::Days],
        ..VerifyQuestion::default()
    };
    let found = verify(&question, Watch::default()).expect("nobody stops it");
    all_agree(&found.checks);
}

/// Where the plant shuts at 07:05, loads 3 and 4 never come: each is told with its own minutes, the order's day, and when its site was
/// ready.
#[test]
fn each_load_that_never_comes_has_its_parts() {
    let text = TWO_TRUCKS.replace("close: \"17:00\"", "close: \"07:05\"");
    let scenario = day::scenario(&text);
    let plan = Plan::new(&scenario);
    let mut loads = LateLoads::new(&plan);
    World::new(&plan).run(0, Luck::new(1, 0), &mut loads);
    let told: Vec<_> = loads
        .never
        .iter()
        .map(|never| (never.ready.minutes(), never.day(), never.parts.clone()))
        .collect();
    let closed = |minutes: i64| vec![(LateCause::PlantClosed, Millis(minutes * Millis::MINUTE.0))];
    assert_eq!(told, [(480.0, 0, closed(960)), (510.0, 0, closed(930))]);
}

/// What is told of each load, late or undelivered, adds up to the ledger's own sums by cause, in weeks of luck.
#[test]
fn the_loads_add_up_to_the_sums() {
    let week = include_str!("../../scenarios/estuary_week.ron");
    // Shut by noon, the upper lock leaves its afternoon to plants that are far away.
    let shut = changed::changed(
        week,
        &[(
            "(open: \"05:30\", close: \"17:00\",",
            "(open: \"05:30\", close: \"11:00\",",
        )],
    );
    let scenario = day::scenario(&shut);
    let plan = Plan::new(&scenario);
    let mut undelivered = 0;
    for replication in [3, 878] {
        let mut both = (Ledger::new(&plan), LateLoads::new(&plan));
        both.0.begin();
        World::new(&plan).run(scenario.todays_rule(), Luck::new(1, replication), &mut both);
        let (ledger, loads) = both;
        let mut sums = [0; LateCause::ALL.len()];
        let late = loads.late.iter().map(|late| (&late.parts, late.late));
        let never = loads.never.iter().map(|never| (&never.parts, never.late));
        for (parts, total) in late.chain(never) {
            assert_eq!(parts.iter().map(|part| part.1).sum::<Millis>(), total);
            for (cause, time) in parts {
                sums[*cause as usize] += time.0;
            }
        }
        assert_eq!(sums, ledger.causes.late, "replication {replication}");
        undelivered += loads.never.len();
    }
    assert!(undelivered > 10, "{undelivered}");
}

const TABLE: &str = "roads: (minutes: { \"P\": { \"A\": (20, 18) } })";

/// One incident a day on average, of ten hours, in which the link takes twice as long: a share 1 − exp(−10/24) of all moments
/// lies in one (an M/G/∞ queue is empty with probability exp(−load): any textbook of queueing theory), so that a trip usually
/// takes 20 × 1.3408 = 26.82 min. The desk believes in the empty road. A day on which an incident covers the whole trip has a
/// load that is 20 min late: 6.82 of belief, 13.18 of the incident. Without one the load comes in time.
#[test]
fn an_incident_is_a_cause_of_its_own() {
    let incidents = [
        ("volume_yd3: 40", "volume_yd3: 10"),
        (
            TABLE,
            "roads: Network(links: [(from: \"P\", to: \"A\", miles: 20, mph: 60, incidents: (per_day: 1, minutes: Constant(600), factor: 2))])",
        ),
    ];
    let belief = 20.0 * (1.0 - (-10.0_f64 / 24.0).exp());
    let (mut with, mut without) = (0, 0);
    for replication in 0..60 {
        let (loads, found) = causes_on(replication, &incidents);
        let late: f64 = found.iter().map(|(_, minutes)| minutes).sum();
        if loads == 0 {
            without += 1;
        } else if late == 20.0 {
            with += 1;
            let [
                (LateCause::Belief, believed),
                (LateCause::Incident, incident),
            ] = found[..]
            else {
                panic!("{found:?}");
            };
            assert!((believed - belief).abs() < 1e-3, "{believed}");
            assert!((incident - (20.0 - belief)).abs() < 1e-3, "{incident}");
        }
    }
    assert!(with > 5 && without > 20, "{with} {without}");
}
