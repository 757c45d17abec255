//! Days without luck on which one thing goes wrong, or the road has a noise that says nothing: every minute late goes to it, however
//! many loads later. Beside each stands the same day without the disturbance, on which no load is late.

use crate::changed;
use crate::day;

use plantday::engine::Luck;
use plantday::observe::{LateCause, Ledger};
use plantday::plant::{Event, Observer, Plan, StrandCause, World};
use plantday::units::Millis;

/// One plant, one bay, one truck, everything constant. Loading 6, rack 4, out 20, discharge 10, chute wash 5, back 18: a round trip of
/// 63 min, a load sent 30 min before it is due. Every minute late counts.
const PAPER: &str = r#"(
    name: "paper day",
    rule_book: "none",
    concrete: (age_limit_min: None),
    company: (promise_horizon_min: 0),
    changes: (),
    plants: [(name: "P", hours: [(open: "05:00", close: "20:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A"), (name: "B")],
    roads: (minutes: { "P": { "A": (20, 18), "B": (20, 18) } }),
    trucks: [(name: "T", count: 1, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30", shift_h: 14)],
    orders: [ORDERS],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow, choose: Nearest, early_min: 0, bay_wait_min: 0)],
)"#;

/// A bridge of 10 miles at 30 miles an hour, 20 min, between plant and site: a round trip of 65 min.
const BRIDGE: &str = "roads: Network(links: [(name: \"Bridge\", from: \"P\", to: \"A\", miles: 10, mph: 30, LIFTS)])";
const TABLE: &str = "roads: (minutes: { \"P\": { \"A\": (20, 18), \"B\": (20, 18) } })";

/// The roads with nothing on the bridge, and with this.
fn bridge(with: &str) -> (String, String) {
    (BRIDGE.replace(", LIFTS", ""), BRIDGE.replace("LIFTS", with))
}

/// An order: name, site, when its first load is due, loads, minutes between them.
fn order((name, site): (&str, &str), first: &str, loads: u32, spacing: u32, more: &str) -> String {
    format!(
        "(name: \"{name}\", site: \"{site}\", first: \"{first}\", volume_yd3: {}, spacing_min: {spacing}, late_min: 0, \
         position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5), {more}), ",
        loads * 10
    )
}

/// Late loads, and the minutes of each cause that has some.
fn causes(text: &str, replication: u64) -> (u64, Vec<(LateCause, f64)>) {
    let scenario = day::scenario(text);
    let plan = Plan::new(&scenario);
    let mut ledger = Ledger::new(&plan);
    ledger.begin();
    World::new(&plan).run(0, Luck::new(1, replication), &mut ledger);
    let minutes = |cause: LateCause| ledger.causes.late[cause as usize] as f64 / 60_000.0;
    let all = LateCause::ALL
        .into_iter()
        .map(|cause| (cause, minutes(cause)));
    (
        ledger.causes.loads,
        all.filter(|(_, minutes)| *minutes > 0.0).collect(),
    )
}

/// The day with these orders and changes is in time; with the disturbance so many minutes are late, all by that cause.
fn all_by(
    orders: &str,
    changes: &[(&str, &str)],
    disturbance: &[(&str, &str)],
    (cause, minutes): (LateCause, f64),
) {
    let undisturbed = changed::changed(&PAPER.replace("ORDERS", orders), changes);
    assert_eq!(causes(&undisturbed, 0), (0, vec![]), "undisturbed");
    let (_, found) = causes(&changed::changed(&undisturbed, disturbance), 0);
    assert_eq!(found, [(cause, minutes)]);
}

const TWO: (&str, &str) = ("count: 1", "count: 2");
const HOLD: (&str, &str) = ("changes: ()", "changes: (hold: 1, hold_min: Constant(90))");

/// The plant stands still from 06:00 to 07:30. Three trucks. Load 1 is sent 60 min late, load 2 30 min, and it waits 6 min for the bay,
/// load 3 12 min for the two before it; load 4, to be sent at 08:00, gets the truck of load 1 at 08:33: 60 + 36 + 12 + 33.
#[test]
fn an_outage_is_the_cause_of_the_queue_and_of_the_next_round() {
    let outage = "(open: \"05:00\", close: \"20:00\")], planned_outages: [(day: 1, from: \"06:00\", to: \"07:30\")]";
    all_by(
        &order(("W", "A"), "07:00", 4, 30, ""),
        &[("count: 1", "count: 3")],
        &[("(open: \"05:00\", close: \"20:00\")]", outage)],
        (LateCause::PlantClosed, 141.0),
    );
}

/// The same with two bays: at 07:30 loads 1 and 2 are loaded at once, load 3 waits 6 min: 60 + 30 + 6 + 33.
#[test]
fn an_outage_with_two_bays() {
    let outage = "(open: \"05:00\", close: \"20:00\")], planned_outages: [(day: 1, from: \"06:00\", to: \"07:30\")]";
    all_by(
        &order(("W", "A"), "07:00", 4, 30, ""),
        &[
            ("count: 1", "count: 3"),
            ("loading: Constant(6)", "bays: 2, loading: Constant(6)"),
        ],
        &[("(open: \"05:00\", close: \"20:00\")]", outage)],
        (LateCause::PlantClosed, 129.0),
    );
}

/// Three trucks sent at 06:18 for one bay, with an allowance of 12 min for the queue, for 07:00. The plant stands still from 06:20 to
/// 06:50, when one is in the bay: the others are loaded from 06:50 and 06:56 on, and on site at 07:20 and 07:26.
#[test]
fn an_outage_in_the_queue() {
    let outage = "(open: \"05:00\", close: \"20:00\")], planned_outages: [(day: 1, from: \"06:20\", to: \"06:50\")]";
    let places = "outlets: [(rate_yd3_min: 1, places: 3)]";
    all_by(
        &order(("W", "A"), "07:00", 3, 0, places),
        &[
            ("count: 1", "count: 3"),
            ("bay_wait_min: 0", "bay_wait_min: 12"),
        ],
        &[("(open: \"05:00\", close: \"20:00\")]", outage)],
        (LateCause::PlantClosed, 46.0),
    );
}

/// After load 1, at 07:10, the pour of A is on hold for 90 min, and so is the truck of load 2, back at 09:13 for 07:43. The other truck
/// is back from A at 07:33, takes B1 in time, and B2 at 08:36 for 07:43: 53 min for a hold of another truck at another site.
#[test]
fn a_hold_is_the_cause_where_another_truck_steps_in() {
    let orders = order(("A", "A"), "07:00", 2, 10, "")
        + &order(("B1", "B"), "08:03", 1, 30, "")
        + &order(("B2", "B"), "08:13", 1, 30, "");
    all_by(&orders, &[TWO], &[HOLD], (LateCause::Site, 53.0));
}

/// The hold from 07:10 to 08:40 keeps load 2 of A, on site at 08:03, for 37 min. The only truck is 37 min late for each of the three
/// loads after it.
#[test]
fn a_hold_goes_on_from_load_to_load() {
    let orders = order(("A", "A"), "07:00", 2, 63, "")
        + &order(("B1", "B"), "09:06", 1, 30, "")
        + &order(("B2", "B"), "10:09", 1, 30, "")
        + &order(("B3", "B"), "11:12", 1, 30, "");
    all_by(&orders, &[], &[HOLD], (LateCause::Site, 111.0));
}

/// The same, with 20 min to spare between B1 and B2: 37 + 17 + 17.
#[test]
fn time_to_spare_works_a_delay_off() {
    let orders = order(("A", "A"), "07:00", 2, 63, "")
        + &order(("B1", "B"), "09:06", 1, 30, "")
        + &order(("B2", "B"), "10:29", 1, 30, "")
        + &order(("B3", "B"), "11:32", 1, 30, "");
    all_by(&orders, &[], &[HOLD], (LateCause::Site, 71.0));
}

/// The truck is held up by the bridge as below, and load 2 is 34 min late. Hours later two loads are due at once at a site with two
/// places, where the only truck cannot bring the second before a round of 65 min: with the bridge or without it, that is want of trucks.
#[test]
fn what_a_truck_has_worked_off_it_hands_on_to_nobody() {
    let places = "outlets: [(rate_yd3_min: 1, places: 2)]";
    let orders = order(("W", "A"), "07:00", 2, 66, "") + &order(("C", "A"), "14:00", 2, 0, places);
    let (open, lifts) = bridge("lifts: [(from: \"07:10\", to: \"07:50\")]");
    let text = changed::changed(&PAPER.replace("ORDERS", &orders), &[(TABLE, &open)]);
    let want = (LateCause::NoTruck, 65.0);
    assert_eq!(causes(&text, 0), (1, vec![want]));
    assert_eq!(
        causes(&changed::changed(&text, &[(&open, &lifts)]), 0),
        (2, vec![want, (LateCause::LiftBridge, 34.0)])
    );
}

/// The truck leaves its site at 07:15, the bridge is up until 07:50: 35 min late with a minute to spare in each round: 34 + 33 + 32.
/// A desk that knows the hours of the bridge can do nothing about it.
#[test]
fn a_bridge_on_the_way_back() {
    let (open, lifts) = bridge("lifts: [(from: \"07:10\", to: \"07:50\")]");
    for belief in ["belief: FreeFlow", "belief: TimeOfDay"] {
        all_by(
            &order(("W", "A"), "07:00", 4, 66, ""),
            &[(TABLE, &open), ("belief: FreeFlow", belief)],
            &[(&open, &lifts)],
            (LateCause::LiftBridge, 99.0),
        );
    }
}

/// Two trucks, a load every 33 min, a round of 65: the bridge holds load 1 up for 25 min, until 07:25. Load 2, in time at 07:33, waits
/// 2 min for the place. Load 3 gets the first truck 24 min late, load 4 the second a minute late, load 5 the first 23 min late.
#[test]
fn a_bridge_holds_up_the_truck_behind() {
    let (open, lifts) = bridge("lifts: [(from: \"06:35\", to: \"07:05\")]");
    all_by(
        &order(("W", "A"), "07:00", 5, 33, ""),
        &[TWO, (TABLE, &open)],
        &[(&open, &lifts)],
        (LateCause::LiftBridge, 73.0),
    );
}

/// A truck that breaks down on every drive, ten minutes, on three loads 63 min apart: 10, then 20 more each round.
#[test]
fn a_breakdown_on_the_way_back() {
    let often = "home: \"P\", breakdowns: (mean_h_between: 0.000001, minutes: Constant(10))";
    all_by(
        &order(("W", "A"), "07:00", 3, 63, ""),
        &[],
        &[("home: \"P\"", often)],
        (LateCause::Breakdown, 90.0),
    );
}

/// Two trucks, of which the second breaks down for 60 min on every drive: load 2 of A is 60 min late. Under way until 09:43 it
/// misses B2, to be sent at 07:43, which the first takes at 08:36.
#[test]
fn a_breakdown_of_the_truck_that_would_have_come() {
    let orders = order(("A", "A"), "07:00", 2, 10, "")
        + &order(("B1", "B"), "08:03", 1, 30, "")
        + &order(("B2", "B"), "08:13", 1, 30, "");
    let each =
        |more: &str| format!("(name: \"T1\", home: \"P\"), (name: \"T2\", home: \"P\"{more})");
    let (sound, breaks) = (
        each(""),
        each(", breakdowns: (mean_h_between: 0.000001, minutes: Constant(60))"),
    );
    let drivers = "(name: \"D1\", trucks: \"T1\", report: \"05:30\", shift_h: 14), (name: \"D2\", trucks: \"T2\", report: \"05:30\", shift_h: 14)";
    all_by(
        &orders,
        &[
            ("(name: \"T\", count: 1, home: \"P\")", &sound),
            (
                "(name: \"D\", trucks: \"T\", report: \"05:30\", shift_h: 14)",
                drivers,
            ),
        ],
        &[(&sound, &breaks)],
        (LateCause::Breakdown, 113.0),
    );
}

/// A weigh station on the way out that the desk does not reckon with, 3 min: each load is 3 min late for its own stop and, 65 min apart
/// with one truck, for those of all loads before: 3 + 6 + 9.
#[test]
fn a_weigh_station_in_every_round() {
    let (without, with) = bridge(
        "both_ways: false, weigh_station: (hours: [(from: \"05:00\", to: \"20:00\")], minutes: 3)), (from: \"A\", to: \"P\", miles: 10, mph: 30, both_ways: false",
    );
    all_by(
        &order(("W", "A"), "07:00", 3, 65, ""),
        &[(TABLE, &without)],
        &[(&without, &with)],
        (LateCause::WeighStation, 18.0),
    );
}

/// An incident on the way back alone, which takes twice as long: whatever a day brings, nothing else makes a load late.
#[test]
fn an_incident_on_the_way_back() {
    let roads = BRIDGE.replace(
        "LIFTS",
        "both_ways: false), (from: \"A\", to: \"P\", miles: 10, mph: 30, both_ways: false, INCIDENTS",
    );
    let quiet = roads.replace(", INCIDENTS", "");
    let incidents = roads.replace(
        "INCIDENTS",
        "incidents: (per_day: 1, minutes: Constant(600), factor: 2)",
    );
    let text = PAPER.replace("ORDERS", &order(("W", "A"), "07:00", 2, 65, ""));
    let undisturbed = changed::changed(&text, &[(TABLE, &quiet)]);
    assert_eq!(causes(&undisturbed, 0), (0, vec![]));
    let disturbed = changed::changed(&text, &[(TABLE, &incidents)]);
    let mut late = 0;
    for replication in 0..40 {
        let (loads, found) = causes(&disturbed, replication);
        assert!(
            found.iter().all(|(cause, _)| *cause == LateCause::Incident),
            "{found:?}"
        );
        late += loads;
    }
    assert!(late > 5, "{late}");
}

/// The first order is called in at 07:00, half an hour after its send time; the second has to wait for the only truck as long.
#[test]
fn a_late_call_goes_on_to_the_next_order() {
    let called =
        |more| order(("A", "A"), "07:00", 1, 30, more) + &order(("B", "B"), "08:03", 1, 30, "");
    let (before, late) = (called(""), called("called: \"07:00\""));
    all_by(
        &before,
        &[],
        &[(&before, &late)],
        (LateCause::CalledLate, 60.0),
    );
}

/// A load in the evening keeps the driver, who must rest ten hours, until 20:21 and so until 06:21 for 05:30: the loads of the morning,
/// sent at 06:36 after a check of 15 min for 06:30 and at 07:39 for 07:33, are 6 min late each.
#[test]
fn a_driver_who_has_to_rest_comes_late() {
    let two_days = "name: \"paper day\", period: (first_day: Monday, days: 2)";
    let book = "rule_book: \"rest\", rule_books: [(name: \"rest\", like: \"none\", rest_h: 10, window_h: 20)]";
    let evening =
        |first| order(("E", "A"), first, 1, 30, "") + &order(("M", "B"), "07:00", 2, 63, "day: 2");
    let (early, late) = (evening("12:00"), evening("19:28"));
    all_by(
        &early,
        &[
            ("name: \"paper day\"", two_days),
            ("rule_book: \"none\"", book),
            ("close: \"20:00\"", "close: \"22:00\""),
        ],
        &[(&early, &late)],
        (LateCause::NoHours, 12.0),
    );
}

/// By the rule's margin of 10 min the truck is on site at 06:50 and waits until the site is set up at 07:00. The hold from 07:10 to 08:40
/// keeps it on its next load for 37 min from 08:03 on, where it would have been taken at once: the truck is back at 09:13 for a load to
/// be sent at 08:46, which comes 27 − 10 = 17 min late, and at 10:16 for 09:59: 7 min late.
#[test]
fn coming_early_is_no_delay() {
    let orders = order(("A", "A"), "07:00", 2, 73, "")
        + &order(("B1", "B"), "09:26", 1, 30, "")
        + &order(("B2", "B"), "10:39", 1, 30, "");
    all_by(
        &orders,
        &[("early_min: 0", "early_min: 10")],
        &[HOLD],
        (LateCause::Site, 24.0),
    );
}

/// No order is called in late: the rule leaves the load to the nearer plant, whose driver comes at 09:30, and lets the other in at 07:50
/// only. Sent then for 60 min of loading, rack and road, the load is 50 min late.
#[test]
fn nothing_is_called_in_late() {
    let day = [
        (
            "plants: [",
            "plants: [(name: \"Q\", loading: Constant(6), rack: Constant(4)), ",
        ),
        (
            "(name: \"T\", count: 1, home: \"P\")",
            "(name: \"T\", home: \"P\"), (name: \"U\", home: \"Q\")",
        ),
        (
            "(name: \"D\", trucks: \"T\", report: \"05:30\", shift_h: 14)",
            "(name: \"D\", trucks: \"T\", report: \"09:30\"), (name: \"E\", trucks: \"U\", report: \"05:30\")",
        ),
        ("minutes: {", "minutes: { \"Q\": { \"A\": 50, \"P\": 40 },"),
    ];
    let far = (
        "belief: FreeFlow",
        "belief: FreeFlow, lend: Never, plants: NearestFirst(late_min: 20)",
    );
    all_by(
        &order(("W", "A"), "08:00", 1, 30, ""),
        &day,
        &[far],
        (LateCause::NearerPlant, 50.0),
    );
}

/// Two loads due at once at 07:00, one truck: load 2 is ready at 07:10 and is promised the truck when that leaves the site at 07:15. Behind
/// the bridge until 08:40, the truck comes when the plant has shut at 08:00: the promise is broken, and nobody comes. 5 min are want of
/// trucks, the rest until midnight the plant's.
#[test]
fn a_broken_promise_keeps_what_the_wait_before_it_was() {
    let lifts = BRIDGE.replace("LIFTS", "lifts: [(from: \"07:10\", to: \"08:40\")]");
    let text = changed::changed(
        &PAPER.replace("ORDERS", &order(("W", "A"), "07:00", 2, 0, "")),
        &[
            (TABLE, &lifts),
            ("promise_horizon_min: 0", "promise_horizon_min: 20"),
            ("close: \"20:00\"", "close: \"08:00\""),
        ],
    );
    assert_eq!(
        causes(&text, 0),
        (
            1,
            vec![(LateCause::NoTruck, 5.0), (LateCause::PlantClosed, 1005.0)]
        )
    );
}

/// Strandings by cause.
#[derive(Default)]
struct Strandings([u32; StrandCause::ALL.len()]);

impl Observer for Strandings {
    fn event(&mut self, _: Millis, event: &Event) {
        if let Event::Stranded { cause, .. } = event {
            self.0[*cause as usize] += 1;
        }
    }
}

/// A duty window of six hours from 05:30. The hold of 300 min keeps the truck of load 2 on site until 12:25; the road has a noise of 5 %,
/// a minute, either way: every stranding is the site's. Without the hold a road four times as long as believed strands by itself.
#[test]
fn a_stranding_goes_to_what_took_most_beyond_plan() {
    let strandings = |changes: &[(&str, &str)]| {
        let text = PAPER.replace("ORDERS", &order(("A", "A"), "07:00", 2, 10, ""));
        let scenario = day::scenario(&changed::changed(&text, changes));
        let plan = Plan::new(&scenario);
        let mut found = Strandings::default();
        for replication in 0..100 {
            World::new(&plan).run(0, Luck::new(1, replication), &mut found);
        }
        found.0
    };
    let window = (
        "rule_book: \"none\"",
        "rule_book: DutyWindow(hours: 6, rest_hours: 10)",
    );
    let noise = ("roads: (", "roads: (luck: Lognormal(mean: 1, cv: 0.05), ");
    let hold = ("changes: ()", "changes: (hold: 1, hold_min: Constant(300))");
    let only = |cause: StrandCause, found: [u32; StrandCause::ALL.len()]| {
        let others: u32 = found.iter().sum::<u32>() - found[cause as usize];
        assert!(others == 0 && found[cause as usize] >= 100, "{found:?}");
    };
    assert_eq!(strandings(&[TWO, window, noise]), [0; 6]);
    only(
        StrandCause::SiteLong,
        strandings(&[TWO, window, noise, hold]),
    );
}
