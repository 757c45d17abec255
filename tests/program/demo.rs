//! The built-in week against published figures of roads and plants, and what its rules must show.

mod trip;

use assert_cmd::cargo::cargo_bin_cmd;
use plantday::Watch;
use plantday::engine::{Entity, Luck};
use plantday::observe::figure;
use plantday::plant::Plan;
use plantday::roads::{Haul, RoadState};
use plantday::scenario::{self, Scenario};
use plantday::studies::{Comparison, Question, compare};
use plantday::units::{Millis, PlaceId, Purpose};
use serde_json::Value;
use std::collections::HashMap;
use std::path::Path;
use std::sync::OnceLock;
use tempfile::TempDir;

fn week() -> Scenario {
    scenario::parse("week", include_str!("../../scenarios/estuary_week.ron"))
        .expect("the week is right")
}

/// Mean and 95th percentile of loaded trips over free flow: 300 weekdays, every quarter of an hour of the two peaks (06 to 10 and
/// 15 to 19 h).
fn indices(scenario: &Scenario, from: &str, to: &str) -> (f64, f64) {
    let plan = Plan::new(scenario);
    let roads = plan.roads();
    let (from, to) = (place(scenario, from), place(scenario, to));
    let free = roads.free_flow(from, to, Haul::Loaded).minutes();
    let quarters = (0..16).flat_map(|q| [6.0 + 0.25 * f64::from(q), 15.0 + 0.25 * f64::from(q)]);
    let mut state = RoadState::default();
    let mut minutes = Vec::new();
    for week in 0..60 {
        let luck = Luck::new(1, week);
        roads.refresh(&mut state, luck, 6);
        for day in 0..5 {
            for (trip, hour) in quarters.clone().enumerate() {
                let depart = Millis::from_hours(f64::from(day) * 24.0 + hour);
                let u = luck
                    .block(Purpose::Load, Entity::named("trip"), day, trip as u32)
                    .uniform(0);
                let took = roads
                    .at(&state, depart)
                    .trip(from, to, Haul::Loaded, depart, u);
                minutes.push(took.minutes() / free);
            }
        }
    }
    minutes.sort_by(f64::total_cmp);
    let mean = minutes.iter().sum::<f64>() / minutes.len() as f64;
    (mean, minutes[minutes.len() * 95 / 100])
}

fn place(scenario: &Scenario, name: &str) -> PlaceId {
    let places = scenario.plants.len() + scenario.sites.len();
    (0..places)
        .map(|at| PlaceId(at as _))
        .find(|at| scenario.place_name(*at) == name)
        .expect("a place")
}

/// FHWA, Urban Congestion Trends: in the peaks of 52 urban areas trips took 1.32 to 1.36 times free flow on average and 2.15 to
/// 2.93 times in the 95th percentile, 2013 to 2017; their ratio, the buffer index and one, 1.62 to 2.15. The estuary is a smaller
/// place: single ways may stay below, the mean of the ways may not be far off.
#[test]
fn travel_time_indices_are_near_the_published_ones() {
    let scenario = week();
    let ways = [
        ("North quay", "Clinic"),
        ("North quay", "Heron lane"),
        ("North quay", "School"),
        ("South mole", "Lighthouse road"),
        ("South mole", "Cattle yard"),
        ("South mole", "Viaduct"),
        ("Upper lock", "Reservoir"),
        ("Upper lock", "Bridge foot"),
    ];
    let all: Vec<_> = ways
        .iter()
        .map(|(from, to)| indices(&scenario, from, to))
        .collect();
    for ((from, to), (mean, p95)) in ways.iter().zip(&all) {
        assert!((1.15..1.5).contains(mean), "{from} to {to}: mean {mean:.2}");
        assert!(
            (1.6..2.93).contains(p95),
            "{from} to {to}: 95th percentile {p95:.2}"
        );
    }
    let n = all.len() as f64;
    let mean = all.iter().map(|(mean, _)| mean).sum::<f64>() / n;
    let buffer = all.iter().map(|(mean, p95)| p95 / mean).sum::<f64>() / n;
    assert!((1.25..1.40).contains(&mean), "travel-time index {mean:.3}");
    assert!(
        (1.45..2.15).contains(&buffer),
        "buffer index and one {buffer:.3}"
    );
}

