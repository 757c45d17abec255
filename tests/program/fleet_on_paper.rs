//! Pours of fixed minutes whose fleet is worked out by hand, a table of the arithmetic over each, a disturbed day beside its undisturbed
//! twin. All begin with the tower of `fleet_decides`: 6 loading, 4 rack, 20 out, 2 position, 10 discharge, 3 wash, 20 back are 65 min; a load
//! every 15 min from 05:00; 65 ÷ 15 = 4.33, five trucks. The first load is loaded from 04:30 on.

use crate::fleet_decides::{ask, cheapest, done, fewest, read};
use plantday::observe::CostPart;
use plantday::studies::{FleetAnswer, FleetQuestion, PourHour};
use plantday::units::{Millis, PlantId};

const VOLUME: &str = "first: \"05:00\", volume_yd3: 600";
const STAY: &str = "outlets: [(rate_yd3_min: 1, places: 1)], position: Constant(2), discharge: Constant(10), chute_wash: Constant(3)";
const ROADS: &str = "\"Tower\": (20, 20)";
const LOADING: &str = "loading: Constant(6)";
const NO_LIMIT: &str = "rule_book: \"none\"";
const ROSTER: &str = "report: \"00:00\", shift_h: 10";

fn asked(changes: &[(&str, &str)]) -> FleetAnswer {
    ask(&read(changes), |_| {})
}

/// With so many trucks: when it is done, and how many minutes behind its plan.
fn finish(answer: &FleetAnswer, trucks: usize) -> (String, f64) {
    done(answer, &answer.shown().sizes[trucks - 1])
}

fn pause(answer: &FleetAnswer, trucks: usize) -> Option<f64> {
    answer.shown().sizes[trucks - 1].worst_pause_min.mean
}

/// By hand: a load every so many minutes, so many trucks.
fn by_hand(answer: &FleetAnswer) -> (f64, u32) {
    let hand = &answer.shown().hand;
    (hand.every().minutes(), hand.trucks())
}

fn at(answer: &FleetAnswer, clock: &str) -> PourHour {
    let hours = answer.shown().hours.iter();
    let of = |hour: &&PourHour| (hour.from - answer.midnight).to_string() == clock;
    *hours
        .clone()
        .find(of)
        .unwrap_or_else(|| panic!("{clock} is not in {hours:?}"))
}

/// Shift by shift: how many drivers are called in, from when to when.
fn calls(answer: &FleetAnswer) -> Vec<(u32, String, String)> {
    let clock = |at: Millis| (at - answer.midnight).to_string();
    let calls = answer.shown().calls.iter();
    calls
        .map(|call| (call.drivers, clock(call.first), clock(call.last)))
        .collect()
}

fn call(drivers: u32, first: &str, last: &str) -> (u32, String, String) {
    (drivers, first.into(), last.into())
}

/// 30 loads; discharge 20, so a round is 75.
///
/// | outlets | a load every        | trucks        | the last, 29 later, is empty after | done  |
/// |---------|---------------------|---------------|------------------------------------|-------|
/// | two     | 22 ÷ 2 = 11         | 75 ÷ 11 → 7   | 29 × 11 + 22 = 341                 | 10:41 |
/// | two     | six: rounds of 75   | 6             | 4 × 75 + 5 × 11 + 22 = 377         | 11:17 |
/// | one     | 22                  | 75 ÷ 22 → 4   | 29 × 22 + 22 = 660                 | 16:00 |
/// | one     | three: rounds of 75 | 3             | 9 × 75 + 2 × 22 + 22 = 741         | 17:21 |
#[test]
fn two_outlets_take_twice_the_loads_of_one() {
    let slow = "position: Constant(2), discharge: Constant(20), chute_wash: Constant(3)";
    let site = |outlets: &str| format!("outlets: [{outlets}], {slow}");
    let pour = |outlets: &str| {
        asked(&[
            (
                &format!("{VOLUME}, spacing_min: 15"),
                "first: \"05:00\", volume_yd3: 300, spacing_min: 11",
            ),
            (STAY, &site(outlets)),
        ])
    };
    let two = pour("(rate_yd3_min: 0.5, places: 1), (rate_yd3_min: 0.5, places: 1)");
    assert_eq!(by_hand(&two), (11.0, 7));
    assert_eq!(finish(&two, 7), ("10:41".into(), 0.0));
    assert_eq!(finish(&two, 6), ("11:17".into(), 36.0));
    let one = pour("(rate_yd3_min: 0.5, places: 1)");
    assert_eq!(by_hand(&one), (22.0, 4));
    assert_eq!(finish(&one, 4), ("16:00".into(), 0.0));
    assert_eq!(finish(&one, 3), ("17:21".into(), 81.0));
}

