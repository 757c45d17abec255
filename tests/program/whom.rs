//! For whom: the figures by order, customer, plant, weekday and driver, as the program's files have them, and what the book needs.

use crate::changed::changed;
use assert_cmd::cargo::cargo_bin_cmd;
use plantday::Watch;
use plantday::engine::Luck;
use plantday::observe::{Figures, of_order};
use plantday::plant::{Plan, World};
use plantday::scenario::{self, Needed, Scenario};
use plantday::statistics::{Contrast, Interval, Statement};
use plantday::studies::{At, Question, Who, compare};
use plantday::units::Weekday;
use std::collections::HashMap;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// A table as a file has it: each line by the names of its columns.
type Lines = Vec<HashMap<String, String>>;

fn read(folder: &Path, name: &str) -> Lines {
    let mut reader = csv::Reader::from_path(folder.join(name)).expect(name);
    let lines = reader.deserialize();
    lines.map(|line| line.expect("a line")).collect()
}

/// The folder of the answer about a scenario.
fn answered(text: &str, arguments: &[&str]) -> TempDir {
    let [folder, input] = [(); 2].map(|()| TempDir::new().expect("a folder"));
    let days = input.path().join("days.ron");
    fs::write(&days, text).expect("written");
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder.path())
        .arg("compare")
        .arg(&days)
        .args(["--out", "."])
        .args(arguments)
        .output()
        .expect("the program runs");
    let error = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(0), "{error}");
    folder
}

fn number(line: &HashMap<String, String>, column: &str) -> f64 {
    line[column]
        .parse()
        .unwrap_or_else(|_| panic!("{column} of {line:?}"))
}

const FILES: [&str; 5] = [
    "by_order.csv",
    "by_customer.csv",
    "by_plant.csv",
    "by_weekday.csv",
    "by_driver.csv",
];

/// The sum of a figure over all lines of a file for a rule, in so many parts of its unit, which makes it a whole number.
fn sum(lines: &Lines, rule: &str, figure: &str, parts: f64) -> i64 {
    let of_rule = lines
        .iter()
        .filter(|line| line["rule"] == rule && line["figure"] == figure);
    of_rule
        .map(|line| {
            let whole = number(line, "total") * parts;
            assert!((whole - whole.round()).abs() < 1e-3, "{line:?}");
            whole.round() as i64
        })
        .sum()
}

/// Each replication's figures of the whole, told by other sums, add up to the same.
fn adds_up(text: &str, runs: &str) {
    let folder = answered(text, &["-n", runs]);
    let figures = read(folder.path(), "figures.csv");
    let causes = read(folder.path(), "causes.csv");
    let [orders @ .., drivers] = FILES.map(|file| read(folder.path(), file));
    let mut rules: Vec<&str> = figures.iter().map(|line| line["rule"].as_str()).collect();
    rules.sort_unstable();
    rules.dedup();
    for rule in rules {
        let whole = |figure: &str, parts: f64| -> i64 {
            let of_rule = figures.iter().filter(|line| line["rule"] == rule);
            let each = of_rule.map(|line| (number(line, figure) * parts).round() as i64);
            each.sum()
        };
        for lines in &orders {
            for (figure, parts) in [
                ("late_loads", 1.0),
                ("undelivered_loads", 1.0),
                ("gaps", 1.0),
                ("placed_yd3", 1_000.0),
            ] {
                assert_eq!(
                    sum(lines, rule, figure, parts),
                    whole(figure, parts),
                    "{figure} of {rule}"
                );
            }
            let of_causes = causes.iter().filter(|line| line["rule"] == rule);
            let of_causes: f64 = of_causes.map(|line| number(line, "minutes_late")).sum();
            let of_causes = (of_causes * runs.parse::<f64>().expect("a number") * 60_000.0).round();
            let lateness = sum(lines, rule, "minutes_late", 60_000.0);
            assert_eq!(lateness, of_causes as i64, "lateness of {rule}");
        }
        assert_eq!(sum(&drivers, rule, "stranded", 1.0), whole("stranded", 1.0));
        // Four-byte figures of some hundred hours are right to a tenth of a second.
        let overtime = sum(&drivers, rule, "overtime_h", 3_600_000.0);
        let of_all = whole("overtime_h", 3_600_000.0);
        let replications = runs.parse::<i64>().expect("a number");
        assert!(
            (overtime - of_all).abs() <= 200 * replications,
            "{overtime} {of_all}"
        );
        let paid = whole("paid_h", 3_600_000.0) - whole("unworked_h", 3_600_000.0);
        let on_duty = sum(&drivers, rule, "on_duty_h", 3_600_000.0);
        assert!(
            (on_duty - paid).abs() <= 2_000 * replications,
            "{on_duty} {paid}"
        );
    }
}

