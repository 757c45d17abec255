//! `staff` decides as a finance director would: what a hire costs is in the decision, overtime is none by the week too, and a saving is
//! told by what brings it. Every week is without luck and reckoned by hand in its comment.

use crate::changed::changed;
use plantday::Watch;
use plantday::dispatch::Shift;
use plantday::observe::CostPart;
use plantday::scenario::edit::roster::{OvertimeUse, with_overtime};
use plantday::scenario::{Scenario, parse};
use plantday::studies::{CallIn, StaffAnswer, StaffQuestion, StaffingPart, exchange_starts, staff};
use plantday::units::Millis;
use std::num::NonZeroUsize;

/// Five days, two loads each, both due at 08:00; a round trip takes 65 min, so that one driver brings the second an hour and five minutes
/// late and two bring both in time. Pay $30, no taxes, no other money than that of a late load: $100 each.
const WEEK: &str = r#"(
    name: "week",
    period: (first_day: Monday, days: 5),
    rule_book: "none",
    company: (promise_horizon_min: 60),
    plants: [(name: "Yard", bays: 2, loading: Constant(6), rack: Constant(4))],
    sites: [(name: "Tower")],
    roads: (minutes: { "Yard": { "Tower": (20, 20) } }),
    trucks: [(name: "T", count: 1, home: "Yard")],
    drivers: [(name: "D", trucks: "T", report: "06:00", shift_h: 10)],
    orders: [ORDERS],
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    money: (pay_per_h: 30, payroll_tax: 0, overtime_after_h: 8, overtime_after_week_h: 40, truck_per_duty_h: 0, truck_per_driven_h: 0,
        crew_per_open_h: 0, material_per_yd3: 0, late_per_load: 100, late_per_min: 0, first_late_per_min: 0),
    rules: [(name: "R", today: true, belief: FreeFlow, choose: SoonestOnSite, lend: Always, bay_wait_min: 0)],
)"#;

