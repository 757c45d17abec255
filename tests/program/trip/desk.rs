//! How things stand as a dispatcher writes it: what contradicts itself is refused, what is left out is taken on the careful side, and
//! the law comes before punctuality. Every minute is worked out by hand.

use plantday::Watch;
use plantday::hours::Clock;
use plantday::plant::Rescue;
use plantday::scenario::day_state::{self, DayState, Doing, Unsaid};
use plantday::scenario::{self, Scenario};
use plantday::studies::trip::{
    LoadAnswer, LoadVerdict, Spanning, TripQuestion, WouldDo, may_load_go, who_fetches, who_takes,
};
use plantday::units::{DriverId, Millis, OrderId};
use statrs::distribution::{ContinuousCDF, Normal};

/// A slipway yard: loading 6, rack 4, 10 min to "Near", 30 to "Half", 75 to "Far", on site 2 + 10, chute wash 3. Class A for the big truck.
pub(super) const YARD: &str = r#"(
    name: "Slipway yard", period: (first_day: Wednesday, days: 1),
    rule_book: "us_property_2020",
    company: (driver_caution: 0.8, promise_horizon_min: 20),
    concrete: (age_limit_min: 120),
    plants: [(name: "Slipway", hours: [(open: "05:00", close: "18:00")], bays: 2, loading: Constant(6), rack: Constant(4))],
    sites: [(name: "Near"), (name: "Half"), (name: "Far")],
    roads: (minutes: { "Slipway": { "Near": 10, "Half": 30, "Far": 75 } }, luck: LUCK),
    trucks: [(name: "T", count: 3, home: "Slipway"), (name: "Big", home: "Slipway", needs: (class: A))],
    drivers: [
        (name: "D", count: 3, trucks: "T", report: "06:00", shift_h: 12, class: B),
        (name: "E", trucks: "Big", report: "06:00", shift_h: 12, class: A, history: (hours: [8, 8], released_h_before: 12)),
    ],
    helpers: [(name: "Yard hand", at: "Slipway", from: "06:00", to: "20:00", class: Ordinary)],
    orders: [
        (name: "Step", site: "Near", first: "16:00", volume_yd3: 10, spacing_min: 20,
            position: Constant(2), discharge: Constant(10), chute_wash: Constant(3)),
        (name: "Wall", site: "Half", first: "14:30", volume_yd3: 20, spacing_min: 90,
            position: Constant(2), discharge: Constant(10), chute_wash: Constant(3)),
        (name: "Pad", site: "Far", first: "17:00", volume_yd3: 10, spacing_min: 20,
            position: Constant(2), discharge: Constant(10), chute_wash: Constant(3)),
    ],
    yard: (pre_trip: Constant(0), washout: Constant(10), post_trip: Constant(5)),
    rules: [(name: "Today", today: true, belief: FreeFlow, choose: SoonestOnSite)],
)"#;

pub(super) fn yard(luck: &str) -> Scenario {
    let text = YARD.replace("LUCK", luck);
    match scenario::parse("yard", &text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

pub(super) fn at(time: &str) -> Millis {
    scenario::decode::moment_of(time).expect("a time")
}

pub(super) fn standing(scenario: &Scenario, text: &str) -> DayState {
    match day_state::parse("now.ron", text, scenario) {
        Ok(state) => state,
        Err(faults) => panic!("{faults}"),
    }
}

pub(super) fn question(state: DayState) -> TripQuestion {
    TripQuestion {
        at: state.at,
        state: Some(state),
        trials: 60,
        ..TripQuestion::default()
    }
}

/// D1 with these fields at 13:40, nobody else at work.
fn only_d1(fields: &str) -> String {
    format!(
        r#"(day: 1, at: "13:40", drivers: [
            (name: "D1", {fields}),
            (name: "D2", doing: Off), (name: "D3", doing: Off), (name: "E", doing: Off),
        ])"#
    )
}

const D1: DriverId = DriverId(0);
const WALL: OrderId = OrderId(1);

