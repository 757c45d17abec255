//! What a desk sees beside who drives where: queues, breaks, washing, promises, breakdowns, a plant that stands still, the traffic of the
//! day. Each on the slipway yard, worked out by hand, beside the same day without it.

use super::desk::{YARD, at, question, standing, yard};
use plantday::Watch;
use plantday::engine::Luck;
use plantday::plant::{Event, Moment, Observer, Plan, World};
use plantday::scenario::day_state::{Doing, Pause};
use plantday::scenario::{self, Scenario, day_state};
use plantday::studies::trip::{LoadAnswer, Spanning, may_load_go};
use plantday::units::{DriverId, Millis, OrderId};

const WALL: OrderId = OrderId(1);
const ON_DUTY: &str = r#"reported: "06:00", driven_h: 2, since_break_h: 1, week_h: 20"#;

/// At 13:40: D1 with these fields, and whatever else the file says; nobody else at work.
fn d1(fields: &str, more: &str) -> String {
    all(
        &format!(r#"(name: "D1", {fields}, {ON_DUTY}), (name: "D2", doing: Off)"#),
        more,
    )
}

/// D3 and E are off.
fn all(drivers: &str, more: &str) -> String {
    format!(
        r#"(day: 1, at: "13:40", drivers: [{drivers}, (name: "D3", doing: Off), (name: "E", doing: Off)], {more})"#
    )
}

const FREE: &str = r#"doing: Free, at: "Slipway", since: "13:30""#;

fn wall_of(scenario: &Scenario, driver: u32, text: &str) -> LoadAnswer {
    let question = question(standing(scenario, text));
    let answer = may_load_go(
        scenario,
        &question,
        (DriverId(driver), WALL),
        Watch::default(),
    );
    answer.expect("it can be asked").expect("it is answered")
}

fn always(span: Option<Spanning>) -> Millis {
    let span = span.expect("it happens");
    assert_eq!((span.low, span.high), (span.middle, span.middle), "no luck");
    Millis::from_minutes(span.middle)
}

/// When loading of the wall's next load begins in D1's truck, and when it is on site.
fn wall(scenario: &Scenario, text: &str) -> (Millis, Millis) {
    let fate = wall_of(scenario, 0, text).asked.fate;
    (always(fate.loading), always(fate.on_site))
}

/// What happens after the moment, as text.
#[derive(Default)]
struct Log(Vec<(Millis, String)>);

impl Observer for Log {
    fn event(&mut self, at: Millis, event: &Event) {
        self.0.push((at, format!("{event:?}")));
    }
}

impl Log {
    /// What goes on from such a file until 20:00.
    fn of(scenario: &Scenario, text: &str) -> Self {
        let plan = Plan::new(scenario);
        let state = standing(scenario, text);
        let world = World::from_state(&plan, 0, Luck::new(1, 0), &state, &mut ());
        let mut fork = World::new(&plan);
        fork.fork(&Moment::new(world), Luck::new(2, 0));
        let mut log = Self::default();
        fork.go_on_to(at("20:00"), &mut log);
        log
    }

    /// When the first thing of this name happens that has this in it.
    fn when(&self, name: &str, with: &str) -> Option<Millis> {
        let is = |text: &str| text.split(' ').next() == Some(name) && text.contains(with);
        let found = self.0.iter().find(|(_, text)| is(text));
        // Commands of a file come up within a few milliseconds.
        found.map(|(at, _)| Millis::from_minutes((at.minutes() * 60.0).round() / 60.0))
    }
}

/// Free: loading begins at 13:50, so that 6 + 4 + 30 min later, at 14:30, it is on site. On a break since 13:40 that asks for 30 min (49 CFR
/// 395.3(a)(3)(ii)) it is not before 14:10. A break of 20 min by the clock on the wall lasts until it is whole; one that is to last
/// until 14:20 until then.
#[test]
fn a_truck_on_a_break_is_not_sent_before_it_is_over() {
    let scenario = yard("Constant(1)");
    assert_eq!(wall(&scenario, &d1(FREE, "")), (at("13:50"), at("14:30")));
    for (until, loading) in [
        ("", "14:10"),
        (", until: \"14:00\"", "14:10"),
        (", until: \"14:20\"", "14:20"),
    ] {
        let fields = format!(r#"doing: OnBreak, at: "Slipway", since: "13:40"{until}"#);
        let (begins, _) = wall(&scenario, &d1(&fields, ""));
        assert_eq!(begins, at(loading), "{until}");
    }
}

/// Unloaded at Near. Driving back since 13:40 it is at the plant at 13:50. Washing the chute since 13:38, 3 min, it leaves at 13:41 and is
/// there at 13:51. On a break since 13:30 at the site it leaves at 14:00 and is there at 14:10.
#[test]
fn a_truck_that_washes_is_not_offered_before_it_is_done() {
    let scenario = yard("Constant(1)");
    for (fields, loading) in [
        (
            r#"doing: DrivingBack, order: "Step", since: "13:40""#,
            "13:50",
        ),
        (
            r#"doing: WashingChute, order: "Step", since: "13:38""#,
            "13:51",
        ),
        (r#"doing: OnBreak, order: "Step", since: "13:30""#, "14:10"),
    ] {
        let (begins, _) = wall(&scenario, &d1(fields, ""));
        assert_eq!(begins, at(loading), "{fields}");
    }
    // Washing out at the end of the day, 10 + 5 min since 13:38: off duty at 13:53, and no load goes with it.
    let out = d1(r#"doing: WashingOut, since: "13:38""#, "");
    let log = Log::of(&scenario, &out);
    assert_eq!(log.when("Released", "DriverId(0)"), Some(at("13:53")));
    assert_eq!(log.when("Promised", "TruckId(0)"), None);
}

/// The wall is 20 yd³, 90 min apart. Nothing promised: its next load is the first, due at 14:30. Promised to D2's truck it is the second,
/// due at 16:00 and loaded at 15:20; and D2's is loaded in time, once.
#[test]
fn a_promised_load_is_not_promised_a_second_time() {
    let scenario = yard("Constant(1)");
    let state = |next: &str| {
        let d2 =
            format!(r#"(name: "D2", {FREE}{next}, {ON_DUTY}), (name: "D1", {FREE}, {ON_DUTY})"#);
        all(&d2, "")
    };
    let alone = wall_of(&scenario, 0, &state(""));
    assert_eq!((alone.load.number, alone.load.due), (0, at("14:30")));
    let promised = state(r#", next_order: "Wall""#);
    let second = wall_of(&scenario, 0, &promised);
    assert_eq!((second.load.number, second.load.due), (1, at("16:00")));
    assert_eq!(always(second.asked.fate.loading), at("15:20"));
    let log = Log::of(&scenario, &promised);
    assert_eq!(log.when("BayEntered", "TruckId(1)"), Some(at("13:50")));
    let promises = |log: &Log| {
        log.0
            .iter()
            .filter(|(_, text)| text.starts_with("Promised { order: OrderId(1), number: 0,"))
            .count()
    };
    assert_eq!(
        (promises(&log), promises(&Log::of(&scenario, &state("")))),
        (0, 1)
    );
    // Promised on its way back from Half, where it left at 13:25: at the plant at 13:55, and into a bay at once.
    let back = d1(
        r#"doing: DrivingBack, order: "Wall", since: "13:25", next_order: "Wall", next_load: 1"#,
        "",
    );
    let log = Log::of(&scenario, &back);
    assert_eq!(log.when("BayEntered", "TruckId(0)"), Some(at("13:55")));
}

/// Both bays load since 13:38, 6 min. Who came at 13:35 is in at 13:44, who came at 13:36 waits for the next: 13:44 as well, as both end
/// then; with one of them only begun at 13:40, at 13:46.
#[test]
fn the_queue_for_a_bay_is_served_in_its_order() {
    let scenario = yard("Constant(1)");
    let loading = |name: &str, order: &str, since: &str| {
        format!(
            r#"(name: "{name}", doing: Loading, order: "{order}", load: 1, yd3: 10, plant: "Slipway", since: "{since}", {ON_DUTY})"#
        )
    };
    let queues = |name: &str, order: &str, since: &str| {
        format!(
            r#"(name: "{name}", doing: WaitingToLoad, order: "{order}", since: "{since}", {ON_DUTY})"#
        )
    };
    let e = r#"(name: "E", doing: WaitingToLoad, order: "Wall", load: 2, since: "13:35", reported: "06:00", driven_h: 2)"#;
    let drivers = [
        loading("D1", "Step", "13:38"),
        loading("D2", "Pad", "13:40"),
        queues("D3", "Wall", "13:36"),
        e.to_owned(),
    ];
    let orders = r#"orders: [(name: "Step", sent_yd3: 10, loads: 1), (name: "Pad", sent_yd3: 10, loads: 1)]"#;
    let text = format!(
        r#"(day: 1, at: "13:40", drivers: [{}], {orders})"#,
        drivers.join(", ")
    );
    let log = Log::of(&scenario, &text);
    assert_eq!(log.when("BayEntered", "TruckId(3)"), Some(at("13:44")));
    assert_eq!(log.when("BayEntered", "TruckId(2)"), Some(at("13:46")));
}

/// Down until 14:00: loading begins then, and the load is on site at 14:40. Down since 13:20 without a word of when it is back, of outages of
/// 60 min each: at 14:20. Up: at 13:50.
#[test]
fn a_plant_that_stands_still_loads_when_it_is_back() {
    let scenario = yard("Constant(1)");
    let until = r#"plants: [(name: "Slipway", down_since: "13:20", until: "14:00")]"#;
    assert_eq!(
        wall(&scenario, &d1(FREE, until)),
        (at("14:00"), at("14:40"))
    );
    assert_eq!(wall(&scenario, &d1(FREE, "")).0, at("13:50"));
    let unknown = r#"plants: [(name: "Slipway", down_since: "13:20")]"#;
    let said = day_state::parse("now.ron", &d1(FREE, unknown), &scenario);
    let said = said.expect_err("nobody can know").to_string();
    assert!(
        said.contains("when this plant works again is not known"),
        "{said}"
    );
    let breaks = YARD.replace("LUCK", "Constant(1)").replace(
        "bays: 2,",
        "bays: 2, outages: (mean_h_between: 1000000, minutes: Constant(60)),",
    );
    let breaks = scenario::parse("yard", &breaks).expect("it is right");
    assert_eq!(wall(&breaks, &d1(FREE, unknown)).0, at("14:20"));
}

/// Left Half at 13:20, 30 min of way. It drives on: at the plant at 13:50. Broken down at 13:30 until 14:00: 20 min are still ahead, and it is
/// there at 14:20. When it left is not written: all of the way is taken to be ahead, 14:30.
#[test]
fn a_truck_that_stands_beside_the_road_comes_later() {
    let scenario = yard("Constant(1)");
    for (fields, loading) in [
        (
            r#"doing: DrivingBack, order: "Wall", since: "13:20""#,
            "13:50",
        ),
        (
            r#"doing: BrokenDown, order: "Wall", left: "13:20", since: "13:30", until: "14:00""#,
            "14:20",
        ),
        (
            r#"doing: BrokenDown, order: "Wall", since: "13:30", until: "14:00""#,
            "14:30",
        ),
    ] {
        let (begins, _) = wall(&scenario, &d1(fields, ""));
        assert_eq!(begins, at(loading), "{fields}");
    }
}

/// Batched at 13:20 and off the plant at 13:30 for Half, 30 min away. On the road it is there at 14:00; stopped at 13:35 until 13:50 at 14:15.
/// Until 16:00 it would be too old (120 min from batching, to the end of its discharge): it is given up at once and made again, the drum
/// stabilized where it turns, emptied beside the road where it does not. Until then 12 h of driving of which 11 are allowed bar nobody.
#[test]
fn a_load_on_a_truck_that_stands_is_kept_or_made_again() {
    let scenario = yard("Constant(1)");
    let orders = r#"orders: [(name: "Wall", sent_yd3: 10, loads: 1)]"#;
    let load = r#"order: "Wall", load: 1, yd3: 10, plant: "Slipway", batched: "13:20""#;
    let log = |fields: &str| Log::of(&scenario, &d1(&format!("{fields}, {load}"), orders));
    let on_the_way = log(r#"doing: DrivingLoaded, since: "13:30""#);
    assert_eq!(
        on_the_way.when("SiteReached", "TruckId(0)"),
        Some(at("14:00"))
    );
    let kept = log(r#"doing: BrokenDown, left: "13:30", since: "13:35", until: "13:50""#);
    assert_eq!(kept.when("SiteReached", "TruckId(0)"), Some(at("14:15")));
    assert_eq!(kept.when("GivenUp", ""), None);
    for (turns, drum) in [("true", "Stabilized"), ("false", "Emptied")] {
        let lost = log(&format!(
            r#"doing: BrokenDown, left: "13:30", since: "13:35", until: "16:00", drum_turns: {turns}"#
        ));
        assert_eq!(lost.when("GivenUp", "TruckId(0)"), Some(at("13:40")));
        assert_eq!(lost.when("BrokenDrum", drum), Some(at("13:40")), "{turns}");
        // What it brings later is another load.
        assert!(
            lost.when("SiteReached", "TruckId(0)")
                .is_none_or(|later| later > at("16:30"))
        );
    }
}

/// Drives take twice as long: 60 min to Half.
#[test]
fn what_is_known_of_the_traffic_counts() {
    let scenario = yard("Constant(1)");
    assert_eq!(wall(&scenario, &d1(FREE, "traffic: 2")).1, at("15:00"));
    assert_eq!(wall(&scenario, &d1(FREE, "traffic: 1")).1, at("14:30"));
    let log = Log::of(
        &scenario,
        &d1(
            r#"doing: DrivingBack, order: "Wall", since: "13:20""#,
            "traffic: 2",
        ),
    );
    assert_eq!(log.when("Drove", "TruckId(0)"), Some(at("14:20")));
}

/// Off duty beside the truck at Half since 04:00, 10 h (49 CFR 395.3(a)(1)): from 14:00 on it is driven home, 30 min.
#[test]
fn who_rests_beside_the_truck_is_home_when_rested() {
    let scenario = yard("Constant(1)");
    let state = |rests: &str| {
        format!(
            r#"(day: 1, at: "13:40", drivers: [(name: "D1", doing: OutOfHours, at: "Half", {rests}since: "04:00", reported: "00:30", driven_h: 3, week_h: 20),
                (name: "D2", doing: Off), (name: "D3", doing: Off), (name: "E", doing: Off)])"#
        )
    };
    let rests = Log::of(&scenario, &state("resting: true, "));
    assert_eq!(rests.when("StrandedHome", ""), Some(at("14:30")));
    // Waiting on duty until now, the rest begins now, and ends tomorrow.
    let waits = Log::of(&scenario, &state(""));
    assert_ne!(waits.when("StrandedHome", ""), Some(at("14:30")));
}

/// A second plant, the Dock, 20 min from the Slipway. Sent there at 13:35 it arrives at 13:55; promised the pad's load it stays for it, else it
/// stands there free.
#[test]
fn a_truck_that_is_sent_to_another_plant_arrives_there() {
    let two = YARD
        .replace("LUCK", "Constant(1)")
        .replace(
            "plants: [",
            "plants: [(name: \"Dock\", hours: [(open: \"05:00\", close: \"18:00\")], bays: 1, loading: Constant(6), rack: Constant(4)), ",
        )
        .replace("\"Far\": 75 }", "\"Far\": 75, \"Dock\": 20 }, \"Dock\": { \"Near\": 15, \"Half\": 35, \"Far\": 60 }");
    let two = scenario::parse("yard", &two).expect("it is right");
    for next in ["", r#", next_order: "Pad", next_plant: "Dock""#] {
        let fields = format!(r#"doing: DrivingEmpty, to: "Dock", since: "13:35"{next}"#);
        let log = Log::of(&two, &d1(&fields, ""));
        assert_eq!(log.when("Drove", "TruckId(0)"), Some(at("13:55")), "{next}");
        if !next.is_empty() {
            // 60 + 6 + 4 min before 17:00.
            assert_eq!(
                log.when("BayEntered", "TruckId(0), plant: PlantId(0)"),
                Some(at("15:50"))
            );
        }
    }
}

/// What cannot be is refused, with its place: all of it at once.
#[test]
fn what_contradicts_itself_is_refused() {
    let scenario = yard("Constant(1)");
    let load = r#"order: "Wall", load: 1, yd3: 10, plant: "Slipway""#;
    let orders = r#"orders: [(name: "Wall", sent_yd3: 10, loads: 1)]"#;
    let two = |first: &str, second: &str, orders: &str| {
        let drivers =
            format!(r#"(name: "D1", {first}, {ON_DUTY}), (name: "D2", {second}, {ON_DUTY})"#);
        let said = day_state::parse("now.ron", &all(&drivers, orders), &scenario);
        said.expect_err("it cannot be").to_string()
    };
    let out = format!(r#"doing: DrivingLoaded, {load}, batched: "13:20", since: "13:30""#);
    for (first, second, orders, what) in [
        (
            out.as_str(),
            r#"doing: Free, at: "Slipway", next_order: "Wall", next_load: 1"#,
            orders,
            "this load of its order stands twice",
        ),
        (
            &out.replace("13:20", "05:50"),
            FREE,
            orders,
            "this load was batched before its driver reported",
        ),
        (
            &out.replace("DrivingLoaded", "AtRack")
                .replace("since: \"13:30\"", "since: \"13:10\""),
            FREE,
            orders,
            "this began before the load was batched",
        ),
        (
            r#"doing: WaitingToLoad, order: "Step""#,
            r#"doing: Free, at: "Slipway", next_order: "Step""#,
            "",
            "are promised to trucks, of 10 yd³ that are left",
        ),
        (
            r#"doing: WaitingToLoad, order: "Step", yd3: 11"#,
            FREE,
            "",
            "11 yd³ are promised to a truck that holds 10 yd³",
        ),
        (
            r#"doing: Free, at: "Slipway", next_order: "Step""#,
            FREE,
            r#"orders: [(name: "Step", cancelled: true)]"#,
            "which is canceled",
        ),
        (
            r#"doing: Free, at: "Slipway", next_load: 2"#,
            FREE,
            "",
            "of which order this load is, is not known",
        ),
        (
            r#"doing: OnBreak, at: "Slipway", since: "13:30", until: "13:35""#,
            FREE,
            "",
            "this has passed by the moment of the file",
        ),
        (
            r#"doing: BrokenDown, order: "Wall", left: "13:35", since: "13:30""#,
            FREE,
            "",
            "this drive began after the truck broke down on it",
        ),
        (
            r#"doing: Free, at: "Slipway", until: "14:00""#,
            FREE,
            "",
            "unknown field `until`",
        ),
        (
            FREE,
            FREE,
            r#"plants: [(name: "Slipway", down_since: "13:20", until: "14:00"), (name: "Slipway", down_since: "13:20", until: "14:00")]"#,
            "this plant stands twice",
        ),
        (
            FREE,
            FREE,
            r#"plants: [(name: "Slipway", down_since: "13:50", until: "14:00")]"#,
            "this is after the moment of the file",
        ),
    ] {
        let said = two(first, second, orders);
        assert!(said.contains(what), "{what}: {said}");
        assert!(said.contains("now.ron:"), "{said}");
    }
    // A break of which no law says how long it is.
    let other = YARD
        .replace("LUCK", "Constant(1)")
        .replace("rule_book: \"us_property_2020\"", "rule_book: \"none\"");
    let other = scenario::parse("yard", &other).expect("it is a scenario");
    let text = d1(r#"doing: OnBreak, at: "Slipway", since: "13:30""#, "");
    let said = day_state::parse("now.ron", &text, &other)
        .expect_err("it cannot be")
        .to_string();
    assert!(
        said.contains("how long this break takes is not known"),
        "{said}"
    );
}

/// The same on a board. At 14:40 the wall's first load, due at 14:30, is taken as placed: the next is its second, promised to D1's truck.
#[test]
fn a_board_tells_of_promises_and_breaks() {
    let scenario = yard("Constant(1)");
    let folder = tempfile::TempDir::new().expect("a folder");
    let path = folder.path().join("board.csv");
    let board = "Driver,Status,Since,Where,Next order,Until,Reported,Week\n\
        D1,free,2:35 PM,Slipway,Wall,,6:00 AM,20\n\
        D2,on break,14:40,Slipway,,15:20,06:00,28\n\
        D3,off,14:00,,,,,\nE,off,14:00,,,,,\n";
    std::fs::write(&path, board).expect("it can be written");
    let state = day_state::read(&path, &scenario).expect("it is a state");
    let next = state.drivers[0].next.expect("it is promised");
    assert_eq!(
        (next.order, next.number, next.volume.yd3()),
        (WALL, 1, 10.0)
    );
    let Doing::OnBreak(Pause::Free(plant)) = state.drivers[1].doing else {
        panic!("{:?}", state.drivers[1]);
    };
    assert_eq!((plant.at(), state.drivers[1].until), (0, Some(at("15:20"))));
}

/// At 14:40 the first of the wall's two loads is due since 14:30 and the second at 16:00: as planned one of 10 yd³ has been sent, and
/// placed unless it is on a truck. The pad is named, and canceled. Written again, only what differs from the plan stands in the file.
#[test]
fn orders_that_are_not_named_may_be_as_planned() {
    let scenario = yard("Constant(1)");
    let file = |doing: &str, orders: &str| {
        let text = format!(
            r#"(day: 1, at: "14:40", drivers: [(name: "D1", {doing}, {ON_DUTY})], {orders})"#
        );
        day_state::parse("state", &text, &scenario).expect("it is right")
    };
    let pad = r#"(name: "Pad", cancelled: true)"#;
    let on_site = r#"doing: WaitingOnSite, order: "Wall", load: 1, yd3: 10, plant: "Slipway", batched: "13:40", since: "14:30""#;
    for (doing, placed) in [(FREE, 10), (on_site, 0)] {
        let planned = file(doing, &format!("orders_as_planned: true, orders: [{pad}]"));
        let written = file(
            doing,
            &format!(
                r#"orders: [{pad}, (name: "Wall", sent_yd3: 10, placed_yd3: {placed}, loads: 1)]"#
            ),
        );
        assert_eq!(planned.orders, written.orders);
        let again = planned.to_text(&scenario).expect("a file can say it");
        assert!(again.contains("orders_as_planned: true"), "{again}");
        assert!(
            again.contains("\"Pad\"") && !again.contains("name: \"Wall\""),
            "{again}"
        );
        let read = day_state::parse("state", &again, &scenario).expect("it is right");
        assert_eq!(read.orders, planned.orders);
    }
    let bare = file(FREE, "");
    assert!(bare.orders.is_empty(), "without a word none has begun");
}
