//! `staff`: head counts, start patterns and tours as edits worked out by hand, and the command as users meet it.

use crate::changed::changed;
use assert_cmd::cargo::cargo_bin_cmd;
use plantday::Watch;
use plantday::dispatch::Shift;
use plantday::observe::figure;
use plantday::scenario::edit::roster::{
    OvertimeUse, regulars, with_drivers, with_growth, with_overtime,
};
use plantday::scenario::{Scenario, parse};
use plantday::statistics::Summary;
use plantday::studies::{
    CallIn, Hired, PartTime, Question, StaffQuestion, Staffing, call_sheet, compare, staff,
};
use plantday::units::Millis;
use serde_json::Value;
use std::fs;
use tempfile::TempDir;

/// Loading 6, out 24, on site 20, back 20: every load takes a truck from 30 min before it is due to 40 min after.
const PAPER: &str = r#"(
    name: "roster on paper",
    rule_book: "none",
    plants: [(name: "P", loading: Constant(6), rack: Constant(0)), (name: "Q", loading: Constant(6), rack: Constant(0))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (24, 20), "Q": 60 }, "Q": { "A": (50, 50) } }),
    trucks: [(name: "T", count: 4, home: "P"), (name: "U", count: 2, home: "Q")],
    drivers: [(name: "D", trucks: "T", report: "05:00", stagger_min: 20, shift_h: 10),
        (name: "E", trucks: "U", report: "06:00", shift_h: 9)],
    orders: [(name: "Pour", site: "A", first: "08:00", volume_yd3: 40, spacing_min: 30, position: Constant(0),
        discharge: Constant(15), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    rules: [(name: "R", belief: FreeFlow, choose: LongestIdle, early_min: 0, bay_wait_min: 0)],
)"#;

const ROSTER: &str =
    "(name: \"D\", trucks: \"T\", report: \"05:00\", stagger_min: 20, shift_h: 10),
        (name: \"E\", trucks: \"U\", report: \"06:00\", shift_h: 9)";

/// The same with luck, and an order that comes every other day.
const LUCKY: &str = r#"(
    name: "roster on paper",
    rule_book: "none",
    plants: [(name: "P", loading: Lognormal(mean: 6, cv: 0.4), rack: Uniform(0, 6)), (name: "Q", loading: Constant(6), rack: Constant(0))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (24, 20), "Q": 60 }, "Q": { "A": (50, 50) } }),
    trucks: [(name: "T", count: 4, home: "P"), (name: "U", count: 2, home: "Q")],
    drivers: [(name: "D", trucks: "T", report: "05:00", stagger_min: 20, shift_h: 10),
        (name: "E", trucks: "U", report: "06:00", shift_h: 9)],
    orders: [(name: "Pour", site: "A", first: "08:00", volume_yd3: 40, spacing_min: 30, position: Constant(0),
        discharge: Lognormal(mean: 15, cv: 0.6), chute_wash: Constant(5)),
        (name: "Slab", site: "A", first: "13:00", volume_yd3: 80, spacing_min: 12, chance: 0.5)],
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    rules: [(name: "R", belief: FreeFlow, choose: LongestIdle, early_min: 0, bay_wait_min: 0)],
)"#;

