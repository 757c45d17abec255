//! Pours of fixed minutes that are worked out by hand beyond the list of `plantday verify`: hour by hour, and with drivers who are relieved. All
//! begin with the tower of that list: 6 loading, 4 rack, 20 out, 2 position, 10 discharge, 3 wash, 20 back are 65 min; a load
//! every 15 min from 05:00; 65 ÷ 15 = 4.33, five trucks. The first load is loaded from 04:30 on.

use crate::fleet_decides::{ask, cheapest, done, fewest, read};
use plantday::observe::CostPart;
use plantday::studies::{FleetAnswer, PourHour};
use plantday::units::{Millis, PlantId};

const VOLUME: &str = "first: \"05:00\", volume_yd3: 600";
const ROADS: &str = "\"Tower\": (20, 20)";
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

/// 40 loads from 20:00 cost the same as from 05:00: the night has no traffic and no premium here.
#[test]
fn a_pour_over_midnight_is_one_pour() {
    let days = (NO_LIMIT, "rule_book: \"none\", period: (days: 2)");
    let from = |first: &str| {
        let order = format!("first: \"{first}\", volume_yd3: 400");
        asked(&[days, (VOLUME, &order)])
    };
    let (night, day) = (from("20:00"), from("05:00"));
    let cost = |answer: &FleetAnswer| cheapest(answer).cost_per_yd3.mean.expect("a cost");
    assert!((cost(&night) - cost(&day)).abs() < 1e-6);
}

/// 30 out and 10 back are 65 min as well: each truck is called 10 min sooner and back 10 min sooner; the other way round as much later. The
/// crew works 15 h 50 min either way.
#[test]
fn unequal_ways_leave_the_crew_its_hours() {
    let money = (
        NO_LIMIT,
        "rule_book: \"none\", money: (crew_per_open_h: 110)",
    );
    let ways = |ways: &str| asked(&[(ROADS, &format!("\"Tower\": {ways}")), money]);
    let answers = ["(20, 20)", "(30, 10)", "(10, 30)"].map(ways);
    for answer in &answers {
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

/// 40 min away, a bay of 20 min and a backup plant as far: with twenty trucks the plan holds, or nearly.
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
    let both = of(Some(1));
    assert!(finish(&both, 20).1 < 15.0, "{:?}", finish(&both, 20));
}

/// A pump of 0.5 yd³ a minute takes 20 min a load and 22 with taking position. With the usual 90 min of age, loads that more trucks bring than
/// it takes grow too old in line, and are made again.
#[test]
fn more_trucks_than_the_pump_takes_bring_old_loads() {
    let less = [
        (VOLUME, "first: \"05:00\", volume_yd3: 300"),
        ("discharge: Constant(10)", "discharge_luck: Constant(1)"),
    ];
    let aging = ask(&read(&less), |question| question.rate_yd3_min = Some(0.5));
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
    // Without luck what the plan needs is what is at work.
    for hour in &answer.shown().hours {
        assert_eq!(
            (f64::from(hour.needed), hour.needed as usize),
            (hour.at_work, hour.enough),
            "{hour:?}"
        );
    }
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
    assert_eq!(fewest(&holds), 4);
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
