//! `staff` on people: hired haulers, part-timers, guaranteed hours, absence, prices of people, and a saving that is not shown. Every week is
//! without luck and reckoned by hand in its comment.

use crate::changed::changed;
use crate::staff_decides::ask;
use plantday::scenario::{Hauler, Scenario, parse};
use plantday::studies::{Shown, StaffAnswer, StaffPrice, StaffResult, StaffingPart};
use plantday::units::{Cents, Millis};
use std::fs;
use tempfile::TempDir;

/// Five days, two loads each, both due at 07:00 and sent at 06:30; a truck is back after 63 min, and 20 min of washing follow. A driver for
/// each: 05:30 to 07:53, 143 min. One driver brings the second 63 min late, and is done at 08:56, after 206 min. $30 an hour, $100 a late
/// load, nothing else costs anything: a week of one driver is 5 × (103 + 100) = $1,015, of two 5 × 143 = $715.
const WEEK: &str = r#"(
    name: "week",
    period: (first_day: Monday, days: 5),
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "20:00")], loading: Constant(6), rack: Constant(4), bays: 2)],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", home: "P", count: 1)],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [ORDERS],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    money: (pay_per_h: 30, overtime_after_h: 24, payroll_tax: 0, truck_per_driven_h: 0, truck_per_duty_h: 0, crew_per_open_h: 0,
        material_per_yd3: 0, late_per_load: 100, late_per_min: 0, first_late_per_min: 0),
    rules: [(name: "R", today: true, belief: FreeFlow)],
)"#;

fn written(times: &[&str], changes: &[(&str, &str)]) -> String {
    let mut orders = String::new();
    for day in 1..=5 {
        for (nth, time) in times.iter().enumerate() {
            orders += &format!(
                "(name: \"{day}.{nth}\", site: \"A\", day: {day}, first: \"{time}\", volume_yd3: 10, spacing_min: 30, \
                 position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)), "
            );
        }
    }
    changed(&changed(WEEK, &[("ORDERS", &orders)]), changes)
}