/// Two hundred weeks, run once for all tests.
fn answer() -> &'static Comparison {
    static ANSWER: OnceLock<Comparison> = OnceLock::new();
    ANSWER.get_or_init(|| {
        let scenario = week();
        let question = Question {
            rules: (0..scenario.rules.len()).collect(),
            judge: figure::COST,
            replications: 200,
            seed: 1,
            threads: None,
            level: 0.95,
            ..Question::default()
        };
        compare(&scenario, &question, Watch::default()).expect("not stopped")
    })
}

/// The same luck under every rule saves more than two thirds of the replications that independent luck would take.
#[test]
fn common_random_numbers_save_more_than_three() {
    let answer = answer();
    for rule in &answer.rules {
        if let Some(difference) = &rule.figures[figure::COST].difference {
            let saved = difference.variance_reduction.expect("both rules vary");
            assert!(saved > 3.0, "{}: {saved:.1}", rule.name);
        }
    }
}

/// Today's desk strands one or two drivers a month; keeping trucks at home, or only sending who will be home in time, a handful a year at
/// most (judgment: nobody has published it), and all deliver the same.
#[test]
fn good_habits_strand_clearly_fewer() {
    let answer = answer();
    let mean = |rule: usize, at: usize| {
        answer.rules[rule].figures[at]
            .summary
            .mean()
            .expect("a mean")
    };
    let today = mean(answer.base, figure::STRANDED);
    assert!((0.2..0.6).contains(&today), "{today} stranded in a week");
    let ordered = mean(answer.base, figure::ORDERED_YD3);
    for (rule, name) in answer.rules.iter().map(|rule| &rule.name).enumerate() {
        if rule != answer.base {
            let stranded = mean(rule, figure::STRANDED);
            assert!(stranded < today / 4.0, "{name}: {stranded}");
        }
        let left = mean(rule, figure::LEFT_YD3) / ordered;
        assert!(left < 0.005, "{name}: {left} of the volume is never placed");
    }
}

/// The thread to find: most who are stranded under today's rule would not be if trucks were kept at home and nothing else changed.
#[test]
fn lending_late_in_the_day_strands_drivers() {
    let scenario = week();
    let answer = answer();
    let rule = |name: &str| {
        let mut rules = answer.rules.iter();
        rules.position(|rule| rule.name == name).expect(name)
    };
    let home = rule("Keep trucks home");
    let mut kept_home = scenario.rules[answer.base].clone();
    let other = &scenario.rules[home];
    (kept_home.name, kept_home.about) = (other.name.clone(), other.about.clone());
    (kept_home.lend, kept_home.today) = (other.lend, other.today);
    assert_eq!(&kept_home, other, "they differ in lending only");
    let stranded = |at: usize| answer.rows.values(at, figure::STRANDED).sum::<f64>();
    let (today, kept) = (stranded(answer.base), stranded(home));
    assert!(today >= 30.0 && kept < today / 5.0, "{today} and {kept}");
}

/// What a study says of the built-in week, its files in `out`, and its exit code.
fn said(folder: &TempDir, study: &str, arguments: &[&str]) -> (i32, String) {
    let mut command = cargo_bin_cmd!("plantday");
    let command = command
        .current_dir(folder.path())
        .arg(study)
        .args(arguments);
    let output = command.args(["--out", "out"]).output();
    let output = output.expect("the program runs");
    let code = output.status.code().expect("it ends");
    assert!(code < 2, "{}", String::from_utf8_lossy(&output.stderr));
    (code, String::from_utf8(output.stdout).expect("text"))
}

/// The same as JSON, where it ends well.
fn told(folder: &TempDir, study: &str, arguments: &[&str]) -> Value {
    let (code, text) = said(folder, study, &[arguments, &["--json"]].concat());
    assert_eq!(code, 0);
    serde_json::from_str(&text).expect("JSON")
}