fn read(text: &str) -> Scenario {
    match parse("test", text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

/// Who is called for the only day, and for when, and who is not.
fn sheet(scenario: &Scenario, starts: Shift) -> (Vec<String>, String) {
    let staffing = Staffing {
        drivers: 6,
        starts,
        overtime: OvertimeUse::Rostered,
        hired: Hired::default(),
        part_time: PartTime::default(),
    };
    let sheet = call_sheet(scenario, staffing, 0, (0, 1, 3), None);
    let line = |call: &CallIn| {
        assert_eq!(call.share, 1.0, "{call:?}");
        format!("{} {} {}", call.report, call.driver, call.truck)
    };
    (
        sheet.called.iter().map(line).collect(),
        sheet.not_called.join(" "),
    )
}

/// Loads due at 08:00, 08:30, 09:00, 09:30 from the nearer plant: trucks are under way 07:30–08:40, 08:00–09:10, 08:30–09:40,
/// 09:00–10:10, in the half hours from 07:30 on 1, 2, 3, 3, 2, 1 of them. Three drivers are called for 07:30, 08:00, 08:30; with one
/// spare two for 07:30 and one each for 08:00 and 08:30. The far plant calls nobody.
#[test]
fn matched_starts_follow_the_order_book() {
    let scenario = read(PAPER);
    let (called, not) = sheet(&scenario, Shift::Matched { spare: 0 });
    assert_eq!(called, ["07:30 D1 T1", "08:00 D2 T2", "08:30 D3 T3"]);
    assert_eq!(not, "D4 E1 E2");
    let (called, not) = sheet(&scenario, Shift::Matched { spare: 1 });
    assert_eq!(
        called,
        ["07:30 D1 T1", "07:30 D2 T2", "08:00 D3 T3", "08:30 D4 T4"]
    );
    assert_eq!(not, "E1 E2");
}

/// Rostered at 05:00, 05:00, 05:40, 06:30: evenly that is every half hour. Twenty minutes apart is 05:00 to 06:00. Both of the other
/// plant are rostered at 06:00.
#[test]
fn staggered_starts_are_even_or_so_many_minutes_apart() {
    let mut scenario = read(PAPER);
    scenario.drivers[1].report = scenario.drivers[0].report;
    scenario.drivers[3].report += Millis::from_minutes(30.0);
    let times = |starts: Shift| {
        let (called, not) = sheet(&scenario, starts);
        assert_eq!(not, "");
        called
            .iter()
            .map(|line| line[..5].to_owned())
            .collect::<Vec<_>>()
            .join(" ")
    };
    assert_eq!(
        times(Shift::Rostered),
        "05:00 05:00 05:40 06:30 06:00 06:00"
    );
    let even = Shift::Staggered { minutes: None };
    assert_eq!(times(even), "05:00 05:30 06:00 06:30 06:00 06:00");
    let apart = Shift::Staggered {
        minutes: Some(20.0),
    };
    assert_eq!(times(apart), "05:00 05:20 05:40 06:00 06:00 06:20");
}

/// Who keeps another rule book than the scenario's rests as that one says: the same evening, eleven hours later.
#[test]
fn the_earliest_report_is_that_of_the_drivers_own_rule_book() {
    let earliest = |text: &str| {
        let staffing = Staffing {
            drivers: 6,
            starts: Shift::Rostered,
            overtime: OvertimeUse::Rostered,
            hired: Hired::default(),
            part_time: PartTime::default(),
        };
        let sheet = call_sheet(&read(text), staffing, 1, (0, 1, 3), None);
        let earliest = |call: &CallIn| call.earliest.expect("a tour the day before");
        sheet.called.iter().map(earliest).collect::<Vec<_>>()
    };
    let two_days = changed(
        PAPER,
        &[(
            "    rule_book: \"none\",",
            "    period: (days: 2),\n    rule_book: \"none\",",
        )],
    );
    let own = (
        "stagger_min: 20,",
        "stagger_min: 20, rule_book: DutyWindow(hours: 14, rest_hours: 11),",
    );
    let (without, with) = (earliest(&two_days), earliest(&changed(&two_days, &[own])));
    let later: Vec<f64> = with
        .iter()
        .zip(&without)
        .map(|(with, without)| (*with - *without).hours())
        .collect();
    assert_eq!(later, [11.0, 11.0, 11.0, 11.0, 0.0, 0.0]);
}

/// The paper roster with luck, as somebody writes down a staffing: trucks and drivers by name, tours, and the rule's `shift`.
fn written(staffing: &Staffing) -> String {
    let shift_h = |hours: f64| match staffing.overtime {
        OvertimeUse::None => hours.min(8.0),
        OvertimeUse::Rostered => hours,
        OvertimeUse::Longer => hours + 2.0,
    };
    let driver = |name: &str, truck: &str, report: &str, hours: f64| {
        format!(
            "(name: {name:?}, trucks: {truck:?}, report: {report:?}, shift_h: {})",
            shift_h(hours)
        )
    };
    let mut drivers = vec![
        driver("D1", "T1", "05:00", 10.0),
        driver("D2", "T2", "05:20", 10.0),
        driver("D3", "T3", "05:40", 10.0),
        driver("D4", "T4", "06:00", 10.0),
        driver("E1", "U1", "06:00", 9.0),
        driver("E2", "U2", "06:00", 9.0),
    ];
    let mut truck = "";
    match staffing.drivers {
        5 => without(&mut drivers, "D3"),
        6 => {}
        7 => {
            drivers.push(driver("D3 (added 7)", "T3 (added 7)", "05:40", 10.0));
            truck = ", (name: \"T3 (added 7)\", home: \"P\")";
        }
        other => panic!("{other} drivers"),
    }
    changed(
        LUCKY,
        &[
            (
                "(name: \"U\", count: 2, home: \"Q\")",
                &format!("(name: \"U\", count: 2, home: \"Q\"){truck}"),
            ),
            (ROSTER, &drivers.join(", ")),
            (
                "name: \"R\",",
                &format!("name: \"R\", shift: {},", staffing.starts.written()),
            ),
        ],
    )
}

fn without(drivers: &mut Vec<String>, name: &str) {
    drivers.retain(|driver| !driver.contains(&format!("name: {name:?},")));
}

/// Whatever `staff` names can be written into the scenario, as that rule's `shift` and as the roster; `compare` then gives the same
/// figures on the same days.
#[test]
fn a_staffing_is_the_rule_and_the_roster_that_it_recommends() {
    let question = StaffQuestion {
        drivers: vec![5, 6, 7],
        starts: vec![
            Shift::Rostered,
            Shift::Staggered { minutes: None },
            Shift::Staggered {
                minutes: Some(25.0),
            },
            Shift::Matched { spare: 0 },
            Shift::Matched { spare: 1 },
        ],
        overtime: OvertimeUse::ALL.to_vec(),
        late_share: 0.3,
        undelivered: 0.5,
        replications: 20,
        seed: 7,
        ..StaffQuestion::default()
    };
    let answer = staff(&read(LUCKY), &question, Watch::default()).expect("not stopped");
    let mut costs = Vec::new();
    let mut finals = 0;
    for result in answer
        .results
        .iter()
        .filter(|result| (5..=7).contains(&result.staffing.drivers))
    {
        let scenario = read(&written(&result.staffing));
        let question = Question {
            rules: vec![0],
            judge: figure::COST,
            replications: answer.searched + question.replications,
            seed: question.seed,
            threads: None,
            level: 0.95,
            ..Question::default()
        };
        let compared = compare(&scenario, &question, Watch::default()).expect("not stopped");
        let mean = |column: usize| {
            let all: Vec<f64> = compared.rows.values(0, column).collect();
            let (searched, fresh) = all.split_at(answer.searched as usize);
            Summary::of(
                if result.is_final { fresh } else { searched }
                    .iter()
                    .copied(),
            )
            .mean()
        };
        for (column, estimate) in [
            (figure::COST, &result.cost),
            (figure::LATE_SHARE, &result.late_share),
            (figure::OVERTIME_H, &result.overtime_h),
            (figure::PAID_H, &result.paid_h),
        ] {
            assert_eq!(
                mean(column),
                estimate.mean,
                "{:?}, column {column}",
                result.staffing
            );
        }
        finals += usize::from(result.is_final);
        costs.push(result.cost.mean.expect("a cost"));
    }
    assert!(
        costs.len() >= 45 && finals >= 4,
        "{} staffings, {finals} final",
        costs.len()
    );
    costs.sort_unstable_by(f64::total_cmp);
    costs.dedup();
    assert!(
        costs.len() > 15,
        "the staffings differ: {} costs",
        costs.len()
    );
}

/// Sainte-Laguë: quotients of 4 are 4, 1.33, 0.8, 0.57, 0.44; of 2: 2, 0.67, 0.4. Six seats are 4 and 2, four are 3 and 1, nine
/// are 6 and 3.
#[test]
fn head_counts_are_shared_among_the_plants_as_now() {
    let scenario = read(PAPER);
    assert_eq!(regulars(&scenario).len(), 6);
    assert_eq!(with_drivers(&scenario, 6), scenario);
    let at = |scenario: &Scenario, plant: usize| {
        let home = |truck: usize| scenario.trucks[truck].home.at();
        scenario
            .drivers
            .iter()
            .filter(|driver| home(driver.truck.at()) == plant)
            .count()
    };
    for (total, first, second) in [(9, 6, 3), (6, 4, 2), (4, 3, 1), (1, 1, 0)] {
        let edited = with_drivers(&scenario, total);
        assert_eq!(
            (at(&edited, 0), at(&edited, 1)),
            (first, second),
            "{total} drivers"
        );
        let mut names: Vec<&str> = edited
            .drivers
            .iter()
            .map(|driver| driver.name.as_str())
            .collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), total as usize, "names are unique");
        let mut trucks: Vec<usize> = edited
            .drivers
            .iter()
            .map(|driver| driver.truck.at())
            .collect();
        trucks.sort_unstable();
        trucks.dedup();
        assert_eq!(trucks.len(), total as usize, "nobody shares a truck");
    }
}