fn week(times: &[&str], changes: &[(&str, &str)]) -> Scenario {
    match parse("test", &written(times, changes)) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

const BOTH: [&str; 2] = ["07:00", "07:00"];
const TWO: (&str, &str) = ("count: 1", "count: 2");

fn best(answer: &StaffAnswer) -> &StaffResult {
    &answer.results[answer.best.expect("the targets are lax")]
}

fn cost(answer: &StaffAnswer, drivers: u32) -> f64 {
    let alone = |result: &&StaffResult| {
        let staffing = result.staffing;
        staffing.drivers == drivers && staffing.hired.haulers + staffing.part_time.drivers == 0
    };
    let found = answer.results.iter().find(alone);
    found
        .and_then(|result| result.cost.mean)
        .expect("it was tried")
}

fn near(found: f64, by_hand: f64) {
    assert!((found - by_hand).abs() < 0.01, "{found} for {by_hand}");
}

fn hauler(dollars: i64, least: f64) -> Option<Hauler> {
    Some(Hauler {
        per_h: Cents::dollars(dollars),
        least: Millis::from_hours(least),
    })
}

/// A hire of $200 a week and a hauler of $60 an hour, each for 143 min on five days: an hour of the hauler costs $30 more, so that a hire
/// pays from 200 ÷ 30 = 6.667 h a week on, which are 2.797 days. Paid for 4 h at least the hauler costs 240 − 71.5 = $168.50 a day more: from
/// 200 ÷ 168.5 = 1.187 days on, 4.748 h paid. At $25 an hour no number of days makes a hire pay.
#[test]
fn from_how_many_days_a_hire_pays_against_a_hauler() {
    let scenario = week(&BOTH, &[]);
    let of = |dollars: i64, least: f64, asked: Option<f64>| {
        let answer = ask(&scenario, |question| {
            question.hauler = hauler(dollars, least);
            question.haulers = vec![1];
            question.hire_per_week = asked;
        });
        near(cost(&answer, 1), 1015.0);
        near(cost(&answer, 2), 715.0 + asked.unwrap_or(0.0));
        answer
    };
    let answer = of(60, 0.0, Some(200.0));
    assert_eq!(
        best(&answer).staffing,
        answer.today,
        "$100 a week do not matter"
    );
    let case = answer.haulers.as_ref().expect("a price was given");
    near(case.days, 5.0);
    near(case.hours, 5.0 * 143.0 / 60.0);
    near(case.hire_saves.0, 357.5);
    near(case.more.cost.0, 715.0 + 357.5 - 1015.0);
    near(answer.hire_pays_from().expect("it pays"), 200.0 / 71.5);
    near(200.0 / 71.5 * case.hours_a_day(), 200.0 / 30.0);
    let answer = of(60, 4.0, Some(200.0));
    let case = answer.haulers.as_ref().expect("a price was given");
    near(case.hire_saves.0, 5.0 * 168.5);
    let days = answer.hire_pays_from().expect("it pays");
    near(days, 200.0 / 168.5);
    near(days * case.hours_a_day(), 4.748);
    let answer = of(25, 0.0, Some(200.0));
    assert!(answer.haulers.is_some());
    assert_eq!(answer.hire_pays_from(), None);
    // What is asked for a hire is in the hire's own cost and not in what it saves. With nothing asked two drivers are the answer, and a third
    // is sent home when both loads are promised at 06:30: 80 min, each of which a hire saves half a dollar in.
    let other = of(60, 0.0, Some(60.0));
    near(other.haulers.as_ref().expect("a price").hire_saves.0, 357.5);
    near(other.hire_pays_from().expect("it pays"), 60.0 / 71.5);
    let free = of(60, 0.0, None);
    assert_eq!(best(&free).staffing.drivers, 2);
    near(free.haulers.as_ref().expect("a price").hire_saves.0, 200.0);
    assert_eq!(free.hire_pays_from(), None, "nothing is known of a hire");
    // The undisturbed twin: without a price nothing is said.
    assert!(ask(&scenario, |_| {}).haulers.is_none());
}

/// At $20 an hour a hauler costs 715 min, $238.33, beside the driver's $357.50: $595.83 for $1,015. The roster that is written is taken back:
/// the scenario then has a hauler, and that is today's staffing.
#[test]
fn a_hauler_is_recommended_and_taken_back() {
    let folder = TempDir::new().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    let text = written(&BOTH, &[]);
    fs::write(at("week.ron"), &text).expect("the scenario");
    let run = |file: &str, more: &[&str]| {
        let usual = [
            "--drivers=1",
            "--starts=rostered",
            "--overtime=rostered",
            "--late-share=1",
            "--undelivered=1",
            "-n=20",
            "--json",
        ];
        let output = assert_cmd::cargo::cargo_bin_cmd!("plantday")
            .current_dir(folder.path())
            .args(["staff", file])
            .args(usual)
            .args(more)
            .output()
            .expect("the program runs");
        let error = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(0), "{error}");
        serde_json::from_slice::<serde_json::Value>(&output.stdout).expect("JSON")
    };
    let hired = run(
        "week.ron",
        &[
            "--hauler-per-h=20",
            "--hauler-least-h=0",
            "--haulers=1",
            "--out=a",
        ],
    );
    let decision = &hired["decision"];
    assert_eq!(
        (&decision["drivers"], &decision["haulers"]),
        (&1.into(), &1.into())
    );
    let said = decision["sentence"].as_str().expect("a sentence");
    assert!(
        said.starts_with("Staff with 1 driver and 1 hired hauler, "),
        "{said}"
    );
    assert_eq!(hired["today"]["haulers"], 0);
    let roster = fs::read_to_string(at("a/roster.csv")).expect("the roster");
    assert!(roster.contains("hauler_per_h"), "{roster}");
    fs::copy(at("a/roster.csv"), at("roster.csv")).expect("a copy");
    let back = changed(
        &text,
        &[
            (
                "[(name: \"D\", trucks: \"T\", report: \"05:30\")]",
                "Table(\"roster.csv\")",
            ),
            ("count: 1)", "count: 1), (name: \"Hauler 1\", home: \"P\")"),
        ],
    );
    fs::write(at("back.ron"), back).expect("the scenario");
    let back = run("back.ron", &["--out=b"]);
    assert_eq!(
        (&back["today"]["drivers"], &back["today"]["haulers"]),
        (&1.into(), &1.into())
    );
    for (answer, words) in [(&hired, "hired"), (&back, "taken back")] {
        let all = answer["staffings"].as_array().expect("staffings");
        let of =
            |staffing: &&serde_json::Value| staffing["haulers"] == 1 && staffing["drivers"] == 1;
        let found = all.iter().find(of).expect("it was tried");
        near(found["cost"]["mean"].as_f64().expect(words), 595.83);
        near(
            found["parts"]["hired haulers"].as_f64().expect(words),
            238.33,
        );
    }
}