#[test]
fn the_parts_add_up_to_the_whole() {
    adds_up(include_str!("../../scenarios/estuary_week.ron"), "4");
    for text in [
        include_str!("../../scenarios/estuary_day.ron"),
        include_str!("../../scenarios/starter.ron"),
        include_str!("../../scenarios/yard_study.ron"),
        include_str!("../../scenarios/shuttle_day.ron"),
        include_str!("../data/seldom.ron"),
    ] {
        adds_up(text, "7");
    }
}

/// One truck, everything constant: loading 6, rack 4, out 20, discharge 10, chute wash 5, back 18. The driver is free at 07:15, when
/// both Ash's load for 07:00 and Birch's two for 07:01 and 08:11 wait or soon will. A round of 63 min begins at 07:15, 08:18, 09:21
/// and comes on site 30 min later, at 07:45, 08:48, 09:51.
///
/// | on site | earliest due        | biggest first       |
/// |---------|---------------------|---------------------|
/// | 07:45   | Ash 07:00: 45 late  | Birch 07:01: 44     |
/// | 08:48   | Birch 07:01: 107    | Birch 08:11: 37     |
/// | 09:51   | Birch 08:11: 100    | Ash 07:00: 171      |
///
/// An hour is tolerated: earliest due has no load of Ash's late and two of Birch's, by 207 min, biggest first one of Ash's, by 171
/// min, and none of Birch's.
/// Ash's pour at noon is on time under both.
const DAY: &str = r#"(
    name: "one truck",
    period: (first_day: Tuesday),
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "20:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", home: "P")],
    drivers: [(name: "D", trucks: "T", report: "07:00", shift_h: 9)],
    orders: [
        (name: "Morning", customer: "Ash", site: "A", first: "07:00", volume_yd3: 10, SITE),
        (name: "Slab", customer: "Birch", site: "A", first: "07:01", volume_yd3: 20, SITE),
        (name: "Noon", customer: "Ash", site: "A", first: "12:00", volume_yd3: 10, SITE),
    ],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [
        (name: "Biggest", belief: FreeFlow, sequence: BiggestFirst),
        (name: "Earliest", belief: FreeFlow, today: true),
    ],
)"#;

const SITE: &str = "spacing_min: 70, late_min: 60, position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)";

fn day() -> String {
    DAY.replace("SITE", SITE)
}