fn wall(scenario: &Scenario, text: &str) -> LoadAnswer {
    let question = question(standing(scenario, text));
    let answer = may_load_go(scenario, &question, (D1, WALL), Watch::default());
    answer.expect("it can be asked").expect("it is answered")
}

fn always(span: Option<Spanning>) -> f64 {
    let span = span.expect("it happens");
    assert_eq!((span.low, span.high), (span.middle, span.middle), "no luck");
    span.middle
}

fn problems(scenario: &Scenario, text: &str) -> String {
    match day_state::parse("now.ron", text, scenario) {
        Ok(_) => panic!("it is taken"),
        Err(faults) => faults.to_string(),
    }
}

/// Class B covers C, not A (49 CFR 383.91): D1 may not sit in the big truck, E may; and E may drive the others too.
#[test]
fn the_class_for_the_truck_is_asked_of_who_sits_in_it() {
    let scenario = yard("Constant(1)");
    let sits = |driver: &str, truck: &str| {
        format!(
            r#"(day: 1, at: "13:40", drivers: [(name: "{driver}", truck: "{truck}", doing: Free, at: "Slipway", since: "13:00",
                reported: "06:00", driven_h: 2, week_h: 20)])"#
        )
    };
    let said = problems(&scenario, &sits("D1", "Big"));
    assert!(said.contains("\"D1\" may not drive \"Big\""), "{said}");
    assert!(said.contains("the truck needs class A"), "{said}");
    standing(&scenario, &sits("E", "Big"));
    standing(&scenario, &sits("E", "T1"));
}

/// Ten yards fit, eleven do not; two bays, three trucks loading; 20 yd³ on trucks of 10 sent. All is said at once.
#[test]
fn bays_trucks_and_orders_must_go_together() {
    let scenario = yard("Constant(1)");
    let load = |driver: &str, number: u32, yd3: u32| {
        format!(
            r#"(name: "{driver}", doing: Loading, order: "Wall", load: {number}, yd3: {yd3}, plant: "Slipway", since: "13:38",
                reported: "06:00", driven_h: 2, week_h: 20),"#
        )
    };
    let state = |loads: &str, sent: u32| {
        format!(
            r#"(day: 1, at: "13:40", drivers: [{loads}], orders: [(name: "Wall", sent_yd3: {sent}, placed_yd3: 0, loads: 3)])"#
        )
    };
    let two = load("D1", 1, 10) + &load("D2", 2, 10);
    standing(&scenario, &state(&two, 20));
    let three = load("D1", 1, 11) + &load("D2", 2, 5) + &load("D3", 3, 4);
    let said = problems(&scenario, &state(&three, 10));
    for part in [
        "11 yd³ are on a truck that holds 10 yd³",
        "more trucks load at \"Slipway\" than it has bays",
        "20 yd³ of this order are on trucks, of 10 yd³ sent and not placed",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
}

/// Weekly hours and the time of batching are asked for; whose history the scenario holds has them.
#[test]
fn unknown_is_not_zero() {
    let scenario = yard("Constant(1)");
    let free = |driver: &str, week: &str| {
        format!(
            r#"(day: 1, at: "13:40", drivers: [(name: "{driver}", doing: Free, at: "Slipway", since: "13:00", reported: "06:00",
                driven_h: 2{week})])"#
        )
    };
    let said = problems(&scenario, &free("D1", ""));
    assert!(
        said.contains("how long the driver worked in the days before is not known"),
        "{said}"
    );
    standing(&scenario, &free("D1", ", week_h: 0"));
    standing(&scenario, &free("E", ""));
    let out = |batched: &str| {
        format!(
            r#"(day: 1, at: "13:40", drivers: [(name: "D1", doing: DrivingLoaded, order: "Wall", load: 1, yd3: 10, plant: "Slipway",
                since: "13:30", reported: "06:00", driven_h: 2, week_h: 20{batched})],
                orders: [(name: "Wall", sent_yd3: 10, loads: 1)])"#
        )
    };
    let said = problems(&scenario, &out(""));
    assert!(
        said.contains("when this load was batched is not known"),
        "{said}"
    );
    standing(&scenario, &out(", batched: \"13:20\""));
}

