//! Questions of a desk whose answers are worked out by hand, to the minute, on the days of `desk.rs`: 10 min at the plant, 30 to "Half", 15
//! on site, 30 back. The load of "Wall" due at 14:30 is loaded at 13:50, on site at 14:30, its truck leaves at 14:45 and is back at 15:15.

use super::desk::{at, question, standing, yard};
use plantday::Watch;
use plantday::dispatch::Refusal;
use plantday::hours::Clock;
use plantday::plant::Rescue;
use plantday::scenario::{self, Scenario, day_state};
use plantday::studies::trip::{
    FetchAnswer, LoadAnswer, LoadVerdict, NewOrder, OrderAnswer, OrderQuestion, Spanning,
    may_load_go, take_order, who_fetches, who_takes,
};
use plantday::units::{DriverId, OrderId, Volume};

const D1: DriverId = DriverId(0);
const D2: DriverId = DriverId(1);
const E: DriverId = DriverId(3);
const STEP: OrderId = OrderId(0);
const WALL: OrderId = OrderId(1);
const PAD: OrderId = OrderId(2);

/// What is to be answered.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Expected {
    Yes,
    /// Late or too old, within the law.
    No,
    /// In time, and the driver does not come home.
    Stranded,
    Refused(Refusal),
}
use Expected::{No, Refused, Stranded, Yes};