#[test]
fn tours_and_growth() {
    let scenario = read(PAPER);
    let hours = |overtime: OvertimeUse| {
        let edited = with_overtime(&scenario, overtime);
        (
            edited.drivers[0].shift.hours(),
            edited.drivers[5].shift.hours(),
        )
    };
    assert_eq!(hours(OvertimeUse::None), (8.0, 8.0));
    assert_eq!(hours(OvertimeUse::Rostered), (10.0, 9.0));
    assert_eq!(hours(OvertimeUse::Longer), (12.0, 11.0));
    // Growth is whole orders of the book's own, and so is what falls away.
    let orders = |per_cent: f64| with_growth(&scenario, per_cent).orders;
    let written = scenario.orders.len();
    let more = orders(100.0);
    assert_eq!(more.len(), 2 * written);
    assert!(
        more.iter()
            .all(|order| scenario.orders.iter().any(|own| own.volume == order.volume))
    );
    assert_eq!(orders(0.0), scenario.orders);
    assert_eq!(
        orders(-50.0).len(),
        1.max(written - written.div_ceil(2)),
        "one stays"
    );
}

fn program(folder: &TempDir, arguments: &[&str]) -> (Option<i32>, String, String) {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder.path())
        .arg("staff")
        .args(arguments)
        .output()
        .expect("the program runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("output is UTF-8");
    (
        output.status.code(),
        text(output.stdout),
        text(output.stderr),
    )
}

