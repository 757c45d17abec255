//! What is seldom and what cannot be, as the program says it: a day on which loads are now and then undelivered and drivers stranded.

use assert_cmd::cargo::cargo_bin_cmd;
use serde_json::Value;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const DAY: &str = include_str!("../data/seldom.ron");

struct Told {
    screen: String,
    json: Value,
    page: String,
    summary: Vec<csv::StringRecord>,
    heading: csv::StringRecord,
}

fn run(folder: &Path, arguments: &[&str]) -> String {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program runs");
    let error = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(matches!(output.status.code(), Some(0 | 1)), "{error}");
    String::from_utf8(output.stdout).expect("output is UTF-8")
}

fn compare(day: &str, arguments: &[&str]) -> Told {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("day.ron"), day).expect("written");
    let all = [&["compare", "day.ron", "--out", "out"], arguments].concat();
    let screen = run(folder.path(), &all);
    let read = |name: &str| fs::read_to_string(folder.path().join("out").join(name)).expect(name);
    let summary = read("summary.csv");
    let mut summary = csv::Reader::from_reader(summary.as_bytes());
    Told {
        screen,
        json: serde_json::from_str(&read("compare.json")).expect("JSON"),
        page: read("report.html"),
        heading: summary.headers().expect("a heading").clone(),
        summary: summary.records().map(|row| row.expect("a row")).collect(),
    }
}

impl Told {
    fn figure(&self, rule: usize, key: &str) -> &Value {
        &self.json["rules"][rule]["figures"][key]
    }

    fn filed(&self, rule: &str, key: &str, column: &str) -> &str {
        let place = |name: &str| {
            let at = self.heading.iter().position(|heading| heading == name);
            at.expect("a column")
        };
        let row =
            |row: &&csv::StringRecord| row[place("rule")] == *rule && row[place("figure")] == *key;
        let row = self.summary.iter().find(row).expect("a line of the figure");
        &row[place(column)]
    }

    /// The line of a figure on the screen, with those that its cells go on in.
    fn line(&self, begins: &str) -> String {
        let mut lines = self
            .screen
            .lines()
            .skip_while(|line| !line.trim_start().starts_with(begins));
        let first = lines.next().expect("the figure is on the screen");
        let more = lines.take_while(|line| line.starts_with("        "));
        std::iter::once(first)
            .chain(more)
            .collect::<Vec<_>>()
            .join(" ")
    }
}

/// Drivers are stranded on a few of 60 days under each rule: screen, page, table and JSON say on how many, with exact limits, and
/// nowhere a mean; late loads, of which every other day has some, keep theirs.
#[test]
fn what_is_seldom_is_said_by_its_chance_everywhere() {
    let told = compare(DAY, &["-n", "60"]);
    let mut seldom = 0;
    let rules = told.json["rules"].as_array().expect("rules");
    for (place, rule) in rules.iter().enumerate() {
        let name = rule["name"].as_str().expect("a name");
        assert_eq!(told.figure(place, "late_loads")["said"], "mean");
        assert!(told.figure(place, "late_loads")["low"].is_number());
        for key in ["stranded", "undelivered_loads", "loads_lost"] {
            let figure = told.figure(place, key);
            assert_eq!(
                figure["said"].as_str().expect("said"),
                told.filed(name, key, "said")
            );
            if figure["said"] != "chance" {
                continue;
            }
            let any = &figure["any"];
            assert!(
                any["times"].as_u64() < Some(10) && any["of"] == 60,
                "{figure}"
            );
            assert!(figure["low"].is_null() && told.filed(name, key, "mean_low").is_empty());
            let times = any["times"].to_string();
            assert_eq!(told.filed(name, key, "replications_with_any"), times);
            let high: f64 = told
                .filed(name, key, "chance_high")
                .parse()
                .expect("a share");
            assert!((high - any["high"].as_f64().expect("a share")).abs() < 1e-12);
            if any["times"].as_u64() > Some(0) && key == "stranded" {
                seldom += 1;
                let share = any["times"].as_f64().expect("a count") / 60.0;
                let words = format!("in {:.0}%", share * 100.0);
                assert!(
                    told.line("drivers stranded").contains(&words),
                    "{words}\n{}",
                    told.screen
                );
                assert!(told.page.contains(&words), "{words} on the page");
            }
        }
    }
    assert!(seldom > 0, "no rule strands seldom: {}", told.screen);
    assert!(
        told.screen.contains("too few for an average"),
        "{}",
        told.screen
    );
}