/// 7 h 50 min driven and 30 min to the site: beyond 8 h of driving without an interruption of 30 min (49 CFR 395.3(a)(3)(ii)). Free
/// since 13:35, the interruption is whole at 14:05; loading counts as part of it. So the load begins at 13:55, leaves at 14:05 and is
/// on site at 14:35, 5 min late of 15 tolerated. Free since 13:20 it is whole at 13:50, and the load goes as planned.
#[test]
fn a_break_is_made_whole_before_the_load_leaves() {
    let scenario = yard("Constant(1)");
    for (since, loading, on_site) in [("13:35", "13:55", "14:35"), ("13:20", "13:50", "14:30")] {
        let fields = format!(
            r#"doing: Free, at: "Slipway", since: "{since}", reported: "05:00", driven_h: 7.84, week_h: 20"#
        );
        let answer = wall(&scenario, &only_d1(&fields));
        assert_eq!(answer.verdict, LoadVerdict::Yes, "{since}");
        assert_eq!(always(answer.asked.fate.loading), at(loading).minutes());
        assert_eq!(always(answer.asked.fate.on_site), at(on_site).minutes());
    }
    // Free since 13:50 at 13:50: whole at 14:20, on site at 14:50, 20 min late of 15.
    let late = only_d1(
        r#"doing: Free, at: "Slipway", since: "13:50", reported: "05:00", driven_h: 7.84, week_h: 20"#,
    );
    let answer = wall(&scenario, &late.replace("at: \"13:40\"", "at: \"13:50\""));
    assert_eq!(answer.verdict, LoadVerdict::No);
    assert_eq!(always(answer.asked.fate.on_site), at("14:50").minutes());
    assert_eq!(answer.asked.fate.good.times, 0);
    assert_eq!(answer.asked.fate.back.share(), 1.0);
}

/// The same driver, who had a break until 11:00 and has driven half an hour of it since: nothing is due.
#[test]
fn a_break_that_is_known_counts() {
    let scenario = yard("Constant(1)");
    for known in [
        r#", break_over: "13:05""#,
        r#", break_over: "11:00", since_break_h: 0.5"#,
        ", since_break_h: 0.5",
    ] {
        let fields = format!(
            r#"doing: Free, at: "Slipway", since: "13:35", reported: "05:00", driven_h: 7.84, week_h: 20{known}"#
        );
        let answer = wall(&scenario, &only_d1(&fields));
        assert_eq!(answer.verdict, LoadVerdict::Yes, "{known}");
        assert_eq!(
            always(answer.asked.fate.on_site),
            at("14:30").minutes(),
            "{known}"
        );
    }
}

/// On duty since 02:30, hours driven not written: all of it may have been driven, and 11 h are all that may be (49 CFR
/// 395.3(a)(3)(i)): no. Out and back take an hour, so with 10 h driven it would be yes, and that is said. With 10 h written it is.
#[test]
fn hours_driven_that_are_not_written_are_taken_on_the_careful_side() {
    let scenario = yard("Constant(1)");
    let fields = |driven: &str| {
        only_d1(&format!(
            r#"doing: Free, at: "Slipway", since: "13:35", reported: "02:30"{driven}, week_h: 20"#
        ))
    };
    let state = standing(&scenario, &fields(""));
    assert_eq!(state.unsaid, [(D1, Unsaid::Driven), (D1, Unsaid::Break)]);
    let answer = wall(&scenario, &fields(""));
    let LoadVerdict::Refused(why) = answer.verdict else {
        panic!("{:?}", answer.verdict);
    };
    assert_eq!(why.clock(), Some(Clock::Driving));
    assert_eq!(
        answer.would_do,
        Some(WouldDo::Driven(Millis::from_hours(10.0)))
    );
    let known = wall(&scenario, &fields(", driven_h: 10"));
    assert_eq!((known.verdict, known.would_do), (LoadVerdict::Yes, None));
}