/// 20 loads; loading 24, so a round is 83.
///
/// | bays | a load every | trucks      | the last is empty after    | done  |
/// |------|--------------|-------------|----------------------------|-------|
/// | one  | 24           | 83 ÷ 24 → 4 | 19 × 24 + 12 = 468         | 12:48 |
/// | two  | 15           | 83 ÷ 15 → 6 | 19 × 15 + 12 = 297         | 09:57 |
/// | two  | five trucks  | 5           | 3 × 83 + 4 × 15 + 12 = 321 | 10:21 |
#[test]
fn a_second_bay_takes_the_bound_away() {
    let slow = [
        (VOLUME, "first: \"05:00\", volume_yd3: 200"),
        (LOADING, "loading: Constant(24)"),
    ];
    let bays = |bays: Option<u32>| ask(&read(&slow), |question| question.bays = bays);
    let one = bays(None);
    assert_eq!(by_hand(&one), (24.0, 4));
    assert_eq!(finish(&one, 4), ("12:48".into(), 171.0));
    assert_eq!(finish(&one, 9).0, "12:48");
    let two = bays(Some(2));
    assert_eq!(by_hand(&two), (15.0, 6));
    assert_eq!(finish(&two, 6), ("09:57".into(), 0.0));
    assert_eq!(finish(&two, 5), ("10:21".into(), 24.0));
}

/// 40 loads from 20:00: the last is due 39 × 15 = 585 min later, at 05:45, and empty at 05:57. The same from 05:00 is done at 14:57, and costs
/// the same: the night has no traffic and no premium here.
#[test]
fn a_pour_over_midnight_is_one_pour() {
    let days = (NO_LIMIT, "rule_book: \"none\", period: (days: 2)");
    let from = |first: &str| {
        let order = format!("first: \"{first}\", volume_yd3: 400");
        asked(&[days, (VOLUME, &order)])
    };
    let (night, day) = (from("20:00"), from("05:00"));
    assert_eq!(cheapest(&night).trucks, 5);
    assert_eq!(finish(&night, 5), ("05:57 +1".into(), 0.0));
    assert_eq!(calls(&night), [call(5, "19:30", "20:30")]);
    assert_eq!(at(&night, "00:00 +1").needed, 5);
    assert_eq!(finish(&day, 5), ("14:57".into(), 0.0));
    let cost = |answer: &FleetAnswer| cheapest(answer).cost_per_yd3.mean.expect("a cost");
    assert!((cost(&night) - cost(&day)).abs() < 1e-6);
}

/// Four trucks are done at 21:07, five at 19:57 (`fleet_decides`). The order says 21:00: five. Asked for 21:10 in its place four will do, and
/// for 19:50 nobody will.
#[test]
fn the_hour_asked_for_goes_before_that_of_the_order() {
    let by = [("spacing_min: 15", "finish_by: \"21:00\", spacing_min: 15")];
    assert_eq!(fewest(&asked(&by)), 5);
    let asked_for = |minutes: i64| {
        ask(&read(&by), |question: &mut FleetQuestion| {
            question.finish_by = Some(Millis::MINUTE * minutes)
        })
    };
    assert_eq!(fewest(&asked_for(21 * 60 + 10)), 4);
    assert!(asked_for(19 * 60 + 50).recommended().is_none());
}