const CASE: [&str; 20] = [
    "--rule",
    "Traffic, trucks home",
    "--drivers",
    "34,36",
    "--starts",
    "rostered,matched",
    "--overtime",
    "rostered",
    "--late-share",
    "0.9",
    "--undelivered",
    "0.5",
    "--growth",
    "10",
    "--hire-per-week",
    "500",
    "--day",
    "2",
    "-n",
    "6",
];

#[test]
fn the_same_bytes_for_any_number_of_threads() {
    let folder = TempDir::new().expect("a folder");
    let run = |out: &str, threads: &str| {
        let arguments = [&CASE[..], &["--out", out, "--threads", threads, "--json"]].concat();
        let (code, text, error) = program(&folder, &arguments);
        assert_eq!(code, Some(0), "{error}");
        let page = fs::read(folder.path().join(out).join("report.html")).expect("the page");
        (text, page)
    };
    let one = run("one", "1");
    assert!(one == run("two", "2"));
    let json: Value = serde_json::from_str(&one.0).expect("JSON");
    assert_eq!(json["today"]["drivers"], 36);
    let decided = &json["decision"]["drivers"];
    let staffings = json["staffings"].as_array().expect("staffings");
    let cost = |staffing: &Value| staffing["cost"]["mean"].as_f64().expect("a cost");
    let meets = |staffing: &&Value| staffing["meets_targets"] == true;
    let cheapest = staffings
        .iter()
        .filter(meets)
        .reduce(|best, next| if cost(next) < cost(best) { next } else { best })
        .expect("lax targets are met");
    // Within $50 a day of the cheapest the one that changes least is taken.
    let equal = |staffing: &&Value| meets(staffing) && cost(staffing) <= cost(cheapest) + 300.0;
    let drivers = staffings
        .iter()
        .filter(equal)
        .map(|staffing| &staffing["drivers"]);
    assert!(
        drivers.clone().any(|drivers| drivers == decided),
        "{decided}"
    );
    for staffing in staffings {
        let parts = staffing["parts"].as_object().expect("parts").values();
        let sum: f64 = parts.map(|part| part.as_f64().expect("money")).sum();
        assert!(
            (sum / cost(staffing) - 1.0).abs() < 1e-5,
            "the parts add up"
        );
    }
    // Estimate and interval of the sentence have one sign, that of the money that a hire takes or saves.
    let saved = json["hire"]["break_even_per_week"]
        .as_f64()
        .expect("an estimate");
    let verb = if saved > 0.0 { "saves" } else { "costs" };
    let said = json["sentences"].as_array().expect("sentences");
    let begins = format!("Overtime or a hire: one more driver {verb} $");
    assert!(
        said.iter()
            .any(|text| text.as_str().expect("a text").starts_with(&begins)),
        "{said:?}"
    );
    let called = json["call_in"]["called"].as_array().expect("the sheet");
    assert!(called.len() > 20, "{} drivers on Tuesday", called.len());
    assert!(
        called.iter().any(|call| call["earliest_min"].is_number()),
        "who worked on Monday has an earliest report"
    );
}