/// Of whom nothing is written: D2 and D3 follow the roster, on duty since 06:00 and driving all the time, after five tours of 12 h:
/// their 60 h in 7 days (49 CFR 395.3(b)(1)) are spent, so they are not counted on. E's history is known: 8 h and 8 h.
#[test]
fn who_is_not_named_follows_the_roster() {
    let scenario = yard("Constant(1)");
    let state = standing(
        &scenario,
        r#"(day: 1, at: "13:40", drivers: [(name: "D1", doing: Off)])"#,
    );
    let named = |driver: u32| {
        let of = state
            .drivers
            .iter()
            .find(|of| of.driver == DriverId(driver));
        of.expect("it stands")
    };
    assert_eq!(named(1).driven, at("13:40") - at("06:00"));
    assert_eq!(
        (named(1).week, named(3).week),
        (Some(Millis::from_hours(60.0)), None)
    );
    let answer = who_takes(&scenario, &question(state), WALL, Watch::default());
    let answer = answer.expect("it can be asked").expect("it is answered");
    assert_eq!(answer.asked.driver, DriverId(3));
}

/// A yard hand without the class may drive the car: 30 min out, 30 back, and E is home at 14:40 while the truck stays.
#[test]
fn a_driver_is_brought_home_by_car() {
    let scenario = yard("Constant(1)");
    let text = r#"(day: 1, at: "13:40", drivers: [
        (name: "E", doing: OutOfHours, at: "Half", since: "13:20", reported: "23:00 -1", driven_h: 5),
        (name: "D1", doing: Off), (name: "D2", doing: Off), (name: "D3", doing: Off),
    ])"#;
    let question = question(standing(&scenario, text));
    let answer = who_fetches(&scenario, &question, DriverId(3), Watch::default());
    let answer = answer.expect("it can be asked").expect("it is answered");
    let first = &answer.ways[0];
    assert_eq!(first.rescue, Rescue::DriverOnly(0));
    assert_eq!(always(first.home), at("14:40").minutes());
    assert!(
        !answer
            .ways
            .iter()
            .any(|way| way.rescue == Rescue::Helper(0))
    );
}

/// How often the limit is passed, and how often the driver is stranded, against integrals. The truck leaves at 14:00, trips are 30 min
/// times a lognormal with mean 1 and cv 0.2, the site takes 15 min, and the 14-hour window ends at 15:32: 77 min for both trips. The
/// driver reckons with the 80 % quantile of the way home, and so stays (lawfully) where the way out took longer than 77 min less
/// that; else drives, and passes the limit where both together take more than 77.
#[test]
fn passing_a_limit_and_being_stranded_come_as_often_as_the_integrals_say() {
    let sigma = (1.0_f64 + 0.2 * 0.2).ln().sqrt();
    let mu = -sigma * sigma / 2.0;
    let normal = Normal::new(0.0, 1.0).expect("a normal");
    let below = |factor: f64| normal.cdf((factor.ln() - mu) / sigma);
    let cautious = (mu + sigma * normal.inverse_cdf(0.8)).exp();
    let most = (77.0 - 30.0 * cautious) / 30.0;
    let stranded = 1.0 - below(most);
    // The midpoint rule over the way out.
    let steps = 100_000;
    let passing: f64 = (0..steps)
        .map(|step| {
            let from = most * f64::from(step) / f64::from(steps);
            let to = most * f64::from(step + 1) / f64::from(steps);
            (below(to) - below(from)) * (1.0 - below(77.0 / 30.0 - (from + to) / 2.0))
        })
        .sum();
    let scenario = yard("Lognormal(mean: 1, cv: 0.2)");
    let text = only_d1(
        r#"doing: Free, at: "Slipway", since: "13:05", reported: "01:32", driven_h: 2, week_h: 20"#,
    );
    let (mut runs, mut passed, mut stuck) = (0, 0, 0);
    for seed in 1..=25 {
        let mut question = question(standing(&scenario, &text));
        question.seed = seed;
        let answer = may_load_go(&scenario, &question, (D1, WALL), Watch::default());
        let answer = answer.expect("it can be asked").expect("it is answered");
        let legal = answer.legal.expect("it is no refusal");
        assert_ne!(answer.verdict, LoadVerdict::Yes);
        runs += legal.runs;
        passed += legal.passing.times;
        stuck += legal.stranded.times;
    }
    for (what, seen, expected) in [("passed", passed, passing), ("stranded", stuck, stranded)] {
        let share = seen as f64 / runs as f64;
        let error = (expected * (1.0 - expected) / runs as f64).sqrt();
        assert!(
            (share - expected).abs() < 3.5 * error,
            "{what}: {share} of {runs}, expected {expected}"
        );
    }
}