/// The plant stands from 06:59 to 08:00, 20 loads:
///
/// | load  | loaded        | on site | unloads       |
/// |-------|---------------|---------|---------------|
/// | 10th  | 06:45 – 06:51 | 07:15   | 07:17 – 07:27 |
/// | 11th  | 08:00 – 08:06 | 08:30   | 08:32 – 08:42 |
///
/// Five trucks or more hold that timetable, and the site stands 65 min whatever their number: no fleet of them with 64 tolerated, any with 65.
/// Without the outage the longest pause is the 5 min between two loads.
#[test]
fn no_truck_cures_an_outage_in_mid_pour() {
    let less = (VOLUME, "first: \"05:00\", volume_yd3: 200");
    let outage = (
        "bays: 1, loading",
        "planned_outages: [(day: 1, from: \"06:59\", to: \"08:00\")], bays: 1, loading",
    );
    let with = |changes: &[(&str, &str)], gap: i64| {
        ask(&read(changes), |question| {
            question.gap = Some(Millis::MINUTE * gap);
            question.trucks = 5..=16;
        })
    };
    let out = with(&[less, outage], 64);
    assert!(out.recommended().is_none());
    assert_eq!(
        [5, 8, 16].map(|trucks: usize| pause(&out, trucks - 4)),
        [Some(65.0); 3]
    );
    assert!(with(&[less, outage], 65).recommended().is_some());
    let twin = with(&[less], 64);
    assert_eq!(pause(&twin, 1), Some(5.0));
}

/// 30 out and 10 back are 65 min as well: the same trucks, done at the same minute, each called 10 min sooner and back 10 min sooner; the
/// other way round as much later. The crew works 15 h 50 min either way.
#[test]
fn unequal_ways_move_the_calls_alone() {
    let money = (
        NO_LIMIT,
        "rule_book: \"none\", money: (crew_per_open_h: 110)",
    );
    let ways = |ways: &str| asked(&[(ROADS, &format!("\"Tower\": {ways}")), money]);
    let answers = ["(20, 20)", "(30, 10)", "(10, 30)"].map(ways);
    let called = [("04:30", "05:30"), ("04:20", "05:20"), ("04:40", "05:40")];
    for (answer, (first, last)) in answers.iter().zip(called) {
        assert_eq!(by_hand(answer), (15.0, 5));
        assert_eq!(finish(answer, 5), ("19:57".into(), 0.0));
        assert_eq!(calls(answer), [call(5, first, last)]);
        let parts = cheapest(answer).parts.iter();
        let crew = parts
            .clone()
            .find(|(part, _)| *part == CostPart::Crews)
            .expect("a crew")
            .1;
        assert!(
            (crew - (15.0 + 50.0 / 60.0) * 110.0 / 600.0).abs() < 1e-6,
            "{crew}"
        );
    }
}

/// 40 min away and a bay of 20 min: a round of 20 + 4 + 40 + 15 + 40 = 119.
///
/// | plants         | a load every      | trucks       | 20 loads are done after                  |
/// |----------------|-------------------|--------------|------------------------------------------|
/// | one            | 20                | 119 ÷ 20 → 6 | 19 × 20 + 12 = 392, 95 behind 19 × 15 + 12 |
/// | and its backup | 15, not 20 ÷ 2    | 119 ÷ 15 → 8 | with twenty trucks the plan, or nearly   |
#[test]
fn a_far_plant_with_a_backup() {
    let far = [
        (
            "plants: [(name: \"Yard\", bays: 1, loading: Constant(6), rack: Constant(4))]",
            "plants: [(name: \"Yard\", bays: 1, loading: Constant(20), rack: Constant(4)), (name: \"Second\", bays: 1, loading: Constant(20), rack: Constant(4))]",
        ),
        (
            "\"Tower\": (20, 20) }",
            "\"Tower\": (40, 40), \"Second\": 10 }, \"Second\": { \"Tower\": (40, 40) }",
        ),
        (VOLUME, "first: \"05:00\", volume_yd3: 200"),
    ];
    let of = |backup: Option<u32>| {
        ask(&read(&far), |question| {
            question.plant = Some(PlantId(0));
            question.backup = backup.map(PlantId);
            question.trucks = 1..=20;
        })
    };
    let one = of(None);
    assert_eq!(by_hand(&one), (20.0, 6));
    assert_eq!(finish(&one, 6).1, 95.0);
    assert_eq!(finish(&one, 20).1, 95.0);
    let both = of(Some(1));
    assert_eq!(by_hand(&both), (15.0, 8));
    assert!(finish(&both, 20).1 < 15.0, "{:?}", finish(&both, 20));
}