#[test]
fn who_gains_and_who_loses_on_a_day_on_paper() {
    let folder = answered(&day(), &["-n", "12"]);
    let check = |file: &str, key: &str, name: &str, figure: &str, expected: (f64, f64, &str)| {
        let lines = read(folder.path(), file);
        let of = |rule: &str| {
            let mut lines = lines.iter();
            let found = lines
                .find(|line| line["rule"] == rule && line[key] == name && line["figure"] == figure);
            found.unwrap_or_else(|| panic!("{name} {figure}"))
        };
        let (today, other) = (of("Earliest"), of("Biggest"));
        assert_eq!(number(today, "total"), 12.0 * expected.0, "{name} {figure}");
        assert_eq!(number(other, "total"), 12.0 * expected.1, "{name} {figure}");
        assert_eq!(today["difference_said"], "", "the base has no difference");
        assert_eq!(other["change"], expected.2, "{name} {figure}");
        // Without luck the interval has no width; where nothing changes there is nothing of which to say a mean.
        let difference = expected.1 - expected.0;
        if difference == 0.0 {
            assert_eq!(other["replications_with_more"], "0");
            assert_eq!(other["replications_with_less"], "0");
        } else {
            for end in ["difference_from_base", "difference_low", "difference_high"] {
                assert_eq!(number(other, end), difference, "{name} {figure}");
            }
        }
    };
    let order = |name, figure, expected| check("by_order.csv", "order", name, figure, expected);
    order("Morning", "minutes_late", (0.0, 171.0, "loses"));
    order("Morning", "late_loads", (0.0, 1.0, "loses"));
    order("Slab", "minutes_late", (207.0, 0.0, "gains"));
    order("Slab", "late_loads", (2.0, 0.0, "gains"));
    order("Noon", "minutes_late", (0.0, 0.0, "no change"));
    order("Noon", "placed_yd3", (10.0, 10.0, "no change"));
    let customer =
        |name, figure, expected| check("by_customer.csv", "customer", name, figure, expected);
    customer("Ash", "minutes_late", (0.0, 171.0, "loses"));
    customer("Birch", "minutes_late", (207.0, 0.0, "gains"));
    customer("Ash", "placed_yd3", (20.0, 20.0, "no change"));
    let plant = |figure, expected| check("by_plant.csv", "plant", "P", figure, expected);
    plant("late_loads", (2.0, 1.0, "gains"));
    plant("minutes_late", (207.0, 171.0, "gains"));
    let tuesday =
        |figure, expected| check("by_weekday.csv", "weekday", "Tuesday", figure, expected);
    tuesday("late_loads", (2.0, 1.0, "gains"));
    tuesday("placed_yd3", (40.0, 40.0, "no change"));
    // From 07:00; the noon load is due at 12:00, taken then, and the truck is back at 12:33; released at 12:53 under both.
    let driver = |figure, expected| check("by_driver.csv", "driver", "D", figure, expected);
    driver("overtime_h", (0.0, 0.0, "no change"));
    driver("early_reports", (0.0, 0.0, "no change"));
    let page = fs::read_to_string(folder.path().join("report.html")).expect("the page");
    let balance = "of 2 customers 1 gains (Birch) and 1 loses (Ash)";
    assert!(page.contains(balance), "{page}");
}

/// What is needed by half hour of the day above, by hand. A load keeps a truck from 30 min before it is due to 33 min after: 06:30 to
/// 07:33 (Morning), 06:31 to 07:34 and 07:41 to 08:44 (Slab), 11:30 to 12:33 (Noon).
///
/// | from  | truck minutes     | trucks  |
/// |-------|-------------------|---------|
/// | 06:30 | 30 + 29           | 59 ÷ 30 |
/// | 07:00 | 30 + 30           | 2       |
/// | 07:30 | 3 + 4 + 19        | 26 ÷ 30 |
/// | 08:00 | 30                | 1       |
/// | 08:30 | 14                | 14 ÷ 30 |
/// | 11:30 | 30                | 1       |
/// | 12:00 | 30                | 1       |
/// | 12:30 | 3                 | 3 ÷ 30  |
#[test]
fn the_book_needs_by_hand() {
    let folder = answered(&day(), &["-n", "1"]);
    let lines = read(folder.path(), "on_duty.csv");
    assert_eq!(lines.len(), 2 * 48, "two rules, one day");
    for line in lines {
        let needed = number(&line, "trucks_needed") * 30.0;
        let expected = match line["from"].as_str() {
            "06:30" => 59.0,
            "07:00" => 60.0,
            "07:30" => 26.0,
            "08:00" | "11:30" | "12:00" => 30.0,
            "08:30" => 14.0,
            "12:30" => 3.0,
            _ => 0.0,
        };
        assert!((needed - expected).abs() < 1e-9, "{line:?}");
        // On duty from 07:00; at work from 07:15 on in rounds without a pause, the last of three over at 10:24.
        let (on_duty, at_work) = match line["from"].as_str() {
            "07:00" => (30.0, 15.0),
            "07:30" | "08:00" | "08:30" | "09:00" | "09:30" => (30.0, 30.0),
            "10:00" => (30.0, 24.0),
            _ => continue,
        };
        assert_eq!(number(&line, "drivers_on_duty") * 30.0, on_duty, "{line:?}");
        assert_eq!(number(&line, "trucks_at_work") * 30.0, at_work, "{line:?}");
    }
}