/// Against today's rule: on how many days only the one has some. No difference is said to be [0, 0] because nothing was seen.
#[test]
fn nothing_seen_is_no_difference_of_nothing() {
    let told = compare(DAY, &["-n", "60"]);
    let rules = told.json["rules"].as_array().expect("rules");
    let mut chances = 0;
    for (place, rule) in rules.iter().enumerate().skip(1) {
        let figures = rule["figures"].as_object().expect("figures");
        for (key, figure) in figures {
            let difference = &figure["difference"];
            let said = difference["said"].as_str();
            let ends = match said {
                Some("mean") => difference,
                Some("chance of any" | "chance of more") => {
                    chances += 1;
                    &difference["chance"]
                }
                _ => continue,
            };
            let (low, high) = (ends["low"].as_f64(), ends["high"].as_f64());
            assert!(
                low < high || low != Some(0.0),
                "{place} {key}: {difference}"
            );
        }
    }
    assert!(chances > 0);
    assert!(!told.page.contains("0 (0 to 0)"));
}

/// Ranked by what is seldom, the rules are compared by how many days only one of them spoils, and the screen says so.
#[test]
fn rules_are_ranked_by_the_chance_of_what_is_seldom() {
    let told = compare(DAY, &["-n", "60", "--judge", "stranded"]);
    let against = &told.figure(3, "stranded")["difference"];
    assert_eq!(against["said"], "chance of any", "{against}");
    assert!(told.screen.contains("pts"), "{}", told.screen);
    assert_eq!(told.json["decision"]["verdict"], "not told apart");
}

/// Without limits to hours nobody can be stranded: the day is said not to look at it. Its twin with limits says none, or how many.
#[test]
fn what_cannot_be_is_not_looked_at() {
    let limits = "rule_book: DutyWindow(hours: 11.5, rest_hours: 10),";
    assert!(DAY.contains(limits));
    let free = DAY
        .replace(limits, "rule_book: \"none\",")
        .replace("gates: [HomeWithin(probability: 0.95)],", "");
    let told = compare(&free, &["-n", "12"]);
    let twin = compare(DAY, &["-n", "12"]);
    assert!(
        told.line("drivers stranded").contains("not looked"),
        "{}",
        told.screen
    );
    assert!(
        !twin.line("drivers stranded").contains("not looked"),
        "{}",
        twin.screen
    );
    for key in ["stranded", "violation_min", "breakdowns", "wet_at_rack"] {
        assert_eq!(told.figure(0, key)["said"], "not looked at", "{key}");
        assert_eq!(
            told.filed("As today", key, "said"),
            "not looked at",
            "{key}"
        );
        assert!(told.figure(0, key)["at_most_if_never"].is_null(), "{key}");
    }
    assert_ne!(twin.figure(0, "stranded")["said"], "not looked at");
    assert_eq!(twin.figure(0, "breakdowns")["said"], "not looked at");
}

/// The selection has runs of its own, written in the answer; a day of them can be watched by its number.
#[test]
fn every_run_has_one_number_that_replay_takes() {
    let sure = [
        "-n",
        "20",
        "--until-sure",
        "--indifference",
        "500",
        "--max-replications",
        "60",
    ];
    let told = compare(DAY, &sure);
    assert_eq!(told.json["first_replication"], 0);
    let selection = &told.json["selection"];
    assert_eq!(selection["first_replication"], 1_000_000_000_u64);
    let last = 999_999_999 + selection["replications"].as_u64().expect("a number");
    let own = format!("replications 1000000000 to {last}");
    let all = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(all(&told.screen).contains(&own), "{own}\n{}", told.screen);
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("day.ron"), DAY).expect("written");
    let number = last.to_string();
    let replay = [
        "replay",
        "day.ron",
        "-n",
        "5",
        "--json",
        "--replication",
        &number,
    ];
    let played: Value = serde_json::from_str(&run(folder.path(), &replay)).expect("JSON");
    assert_eq!(played["replication"], last);
}