/// Trucks of 8 yd³ for loads of 10 ordered every 15 min: 600 ÷ 8 = 75 loads, every 8 ÷ 10 × 15 = 12 min; 65 ÷ 12 = 5.4, six trucks.
///
/// | trucks     | the 75th load comes after | is empty | behind |
/// |------------|---------------------------|----------|--------|
/// | 8 yd³, six | 74 × 12 = 888             | 20:00    | 0      |
/// | 8 yd³, five| 14 × 65 + 4 × 12 = 958    | 21:10    | 70     |
/// | 10 yd³     | 59 × 15 = 885             | 19:57    | 0      |
#[test]
fn trucks_smaller_than_the_load_take_more_loads() {
    let small = asked(&[
        ("capacity_yd3: 10", "capacity_yd3: 8"),
        ("spacing_min: 15", "load_yd3: 10, spacing_min: 15"),
    ]);
    assert_eq!(small.shown().hand.loads, 75);
    assert_eq!(by_hand(&small), (12.0, 6));
    assert_eq!(finish(&small, 6), ("20:00".into(), 0.0));
    assert_eq!(finish(&small, 5), ("21:10".into(), 70.0));
    let whole = asked(&[("spacing_min: 15", "load_yd3: 10, spacing_min: 15")]);
    assert_eq!((whole.shown().hand.loads, by_hand(&whole)), (60, (15.0, 5)));
}

/// A pump of 0.5 yd³ a minute takes 20 min a load and 22 with taking position; 30 loads from 05:00, a round of 75.
///
/// | pump       | a load every | trucks      | the last is empty after             | done  |
/// |------------|--------------|-------------|-------------------------------------|-------|
/// | 0.5 yd³/min| 22           | 75 ÷ 22 → 4 | 29 × 22 + 22 = 660                  | 16:00 |
/// | 1 yd³/min  | 15           | 65 ÷ 15 → 5 | 29 × 15 + 12 = 447                  | 12:27 |
#[test]
fn the_pump_bounds_the_spacing() {
    let less = [
        (VOLUME, "first: \"05:00\", volume_yd3: 300"),
        ("discharge: Constant(10)", "discharge_luck: Constant(1)"),
        (
            NO_LIMIT,
            "rule_book: \"none\", concrete: (age_limit_min: None)",
        ),
    ];
    let rate = |rate: Option<f64>| ask(&read(&less), |question| question.rate_yd3_min = rate);
    let slow = rate(Some(0.5));
    assert_eq!(by_hand(&slow), (22.0, 4));
    assert_eq!(
        [4, 7].map(|trucks| finish(&slow, trucks).0),
        ["16:00", "16:00"]
    );
    assert_eq!(at(&slow, "10:00").needed, 4);
    let as_ordered = rate(Some(1.0));
    assert_eq!(by_hand(&as_ordered), (15.0, 5));
    assert_eq!(finish(&as_ordered, 5), ("12:27".into(), 0.0));
    // With the usual 90 min of age, loads that more trucks bring than the pump takes grow too old in line, and are made again.
    let aging = ask(&read(&less[..2]), |question| {
        question.rate_yd3_min = Some(0.5)
    });
    assert_eq!(finish(&aging, 4), ("16:00".into(), 0.0));
    assert!(finish(&aging, 7).1 > 0.0);
}