/// Both drivers are there today. With 8 guaranteed hours a day one driver costs 240 + 100 and two 480: $1,700 and $2,400 a week, so that
/// fewer beat more; of one 274 min a day are paid and not worked, of two 2 × 337. Without a guarantee two stay: $715 for $1,015.
#[test]
fn fewer_drivers_with_guaranteed_hours_beat_more() {
    let guaranteed = ("payroll_tax: 0,", "payroll_tax: 0, guaranteed_day_h: 8,");
    let answer = ask(&week(&BOTH, &[TWO, guaranteed]), |_| {});
    near(cost(&answer, 1), 1700.0);
    near(cost(&answer, 2), 2400.0);
    assert_eq!(best(&answer).staffing.drivers, 1);
    assert_eq!(answer.shown(), Some(Shown::Saves));
    let unworked = |result: &StaffResult| result.unworked_h.mean.expect("hours");
    near(unworked(best(&answer)), 5.0 * 274.0 / 60.0);
    near(
        unworked(answer.todays().expect("today's")),
        5.0 * 674.0 / 60.0,
    );
    let twin = ask(&week(&BOTH, &[TWO]), |_| {});
    assert_eq!(twin.shown(), Some(Shown::Today));
    assert_eq!(unworked(best(&twin)), 0.0);
}

/// A third load is due at 14:00. Two drivers from 05:30 on: who takes it is done at 14:53, the other is sent home when it is promised at
/// 13:30, done at 13:50: 563 + 500 min, $531.50 a day. With one on 3 h in the busiest hours, which are from 06:30 to 07:33 and so begin no
/// earlier than 05:00: report at 04:45, shift over at 07:45, back at 07:33 with no work left before then, done at 07:53: 188 min. The other
/// takes the third load: 563 + 188 min, $375.50 a day. Its twin has all three loads in the morning.
#[test]
fn a_short_shift_in_the_busiest_hours_is_paid_as_worked() {
    let times = ["07:00", "07:00", "14:00"];
    let answer = ask(&week(&times, &[TWO]), |question| {
        question.drivers = vec![2];
        question.part_time = (vec![1], Millis::HOUR * 3);
    });
    near(cost(&answer, 2), 5.0 * 531.5);
    let chosen = best(&answer);
    assert_eq!(
        (chosen.staffing.drivers, chosen.staffing.part_time.drivers),
        (2, 1)
    );
    near(chosen.cost.mean.expect("a cost"), 5.0 * 375.5);
    let saving = answer.saving.as_ref().expect("it is another staffing");
    near(saving.whole.mean.expect("a saving"), 780.0);
    let parts: Vec<StaffingPart> = saving.parts.iter().map(|(part, _)| *part).collect();
    assert_eq!(parts, [StaffingPart::PartTime]);
    let twin = ask(&week(&BOTH, &[TWO]), |question| {
        question.drivers = vec![2];
        question.part_time = (vec![1], Millis::HOUR * 3);
    });
    assert_eq!(best(&twin).staffing, twin.today, "it saves nothing");
}

/// A second driver saves $300 a week less the $48 of a hire: $252, just more than the $50 a day that do not matter. With pay 10% higher the
/// two cost 566.50 − 515 of it more and save $231.50 … of 1,066.50 and 786.50 + 48 $232: today's one stays. With a hire of $52.80 it is $247.20.
#[test]
fn prices_of_people_may_change_the_recommendation() {
    let answer = ask(&week(&BOTH, &[]), |question| {
        question.hire_per_week = Some(48.0)
    });
    assert_eq!(best(&answer).staffing.drivers, 2);
    let told: Vec<(StaffPrice, f64, u32, Option<f64>)> = answer
        .prices
        .iter()
        .map(|change| {
            let drivers = answer.results[change.best].staffing.drivers;
            let saving = change.saving.as_ref().and_then(|saving| saving.mean);
            (change.price, change.times, drivers, saving)
        })
        .collect();
    let expected = [
        (StaffPrice::Pay, 0.9, 2, Some(963.5 - 691.5)),
        (StaffPrice::Pay, 1.1, 1, None),
        (StaffPrice::Hire, 0.9, 2, Some(1015.0 - 758.2)),
        (StaffPrice::Hire, 1.1, 1, None),
    ];
    assert_eq!(told.len(), expected.len(), "{told:?}");
    for (told, expected) in told.into_iter().zip(expected) {
        assert_eq!(
            (told.0, told.1, told.2),
            (expected.0, expected.1, expected.2)
        );
        assert_eq!(told.3.is_some(), expected.3.is_some());
        if let (Some(told), Some(expected)) = (told.3, expected.3) {
            near(told, expected);
        }
    }
}