fn changed(changes: &[(&str, &str)]) -> Scenario {
    let mut text = super::desk::YARD.replace("LUCK", "Constant(1)");
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    match scenario::parse("yard", &text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

/// A board at a time; who is not named is off.
fn board(time: &str, named: &[(&str, &str)]) -> String {
    let mut drivers = String::new();
    for driver in ["D1", "D2", "D3", "E"] {
        let fields = named.iter().find(|(name, _)| *name == driver);
        let fields = fields.map_or("doing: Off", |(_, fields)| fields);
        drivers += &format!("(name: \"{driver}\", {fields}), ");
    }
    format!("(day: 1, at: \"{time}\", drivers: [{drivers}])")
}

fn free(rest: &str) -> String {
    format!("doing: Free, at: \"Slipway\", {rest}")
}

fn asked(scenario: &Scenario, text: &str, driver: DriverId, order: OrderId) -> LoadAnswer {
    let question = question(standing(scenario, text));
    let answer = may_load_go(scenario, &question, (driver, order), Watch::default());
    answer.expect("it can be asked").expect("it is answered")
}

fn always(span: Option<Spanning>) -> f64 {
    let span = span.expect("it happens");
    assert_eq!((span.low, span.high), (span.middle, span.middle), "no luck");
    span.middle
}

fn is(answer: &LoadAnswer, expected: Expected, what: &str) {
    let fate = &answer.asked.fate;
    let found = match answer.verdict {
        LoadVerdict::Yes => Yes,
        LoadVerdict::No => No,
        LoadVerdict::TooRisky => {
            assert_eq!(fate.stranded.share(), 1.0, "{what}");
            Stranded
        }
        LoadVerdict::Refused(why) => Refused(why),
        other => panic!("{what}: {other:?}"),
    };
    assert_eq!(found, expected, "{what}");
}

/// Fourteen hours after coming on duty nobody drives (49 CFR 395.3(a)(2)). Back at 15:15: who came at 01:15 may. On site at 14:30: who came
/// from 00:30 on gets there and not home, who came before may not begin.
#[test]
fn the_fourteenth_hour_to_the_minute() {
    let scenario = yard("Constant(1)");
    let cases = [
        ("01:15", Yes),
        ("01:14", Stranded),
        ("00:30", Stranded),
        ("00:29", Refused(Refusal::DutyWindow)),
    ];
    for (reported, expected) in cases {
        let fields = free(&format!(
            r#"since: "13:05", reported: "{reported}", driven_h: 2, week_h: 20"#
        ));
        let answer = asked(&scenario, &board("13:40", &[("D1", &fields)]), D1, WALL);
        is(&answer, expected, reported);
        assert_eq!(answer.clock, Some(Clock::Window), "{reported}");
    }
}

/// Eleven hours may be driven (49 CFR 395.3(a)(3)(i)), half an hour out and half an hour back: 10 h driven are the most for both, 10.5 for
/// the way out. A hundredth of an hour is 36 s.
#[test]
fn the_eleventh_hour_at_the_wheel() {
    let scenario = yard("Constant(1)");
    let cases = [
        ("10", Yes),
        ("10.01", Stranded),
        ("10.5", Stranded),
        ("10.51", Refused(Refusal::DrivingHours)),
    ];
    for (driven, expected) in cases {
        let fields = free(&format!(
            r#"since: "13:35", reported: "02:30", driven_h: {driven}, since_break_h: 0.5, week_h: 20"#
        ));
        let answer = asked(&scenario, &board("13:40", &[("D1", &fields)]), D1, WALL);
        is(&answer, expected, driven);
        assert_eq!(answer.clock, Some(Clock::Driving), "{driven}");
    }
}

/// Sixty hours on duty in seven days (49 CFR 395.3(b)(1)). On duty since 06:00: 9 h 15 min until back, 8 h 30 min until on site.
#[test]
fn the_sixtieth_hour_of_the_week() {
    let scenario = yard("Constant(1)");
    let cases = [
        ("50.75", Yes),
        ("50.76", Stranded),
        ("51.5", Stranded),
        ("51.51", Refused(Refusal::WeeklyHours)),
    ];
    for (week, expected) in cases {
        let fields = free(&format!(
            r#"since: "13:05", reported: "06:00", driven_h: 2, week_h: {week}"#
        ));
        let answer = asked(&scenario, &board("13:40", &[("D1", &fields)]), D1, WALL);
        is(&answer, expected, week);
        assert_eq!(answer.clock, Some(Clock::Cycle), "{week}");
    }
}

/// Half an hour without driving is due after 8 h of driving (49 CFR 395.3(a)(3)(ii)); work that is not driving counts as one. With 7.5 h
/// driven since the last, the way out just fits and the half hour is made on site, from 14:30 to 15:00: back at 15:30. With 7.4 h the
/// way home is 24 min of driving too many: the same. With 7 h nothing is due.
#[test]
fn a_break_on_site_makes_the_way_home_later() {
    let scenario = yard("Constant(1)");
    for (since_break, back) in [("7.5", "15:30"), ("7.4", "15:30"), ("7", "15:15")] {
        let fields = free(&format!(
            r#"since: "13:35", reported: "05:00", driven_h: 7.5, since_break_h: {since_break}, week_h: 20"#
        ));
        let answer = asked(&scenario, &board("13:40", &[("D1", &fields)]), D1, WALL);
        is(&answer, Yes, since_break);
        assert_eq!(always(answer.asked.fate.on_site), at("14:30").minutes());
        assert_eq!(
            always(answer.asked.fate.back_at),
            at(back).minutes(),
            "{since_break}"
        );
    }
}

/// Within 150 air miles and released at the work reporting place within 14 h no break is asked for (49 CFR 395.1(e)(1)): 7.9 h driven since
/// the last, and the load leaves at 14:00 all the same. Under the rule for property carriers it leaves once the half hour since 13:35 is
/// whole, at 14:05.
#[test]
fn short_haul_asks_for_no_break() {
    let fields =
        free(r#"since: "13:35", reported: "02:00", driven_h: 7.9, since_break_h: 7.9, week_h: 20"#);
    let text = board("13:40", &[("D1", &fields)]);
    for (book, on_site) in [
        ("us_short_haul_2020", "14:30"),
        ("us_property_2020", "14:35"),
    ] {
        let scenario = changed(&[
            ("us_property_2020", book),
            (
                "(name: \"Slipway\", hours",
                "(name: \"Slipway\", at: (0, 0), hours",
            ),
            (
                "(name: \"Near\"), (name: \"Half\"), (name: \"Far\")",
                "(name: \"Near\", at: (5, 0)), (name: \"Half\", at: (15, 0)), (name: \"Far\", at: (40, 0))",
            ),
        ]);
        let answer = asked(&scenario, &text, D1, WALL);
        is(&answer, Yes, book);
        assert_eq!(
            always(answer.asked.fate.on_site),
            at(on_site).minutes(),
            "{book}"
        );
    }
}

/// Ten minutes at the plant, 30 on the road and 15 on site: 55 min from batching until the truck leaves.
#[test]
fn the_age_on_site_to_the_minute() {
    let fields = free(r#"since: "13:05", reported: "06:00", driven_h: 2, week_h: 20"#);
    let text = board("13:40", &[("D1", &fields)]);
    for (limit, expected) in [("55", Yes), ("54", Refused(Refusal::Age))] {
        let limit = format!("age_limit_min: {limit}");
        let scenario = changed(&[("age_limit_min: 120", &limit)]);
        is(&asked(&scenario, &text, D1, WALL), expected, &limit);
    }
}

/// At 13:50 D2 has just pulled into the only bay, which is free at 13:56: six minutes late on site of 15 tolerated; of 5, no. With two
/// bays it goes at once.
#[test]
fn a_bay_that_is_occupied_is_waited_for() {
    let d1 = free(r#"since: "13:05", reported: "06:00", driven_h: 2, week_h: 20"#);
    let d2 = r#"doing: Loading, order: "Pad", load: 1, yd3: 10, plant: "Slipway", since: "13:50", reported: "06:00", driven_h: 2,
        week_h: 20"#;
    let text = board("13:50", &[("D1", &d1), ("D2", d2)]);
    let text = text.replace(
        "])",
        "], orders: [(name: \"Pad\", sent_yd3: 10, loads: 1)])",
    );
    let late = |minutes: &str| format!("first: \"14:30\", late_min: {minutes}");
    for (bays, minutes, expected, on_site) in [
        ("bays: 1", "15", Yes, "14:36"),
        ("bays: 1", "5", No, "14:36"),
        ("bays: 2", "5", Yes, "14:30"),
    ] {
        let late = late(minutes);
        let scenario = changed(&[("bays: 2", bays), ("first: \"14:30\"", &late)]);
        let answer = asked(&scenario, &text, D1, WALL);
        is(&answer, expected, &late);
        assert_eq!(always(answer.asked.fate.on_site), at(on_site).minutes());
    }
}

/// "Step" is due at 16:00 and would be sent at 15:40. A plant that closes at 15:35 or 15:25 loads it then, 5 and 15 min early on site; one
/// that closes at 15:24 would have it there 16 min early, of 15 that the order bears.
#[test]
fn a_plant_that_closes_loads_the_last_one_early() {
    let fields = free(r#"since: "13:05", reported: "06:00", driven_h: 2, week_h: 20"#);
    let text = board("13:40", &[("D1", &fields)]);
    for (close, expected, loading) in [
        ("18:00", Yes, Some("15:40")),
        ("15:35", Yes, Some("15:35")),
        ("15:25", Yes, Some("15:25")),
        ("15:24", Refused(Refusal::PlantClosed), None),
    ] {
        let hours = format!("close: \"{close}\"");
        let scenario = changed(&[("close: \"18:00\"", &hours)]);
        let answer = asked(&scenario, &text, D1, STEP);
        is(&answer, expected, close);
        if let Some(loading) = loading {
            assert_eq!(always(answer.asked.fate.loading), at(loading).minutes());
        }
    }
}

/// A load for "Pad", 75 min away, is back 10 + 75 + 15 + 75 min after its loading began: due at 17:00 it begins at 15:35 and ends at 18:30.
/// D1 came at 04:30, D2 at 04:29.
#[test]
fn the_farthest_site_ends_the_longest_day() {
    let scenario = yard("Constant(1)");
    for (reported, expected) in [("04:30", Yes), ("04:29", Stranded)] {
        let fields = free(&format!(
            r#"since: "13:05", reported: "{reported}", driven_h: 2, week_h: 20"#
        ));
        let answer = asked(&scenario, &board("13:40", &[("D1", &fields)]), D1, PAD);
        is(&answer, expected, reported);
    }
}

/// Two endorsements: the truck asks for one that D1 has not (the trade's tests are those of 49 CFR 383.93). Class A covers B and C.
#[test]
fn an_endorsement_is_asked_of_who_sits_in_the_truck() {
    let scenario = changed(&[
        (
            "(name: \"T\", count: 3, home: \"Slipway\")",
            "(name: \"T\", count: 3, home: \"Slipway\", needs: (class: B, endorsements: [\"tank\"]))",
        ),
        (
            "shift_h: 12, class: B)",
            "shift_h: 12, class: B, endorsements: [\"tank\"])",
        ),
        (
            "shift_h: 12, class: A,",
            "shift_h: 12, class: A, endorsements: [\"doubles\"],",
        ),
    ]);
    let sits = |driver: &str| {
        let fields =
            r#"doing: Free, at: "Slipway", since: "13:00", reported: "06:00", driven_h: 2"#;
        format!(
            r#"(day: 1, at: "13:40", drivers: [(name: "{driver}", truck: "T1", {fields}, week_h: 20)])"#
        )
    };
    standing(&scenario, &sits("D1"));
    let Err(faults) = day_state::parse("now.ron", &sits("E"), &scenario) else {
        panic!("it is taken");
    };
    let said = faults.to_string();
    assert!(said.contains("\"E\" may not drive \"T1\""), "{said}");
    assert!(said.contains("tank"), "{said}");
}

/// Who takes it: D1 would be stranded (see the fourteenth hour), D2 has the hours, D3 is on site until 14:15 and back at 14:45: loaded at
/// 14:45 he would be on site at 15:25, 55 min late.
#[test]
fn who_takes_it_has_the_hours_and_the_time() {
    let scenario = yard("Constant(1)");
    let d1 = free(r#"since: "13:05", reported: "01:14", driven_h: 2, week_h: 20"#);
    let d2 = free(r#"since: "13:05", reported: "06:00", driven_h: 2, week_h: 20"#);
    let text = board("13:40", &[("D1", &d1), ("D2", &d2)]);
    let question = question(standing(&scenario, &text));
    let answer = who_takes(&scenario, &question, WALL, Watch::default());
    let answer = answer.expect("it can be asked").expect("it is answered");
    assert_eq!(
        (answer.asked.driver, answer.verdict),
        (D2, LoadVerdict::Yes)
    );
    let d1 = answer.others.iter().find(|other| other.driver == D1);
    assert_eq!(d1.expect("it is shown").fate.back.share(), 0.0);
}

/// D1 is the only driver. If the load does not go its 10 yd³ are a lost sale: what letting it go costs more falls by 10 × $100 where a yd³
/// sells for $100 more. Where D2 could take it as well nothing is lost and nothing changes.
#[test]
fn what_is_not_sold_counts_in_what_a_choice_costs() {
    let more_than_leaving = |price: &str, named: &[(&str, &str)]| {
        let revenue = format!("money: (revenue: (per_yd3: {price})), orders: [");
        let scenario = changed(&[
            ("orders: [", &revenue),
            ("volume_yd3: 20", "volume_yd3: 10"),
        ]);
        let answer = asked(&scenario, &board("13:40", named), D1, WALL);
        answer.asked.cost_more.mean.expect("it is known")
    };
    let fields = free(r#"since: "13:05", reported: "06:00", driven_h: 2, week_h: 20"#);
    let alone = [("D1", &fields[..])];
    let lost = more_than_leaving("270", &alone) - more_than_leaving("170", &alone);
    assert!((lost + 1_000.0).abs() < 0.01, "{lost}");
    let both = [("D1", &fields[..]), ("D2", &fields[..])];
    let lost = more_than_leaving("270", &both) - more_than_leaving("170", &both);
    assert!(lost.abs() < 0.01, "{lost}");
}

const STRANDED: &str = r#"doing: OutOfHours, at: "Half", since: "13:20", reported: "23:00 -1", driven_h: 5, week_h: 20"#;

fn fetched(scenario: &Scenario, text: &str, driver: DriverId) -> FetchAnswer {
    let question = question(standing(scenario, text));
    let answer = who_fetches(scenario, &question, driver, Watch::default());
    answer.expect("it can be asked").expect("it is answered")
}

fn home(answer: &FetchAnswer, rescue: Rescue) -> Option<f64> {
    let way = answer.ways.iter().find(|way| way.rescue == rescue)?;
    Some(always(way.home))
}

/// D2 is stranded at "Half" at 13:40. By car, 30 min out and 30 back: home at 14:40. In the truck that somebody with the class drives, the
/// same and then washout and post-trip, 15 min: 14:55. A rest of 10 h that begins now ends at 23:40: home at 00:10, released at 00:25.
/// Each is among the ways where somebody can go it: the foreman has class B, the yard hand has not, D1 stands free and E sits in another truck
/// with class A, which covers B.
#[test]
fn every_way_home_has_its_time() {
    let scenario = changed(&[
        (
            "class: Ordinary)]",
            "class: Ordinary), (name: \"Foreman\", at: \"Slipway\", from: \"06:00\", to: \"20:00\", class: B)]",
        ),
        (
            "(name: \"T\", count: 3, home: \"Slipway\")",
            "(name: \"T\", count: 3, home: \"Slipway\", needs: (class: B))",
        ),
    ]);
    let fields = free(r#"since: "13:05", reported: "06:00", driven_h: 2, week_h: 20"#);
    let named = [("D1", &fields[..]), ("D2", STRANDED), ("E", &fields[..])];
    let answer = fetched(&scenario, &board("13:40", &named), D2);
    let by_car = Some(at("14:40").minutes());
    let by_truck = Some(at("14:55").minutes());
    assert_eq!(home(&answer, Rescue::DriverOnly(0)), by_car, "yard hand");
    assert_eq!(
        home(&answer, Rescue::Helper(0)),
        None,
        "yard hand: no class"
    );
    assert_eq!(
        home(&answer, Rescue::DriverOnly(1)),
        by_car,
        "foreman by car"
    );
    assert_eq!(home(&answer, Rescue::Helper(1)), by_truck, "foreman");
    assert_eq!(home(&answer, Rescue::Driver(D1)), by_truck, "D1");
    assert_eq!(home(&answer, Rescue::Driver(E)), by_truck, "E");
    assert_eq!(
        home(&answer, Rescue::RestOut),
        Some(at("00:25").minutes() + 24.0 * 60.0)
    );
}

/// E's truck asks for class A: neither D1 nor the foreman with class B may drive it home; by car they are driven home all the same.
#[test]
fn the_class_decides_who_brings_the_truck() {
    let scenario = changed(&[(
        "class: Ordinary)]",
        "class: Ordinary), (name: \"Foreman\", at: \"Slipway\", from: \"06:00\", to: \"20:00\", class: B)]",
    )]);
    let fields = free(r#"since: "13:05", reported: "06:00", driven_h: 2, week_h: 20"#);
    let named = [("D1", &fields[..]), ("E", STRANDED)];
    let answer = fetched(&scenario, &board("13:40", &named), E);
    assert_eq!(home(&answer, Rescue::Driver(D1)), None);
    assert_eq!(home(&answer, Rescue::Helper(1)), None);
    assert_eq!(
        home(&answer, Rescue::DriverOnly(1)),
        Some(at("14:40").minutes())
    );
}

/// The yard hand is on call until 20:00: who would be back at 20:10 does not set out at 19:10. D1, whose 14 h end at 14:39, could not be
/// back at 14:40 with the truck; with a minute more he can.
#[test]
fn who_helps_has_to_be_back_in_time() {
    let scenario = yard("Constant(1)");
    let evening = board("19:10", &[("D2", &STRANDED.replace("13:20", "18:50"))]);
    let evening = evening.replace("23:00 -1", "04:50");
    assert_eq!(
        home(&fetched(&scenario, &evening, D2), Rescue::DriverOnly(0)),
        None
    );
    for (reported, goes) in [("00:39", None), ("00:40", Some(at("14:55").minutes()))] {
        let fields = free(&format!(
            r#"since: "13:05", reported: "{reported}", driven_h: 2, week_h: 20"#
        ));
        let named = [("D1", &fields[..]), ("D2", STRANDED)];
        let answer = fetched(&scenario, &board("13:40", &named), D2);
        assert_eq!(home(&answer, Rescue::Driver(D1)), goes, "{reported}");
    }
}

fn taken(scenario: &Scenario, text: &str, first: &str) -> Result<OrderAnswer, String> {
    let new = OrderQuestion {
        new: NewOrder {
            site: 1,
            volume: Volume::from_yd3(10.0),
            mix: "standard".into(),
            spacing: at("00:20"),
            load: Volume::from_yd3(10.0),
            rate_yd3_min: 1.0,
            plants: Vec::new(),
        },
        first: at(first),
        accepted: 0,
    };
    let mut question = question(standing(scenario, text));
    question.trials = 100;
    let answer = take_order(scenario, &question, &new, Watch::default())?;
    Ok(answer.expect("it is answered"))
}

/// A further load to "Half" for 12:00, asked at 10:00. Free drivers: yes. Off, out of window (on duty since 22:00: 14 h end at 12:00, and
/// the load would be on site then and not home), too old on site (55 min of 54): no. Where the plant closes at 17:00, one due at 17:45 would be
/// sent at 17:05 and is loaded at 17:00; due at 17:56 it would be 16 min early. A time that is past is no question.
#[test]
fn a_new_order_is_refused_for_each_cause() {
    let scenario = yard("Constant(1)");
    let fields = free(r#"since: "08:05", reported: "06:00", driven_h: 1, week_h: 20"#);
    let works = board(
        "10:00",
        &[("D1", &fields), ("D2", &fields), ("D3", &fields)],
    );
    let holds = |scenario: &Scenario, text: &str, first: &str| {
        let answer = taken(scenario, text, first).expect("it can be asked");
        answer.times[0].holds.share()
    };
    assert_eq!(holds(&scenario, &works, "12:00"), 1.0);
    assert_eq!(
        holds(&scenario, &board("10:00", &[]), "12:00"),
        0.0,
        "all off"
    );
    let spent = free(r#"since: "09:35", reported: "21:59 -1", driven_h: 1, week_h: 20"#);
    let spent = board("10:00", &[("D1", &spent)]);
    assert_eq!(holds(&scenario, &spent, "12:00"), 0.0, "out of window");
    let young = changed(&[("age_limit_min: 120", "age_limit_min: 54")]);
    assert_eq!(holds(&young, &works, "12:00"), 0.0, "too old on site");
    let early = changed(&[("close: \"18:00\"", "close: \"17:00\"")]);
    assert_eq!(holds(&early, &works, "17:45"), 1.0, "loaded at closing");
    assert_eq!(holds(&early, &works, "17:56"), 0.0, "plant closed");
    let past = taken(&scenario, &works, "09:59").expect_err("it is past");
    assert!(past.contains("not after the moment"), "{past}");
}