/// 96 loads from 06:00 and a window of 14 h after reporting (49 CFR 395.3(a)(2)): the pour takes 30 + 95 × 15 + 15 + 20 = 1,490 min, a truck's
/// turn comes every 5 × 15 = 75 min, half an hour is kept free: 14 h − 30 min hold ten rounds, and two drivers share 1,490 min in ten rounds each.
///
/// | truck | first driver  | second from | its first driver's tenth round ends |
/// |-------|---------------|-------------|-------------------------------------|
/// | 1st   | 05:30 – 18:00 | 18:00       | 16:45 + 65 = 17:50                  |
/// | 2nd   | 05:45         | 18:15       | 18:05                               |
/// | 5th   | 06:30         | 19:00       | 18:50                               |
///
/// So one truck is handed over in the hour from 17:00 and four in that from 18:00.
#[test]
fn two_shifts_hour_by_hour() {
    let long = [
        (
            NO_LIMIT,
            "rule_book: DutyWindow(hours: 14, rest_hours: 10), period: (days: 2)",
        ),
        (VOLUME, "first: \"06:00\", volume_yd3: 960"),
    ];
    let answer = asked(&long);
    assert_eq!(
        calls(&answer),
        [call(5, "05:30", "06:30"), call(5, "18:00", "19:00")]
    );
    let hour = |clock: &str| at(&answer, clock);
    assert_eq!((hour("05:00").needed, hour("05:00").called), (2, 2));
    assert_eq!((hour("06:00").needed, hour("06:00").called), (5, 3));
    assert_eq!(
        [hour("17:00"), hour("18:00"), hour("19:00")].map(|hour| hour.called),
        [0, 4, 1]
    );
    assert_eq!(
        [hour("17:00"), hour("18:00"), hour("19:00")].map(|hour| hour.handed_over),
        [1.0, 4.0, 0.0]
    );
    assert_eq!(
        (hour("17:00").on_duty, hour("19:00").on_duty),
        ([5.0, 0.0], [0.0, 5.0])
    );
    assert_eq!(hour("12:00").round_trip, Some(Millis::MINUTE * 65));
    // Without luck what the plan needs is what is at work.
    for hour in &answer.shown().hours {
        assert_eq!(
            (f64::from(hour.needed), hour.needed as usize),
            (hour.at_work, hour.enough),
            "{hour:?}"
        );
    }
}

/// Rush from 07:00 to 10:00: 35 min each way in place of 20. The round is then 6 + 4 + 35 + 15 + 35 = 95, and 95 ÷ 15 = 6.33: seven trucks where
/// five do before and after. With a pause of at most 9 min seven are the fewest, and without the rush five.
#[test]
fn traffic_makes_an_hour_need_more() {
    let rush = (
        "\"Yard\": { \"Tower\": (20, 20) }",
        "\"Yard\": { \"Tower\": [(\"00:00\", 20), (\"07:00\", 35), (\"10:00\", 20)] }",
    );
    let beliefs = ("belief: FreeFlow", "belief: TimeOfDay");
    let of = |changes: &[(&str, &str)]| {
        ask(&read(changes), |question| {
            question.gap = Some(Millis::MINUTE * 9)
        })
    };
    let answer = of(&[rush, beliefs]);
    let needed = |clock: &str| (at(&answer, clock).needed, at(&answer, clock).round_trip);
    assert_eq!(needed("05:00"), (5, Some(Millis::MINUTE * 65)));
    assert_eq!(needed("07:00"), (7, Some(Millis::MINUTE * 95)));
    assert_eq!(needed("08:00").0, 7);
    assert_eq!(needed("13:00"), (5, Some(Millis::MINUTE * 65)));
    assert_eq!(fewest(&answer), 7);
    assert_eq!(fewest(&of(&[])), 5);
}