/// A yes shows what it says: 2,995 clean runs are the fewest after which a chance of 0.1 % is excluded at 95 % (0.999^2995 = 0.04996 <
/// 0.05, 0.999^2994 = 0.05001).
#[test]
fn a_yes_rests_on_enough_clean_runs() {
    let scenario = yard("Lognormal(mean: 1, cv: 0.2)");
    let text = only_d1(
        r#"doing: Free, at: "Slipway", since: "13:05", reported: "06:00", driven_h: 2, week_h: 20"#,
    );
    let answer = wall(&scenario, &text);
    assert_eq!(answer.verdict, LoadVerdict::Yes);
    let legal = answer.legal.expect("it is no refusal");
    assert_eq!((legal.runs, legal.passing.times), (2_995, 0));
    assert!(0.999_f64.powi(2_995) < 0.05 && 0.999_f64.powi(2_994) > 0.05);
    assert!(legal.passing.at_most <= 0.001 && legal.stranded.at_most <= 0.02);
}

/// A board as a table. At 14:50, the latest time in it: "Wall" has a load every 90 min from 14:30 on, so one is due, and it is the one on D2's
/// truck; "Pad" has begun by its truck alone. Weekly hours and the break are known of D1.
#[test]
fn a_board_of_trucks_is_a_state() {
    let scenario = yard("Constant(1)");
    let folder = tempfile::TempDir::new().expect("a folder");
    let read = |text: &str| {
        let path = folder.path().join("board.csv");
        std::fs::write(&path, text).expect("it can be written");
        day_state::read(&path, &scenario)
    };
    let state = read(
        "Driver,Status,Since,Where,Order,Batched,Reported,Driven,Last break,Week\n\
         D1,free,2:35 PM,Slipway,,,6:00 AM,2.5,12:30,20\n\
         D2,driving loaded,14:20,,Wall,14:10,06:00,3,,28\n\
         D3,loading,14:50,,Pad,,06:00,1,,28\n\
         E,off,14:00,,,,,,,\n",
    );
    let state = state.expect("it is a state");
    assert_eq!(state.at, at("14:50"));
    let of = |driver: u32| {
        state
            .drivers
            .iter()
            .find(|of| of.driver == DriverId(driver))
    };
    let d1 = of(0).expect("it stands");
    assert_eq!((d1.since, d1.break_over), (at("14:35"), Some(at("12:30"))));
    let Doing::Out(wall) = of(1).expect("it stands").doing else {
        panic!("{:?}", of(1));
    };
    assert_eq!(
        (wall.number, wall.volume.yd3(), wall.plant.at()),
        (0, 10.0, 0)
    );
    let orders: Vec<_> = state
        .orders
        .iter()
        .map(|of| (of.order.at(), of.loads, of.sent.yd3(), of.placed.yd3()))
        .collect();
    assert_eq!(orders, [(1, 1, 10.0, 0.0), (2, 1, 10.0, 0.0)]);
    assert_eq!(
        state.unsaid,
        [(DriverId(1), Unsaid::Break), (DriverId(2), Unsaid::Break)]
    );
    // A name that is not there has its cell told.
    let Err(wrong) =
        read("Driver,Status,Since,Where,Reported,Driven,Week\nD9,free,14:35,Slipway,06:00,2,20\n")
    else {
        panic!("it is taken");
    };
    let said = wrong.to_string();
    assert!(said.contains("the scenario has no driver \"D9\""), "{said}");
    assert!(said.contains("board.csv"), "{said}");
}
