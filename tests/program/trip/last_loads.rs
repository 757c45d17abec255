//! Until when may each driver load for where, by hand: the slipway yard without luck.

use super::desk::{at, question, standing, yard};
use plantday::Watch;
use plantday::hours::Clock;
use plantday::scenario::Scenario;
use plantday::studies::trip::{DriverLasts, Ends, last_loads};
use plantday::units::{DriverId, Millis};

fn lasts(scenario: &Scenario, text: &str) -> Vec<DriverLasts> {
    let question = question(standing(scenario, text));
    let answer = last_loads(scenario, &question, None, Watch::default());
    let answer = answer.expect("it can be asked").expect("it is answered");
    answer.drivers
}

fn state(fields: &str) -> String {
    format!(
        r#"(day: 1, at: "13:40", drivers: [(name: "D1", {fields}),
            (name: "D2", doing: Off), (name: "D3", doing: Off), (name: "E", doing: Off)])"#
    )
}

/// Loading 6, rack 4, trips 10 / 30 / 75 each way, on site 15. The window of who reported at 01:32 ends at 15:32, and the way home must
/// end by then: Near 15:32 − 45 min = 14:47, Half − 85 = 14:07, Far − 175 = 12:37, too late. The truck is off the plant 10 min after.
#[test]
fn the_window_ends_the_last_load() {
    let scenario = yard("Constant(1)");
    let all = lasts(
        &scenario,
        &state(
            r#"doing: Free, at: "Slipway", since: "13:05", reported: "01:32", driven_h: 2, week_h: 20"#,
        ),
    );
    let [one] = &all[..] else { panic!("{all:?}") };
    assert_eq!(one.driver, DriverId(0));
    assert_eq!(one.ready, at("13:40"));
    assert_eq!(one.out_of_hours, Some((at("15:32"), Clock::Window)));
    let told: Vec<_> = one
        .loads
        .iter()
        .map(|load| (load.out_min, load.load_by, load.leave_by))
        .collect();
    let window = |time: &str, leaves: &str| (Some(at(time)), Some(at(leaves)));
    let [near, half] = [window("14:47", "14:57"), window("14:07", "14:17")];
    assert_eq!(
        told,
        [
            (10.0, near.0, near.1),
            (30.0, half.0, half.1),
            (75.0, None, None)
        ]
    );
    assert!(
        one.loads
            .iter()
            .all(|load| load.ends == Ends::Clock(Clock::Window))
    );
}

/// A driver with a fresh morning is ended by the plant: it closes at 18:00, and 17:59 is the last minute in which loading begins.
#[test]
fn the_plant_closes_before_the_window_ends() {
    let scenario = yard("Constant(1)");
    let all = lasts(
        &scenario,
        &state(
            r#"doing: Free, at: "Slipway", since: "13:05", reported: "06:00", driven_h: 2, week_h: 20"#,
        ),
    );
    let near = all[0].loads[0];
    assert_eq!(
        (near.load_by, near.ends),
        (Some(at("17:59")), Ends::PlantCloses)
    );
    // Far and back takes 175 min: home by 20:00, so loading by 17:05.
    let far = all[0].loads[2];
    assert_eq!(
        (far.load_by, far.ends),
        (Some(at("17:05")), Ends::Clock(Clock::Window))
    );
}

/// Ten hours driven, one of them since the break: one more may be (49 CFR 395.3(a)(3)(i)). Near takes 20 min of driving and Half 60;
/// both are ended by the window, 16:00. Far takes 150: too much at any time.
#[test]
fn driving_hours_bar_the_far_site() {
    let scenario = yard("Constant(1)");
    let all = lasts(
        &scenario,
        &state(
            r#"doing: Free, at: "Slipway", since: "13:05", reported: "02:00", driven_h: 10, since_break_h: 1, week_h: 20"#,
        ),
    );
    let told: Vec<_> = all[0]
        .loads
        .iter()
        .map(|load| (load.load_by, load.ends))
        .collect();
    assert_eq!(
        told,
        [
            (Some(at("15:15")), Ends::Clock(Clock::Window)),
            (Some(at("14:35")), Ends::Clock(Clock::Window)),
            (None, Ends::Clock(Clock::Driving)),
        ]
    );
}

