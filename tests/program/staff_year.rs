//! `staff` for a year of seasons, its sheet for who signs, and the decision in changed worlds. The weeks are without luck, and every amount
//! is reckoned by hand in its comment; the interval of a lucky year is reckoned from what `compare` says of each week.

use crate::changed::changed;
use assert_cmd::cargo::cargo_bin_cmd;
use calamine::{Data, Reader, Xlsx, open_workbook};
use plantday::Watch;
use plantday::dispatch::Shift;
use plantday::observe::figure;
use plantday::scenario::edit::roster::OvertimeUse;
use plantday::scenario::season::{Season, list, table};
use plantday::scenario::{Scenario, parse};
use plantday::studies::{Hired, PartTime};
use plantday::studies::{
    Question, StaffAnswer, StaffQuestion, Staffing, Stands, Year, compare, staff, staffed,
};
use serde_json::Value;
use std::fs;
use std::num::NonZeroUsize;
use std::path::Path;
use tempfile::TempDir;

/// Five days, each with two orders of one load that are due at 08:00. Loading 6, rack 4, out 20, on site 2 + 10 + 3, back 20: a round trip
/// takes 65 min. A driver reports at 06:00; the first load is sent at 07:30 and the truck is back at 08:35, with the second at 09:40, which
/// was 65 min late. A late load costs $200.
const WEEK: &str = r#"(
    name: "week",
    period: (first_day: Monday, days: 5),
    rule_book: "none",
    company: (promise_horizon_min: 60),
    plants: [(name: "Yard", bays: 3, loading: Constant(6), rack: Constant(4))],
    sites: [(name: "Tower")],
    roads: (minutes: { "Yard": { "Tower": (20, 20) } }),
    trucks: [(name: "T", count: 1, home: "Yard")],
    drivers: [(name: "D", trucks: "T", report: "06:00", shift_h: 10)],
    orders: [ORDERS],
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    money: (pay_per_h: 0, payroll_tax: 0, overtime_after_h: 8, overtime_after_week_h: 40, truck_per_duty_h: 0, truck_per_driven_h: 0,
        crew_per_open_h: 0, material_per_yd3: 0, late_per_load: 200, late_per_min: 0, first_late_per_min: 0),
    rules: [(name: "R", today: true, belief: FreeFlow, choose: SoonestOnSite, lend: Always, early_min: 0, bay_wait_min: 0)],
)"#;

const ORDER: &str = "site: \"Tower\", first: \"08:00\", volume_yd3: 10, spacing_min: 30, position: Constant(2), \
     discharge: Constant(10), chute_wash: Constant(3)";

/// The week with these many orders on its days.
fn text(orders: [usize; 5], changes: &[(&str, &str)]) -> String {
    let mut all = String::new();
    for (orders, day) in orders.into_iter().zip(1..) {
        for nth in 0..orders {
            all += &format!("(name: \"{day}.{nth}\", day: {day}, {ORDER}), ");
        }
    }
    changed(&changed(WEEK, &[("ORDERS", &all)]), changes)
}