#[test]
fn targets_out_of_reach_are_exit_code_1() {
    let folder = TempDir::new().expect("a folder");
    let (code, text, _) = program(
        &folder,
        &[
            "--drivers",
            "36",
            "--starts",
            "rostered",
            "--overtime",
            "rostered",
            "--late-share",
            "0",
            "-n",
            "4",
        ],
    );
    assert_eq!(code, Some(1));
    assert!(
        text.contains("No staffing tried meets the service targets"),
        "{text}"
    );
    assert!(
        text.contains("start times") && text.contains("as scheduled"),
        "{text}"
    );
}

#[test]
fn bad_arguments_are_explained() {
    let folder = TempDir::new().expect("a folder");
    for (arguments, expected) in [
        (&["--starts", "machted"][..], "did you mean \"matched\"?"),
        (&["--starts", "machted:1"], "did you mean \"matched\"?"),
        (&["--starts", "matched:1.5"], "matched:SPARE, 0 to 100"),
        (
            &["--starts", "staggered:300"],
            "staggered:MINUTES, 0 to 240",
        ),
        (&["--starts", "rostered:3"], "no number with rostered"),
        (&["--overtime", "loger"], "did you mean \"longer\"?"),
        (&["--late-share", "10"], "0 to 1"),
        (&["--day", "9"], "expected 1 to 6"),
        (&["--growth", "-95"], "-90 to 100"),
        (
            &["--training-weeks", "4", "--stays-weeks", "0"],
            "1 or more",
        ),
        (&["--hire-per-week", "-1"], "0 or more"),
        (&["--drivers", "0"], "--drivers"),
        (
            &["--rule", "Empty road, lend on cll"],
            "did you mean \"Empty road, lend on call\"?",
        ),
    ] {
        let arguments: Vec<String> = arguments
            .chunks(2)
            .map(|pair| format!("{}={}", pair[0], pair[1]))
            .collect();
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        let (code, _, error) = program(&folder, &arguments);
        assert_eq!(code, Some(2), "{arguments:?}: {error}");
        assert!(error.contains(expected), "{arguments:?}: {error}");
    }
}