/// Released within 14 h of the report, or a log is needed (49 CFR 395.1(e)(1)(ii)(A)): washing out and parking count, 15 min. Reported at
/// 01:32, Near: 15:32 − 45 − 15 = 14:32.
#[test]
fn the_short_haul_release_comes_before_the_window() {
    let mut text = super::desk::YARD.replace("LUCK", "Constant(1)");
    text = text.replace("us_property_2020", "us_short_haul_2020");
    for (name, at) in [("Slipway", 0), ("Near", 5), ("Half", 15), ("Far", 38)] {
        let named = format!("(name: \"{name}\"");
        text = text.replacen(&named, &format!("{named}, at: (0, {at})"), 1);
    }
    let scenario = match plantday::scenario::parse("yard", &text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    };
    let all = lasts(
        &scenario,
        &state(
            r#"doing: Free, at: "Slipway", since: "13:05", reported: "01:32", driven_h: 2, week_h: 20"#,
        ),
    );
    let near = all[0].loads[0];
    assert_eq!(
        (near.load_by, near.ends),
        (Some(at("14:32")), Ends::ShortHaul)
    );
}

/// On the way back from Half since 13:30, 30 min: at the plant at 14:00, and from then on as one who stands there.
#[test]
fn who_is_on_the_way_back_is_ready_when_there() {
    let scenario = yard("Constant(1)");
    let text = r#"(day: 1, at: "13:40", drivers: [
            (name: "D1", doing: DrivingBack, order: "Wall", since: "13:30", reported: "01:32", driven_h: 2, week_h: 20),
            (name: "D2", doing: Off), (name: "D3", doing: Off), (name: "E", doing: Off)],
        orders: [(name: "Wall", sent_yd3: 10, placed_yd3: 10, loads: 1)])"#;
    let all = lasts(&scenario, text);
    assert_eq!(all[0].ready, at("14:00"));
    assert_eq!(all[0].loads[1].load_by, Some(at("14:07")));
}

/// Trips to Near of 10.4 min: 15:32 − 45.8 = 14:46:12, which is told as 14:46; off the plant 10 min after. With a rounded minute the
/// window would be passed.
#[test]
fn a_time_is_never_told_later_than_it_is() {
    let text = super::desk::YARD.replace("LUCK", "Constant(1)");
    let text = text.replace("\"Near\": 10", "\"Near\": 10.4");
    let scenario = plantday::scenario::parse("yard", &text).expect("it is right");
    let free =
        r#"doing: Free, at: "Slipway", since: "13:05", reported: "01:32", driven_h: 2, week_h: 20"#;
    let near = lasts(&scenario, &state(free))[0].loads[0];
    assert_eq!(
        (near.load_by, near.leave_by),
        (Some(at("14:46")), Some(at("14:56")))
    );
}

/// On the way back from Half for 30.4 min: ready at 14:00:24, and still until 14:47 for Near.
#[test]
fn loads_begin_at_whole_minutes_whenever_the_driver_is_ready() {
    let text = super::desk::YARD.replace("LUCK", "Constant(1)");
    let text = text.replace("\"Half\": 30", "\"Half\": 30.4");
    let scenario = plantday::scenario::parse("yard", &text).expect("it is right");
    let text = r#"(day: 1, at: "13:40", drivers: [
            (name: "D1", doing: DrivingBack, order: "Wall", since: "13:30", reported: "01:32", driven_h: 2, week_h: 20),
            (name: "D2", doing: Off), (name: "D3", doing: Off), (name: "E", doing: Off)],
        orders: [(name: "Wall", sent_yd3: 10, placed_yd3: 10, loads: 1)])"#;
    let all = lasts(&scenario, text);
    assert_eq!(all[0].ready, at("14:00") + Millis::from_minutes(0.4));
    assert_eq!(all[0].loads[0].load_by, Some(at("14:47")));
}

