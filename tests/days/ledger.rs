//! Days without luck whose late loads are explained on paper: how many minutes of lateness go to which cause.

use crate::changed;
use crate::day;

use plantday::engine::Luck;
use plantday::observe::{LateCause, LateLoads, Ledger, Profiler, WaitCause};
use plantday::plant::{Plan, World};
use plantday::units::Millis;

/// One plant, one bay, two trucks, one site, everything constant. Loading 6, rack 4, out 20, discharge 10, chute wash 5, back
/// 18: a round trip of 63 min. Every minute late counts.
const PLAIN: &str = r#"(
    name: "paper day",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "17:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", count: 2, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 40, spacing_min: 30, late_min: 0,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow, choose: Nearest, early_min: 0, bay_wait_min: 0)],
)"#;

/// Late loads, and the minutes of each cause that has some, of the paper day with changes, all of which must be there.
fn causes(changes: &[(&str, &str)]) -> (u64, Vec<(LateCause, f64)>) {
    causes_on(0, changes)
}

/// The same on the days of another replication.
fn causes_on(replication: u64, changes: &[(&str, &str)]) -> (u64, Vec<(LateCause, f64)>) {
    let text = changed::changed(PLAIN, changes);
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

const ONE_LOAD: (&str, &str) = ("volume_yd3: 40", "volume_yd3: 10");

/// Two trucks, a round trip of 63 min, a spacing of 30: loads 3 and 4 wait 3 min each for a truck that nothing has held.
#[test]
fn a_fleet_too_small_is_no_truck_free() {
    assert_eq!(causes(&[]), (2, vec![(LateCause::NoTruck, 6.0)]));
}

/// The map says 10 min for a road of 20: every load is 10 min late for it, loads 3 and 4 wait 3 min for a truck.
#[test]
fn the_map_is_a_belief_too_rosy() {
    let map = [
        ("(name: \"A\")", "(name: \"A\", at: (6, 8))"),
        ("roads: (", "roads: (straight_line_mph: 60, "),
        ("belief: FreeFlow", "belief: StraightLine"),
    ];
    let (loads, found) = causes(&map);
    assert_eq!(
        (loads, found),
        (
            4,
            vec![(LateCause::NoTruck, 6.0), (LateCause::Belief, 40.0)]
        )
    );
}

/// Three loads at once at one bay, one truck each: the second waits 6 min for the bay, the third 12. An outlet with three
/// places is ready for all three at 07:00.
#[test]
fn a_queue_at_the_bay_is_the_bays() {
    let three = [
        (
            "volume_yd3: 40, spacing_min: 30",
            "volume_yd3: 30, spacing_min: 0",
        ),
        ("count: 2", "count: 3"),
        (
            "position:",
            "outlets: [(rate_yd3_min: 1, places: 3)], position:",
        ),
    ];
    assert_eq!(causes(&three), (2, vec![(LateCause::BayQueue, 18.0)]));
}

/// The plant opens at 06:40 only, ten minutes after the send time of the one load.
#[test]
fn a_plant_that_opens_late() {
    let late = [ONE_LOAD, ("open: \"05:00\"", "open: \"06:40\"")];
    assert_eq!(causes(&late), (1, vec![(LateCause::PlantClosed, 10.0)]));
}

/// The order is called in at 06:45, fifteen minutes after its send time.
#[test]
fn an_order_called_in_late() {
    let late = [ONE_LOAD, ("late_min: 0", "late_min: 0, called: \"06:45\"")];
    assert_eq!(causes(&late), (1, vec![(LateCause::CalledLate, 15.0)]));
}

/// T1 may load until an hour after 05:30, which is just in time for the load at 06:30, not for the next at 07:00. D2 reports
/// at 08:00 and has checked the truck by 08:15: load 2, to be sent at 07:00, is 75 min late. From 06:30 on T1 is on the way
/// with load 1 and back at 07:33: until then no truck is free (33 min); then its driver's hours refuse it (42 min).
///
/// The same with a driving limit of 54 min, of which 38 are driven by then; with a week that holds three hours and a site
/// where no truck may stay: back at 08:36, T1 would have had 3 h 06; and with a window of four hours of which the rule keeps one: home at 08:36, before 09:30, would leave 54 min.
#[test]
fn hours_refuse_the_truck_that_stands_there() {
    let book = |limits: &str| {
        format!(
            "rule_book: \"short\", rule_books: [(name: \"short\", like: \"none\", rest_h: 10, {limits})]"
        )
    };
    let keeps = "belief: FreeFlow, gates: [KeepMinutes(minutes: 60)]";
    let none = "rule_book: \"none\"";
    let (driving, week, window) = (
        book("driving_h: 0.9"),
        book("cycle: \"3/7\""),
        book("window_h: 4"),
    );
    for hours in [
        vec![("horizon_min: 0", "horizon_min: 0, no_load_after_h: 1")],
        vec![(none, &*driving)],
        vec![
            (none, &*week),
            ("(name: \"A\")", "(name: \"A\", parking: false)"),
        ],
        vec![(none, &*window), ("belief: FreeFlow", keeps)],
    ] {
        let mut day = vec![
            ("volume_yd3: 40", "volume_yd3: 20"),
            (
                "(name: \"D\", trucks: \"T\", report: \"05:30\")",
                "(name: \"D1\", trucks: \"T1\", report: \"05:30\"), (name: \"D2\", trucks: \"T2\", report: \"08:00\")",
            ),
            (
                "(name: \"T\", count: 2, home: \"P\")",
                "(name: \"T1\", home: \"P\"), (name: \"T2\", home: \"P\")",
            ),
        ];
        day.extend(hours.iter().copied());
        assert_eq!(
            causes(&day),
            (
                1,
                vec![(LateCause::NoTruck, 33.0), (LateCause::NoHours, 42.0)]
            ),
            "{hours:?}"
        );
    }
}

/// From 06:50 on a minute of the road takes two. The desk believes in the empty road: it sends at 06:30, and the truck leaves at
/// 06:40: ten minutes freely, ten that take twenty. The same trip at the same hour usually takes 30: all of it is belief.
#[test]
fn traffic_that_is_usual_at_the_hour_is_belief() {
    let traffic = [
        ONE_LOAD,
        (
            "roads: (",
            "roads: (traffic: [(factors: [(\"06:50\", 2)])], ",
        ),
    ];
    assert_eq!(causes(&traffic), (1, vec![(LateCause::Belief, 10.0)]));
}

/// As before, and the order is called in at 06:35. Sent then, the truck leaves at 06:45 and has five minutes of free road:
/// 5 + 30 = 35 min against the 30 that were usual for its send time. On site at 07:20: 5 min late for the call, 10 for the
/// belief, 5 for the hour that it was driven at.
#[test]
fn what_is_sent_later_meets_more_traffic() {
    let traffic = [
        ONE_LOAD,
        (
            "roads: (",
            "roads: (traffic: [(factors: [(\"06:50\", 2)])], ",
        ),
        ("late_min: 0", "late_min: 0, called: \"06:35\""),
    ];
    assert_eq!(
        causes(&traffic),
        (
            1,
            vec![
                (LateCause::CalledLate, 5.0),
                (LateCause::Belief, 10.0),
                (LateCause::Traffic, 5.0)
            ]
        )
    );
}

/// The map has 15 min of road for 20, and the rule allows 8 min for the bay queue: the load is to be sent at 07:00 − 15 − 10 − 8
/// = 06:27. It is called in at 06:45, 18 min later; with the 5 of belief 23 min of excess. Nobody queues for the bay: 8 min are
/// recovered, which cancel the older excess, the 5 of belief, and 3 of the call. On site at 07:15.
#[test]
fn time_recovered_cancels_the_oldest_excess() {
    let both = [
        ONE_LOAD,
        ("late_min: 0", "late_min: 0, called: \"06:45\""),
        ("bay_wait_min: 0", "bay_wait_min: 8"),
        ("(name: \"A\")", "(name: \"A\", at: (9, 12))"),
        ("roads: (", "roads: (straight_line_mph: 60, "),
        ("belief: FreeFlow", "belief: StraightLine"),
    ];
    assert_eq!(causes(&both), (1, vec![(LateCause::CalledLate, 15.0)]));
}

/// A load given up at midnight is late until then: the plant shuts at 07:05, loads 3 and 4 wait from 07:33 (T1 back) on for a
/// plant that does not open again. Ready at 08:00 and 08:30: 960 and 930 min.
#[test]
fn what_never_comes_is_late_until_midnight() {
    let shut = [("close: \"17:00\"", "close: \"07:05\"")];
    assert_eq!(causes(&shut), (2, vec![(LateCause::PlantClosed, 1890.0)]));
}

/// One load, ready at 07:00, that no truck may take all day: 17 h until midnight go to what refused the trucks. From the bay to the end
/// of the stay take 6 + 4 + 20 + 15 = 45 min, one more than the limit; a truck that weighs a pound less empty than the law allows in all; a
/// truck of another plant that is not lent, where the site lies too far from its own for the limit of 45 min.
#[test]
fn what_refuses_the_trucks_is_told_apart() {
    let limit = |minutes| format!("rule_book: \"none\", concrete: (age_limit_min: {minutes})");
    let (older, just) = (limit(44), limit(45));
    let heavy = "home: \"P\", empty_lb: 68999, legal_gross_lb: 69000), (name: \"U\", home: \"P\"";
    let other_plant = [
        (
            "plants: [",
            "plants: [(name: \"Q\", loading: Constant(6), rack: Constant(4)), ",
        ),
        ("count: 2, home: \"P\"", "count: 2, home: \"Q\""),
        ("minutes: {", "minutes: { \"Q\": { \"A\": 60, \"P\": 50 },"),
        ("belief: FreeFlow", "belief: FreeFlow, lend: Never"),
    ];
    let none = "rule_book: \"none\"";
    let whole_day = |cause| (1, vec![(cause, 1020.0)]);
    assert_eq!(causes(&[ONE_LOAD, (none, &just)]), (0, vec![]));
    assert_eq!(
        causes(&[ONE_LOAD, (none, &older)]),
        whole_day(LateCause::TooOld)
    );
    assert_eq!(
        causes(&[ONE_LOAD, ("count: 2, home: \"P\"", heavy)]),
        whole_day(LateCause::TooHeavy)
    );
    let mut not_lent = vec![ONE_LOAD, (none, &just)];
    not_lent.extend(other_plant);
    assert_eq!(causes(&not_lent), whole_day(LateCause::Refused));
}

/// A second plant Q, 60 min from the site, has the only trucks until 07:30, and the rule leaves loads to the nearer P for an hour: P's
/// driver reports at 07:15 and has checked the truck by 07:30, an hour after the send time of 06:30. Meanwhile Q's trucks are refused.
#[test]
fn what_is_left_to_a_nearer_plant_is_its_own_cause() {
    let day = [
        ONE_LOAD,
        (
            "plants: [",
            "plants: [(name: \"Q\", loading: Constant(6), rack: Constant(4)), ",
        ),
        (
            "(name: \"T\", count: 2, home: \"P\")",
            "(name: \"T\", home: \"P\"), (name: \"U\", home: \"Q\")",
        ),
        (
            "(name: \"D\", trucks: \"T\", report: \"05:30\")",
            "(name: \"D\", trucks: \"T\", report: \"07:15\"), (name: \"E\", trucks: \"U\", report: \"05:30\")",
        ),
        ("minutes: {", "minutes: { \"Q\": { \"A\": 60, \"P\": 50 },"),
        (
            "belief: FreeFlow",
            "belief: FreeFlow, lend: Never, plants: NearestFirst(late_min: 120)",
        ),
    ];
    assert_eq!(causes(&day), (1, vec![(LateCause::NearerPlant, 60.0)]));
}

/// The same day, load by load: each is told with its own minutes, the order's day, and when its site was ready.
#[test]
fn each_load_that_never_comes_has_its_parts() {
    let text = PLAIN.replace("close: \"17:00\"", "close: \"07:05\"");
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

/// The way out as one link of 20 miles at 60 miles an hour, 20 min, with something on it.
fn link(with: &str) -> String {
    format!("roads: Network(links: [(from: \"P\", to: \"A\", miles: 20, mph: 60, {with})])")
}

/// Sent at 06:30 for 20 min of road, the truck comes to the bridge at 06:40 and waits until its lift ends at 06:50. A desk that
/// knows the lifts sends it before.
#[test]
fn a_bridge_lift_is_a_cause_of_its_own() {
    let roads = link("lifts: [(from: \"06:35\", to: \"06:50\")]");
    let bridge = [ONE_LOAD, (TABLE, &roads)];
    assert_eq!(causes(&bridge), (1, vec![(LateCause::LiftBridge, 10.0)]));
    let knows = [
        ONE_LOAD,
        (TABLE, &roads),
        ("belief: FreeFlow", "belief: TimeOfDay"),
    ];
    assert_eq!(causes(&knows), (0, vec![]));
}

/// The desk believes in a way by the map of 10 min, the bridge takes 5 more than the 20 of the road: sent at 06:40, it leaves at
/// 06:50, stands until 06:55 and is on site at 07:15, 10 min late for the belief and 5 for the bridge.
#[test]
fn bridge_and_belief_stand_side_by_side() {
    let roads = link("lifts: [(from: \"06:35\", to: \"06:55\")]")
        .replace("links:", "straight_line_mph: 60, links:");
    let both = [
        ONE_LOAD,
        (TABLE, &*roads),
        ("(name: \"A\")", "(name: \"A\", at: (6, 8))"),
        ("belief: FreeFlow", "belief: StraightLine"),
    ];
    assert_eq!(
        causes(&both),
        (
            1,
            vec![(LateCause::Belief, 10.0), (LateCause::LiftBridge, 5.0)]
        )
    );
}

/// Three minutes in an open weigh station that the desk does not reckon with.
#[test]
fn a_weigh_station_is_a_cause_of_its_own() {
    let roads = link("weigh_station: (hours: [(from: \"06:00\", to: \"09:00\")], minutes: 3)");
    let weighed = [ONE_LOAD, (TABLE, &*roads)];
    assert_eq!(causes(&weighed), (1, vec![(LateCause::WeighStation, 3.0)]));
}

/// Two ways of 20 miles at 60 and at 40 miles an hour. The quicker one leads by a weigh station that takes 3 min and that the desk does
/// not reckon with; the load goes the other way, 30 min, and gets 10 min late for it. What it saved at the station is no cause.
#[test]
fn the_way_round_a_weigh_station_is_a_cause_of_its_own() {
    let roads = link("weigh_station: (hours: [(from: \"06:00\", to: \"09:00\")], minutes: 3)").replace(
        "links: [",
        "junctions: [\"J\"], links: [(from: \"P\", to: \"J\", miles: 10, mph: 40), (from: \"J\", to: \"A\", miles: 10, mph: 40), ",
    );
    let round = [
        ONE_LOAD,
        (TABLE, &*roads),
        ("rules: [", "weighing: (goes_round: 1), rules: ["),
        (
            "loading: Constant(6)",
            "truck_scale: false, loading: Constant(6)",
        ),
    ];
    assert_eq!(causes(&round), (1, vec![(LateCause::WayRound, 10.0)]));
}

/// A truck that breaks down on every drive, for ten minutes.
#[test]
fn a_breakdown_is_a_cause_of_its_own() {
    let often = "breakdowns: (mean_h_between: 0.000001, minutes: Constant(10))";
    let home = format!("home: \"P\", {often}");
    let broken = [ONE_LOAD, ("home: \"P\"", &*home)];
    assert_eq!(causes(&broken), (1, vec![(LateCause::Breakdown, 10.0)]));
}

/// One incident a day on average, of ten hours, in which the link takes twice as long: a share 1 − exp(−10/24) of all moments
/// lies in one (an M/G/∞ queue is empty with probability exp(−load): any textbook of queueing theory), so that a trip usually
/// takes 20 × 1.3408 = 26.82 min. The desk believes in the empty road. A day on which an incident covers the whole trip has a
/// load that is 20 min late: 6.82 of belief, 13.18 of the incident. Without one the load comes in time.
#[test]
fn an_incident_is_a_cause_of_its_own() {
    let roads = link("incidents: (per_day: 1, minutes: Constant(600), factor: 2)");
    let incidents = [ONE_LOAD, (TABLE, &*roads)];
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

/// Minutes waited on site for a place, by cause, of the paper day with changes.
fn waits(changes: &[(&str, &str)]) -> [f64; WaitCause::ALL.len()] {
    let text = changed::changed(PLAIN, changes);
    let scenario = day::scenario(&text);
    let plan = Plan::new(&scenario);
    let mut profiler = Profiler::new(&plan);
    profiler.begin();
    World::new(&plan).run(0, Luck::new(1, 0), &mut profiler);
    profiler
        .profile
        .site_wait
        .map(|waited| waited as f64 / 60_000.0)
}

/// Three loads due at once, at one bay: on site at 07:00, 07:06, 07:12. A place is taken for the 10 min of the discharge (the chute
/// is washed beside it): however they come, the site can take the second at 07:10 and the third at 07:20. 4 + 8 min of waiting
/// are the site's. Called in at 06:45, they come at 07:15, 07:21, 07:27, after the site could have taken them at 07:00, 07:10
/// and 07:20, and get the place at 07:15, 07:25, 07:35: 4 + 8 min for loads that came late.
#[test]
fn waiting_on_site_is_the_sites_or_that_of_late_loads() {
    let at_once = [
        (
            "volume_yd3: 40, spacing_min: 30",
            "volume_yd3: 30, spacing_min: 0",
        ),
        ("count: 2", "count: 3"),
    ];
    assert_eq!(waits(&at_once), [0.0, 0.0, 0.0, 12.0, 0.0]);
    let late = ("late_min: 0", "late_min: 0, called: \"06:45\"");
    assert_eq!(
        waits(&[at_once[0], at_once[1], late]),
        [0.0, 0.0, 0.0, 0.0, 12.0]
    );
}

/// A rule that keeps 10 min in hand is on site at 06:50 for a load due at 07:00.
#[test]
fn waiting_on_site_before_the_load_is_due_is_earliness() {
    let early = [ONE_LOAD, ("early_min: 0", "early_min: 10")];
    assert_eq!(waits(&early), [10.0, 0.0, 0.0, 0.0, 0.0]);
}

/// A load due at 07:00 at a site that is not ready before 07:25, which nobody knows. Early by ten minutes of margin, the truck stands
/// from 06:50.
#[test]
fn a_site_that_is_not_set_up_keeps_the_truck_waiting() {
    let not_ready = [
        ONE_LOAD,
        ("early_min: 0", "early_min: 10"),
        (
            "rules: [",
            "changes: (not_ready: 1, not_ready_min: Constant(25)), rules: [",
        ),
    ];
    assert_eq!(waits(&not_ready), [10.0, 25.0, 0.0, 0.0, 0.0]);
}

/// Three loads due together, on site at 07:00, 07:06 and 07:12. After the first, at 07:10, the pour stops for half an hour: the second
/// has waited 4 min for a slow site, then 30 for the hold. The third waits 28 for the hold and 10 for the second.
#[test]
fn a_pour_on_hold_keeps_the_trucks_waiting() {
    let hold = [
        (
            "volume_yd3: 40, spacing_min: 30",
            "volume_yd3: 30, spacing_min: 0",
        ),
        ("count: 2", "count: 3"),
        (
            "rules: [",
            "changes: (hold: 1, hold_min: Constant(30)), rules: [",
        ),
    ];
    assert_eq!(waits(&hold), [0.0, 0.0, 58.0, 14.0, 0.0]);
}