/// A table of the answer: each row by its headings.
fn rows(folder: &TempDir, name: &str) -> Vec<HashMap<String, String>> {
    let path = folder.path().join("out").join(Path::new(name));
    let mut table = csv::Reader::from_path(path).expect("a table");
    let rows = table.deserialize().collect::<Result<_, _>>();
    rows.expect("rows")
}

fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{value} is no number"))
}

/// What is written in a file has the digits that it needs, what is told in JSON all.
fn alike(written: &str, told: &Value) {
    let (written, told) = (written.parse::<f64>().expect("a number"), number(told));
    assert!(
        (written - told).abs() <= 1e-9 * told.abs().max(1.0),
        "{written} and {told}"
    );
}

/// The fleet recommended for the mat of the week: its sentence, its row, its parts and its hours say the same in text, CSV and JSON, and
/// it is the cheapest of all that meet what is asked.
#[test]
fn the_fleet_of_the_week_is_the_same_everywhere() {
    let folder = TempDir::new().expect("a folder");
    let asked = [
        "--order",
        "Clinic, mat",
        "--alone",
        "--target",
        "0.7",
        "-n",
        "60",
        "--trucks-to",
        "12",
    ];
    let json = told(&folder, "fleet", &asked);
    let (decision, plan) = (&json["decision"], &json["plans"][0]);
    let sizes = plan["sizes"].as_array().expect("sizes");
    let trucks = &decision["trucks"];
    let size = sizes
        .iter()
        .find(|size| size["trucks"] == *trucks)
        .expect("its size");
    let cost = number(&size["cost_per_yd3"]["mean"]);

    let meets = sizes.iter().filter(|size| size["meets_target"] == true);
    let least = meets
        .map(|size| number(&size["cost_per_yd3"]["mean"]))
        .fold(f64::INFINITY, f64::min);
    assert_eq!(cost, least);
    let parts = size["parts"].as_object().expect("parts");
    let sum: f64 = parts.values().map(number).sum();
    assert!((sum - cost).abs() < 1e-6, "{sum} and {cost}");

    let sentence = decision["sentence"].as_str().expect("a sentence");
    let no_gap = 100.0 * number(&size["no_gap"]["share"]);
    for words in [
        format!("Send {trucks} trucks from North quay"),
        format!("at ${cost:.2} per yd³"),
        format!("in {no_gap:.1}% of runs"),
    ] {
        assert!(sentence.contains(&words), "{words}: {sentence}");
    }

    let table = rows(&folder, "fleet.csv");
    for (row, size) in table.iter().zip(sizes) {
        assert_eq!(row["trucks"], size["trucks"].to_string());
        alike(&row["cost_per_yd3"], &size["cost_per_yd3"]["mean"]);
        assert_eq!(row["meets_target"] == "yes", size["meets_target"] == true);
        if let Some(more) = size["against_one_fewer"].as_object() {
            alike(&row["gap_chance_against_one_fewer"], &more["gap"]["mean"]);
            let (low, high) = (number(&more["gap"]["low"]), number(&more["gap"]["high"]));
            assert_eq!(more["same_within_luck"] == true, low <= 0.0 && 0.0 <= high);
        }
    }
    // On the same days: what two neighbors in the final answer differ in is the difference of their rows.
    for pair in sizes
        .windows(2)
        .filter(|pair| pair.iter().all(|size| size["final"] == true))
    {
        let share = |size: &Value| number(&size["no_gap"]["share"]);
        let more = number(&pair[1]["against_one_fewer"]["gap"]["mean"]);
        assert!((more - (share(&pair[0]) - share(&pair[1]))).abs() < 1e-9);
    }
    let mut in_table = 0.0;
    for row in rows(&folder, "cost-parts.csv") {
        let cost = row["per_yd3"].parse::<f64>().expect("a number");
        match row["part"].as_str() {
            "all of it" => alike(&row["per_yd3"], &size["cost_per_yd3"]["mean"]),
            part => {
                alike(&row["per_yd3"], &parts[part]);
                in_table += cost;
            }
        }
    }
    // Parts below half a cent are left out of the table.
    assert!(
        (in_table - cost).abs() < 0.005 * parts.len() as f64,
        "{in_table} and {cost}"
    );

    let hours = plan["hours"].as_array().expect("hours");
    let by_hour = rows(&folder, "trucks-by-hour.csv");
    assert_eq!(hours.len(), by_hour.len());
    for (row, hour) in by_hour.iter().zip(hours) {
        assert_eq!(row["hour"], hour["from"].as_str().expect("a time"));
        alike(&row["trucks_needed"], &hour["needed"]);
        alike(&row["mean_trucks_at_work"], &hour["mean"]);
        alike(&row["on_duty_first_shift"], &hour["on_duty"][0]);
    }
    let called = |of: &Value, key: &str| -> f64 {
        of.as_array()
            .expect("a list")
            .iter()
            .map(|entry| number(&entry[key]))
            .sum()
    };
    assert_eq!(called(&plan["hours"], "called"), number(&size["drivers"]));
    assert_eq!(called(&plan["calls"], "drivers"), number(&size["drivers"]));
}