/// Five trucks, each with one driver from 04:30 + 15 n on; twelve rounds, the last from 18:15 + 15 n on: on duty 14 h 50 min, 74 h 10 min for
/// all, of which ten hours each are straight time. 60 round trips of 40 driven minutes are 40 h. The crew works from 04:30 to 20:20.
///
/// | part        | hours and rate             | $           | a yd³     |
/// |-------------|----------------------------|-------------|-----------|
/// | pay         | 5 × 10 h × $30             | 1,500.00    | 2.50000   |
/// | overtime    | 5 × 4 h 50 min × $45       | 1,087.50    | 1.81250   |
/// | taxes       | 10% of both                | 258.75      | 0.43125   |
/// | truck hours | 74 h 10 min × $12          | 890.00      | 1.48333   |
/// | driving     | 40 h × $40                 | 1,600.00    | 2.66667   |
/// | crew        | 15 h 50 min × $110         | 1,741.67    | 2.90278   |
/// | material    | 600 yd³ × $105             | 63,000.00   | 105.00000 |
/// | all of it   |                            | 70,077.92   | 116.79653 |
#[test]
fn every_part_of_the_cost_to_the_cent() {
    let answer = asked(&[(
        NO_LIMIT,
        "rule_book: \"none\", money: (pay_per_h: 30, overtime_after_h: 10, payroll_tax: 0.1, truck_per_duty_h: 12, truck_per_driven_h: 40, \
         crew_per_open_h: 110, material_per_yd3: 105)",
    )]);
    let size = cheapest(&answer);
    assert_eq!(size.trucks, 5);
    let expected = [
        (CostPart::Pay, 1_500.0),
        (CostPart::Overtime, 1_087.5),
        (CostPart::PayrollTax, 258.75),
        (CostPart::TruckHours, 890.0),
        (CostPart::Driving, 1_600.0),
        (CostPart::Crews, 1_741.67),
        (CostPart::Material, 63_000.0),
    ];
    for (part, cost) in &size.parts {
        let by_hand = expected
            .iter()
            .find(|(of, _)| of == part)
            .map_or(0.0, |(_, cost)| *cost);
        assert!(
            (cost * 600.0 - by_hand).abs() < 0.01,
            "{part:?}: {} for {by_hand}",
            cost * 600.0
        );
    }
    let all = size.cost_per_yd3.mean.expect("a cost");
    assert!((all - 116.796_53).abs() < 1e-5, "{all}");
}

/// With four trucks a truck comes back 65 min after it left, 3 × 15 = 45 of which the others fill: every fourth load comes 20 min after the one
/// before, of which 10 nothing flows. A pause of 10 just holds, of 9 does not, and five trucks leave no more than the 5 that are planned.
#[test]
fn a_tolerance_that_one_truck_less_just_holds() {
    let with = |gap: i64| {
        ask(&read(&[]), |question| {
            question.gap = Some(Millis::MINUTE * gap)
        })
    };
    let (holds, breaks) = (with(10), with(9));
    assert_eq!([fewest(&holds), fewest(&breaks)], [4, 5]);
    assert_eq!(
        [4, 5].map(|trucks| pause(&breaks, trucks)),
        [Some(10.0), Some(5.0)]
    );
    // The fifth truck takes the gap out of every run, and that is shown; the sixth changes nothing in any.
    let more = |trucks: usize| {
        breaks.shown().sizes[trucks - 1]
            .truck_more
            .expect("one is fewer")
    };
    assert_eq!(more(5).gap.mean, Some(-1.0));
    assert!(!more(5).gap_is_the_same_within_luck());
    assert_eq!(more(6).gap.mean, Some(0.0));
    assert!(more(6).gap_is_the_same_within_luck());
    assert!(breaks.shown().sizes[0].truck_more.is_none());
}