fn week(times: [&str; 2], days: u32, changes: &[(&str, &str)]) -> Scenario {
    let mut orders = String::new();
    for day in 1..=days {
        for (nth, time) in times.iter().enumerate() {
            orders += &format!(
                "(name: \"{day}.{nth}\", site: \"Tower\", day: {day}, first: \"{time}\", volume_yd3: 10, spacing_min: 30, \
                 position: Constant(2), discharge: Constant(10), chute_wash: Constant(3)), "
            );
        }
    }
    let text = changed(&changed(WEEK, &[("ORDERS", &orders)]), changes);
    match parse("test", &text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

pub(crate) fn ask(scenario: &Scenario, change: impl FnOnce(&mut StaffQuestion)) -> StaffAnswer {
    let mut question = StaffQuestion {
        drivers: vec![1, 2],
        starts: vec![Shift::Rostered],
        overtime: vec![OvertimeUse::Rostered],
        late_share: 1.0,
        undelivered: 1.0,
        replications: 20,
        threads: Some(NonZeroUsize::MIN),
        ..StaffQuestion::default()
    };
    change(&mut question);
    staff(scenario, &question, Watch::default()).expect("nobody stops it")
}

fn drivers(answer: &StaffAnswer) -> u32 {
    answer.results[answer.best.expect("the targets are lax")]
        .staffing
        .drivers
}

/// One driver: $100 for the late load of every day; paid from 06:00 until both loads are done, 07:30 + 2 × 65 − 20 … by the clock of the
/// yard. The second driver is paid too, and saves the $500 of the week less that pay: what a hire may cost beyond it.
#[test]
fn what_a_hire_costs_is_in_the_decision() {
    let scenario = week(["08:00", "08:00"], 5, &[]);
    let free = ask(&scenario, |_| {});
    let cost = |answer: &StaffAnswer, drivers: u32| {
        let of = |result: &&plantday::studies::StaffResult| result.staffing.drivers == drivers;
        answer
            .results
            .iter()
            .find(of)
            .and_then(|result| result.cost.mean)
            .expect("it was tried")
    };
    let (one, two) = (cost(&free, 1), cost(&free, 2));
    let saves = one - two;
    let dear = ask(&scenario, |question| question.hire_per_week = Some(5_000.0));
    assert_eq!(cost(&dear, 1), one, "nobody is hired");
    assert_eq!(cost(&dear, 2), two + 5_000.0, "one hire, one week");
    assert_eq!(drivers(&dear), 1);
    let (even, interval) = dear.break_even().expect("one driver more was tried");
    assert!(
        (even - saves).abs() < 1e-9 && interval.contains(even),
        "{even} for {saves}: what is asked does not move it"
    );
    // $250, five days at $50, do not matter: then today's one driver stays.
    for (asked, expected) in [(saves - 251.0, 2), (saves - 249.0, 1), (saves + 1.0, 1)] {
        let answer = ask(&scenario, |question| {
            question.hire_per_week = Some(asked.max(0.0))
        });
        if asked >= 0.0 {
            assert_eq!(drivers(&answer), expected, "at {asked} of {saves}");
        }
    }
}

/// Six days of eight hours are eight more than 40: without planned overtime nobody is rostered for more than 40 ÷ 6 h a day. Its twin of
/// five days is left at eight.
#[test]
fn no_planned_overtime_is_none_by_the_week_too() {
    let shift = |days: u32| {
        let period = format!("days: {days})");
        let worked = format!(
            "shift_h: 10, days: {})",
            if days == 6 {
                "[Monday, Tuesday, Wednesday, Thursday, Friday, Saturday]"
            } else {
                "[Monday, Tuesday, Wednesday, Thursday, Friday]"
            }
        );
        let scenario = week(
            ["08:00", "13:00"],
            days,
            &[("days: 5)", &period), ("shift_h: 10)", &worked)],
        );
        with_overtime(&scenario, OvertimeUse::None).drivers[0]
            .shift
            .hours()
    };
    assert!((shift(6) - 40.0 / 6.0).abs() < 1e-6, "{}", shift(6));
    assert_eq!(shift(5), 8.0);
}

/// Loads at 08:00 and 13:00: a second driver brings nothing, and whoever is called when the first load must be sent saves the hours since
/// 04:00, more than the $50 a day that do not matter. Start times bring all of the saving, on the same days, exactly; what is equal changes least.
#[test]
fn a_saving_is_told_by_what_brings_it() {
    let scenario = week(["08:00", "13:00"], 5, &[("06:00", "04:00")]);
    let answer = ask(&scenario, |question| {
        question.starts = vec![Shift::Rostered, Shift::Matched { spare: 1 }];
        question.overtime = OvertimeUse::ALL.to_vec();
    });
    let best = &answer.results[answer.best.expect("the targets are lax")];
    assert_eq!(
        best.staffing.overtime,
        OvertimeUse::Rostered,
        "other uses of overtime save nothing more"
    );
    assert_eq!(best.staffing.drivers, 1);
    let saving = answer.saving.as_ref().expect("today's starts are another");
    let parts: Vec<StaffingPart> = saving.parts.iter().map(|(part, _)| *part).collect();
    assert_eq!(parts, [StaffingPart::Starts]);
    let today = answer
        .todays()
        .and_then(|today| today.cost.mean)
        .expect("today's");
    let whole = saving.whole.mean.expect("a saving");
    assert!(whole > 0.0 && (whole - (today - best.cost.mean.expect("a cost"))).abs() < 1e-6);
    assert_eq!(saving.parts[0].1.mean, Some(whole));
    assert_eq!(
        saving.whole.interval.low, saving.whole.interval.high,
        "no luck, no doubt"
    );
}

/// Two changes at once: their shares add up to the whole.
#[test]
fn the_shares_of_a_saving_add_up() {
    let scenario = week(["08:00", "08:00"], 5, &[]);
    let answer = ask(&scenario, |question| {
        question.drivers = vec![2];
        question.starts = vec![Shift::Matched { spare: 0 }];
    });
    let saving = answer
        .saving
        .as_ref()
        .expect("both are others than today's");
    assert_eq!(saving.parts.len(), 2);
    let sum: f64 = saving
        .parts
        .iter()
        .filter_map(|(_, share)| share.mean)
        .sum();
    assert!((sum - saving.whole.mean.expect("a saving")).abs() < 1e-9);
}

/// Ten hours off duty after the shift before (49 CFR 395.3(a)(1)): A, home at 20:30, may report from 06:30; B from 05:00, C from 05:30. Called
/// for 05:00, 06:00 and 07:00 in this order, A exchanges with the one exchange that is enough: C's 07:00 for 05:00 would have C report
/// before 05:30, so B takes the 05:00 and C the 06:00. D of another plant has nobody to exchange with, and E of the night shift is left alone.
#[test]
fn whoever_still_rests_exchanges_starts() {
    let call = |driver: &str, plant: &str, report: f64, earliest: f64| CallIn {
        driver: driver.into(),
        truck: driver.into(),
        plant: plant.into(),
        report: Millis::from_hours(report),
        planned: None,
        share: 1.0,
        earliest: Some(Millis::from_hours(earliest)),
    };
    let mut called = vec![
        call("A", "Yard", 5.0, 6.5),
        call("B", "Yard", 6.0, 5.0),
        call("C", "Yard", 7.0, 5.5),
        call("D", "Quay", 5.0, 6.2),
        call("E", "Yard", 18.0, 3.0),
    ];
    exchange_starts(&mut called);
    let hours: Vec<f64> = called.iter().map(|call| call.report.hours()).collect();
    assert_eq!(hours, [7.0, 5.0, 6.0, 6.25, 18.0]);
    assert_eq!(called[0].planned, Some(Millis::HOUR * 5));
    assert_eq!(called[4].planned, None);
    // The undisturbed twin: everybody has rested.
    let mut rested = vec![call("A", "Yard", 5.0, 4.0), call("B", "Yard", 6.0, 5.0)];
    let before = rested.clone();
    exchange_starts(&mut rested);
    assert_eq!(rested, before);
}

/// Two drivers in place of today's one save the $100 of a late load each day, $500, and cost their pay: at so many times the price of a
/// late load that it is just the pay, the two cost the same.
#[test]
fn the_price_that_turns_it_round_is_told() {
    let answer = ask(&week(["08:00", "08:00"], 5, &[]), |question| {
        question.drivers = vec![2]
    });
    let (now, then) = (
        answer
            .todays()
            .and_then(|today| today.cost.mean)
            .expect("today's"),
        answer.results[answer.best.expect("lax targets")]
            .cost
            .mean
            .expect("a cost"),
    );
    let late = answer
        .turning_points()
        .into_iter()
        .find(|(part, _, _)| *part == CostPart::Late);
    let (_, saved, times) = late.expect("late loads are saved");
    assert!((saved - 500.0).abs() < 1e-6, "{saved}");
    // 500 × times less the pay is nothing.
    assert!(
        (500.0 * times - (500.0 - (now - then))).abs() < 1e-6,
        "{times}"
    );
}

/// The roster that is written with the answer, taken back as a table, is the staffing that was recommended: the same costs in every run.
#[test]
fn the_roster_is_taken_back() {
    let folder = tempfile::TempDir::new().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    let text = changed(
        WEEK,
        &[
            (
                "ORDERS",
                "(name: \"A\", site: \"Tower\", first: \"08:00\", volume_yd3: 10, spacing_min: 30)",
            ),
            (
                "shift_h: 10)",
                "shift_h: 10, days: [Monday, Tuesday], class: B, pay_per_h: 31.5)",
            ),
        ],
    );
    std::fs::write(at("yard.ron"), &text).expect("the scenario");
    let run = |arguments: &[&str]| {
        let output = assert_cmd::cargo::cargo_bin_cmd!("plantday")
            .current_dir(folder.path())
            .args(arguments)
            .output()
            .expect("the program runs");
        assert_eq!(
            output.status.code(),
            Some(0),
            "{}",
            String::from_utf8_lossy(&output.stderr)
        );
        serde_json::from_slice::<serde_json::Value>(&output.stdout).expect("JSON")
    };
    let staffed = run(&[
        "staff",
        "yard.ron",
        "--drivers",
        "1",
        "--starts",
        "rostered",
        "--overtime",
        "none",
        "--late-share",
        "1",
        "--undelivered",
        "1",
        "-n",
        "20",
        "--json",
        "--out",
        "s",
    ]);
    assert_eq!(
        staffed["decision"]["overtime"], "rostered",
        "within $50 a day today's changes least"
    );
    let roster = std::fs::read_to_string(at("s/roster.csv")).expect("the roster");
    assert!(roster.contains("Monday; Tuesday"), "{roster}");
    let list = text.find("drivers: [").expect("the drivers");
    let end = list + text[list..].find(']').expect("days") + 1;
    let end = end + text[end..].find(']').expect("the end") + 1;
    std::fs::copy(at("s/roster.csv"), at("roster.csv")).expect("a copy");
    std::fs::write(
        at("back.ron"),
        format!(
            "{}drivers: Table(\"roster.csv\"){}",
            &text[..list],
            &text[end..]
        ),
    )
    .expect("the scenario");
    let compared = |file: &str, out: &str| {
        run(&["compare", file, "-n", "5", "--json", "--out", out]);
        std::fs::read_to_string(at(out).join("figures.csv")).expect("figures")
    };
    assert_eq!(compared("yard.ron", "a"), compared("back.ron", "b"));
}