/// The staffing recommended for the week: the cheapest of those that meet what is asked, or equal to it; its sentence, its row and the JSON
/// say the same, and so does the call-in sheet.
#[test]
fn the_staffing_of_the_week_is_the_same_everywhere() {
    let folder = TempDir::new().expect("a folder");
    let asked = [
        "--rule",
        "Traffic, home, warned",
        "--late-share",
        "0.5",
        "--undelivered",
        "0.2",
        "--drivers",
        "34,36",
        "--starts",
        "rostered,staggered",
        "--overtime",
        "rostered",
        "--day",
        "2",
        "-n",
        "30",
    ];
    let json = told(&folder, "staff", &asked);
    let (decision, staffings) = (
        &json["decision"],
        json["staffings"].as_array().expect("staffings"),
    );
    let same = |staffing: &&Value| {
        ["drivers", "starts", "overtime"]
            .iter()
            .all(|key| staffing[*key] == decision[*key])
    };
    let chosen = staffings
        .iter()
        .filter(|staffing| staffing["final"] == true)
        .find(same)
        .expect("its staffing");
    assert_eq!(chosen["meets_targets"], true);
    let cost = |staffing: &Value| number(&staffing["cost"]["mean"]);
    let equal = json["equal"].as_array().expect("a list");
    for other in staffings
        .iter()
        .filter(|other| other["meets_targets"] == true)
    {
        let cheaper = cost(other) < cost(chosen);
        assert!(
            !cheaper || !equal.is_empty(),
            "{other} is cheaper than {chosen}"
        );
    }
    let sentence = decision["sentence"].as_str().expect("a sentence");
    assert!(
        sentence.contains(&format!("{} drivers", decision["drivers"])),
        "{sentence}"
    );

    let mut found = 0;
    for row in rows(&folder, "staff.csv") {
        let of = |staffing: &&Value| {
            row["drivers"].parse::<f64>().ok() == staffing["drivers"].as_f64()
                && staffing["starts"] == row["starts"]
                && staffing["overtime"] == row["overtime_use"]
                && (staffing["final"] == true) == (row["final"] == "yes")
        };
        let staffing = staffings
            .iter()
            .find(of)
            .unwrap_or_else(|| panic!("{row:?} is not told"));
        alike(&row["cost"], &staffing["cost"]["mean"]);
        alike(&row["late_share"], &staffing["late_share"]["mean"]);
        assert_eq!(
            row["meets_targets"] == "yes",
            staffing["meets_targets"] == true
        );
        found += 1;
    }
    assert_eq!(found, staffings.len());
    let called = json["call_in"]["called"].as_array().expect("a sheet");
    assert_eq!(
        called.len(),
        rows(&folder, "call-in.csv")
            .iter()
            .filter(|row| !row["report"].is_empty())
            .count()
    );
    assert!(!called.is_empty());
}