/// With four trucks the n-th round begins 5 n min late: a load is more than the tolerated 15 min late from the fifth round on, 60 − 4 × 4 = 44
/// loads of 60. 74% may be late: four trucks do. 73%: five.
#[test]
fn late_loads_are_counted_by_hand() {
    let with = |share: f64| ask(&read(&[]), |question| question.late_share = Some(share));
    let (lax, strict) = (with(0.74), with(0.73));
    let late = lax.shown().sizes[3].late_share.mean.expect("loads are due");
    assert!((late - 44.0 / 60.0).abs() < 1e-6, "{late}");
    assert_eq!([fewest(&lax), fewest(&strict)], [4, 5]);
}

/// A pre-trip of 25 min and 8 min that the rule sends early: the first driver comes 33 min sooner, at 03:57, the others 15 min apart. Twin: 04:30.
#[test]
fn calls_leave_time_for_the_pre_trip() {
    let answer = asked(&[
        ("pre_trip: Constant(0)", "pre_trip: Constant(25)"),
        ("early_min: 0", "early_min: 8"),
    ]);
    assert_eq!(calls(&answer), [call(5, "03:57", "04:57")]);
    assert_eq!(calls(&asked(&[])), [call(5, "04:30", "05:30")]);
}

/// Among other work five scheduled drivers report at 04:00 for ten hours and go home at 14:00; the pour goes on until 20:20. Trucks begin a round
/// at 04:30 + 15 n and every 75 min:
///
/// | truck | last round of the first driver | back  | second driver | next round |
/// |-------|--------------------------------|-------|---------------|------------|
/// | 1st   | 13:15                          | 14:20 | from 14:00    | 14:30      |
/// | 2nd   | 13:30                          | 14:35 | from 14:00    | 14:45      |
/// | 3rd   | 13:45                          | 14:50 | from 14:00    | 15:00      |
/// | 4th   | 12:45                          | 13:50 | from 14:00    | 14:00      |
/// | 5th   | 13:00                          | 14:05 | from 14:00    | 14:15      |
///
/// Somebody comes for each at 14:00, no load waits, and the pour is done at 19:57. Of 20 trucks 15 go home unrelieved: five are left, as many as
/// the pour needs. Where the drivers stay 17 h nobody is called, and it is done at the same minute.
#[test]
fn scheduled_drivers_are_relieved_where_the_pour_goes_on() {
    let among = |roster: &str, trucks: u32| {
        ask(&read(&[(ROSTER, roster)]), |question| {
            question.alone = false;
            question.trucks = 5..=trucks;
        })
    };
    let answer = among("report: \"04:00\", shift_h: 10", 20);
    let sizes = &answer.shown().sizes;
    let (five, twenty) = (&sizes[0], &sizes[15]);
    assert_eq!(done(&answer, five), ("19:57".into(), 0.0));
    assert_eq!((five.trucks, five.drivers), (5, 10));
    assert_eq!(calls(&answer), [call(5, "14:00", "14:00")]);
    assert_eq!(at(&answer, "14:00").called, 5);
    assert_eq!(
        (twenty.trucks, twenty.drivers),
        (20, 25),
        "15 of 20 just go home"
    );
    assert_eq!(done(&answer, twenty), ("19:57".into(), 0.0));
    let stay = among("report: \"04:00\", shift_h: 17", 7);
    assert_eq!(calls(&stay), []);
    assert_eq!(done(&stay, &stay.shown().sizes[0]), ("19:57".into(), 0.0));
}

/// Drivers who work from 20:00 to 06:00 leave a pour of the next morning at 06:00, after five rounds or so, and the plant's second set is there
/// from 06:00 on by the schedule: nobody is called in. Without that set five are.
#[test]
fn whoever_follows_by_the_schedule_needs_no_call() {
    let days = (NO_LIMIT, "rule_book: \"none\", period: (days: 2)");
    let order = (VOLUME, "day: 2, first: \"02:00\", volume_yd3: 300");
    let night = "drivers: [(name: \"N\", trucks: \"T\", report: \"20:00\", shift_h: 10)";
    let both = format!("{night}, (name: \"D\", trucks: \"T\", report: \"06:00\", shift_h: 10)]");
    let alone = format!("{night}]");
    let of = |drivers: &str| {
        ask(
            &read(&[
                days,
                order,
                (
                    "drivers: [(name: \"D\", trucks: \"T\", report: \"00:00\", shift_h: 10)]",
                    drivers,
                ),
            ]),
            |question| {
                question.alone = false;
                question.trucks = 5..=7;
            },
        )
    };
    assert_eq!(calls(&of(&both)), []);
    let relieved = of(&alone);
    assert_eq!(calls(&relieved), [call(5, "06:00", "06:00")]);
    assert_eq!(
        done(&relieved, &relieved.shown().sizes[0]),
        ("09:27".into(), 0.0)
    );
}