/// The evening before, from the scenario alone: all report at 06:00 and have until 20:00.
#[test]
fn the_board_of_the_day_ahead() {
    let scenario = yard("Constant(1)");
    let question = plantday::studies::trip::TripQuestion::default();
    let answer = last_loads(&scenario, &question, None, Watch::default());
    let answer = answer.expect("it can be asked").expect("it is answered");
    assert_eq!(answer.drivers.len(), 4);
    for lasts in &answer.drivers {
        assert_eq!(
            (lasts.reports, lasts.ready),
            (Some(at("06:00")), at("06:00"))
        );
        assert_eq!(lasts.out_of_hours, Some((at("20:00"), Clock::Window)));
        assert_eq!(lasts.loads[2].load_by, Some(at("17:05")));
    }
}

/// Two days. D1 is off at 13:40 and due the next morning at 06:00: for that day's orders, Near until 17:59, when the plant closes, which was
/// open today as well. D2, on duty since 06:00, sees today's orders alone, and so does not see Far.
#[test]
fn who_is_due_tomorrow_has_tomorrows_hours_and_orders() {
    let text = super::desk::YARD.replace("LUCK", "Constant(1)");
    let text = text.replace("days: 1)", "days: 2)");
    let text = text.replace("first: \"17:00\"", "day: 2, first: \"17:00\"");
    let text = text.replace(
        "site: \"Near\", first: \"16:00\"",
        "site: \"Near\", day: 2, first: \"16:00\"",
    );
    let scenario = plantday::scenario::parse("yard", &text).expect("it is right");
    let state = r#"(day: 1, at: "13:40", drivers: [(name: "D1", doing: Off),
        (name: "D2", doing: Free, at: "Slipway", since: "13:05", reported: "06:00", driven_h: 2, week_h: 20),
        (name: "D3", doing: Off), (name: "E", doing: Off)])"#;
    let all = lasts(&scenario, state);
    let of = |driver: u32| {
        let of = all.iter().find(|lasts| lasts.driver == DriverId(driver));
        of.expect("it is told")
    };
    let told = |driver: u32| -> Vec<_> {
        let loads = of(driver).loads.iter();
        loads
            .map(|load| (load.out_min, load.load_by, load.ends))
            .collect()
    };
    let tomorrow = |time: &str| Some(at(time) + Millis::DAY);
    assert_eq!(of(0).ready, at("06:00") + Millis::DAY);
    assert_eq!(
        told(0),
        [
            (10.0, tomorrow("17:59"), Ends::PlantCloses),
            (75.0, tomorrow("17:05"), Ends::Clock(Clock::Window)),
        ]
    );
    assert_eq!(told(1), [(30.0, Some(at("17:59")), Ends::PlantCloses)]);
}

/// The plant is closed from 15:00 to 16:00 and D1's 14 hours end at 16:32: Near would do until 15:47, when it is closed, so 14:59; Half by
/// 15:07 alike. Its twin, whose hours end at 20:00, may load until the evening.
#[test]
fn no_load_begins_while_the_plant_is_closed() {
    let text = super::desk::YARD.replace("LUCK", "Constant(1)");
    let hours = "(open: \"05:00\", close: \"15:00\"), (open: \"16:00\", close: \"18:00\")";
    let text = text.replace("(open: \"05:00\", close: \"18:00\")", hours);
    let scenario = plantday::scenario::parse("yard", &text).expect("it is right");
    for (reported, told) in [("02:32", ["14:59", "14:59"]), ("06:00", ["17:59", "17:59"])] {
        let free = format!(
            r#"doing: Free, at: "Slipway", since: "13:05", reported: "{reported}", driven_h: 2, week_h: 20"#
        );
        let all = lasts(&scenario, &state(&free));
        for (load, told) in all[0].loads.iter().zip(told) {
            assert_eq!(
                (load.load_by, load.ends),
                (Some(at(told)), Ends::PlantCloses)
            );
        }
    }
}