/// One day in five off: of two on the books one is on the road on average, for whom 1 ÷ 0.8, two, are needed; so many are enough on 96% of
/// the days (1 − 0.2²). With everybody there two drivers cost $715; what absence costs is what there is beyond. Days off are 2 of 10 a week,
/// give or take 3.5 × √(10 × 0.2 × 0.8 ÷ 200). The twin has nobody off.
#[test]
fn absence_is_covered_and_costs() {
    let off = ("company: (", "changes: (absent: 0.2), company: (");
    let answer = ask(&week(&BOTH, &[TWO, off]), |question| {
        question.drivers = vec![2];
        question.hire_per_week = Some(1_500.0); // more than a third would bring, less than the second does
        question.replications = 200;
    });
    let absence = answer.absence.as_ref().expect("somebody is off");
    assert_eq!((absence.books, absence.road), (2, 1));
    assert_eq!(
        (absence.books_on_average, absence.books_for_sure),
        (2, Some(2))
    );
    near(absence.comes, 0.8);
    assert!(
        (absence.days_off - 2.0).abs() < 0.32,
        "{}",
        absence.days_off
    );
    let chosen = best(&answer);
    assert_eq!(chosen.staffing.drivers, 2);
    let cost = chosen.cost.mean.expect("a cost");
    near(absence.costs.mean.expect("a cost"), cost - 715.0);
    assert!(cost > 715.0, "a yd³ that nobody brings is a lost sale");
    let twin = ask(&week(&BOTH, &[TWO]), |question| question.drivers = vec![2]);
    assert!(twin.absence.is_none());
    near(self::cost(&twin, 2), 715.0);
}

/// Six weeks with luck show nothing: today's is kept, and the runs that would show it are those of a half-width as large as the mean, in
/// proportion to the square (the t quantiles of few runs apart, 2.57 of 6 and 2 of many).
#[test]
fn what_is_not_shown_is_not_recommended() {
    let folder = TempDir::new().expect("a folder");
    let output = assert_cmd::cargo::cargo_bin_cmd!("plantday")
        .current_dir(folder.path())
        .args([
            "staff",
            "--late-share=0.9",
            "--undelivered=0.5",
            "--drivers=36",
            "--starts=matched:2",
            "--overtime=rostered",
            "-n=6",
            "--json",
        ])
        .output()
        .expect("the program runs");
    assert_eq!(output.status.code(), Some(0));
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let all = &json["saving"]["all"];
    let of = |key: &str| all[key].as_f64().expect("a saving");
    let (mean, low, high) = (of("mean"), of("low"), of("high"));
    assert!(
        low < 0.0 && mean > 300.0,
        "the case is one that is not shown: {all}"
    );
    assert_eq!(json["decision"]["keep_today"], true);
    let said = json["decision"]["sentence"].as_str().expect("a sentence");
    assert!(
        said.starts_with("Keep today's staffing for now, 36 drivers"),
        "{said}"
    );
    let runs = json["decision"]["runs_that_would_show_it"]
        .as_f64()
        .expect("a number");
    let ratio = (high - low) / 2.0 / mean;
    // Its ends are those of a skewed sample and not quite as far from the mean.
    let by_hand = 6.0 * ratio.powi(2);
    let (least, most) = (0.8 * by_hand * (1.96_f64 / 2.58).powi(2), 1.25 * by_hand);
    assert!(
        (least..=most).contains(&runs),
        "{runs} not in {least} to {most}"
    );
    assert!(
        said.contains(&format!("about {runs} runs would show")),
        "{said}"
    );
}

#[test]
fn bad_arguments_about_people_are_explained() {
    let folder = TempDir::new().expect("a folder");
    for (arguments, expected) in [
        (&["--hauler-per-h=-3"][..], "expected 0 to 1,000,000"),
        (
            &["--hauler-per-h=90", "--hauler-least-h=30"],
            "expected 0 to 24 hours",
        ),
        (&["--haulers=2"], "--hauler-per-h"),
        (&["--part-time=4"], "NUMBERS:HOURS, like 4,6:5"),
        (&["--part-time=0:5"], "1 to 2,000"),
        (&["--part-time=4:30"], "0.5 to less than 24 hours"),
        (&["--absent-share=1"], "0 to less than 1"),
        (&["--empty-seats=-0.1"], "0 to less than 1"),
    ] {
        let output = assert_cmd::cargo::cargo_bin_cmd!("plantday")
            .current_dir(folder.path())
            .arg("staff")
            .args(arguments)
            .output()
            .expect("the program runs");
        let error = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {error}");
        assert!(error.contains(expected), "{arguments:?}: {error}");
    }
}