/// The rest of a pour after the schedule ends may be longer than one who is called in may work: 96 loads from 06:00, drivers on the schedule from
/// 05:00 to 15:00, a window of 14 h. From 15:00 to 06:20 are 920 min, in which 75 fits 12.3 times; ten rounds are the most. So two more drivers
/// follow one another on each truck, seven rounds or 525 min each: from 15:00 and from 23:45.
#[test]
fn who_relieves_is_relieved_in_turn() {
    let long = [
        (
            NO_LIMIT,
            "rule_book: DutyWindow(hours: 14, rest_hours: 10), period: (days: 2)",
        ),
        (VOLUME, "first: \"06:00\", volume_yd3: 960"),
        (ROSTER, "report: \"05:00\", shift_h: 10, days: [Monday]"),
    ];
    let answer = ask(&read(&long), |question| {
        question.alone = false;
        question.trucks = 5..=7;
    });
    assert_eq!(answer.shown().sizes[0].drivers, 15);
    assert_eq!(
        calls(&answer),
        [call(5, "15:00", "15:00"), call(5, "23:45", "23:45")]
    );
    assert_eq!(
        done(&answer, &answer.shown().sizes[0]),
        ("05:57 +1".into(), 0.0)
    );
}

/// A load every 10 min from 06:00 on, a round of 65 min: seven trucks. The yard stands still from 07:00 to 09:00.
///
/// | from the yard alone | its last load before pulls in at 06:50 and is empty at 07:32; the next pulls in at 09:00 and is begun at 09:32 |
/// |---|---|
/// | the longest pause   | 09:32 − 07:32 = 120 min |
/// | a backup 10 min away | trucks that stand at the yard drive over; the trip is 2 min longer: no pause beyond the 20 tolerated |
/// | nothing stands still | no pause, with the backup or without |
#[test]
fn a_backup_plant_goes_on_while_the_yard_stands_still() {
    let two = |outage: &str| {
        let plants = format!(
            "plants: [(name: \"Yard\", bays: 1{outage}, loading: Constant(6), rack: Constant(4)), (name: \"Second\", bays: 1, loading: Constant(6), rack: Constant(4))]"
        );
        read(&[
            (
                "plants: [(name: \"Yard\", bays: 1, loading: Constant(6), rack: Constant(4))]",
                plants.as_str(),
            ),
            (
                "\"Tower\": (20, 20) }",
                "\"Tower\": (20, 20), \"Second\": 10 }, \"Second\": { \"Tower\": (22, 22) }",
            ),
            (
                "first: \"05:00\", volume_yd3: 600, spacing_min: 15",
                "first: \"06:00\", volume_yd3: 300, spacing_min: 10",
            ),
            ("places: 1", "places: 2"),
        ])
    };
    let stands = two(", planned_outages: [(day: 1, from: \"07:00\", to: \"09:00\")]");
    let longest = |scenario: &plantday::scenario::Scenario, backup: Option<u32>| {
        let answer = ask(scenario, |question| {
            question.plant = Some(PlantId(0));
            question.backup = backup.map(PlantId);
        });
        pause(&answer, 10)
    };
    assert_eq!(longest(&stands, None), Some(120.0));
    assert!(longest(&stands, Some(1)) <= Some(20.0));
    let runs = two("");
    for backup in [None, Some(1)] {
        assert!(longest(&runs, backup) <= Some(10.0), "{backup:?}");
    }
}