/// A list of drawn orders, in place of the end of the list of orders.
fn drawn() -> String {
    format!(
        "],\n    drawn: [(name: \"small\", site: \"A\", per_day: 2, first: (\"10:00\", \"10:29\"), volume_yd3: Constant(4), {SITE})],\n    yard"
    )
}

/// The orders of a list that is drawn each day are one line, of nobody where no customer is named.
#[test]
fn drawn_orders_are_one_line() {
    let text = changed(&day(), &[("],\n    yard", drawn().as_str())]);
    adds_up(&text, "5");
    let folder = answered(&text, &["-n", "5"]);
    let placed = |file: &str, key: &str, name: &str| -> f64 {
        let lines = read(folder.path(), file);
        let mut lines = lines.iter();
        let found = lines.find(|line| {
            line["rule"] == "Earliest" && line[key] == name && line["figure"] == "placed_yd3"
        });
        number(found.expect(name), "total")
    };
    // Two a day of 4 yd³, five days.
    assert_eq!(
        placed("by_order.csv", "order", "small, drawn each day"),
        40.0
    );
    assert_eq!(
        placed("by_customer.csv", "customer", "no customer named"),
        40.0
    );
    assert_eq!(placed("by_weekday.csv", "weekday", "Tuesday"), 240.0);
}

/// An order of half the periods needs half its trucks. Of drawn orders, two a day, each of a load due at 10:00 to 10:29, any minute
/// alike, the trucks leave from 09:30 to 09:59: in the half hour from 09:30 they are gone for 30, 29 … 1 min, 15.5 of 30 on average.
/// They are back from 10:33 to 11:02: of the half hour from 10:30 they keep 3, 4 … 29, 30, 30, 30 min, 522 ÷ 30 on average, of that
/// from 11:00 the last two 1 and 2 min.
#[test]
fn what_comes_now_and_then_counts_with_its_share() {
    let trucks = |changes: &[(&str, &str)], half_hour: usize| {
        let scenario = scenario::parse("day", &changed(&day(), changes)).expect("a scenario");
        let plan = Plan::new(&scenario);
        Needed::of(&scenario, plan.roads()).trucks(Weekday::Tuesday, half_hour)
    };
    let half = [("first: \"12:00\"", "chance: 0.5, first: \"12:00\"")];
    assert_eq!(trucks(&half, 23), 0.5);
    let list = drawn();
    let drawn = [("],\n    yard", list.as_str())];
    for (half_hour, expected) in [
        (19, 2.0 * 15.5 / 30.0),
        (20, 2.0),
        (21, 2.0 * 522.0 / 900.0),
        (22, 2.0 * 3.0 / 900.0),
    ] {
        let needed = trucks(&drawn, half_hour);
        assert!((needed - expected).abs() < 1e-9, "{half_hour}: {needed}");
    }
}

/// Two drivers of a plant, rostered for 05:00 and 06:00: staggered by half an hour the second comes at 05:30, before the roster says
/// so; by an hour and a half at 06:30, after it.
#[test]
fn reports_before_and_after_the_roster() {
    for (minutes, early, late) in [("30", 1.0, 0.0), ("90", 0.0, 1.0)] {
        let staggered = format!("shift: Staggered(minutes: {minutes}), sequence: BiggestFirst");
        let text = changed(
            &day(),
            &[
                (
                    "trucks: [(name: \"T\", home: \"P\")]",
                    "trucks: [(name: \"T\", count: 2, home: \"P\")]",
                ),
                (
                    "(name: \"D\", trucks: \"T\", report: \"07:00\", shift_h: 9)",
                    "(name: \"D\", trucks: \"T\", report: \"05:00\", stagger_min: 60, shift_h: 9)",
                ),
                ("sequence: BiggestFirst", staggered.as_str()),
            ],
        );
        let folder = answered(&text, &["-n", "1"]);
        let lines = read(folder.path(), "by_driver.csv");
        assert_eq!(sum(&lines, "Biggest", "early_reports", 1.0), early as i64);
        assert_eq!(sum(&lines, "Biggest", "late_reports", 1.0), late as i64);
        assert_eq!(sum(&lines, "Earliest", "early_reports", 1.0), 0);
        assert_eq!(sum(&lines, "Earliest", "late_reports", 1.0), 0);
    }
}