fn read(text: &str) -> Scenario {
    match parse("test", text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

fn week(changes: &[(&str, &str)]) -> Scenario {
    read(&text([2; 5], changes))
}

fn ask(scenario: &Scenario, seasons: &str, change: impl FnOnce(&mut StaffQuestion)) -> StaffAnswer {
    let mut question = StaffQuestion {
        drivers: vec![1, 2],
        starts: vec![Shift::Rostered],
        overtime: vec![OvertimeUse::Rostered],
        late_share: 1.0,
        undelivered: 1.0,
        replications: 20,
        threads: Some(NonZeroUsize::MIN),
        seasons: match seasons {
            "" => Vec::new(),
            written => list(written).expect("right seasons"),
        },
        ..StaffQuestion::default()
    };
    change(&mut question);
    staff(scenario, &question, Watch::default()).expect("nobody stops it")
}

fn with(drivers: u32) -> Staffing {
    Staffing {
        drivers,
        starts: Shift::Rostered,
        overtime: OvertimeUse::Rostered,
        hired: Hired::default(),
        part_time: PartTime::default(),
    }
}

fn year(answer: &StaffAnswer) -> &Year {
    answer.year.as_ref().expect("seasons were given")
}

/// What every season's week costs with so many drivers, then all weeks.
fn costs(answer: &StaffAnswer, drivers: u32) -> (Vec<f64>, f64) {
    let one = year(answer).of(with(drivers)).expect("it was run");
    let weeks = one
        .seasons
        .iter()
        .map(|week| week.cost.mean.expect("a cost"));
    (weeks.collect(), one.cost.mean.expect("a cost"))
}

/// Of ten orders 70 % are seven: every third or so of the book is left out, the 2nd, the 6th and the 9th, so that days 1, 3 and 5 have one
/// load. 120 % are twelve: the 3rd and the 8th come once more, so that days 2 and 4 have three.
///
/// Pay $30, one driver. A day of one load is paid from 06:00 to 08:35, $77.50; of two to 09:40, $110; of three to 10:45, $142.50. Weeks:
/// - at 70 %: 3 × 77.50 + 2 × 110 + 2 late loads × 200 = $852.50
/// - at 100 %: 5 × 110 + 5 × 200 = $1,550.00
/// - at 120 %: 3 × 110 + 2 × 142.50 + 7 × 200 = $2,015.00
///
/// 12, 26 and 14 of them are 10,230 + 40,300 + 28,210 = $78,740 in 52 weeks.
#[test]
fn a_year_is_the_sum_of_its_weeks_to_the_cent() {
    let scenario = week(&[("pay_per_h: 0", "pay_per_h: 30")]);
    let answer = ask(&scenario, "12x0.7,26x1,14x1.2", |_| {});
    assert_eq!(year(&answer).orders, (vec![7, 10, 12], 10));
    assert_eq!(year(&answer).weeks(), 52.0);
    let (weeks, all) = costs(&answer, 1);
    assert_eq!(weeks, [852.5, 1_550.0, 2_015.0]);
    assert_eq!(all, 78_740.0);
    let cost = year(&answer).of(with(1)).expect("today's").cost;
    assert_eq!(
        (cost.interval.low, cost.interval.high),
        (all, all),
        "no luck, no doubt"
    );
}

/// Nobody is paid; each driver more costs $500 a week, all year. Late loads of one driver: 2, 5, 7 in the three weeks; of two: none, none,
/// 2; of three: none.
/// - one: 12 × 400 + 26 × 1,000 + 14 × 1,400 = $50,400
/// - two: 52 × 500 = $26,000 for the hire, and 14 × 400 = $5,600: $31,600, $18,800 less
/// - three: 52 × 1,000 = $52,000
///
/// By the week alone one driver is best in the first season ($400 to $500), which saves $100 against two; two in the others ($500 to
/// $1,000; $900 to $1,000 and $1,400).
#[test]
fn hires_are_kept_all_year() {
    let answer = ask(&week(&[]), "12x0.7,26x1,14x1.2", |question| {
        question.hire_per_week = Some(500.0);
    });
    let found = year(&answer);
    assert_eq!(costs(&answer, 1), (vec![400.0, 1_000.0, 1_400.0], 50_400.0));
    assert_eq!(costs(&answer, 2), (vec![500.0, 500.0, 900.0], 31_600.0));
    let two = found.of(with(2)).expect("two drivers");
    assert_eq!((two.hire, two.saving.mean), (26_000.0, Some(18_800.0)));
    let savings: Vec<Option<f64>> = two.savings.iter().map(|saving| saving.mean).collect();
    assert_eq!(savings, [Some(-100.0), Some(500.0), Some(500.0)]);
    assert_eq!(found.decided(), Some(with(2)));
    let alone: Vec<u32> = found
        .alone
        .iter()
        .map(|best| best.expect("lax targets").drivers)
        .collect();
    assert_eq!(alone, [1, 2, 2]);
    let saves = found.alone[0]
        .and_then(|best| best.saves)
        .expect("two are tried");
    assert_eq!(saves.mean, Some(100.0));
    let three = found.ladder.iter().find(|one| one.staffing == with(3));
    assert_eq!(three.expect("a ladder of 1 to 4").cost.mean, Some(52_000.0));
}

/// With two drivers 2 of 12 loads are late in the high season, a sixth. Where a tenth is allowed the book's own week asks for two, and the
/// year for three; where a fifth is, two are enough for both.
#[test]
fn the_high_season_decides_over_a_year() {
    let decided = |late_share: f64| {
        let answer = ask(&week(&[]), "38x1,14x1.2", |question| {
            question.hire_per_week = Some(50.0);
            question.late_share = late_share;
        });
        let found = year(&answer).clone();
        let two = found.of(with(2)).expect("two drivers");
        let met: Vec<bool> = two.seasons.iter().map(|week| week.meets).collect();
        let best = answer.best.map(|at| answer.results[at].staffing);
        assert_eq!(best, found.decided(), "the year decides");
        assert_eq!(found.of_period, Some(with(2)));
        (best.map(|best| best.drivers), met)
    };
    assert_eq!(decided(0.1), (Some(3), vec![true, false]));
    assert_eq!(decided(0.2), (Some(2), vec![true, true]));
}

/// Luck on site, and lateness is paid by the minute, so that weeks differ.
const LUCKY: [(&str, &str); 2] = [
    (
        "discharge: Constant(10)",
        "discharge: Lognormal(mean: 10, cv: 1.5)",
    ),
    ("first_late_per_min: 0", "first_late_per_min: 3"),
];

/// What a staffing costs in each of some replications of a week with these orders, as `compare` says.
fn compared(text: &str, drivers: u32, replications: std::ops::Range<usize>) -> Vec<f64> {
    let scenario = staffed(&read(text), 0, with(drivers));
    let question = Question {
        rules: vec![0],
        judge: figure::COST,
        replications: replications.end as u64,
        ..Question::default()
    };
    let found = compare(&scenario, &question, Watch::default());
    let rows = found.expect("nobody stops it").rows;
    let all: Vec<f64> = rows.values(0, figure::COST).collect();
    all[replications].to_vec()
}

/// Mean, and the two ends by Student's t with what lies farthest out on their side once more, as all means here have it; quantiles of t
/// for 97.5 % from a printed table: 2.093 with 19 degrees of freedom, 2.086 with 20.
fn by_hand(values: &[f64]) -> (f64, f64, f64) {
    assert_eq!(values.len(), 20);
    let end = |values: &[f64], t: f64| {
        let n = values.len() as f64;
        let mean = values.iter().sum::<f64>() / n;
        let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
        let half = t * (squares / (n - 1.0) / n).sqrt();
        (mean, mean - half, mean + half)
    };
    let again = |value: f64| end(&[values, &[value]].concat(), 2.085_963);
    let least = values.iter().copied().fold(f64::INFINITY, f64::min);
    let most = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let (mean, low, high) = end(values, 2.093_024);
    (mean, low.min(again(least).1), high.max(again(most).2))
}

/// Two seasons of weeks with luck: each has days of its own (replications 80 to 99 and 120 to 139: 20 of the search, 20 of the answer and
/// 20 for growth come first, and each season has 20 of the search before its own), the saving is that of the same days, variances add
/// with the squares of the weeks.
#[test]
fn the_interval_of_a_year_adds_variances_with_the_squares_of_weeks() {
    let scenario = week(&LUCKY);
    let answer = ask(&scenario, "20x0.7,32x1", |question| {
        question.hire_per_week = Some(50.0);
    });
    let saved = |orders: [usize; 5], replications: std::ops::Range<usize>| -> Vec<f64> {
        let text = text(orders, &LUCKY);
        let one = compared(&text, 1, replications.clone());
        let two = compared(&text, 2, replications);
        let pairs = one.iter().zip(&two);
        pairs.map(|(one, two)| one - (two + 50.0)).collect()
    };
    // Which orders are left out is told above.
    let low = saved([1, 2, 1, 2, 1], 80..100);
    let whole = saved([2; 5], 120..140);
    assert!(whole.iter().any(|saved| *saved != whole[0]), "weeks differ");
    let (low, whole) = (by_hand(&low), by_hand(&whole));
    let saving = year(&answer).of(with(2)).expect("two drivers").saving;
    let mean = 20.0 * low.0 + 32.0 * whole.0;
    let reach = |low: f64, whole: f64| ((20.0 * low).powi(2) + (32.0 * whole).powi(2)).sqrt();
    let below = reach(low.0 - low.1, whole.0 - whole.1);
    let above = reach(low.2 - low.0, whole.2 - whole.0);
    let near = |one: f64, other: f64| (one - other).abs() < 0.01;
    assert!(
        near(saving.mean.expect("a saving"), mean),
        "{saving:?}, by hand {mean}"
    );
    assert!(
        near(saving.interval.low, mean - below) && near(saving.interval.high, mean + above),
        "{saving:?}, by hand {} to {}",
        mean - below,
        mean + above
    );
}

/// The twin of one season with all orders: 52 times the week, its interval too.
#[test]
fn a_year_of_one_season_is_so_many_weeks() {
    let answer = ask(&week(&LUCKY), "52x1", |_| {});
    for one in &year(&answer).staffings {
        let cost = one.seasons[0].cost;
        let times = [
            (one.cost.mean, cost.mean.map(|mean| 52.0 * mean)),
            (Some(one.cost.interval.low), Some(52.0 * cost.interval.low)),
            (
                Some(one.cost.interval.high),
                Some(52.0 * cost.interval.high),
            ),
        ];
        for (year, weeks) in times {
            let (year, weeks) = (year.expect("a year"), weeks.expect("weeks"));
            assert!(
                (year - weeks).abs() < 1e-6 * weeks.abs().max(1.0),
                "{year} {weeks}"
            );
        }
    }
}

/// The second driver saves five late loads of $200 a week and costs $600: $400. Where lateness costs half, the five save $500: one driver
/// is $100 cheaper, and the decision does not stand. Where it costs twice, $2,000 less $600. Without luck all of that is sure.
///
/// With a tenth more orders the sixth comes once more: a third load on day 3, late under both, so that still five more are late under one.
/// With a tenth fewer it is left out: four late loads, $800 less $600. Nobody is paid, so that the price of pay cannot be changed.
#[test]
fn one_input_turns_the_decision_as_by_hand() {
    let scenario = week(&[]);
    let answer = ask(&scenario, "", |question| {
        question.hire_per_week = Some(600.0);
        question.holds = true;
    });
    assert_eq!(
        answer.best.map(|at| answer.results[at].staffing),
        Some(with(2))
    );
    let sensitive = answer.sensitive.as_ref().expect("it was asked for");
    assert_eq!(sensitive.against, with(1));
    assert_eq!(sensitive.as_assumed.saving.mean, Some(400.0));
    let world = |key: &str| {
        let mut worlds = sensitive.worlds.iter();
        let world = worlds.find(|world| world.otherwise.key(&scenario) == key);
        let world = world.unwrap_or_else(|| panic!("no world {key}"));
        (world.saving.mean.expect("a saving"), world.stands)
    };
    assert_eq!(world("late_price_0.5"), (-100.0, Stands::OtherCheaper));
    assert_eq!(world("late_price_2"), (1_400.0, Stands::Stands));
    assert_eq!(world("orders_1.1"), (400.0, Stands::Stands));
    assert_eq!(world("orders_0.9"), (200.0, Stands::Stands));
    assert_eq!(sensitive.held(), sensitive.worlds.len() - 1);
    assert_eq!(
        sensitive.worlds[0].otherwise.key(&scenario),
        "late_price_0.5",
        "what turns it stands first"
    );
    let not = |key: &str| {
        let mut worlds = sensitive.not_applying.iter();
        worlds.any(|(otherwise, _)| otherwise.key(&scenario) == key)
    };
    assert!(not("pay_1.1") && not("driver_fewer"));
}

/// The user's own world comes first, whatever it does to the decision; where two drivers miss what one misses too, neither can be
/// recommended: all loads are late there.
#[test]
fn own_worlds_are_tried_first() {
    let own = [(
        "    rules: [",
        "    worlds: [(name: \"jam\", change: Traffic(4))],\n    rules: [",
    )];
    let answer = ask(&week(&own), "", |question| {
        question.hire_per_week = Some(600.0);
        question.holds = true;
        question.late_share = 0.5;
    });
    let sensitive = answer.sensitive.as_ref().expect("it was asked for");
    assert!(sensitive.worlds[0].otherwise.is_own());
    assert_eq!(sensitive.worlds[0].stands, Stands::BothMiss);
    assert_eq!(sensitive.as_assumed.stands, Stands::Stands);
}

#[test]
fn seasons_are_read_from_a_list_and_a_table() {
    let season = |name: Option<&str>, weeks: f64, orders: f64| Season {
        name: name.map(str::to_owned),
        weeks,
        orders,
    };
    assert_eq!(
        list("12x0.7, 40 x 1.1").ok(),
        Some(vec![season(None, 12.0, 0.7), season(None, 40.0, 1.1)])
    );
    let text = "name;weeks;orders_per_cent\nwinter;12,\nsummer;40;110\n";
    assert!(table("y.csv", text).is_err(), "a row lacks a cell");
    let text = "name;weeks;orders_per_cent\nwinter;12;70\n;40;110\n";
    assert_eq!(
        table("y.csv", text).ok(),
        Some(vec![
            season(Some("winter"), 12.0, 0.7),
            season(None, 40.0, 1.1)
        ])
    );
}

fn program(folder: &Path, arguments: &[&str]) -> (Option<i32>, String, String) {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
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

#[test]
fn bad_seasons_are_explained_all_at_once() {
    let folder = TempDir::new().expect("a folder");
    let file = folder.path().join("year.csv");
    fs::write(&file, "weeks,orders_per_cent\n12,70\nsome,250\n").expect("a table");
    for (season, expected) in [
        (
            "twelvex0.7",
            &["\"twelve\" is no number of weeks", "above 0, at most 53"][..],
        ),
        ("0x0.7", &["0 weeks cannot be", "above 0"]),
        (
            "12x-0.5",
            &["-0.5 of the orders cannot be", "expected 0.1 to 2 times"],
        ),
        (
            "12x0.7,x,40xNaN",
            &["\"\" is no number of weeks", "NaN of the orders cannot be"],
        ),
        ("30x1,30x0.8", &["these are 60 weeks", "at most 53"]),
        ("52", &["\"52\" is no season", "such as 12x0.7"]),
        ("", &["is no season"]),
        (
            "year.csv",
            &[
                "year.csv:3",
                "\"some\" is no number of weeks",
                "250 of the orders",
                "10 to 200",
            ],
        ),
        ("yaer.csv", &["yaer.csv"]),
    ] {
        let argument = format!("--season={season}");
        let (code, _, error) = program(folder.path(), &[&argument]);
        assert_eq!(code, Some(2), "{season}: {error}");
        for text in expected {
            assert!(error.contains(text), "{season}: {text:?} in\n{error}");
        }
    }
}

/// Every amount of the sheet stands with the same digits in its CSV file, the JSON and the workbook, and rounded on the page and the sheet.
#[test]
fn page_json_and_workbook_hold_the_same_numbers() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fs::write(path.join("week.ron"), text([2; 5], &[])).expect("the scenario");
    fs::write(
        path.join("year.csv"),
        "weeks,orders_per_cent,name\n12,70,winter\n26,100,spring\n14,120,summer\n",
    )
    .expect("the seasons");
    let (code, out, error) = program(
        path,
        &[
            "week.ron",
            "--season",
            "year.csv",
            "--holds",
            "--growth",
            "10",
            "--hire-per-week",
            "500",
            "--late-share",
            "1",
            "--undelivered",
            "1",
            "-n",
            "20",
            "--out",
            "s",
            "--json",
            "--xlsx",
        ],
    );
    assert_eq!(code, Some(0), "{error}");
    let json: Value = serde_json::from_str(&out).expect("JSON");
    let sheet = fs::read_to_string(path.join("s/finance.html")).expect("the sheet");
    let page = fs::read_to_string(path.join("s/report.html")).expect("the page");
    assert!(page.contains("href=\"finance.html\""));
    let mut book: Xlsx<_> = open_workbook(path.join("s/staff.xlsx")).expect("the workbook");
    let mut numbers = |table: &str, sheet: &str, column: &str| -> Vec<f64> {
        let rows = json["tables"][table].as_array().expect("rows");
        let of_json: Vec<f64> = rows.iter().filter_map(|row| row[column].as_f64()).collect();
        let mut reader = csv::Reader::from_path(path.join(format!("s/{table}.csv"))).expect("CSV");
        let at = reader
            .headers()
            .expect("headings")
            .iter()
            .position(|name| name == column);
        let at = at.unwrap_or_else(|| panic!("{table} has no {column}"));
        let of_csv: Vec<f64> = reader
            .records()
            .filter_map(|row| row.expect("a row")[at].parse().ok())
            .collect();
        assert_eq!(of_json, of_csv, "{table}, {column}");
        let cells = book.worksheet_range(sheet).expect("a sheet");
        let amounts: Vec<f64> = cells
            .used_cells()
            .filter_map(|(_, _, cell)| match cell {
                Data::Float(number) => Some(*number),
                Data::Int(number) => Some(*number as f64),
                _ => None,
            })
            .collect();
        for number in &of_json {
            assert!(
                amounts.contains(number),
                "{sheet} lacks {number}: {amounts:?}"
            );
        }
        of_json
    };
    let mut money = numbers("finance", "Finance", "amount");
    money.extend(numbers("finance", "Finance", "amount_of_year"));
    // Reckoned above: 50,400 and 31,600 in 52 weeks, 18,800 less, 26,000 of it hires; 1,000 and 500 a week.
    for amount in [50_400.0, 31_600.0, 18_800.0, 26_000.0, 1_000.0, 500.0] {
        assert!(money.contains(&amount), "{amount} in {money:?}");
    }
    for told in ["$50,400", "$31,600", "$18,800", "$26,000"] {
        assert!(sheet.contains(told), "{told} is not on the sheet");
        assert!(page.contains(told), "{told} is not on the page");
    }
    assert!(numbers("year", "Year", "cost").contains(&31_600.0));
    assert!(numbers("year-seasons", "Year seasons", "saving").contains(&-100.0));
    assert!(numbers("worlds", "Worlds", "saving").contains(&500.0));
    assert!(sheet.contains("winter") && sheet.contains("What would turn it round"));
    assert!(
        json["recipe"]
            .as_str()
            .is_some_and(|recipe| { recipe.contains("--season 12x0.7,26x1,14x1.2 --holds") })
    );
}

/// Without seasons nothing is said of a year.
#[test]
fn nothing_yearly_is_claimed_without_seasons() {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("week.ron"), text([2; 5], &[])).expect("the scenario");
    let lax = [
        "week.ron",
        "--late-share",
        "1",
        "--undelivered",
        "1",
        "-n",
        "20",
    ];
    let (code, out, error) = program(folder.path(), &lax);
    assert_eq!(code, Some(0), "{error}");
    let sheet = folder.path().join("plantday-staff/finance.html");
    let sheet = fs::read_to_string(sheet).expect("the sheet");
    let body = &sheet[sheet.find("<body>").expect("a body")..];
    for text in [&out, body] {
        assert!(!text.contains("52") && !text.contains("year"), "{text}");
    }
}