/// Lateness by order, of each replication, played again one by one.
fn recount(scenario: &Scenario, replications: u64) -> Vec<Vec<Vec<f64>>> {
    let plan = Plan::new(scenario);
    let mut world = World::new(&plan);
    let mut play = |rule: usize, replication: u64| {
        let mut figures = Figures::new(&plan, &scenario.money);
        figures.begin();
        world.run(rule, Luck::new(1, replication), &mut figures);
        let orders = figures.whom().orders.iter();
        let minutes = orders.map(|order| order[of_order::LATENESS] as f64 / 60_000.0);
        minutes.collect()
    };
    let rules = 0..scenario.rules.len();
    rules
        .map(|rule| {
            (0..replications)
                .map(|replication| play(rule, replication))
                .collect()
        })
        .collect()
}

/// Those that change most are picked in the even-numbered replications and told from the odd-numbered: each is played again by itself,
/// and lists of their values say the same as the running sums.
#[test]
fn what_changes_most_is_picked_in_one_half_and_told_from_the_other() {
    let text = include_str!("../../scenarios/estuary_day.ron");
    let scenario = scenario::parse("day", text).expect("the day is right");
    let question = Question {
        replications: 30,
        ..Question::default()
    };
    let found = compare(&scenario, &question, Watch::default()).expect("nobody stops it");
    let first = found.rows.replications().start;
    assert_eq!(first, 0, "counted from the first");
    let lateness = recount(&scenario, 30);
    let rule = usize::from(found.base == 0);
    let value = |rule: usize, half: usize, order: usize| -> Vec<f64> {
        let of_half = lateness[rule].iter().skip(half).step_by(2);
        of_half.map(|orders| orders[order]).collect()
    };
    let change = |order: usize| -> f64 {
        let (own, base) = (value(rule, 0, order), value(found.base, 0, order));
        own.iter().zip(&base).map(|(a, b)| a - b).sum::<f64>().abs()
    };
    let picked = found
        .whom
        .most_changed(Who::Order, of_order::LATENESS, rule, 10)
        .expect("two of each half");
    assert_eq!(picked.len(), 10);
    let least = picked
        .iter()
        .map(|order| change(*order))
        .fold(f64::INFINITY, f64::min);
    for order in 0..scenario.orders.len() {
        assert!(picked.contains(&order) || change(order) <= least + 1e-6);
    }
    assert!(picked.is_sorted_by(|a, b| change(*a) >= change(*b) - 1e-6));
    for order in picked {
        let at = At {
            rule,
            who: Who::Order,
            line: order,
            figure: of_order::LATENESS,
        };
        let (said, difference) = found.whom.in_odd_half(at, 10);
        let (own, base) = (value(rule, 1, order), value(found.base, 1, order));
        assert_alike(said, Statement::of(&own, 0.95));
        let of_lists = Contrast::simultaneous(&own, &base, 0.95, 10);
        match (difference.mean(), of_lists.mean()) {
            (Some(one), Some(other)) => near(one, other),
            _ => assert_eq!(difference, of_lists),
        }
    }
}

fn assert_alike(one: Statement, other: Statement) {
    match (one.mean(), other.mean()) {
        (Some(one), Some(other)) => near(one, other),
        _ => assert_eq!(one, other),
    }
}

/// But for the last digits, which come from another order of adding.
fn near((one, ends): (f64, Interval), (other, other_ends): (f64, Interval)) {
    for (a, b) in [
        (one, other),
        (ends.low, other_ends.low),
        (ends.high, other_ends.high),
    ] {
        assert!((a - b).abs() < 1e-9 * (1.0 + b.abs()), "{a} {b}");
    }
}
