//! `plantday replay --against`: both rules meet the same day and come to the figures of their own replays; the loads that differ,
//! sorted, alike in JSON and CSV; a day on paper; rules that decide alike, or are one. No published source beside the day on
//! paper: commands are held against each other.

use crate::changed::changed;
use assert_cmd::cargo::cargo_bin_cmd;
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const DAY: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/estuary_day.ron");
const WEEK: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/estuary_week.ron");
const TODAY: &str = "Nearest on the map";
const OTHER: &str = "Soonest, home in time";

/// Exit code, standard output, standard error.
fn run(folder: &Path, arguments: &[&str]) -> (Option<i32>, String, String) {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .arg("replay")
        .args(arguments)
        .output()
        .expect("the program runs");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (
        output.status.code(),
        text(&output.stdout),
        text(&output.stderr),
    )
}

fn fine(folder: &Path, arguments: &[&str]) -> String {
    let (code, answer, wrong) = run(folder, arguments);
    assert_eq!(code, Some(0), "{wrong}");
    answer
}

fn told(folder: &Path, arguments: &[&str]) -> Value {
    let answer = fine(folder, &[arguments, &["--json"]].concat());
    serde_json::from_str(&answer).expect("JSON")
}

fn out(folder: &Path, file: &str) -> String {
    fs::read_to_string(folder.join("plantday-replay").join(file)).expect(file)
}

fn csv(folder: &Path, file: &str) -> Vec<csv::StringRecord> {
    let text = out(folder, file);
    let mut table = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(text.as_bytes());
    table.records().map(|row| row.expect("a row")).collect()
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

/// The day of one rule within the answer is what a plain replay of that rule tells: figures with their averages, late loads and
/// why, strandings, events.
#[test]
fn each_side_is_the_replay_of_its_rule() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let asked = [DAY, "-n", "3", "--replication", "4"];
    let both = told(path, &[&asked[..], &["--against", OTHER]].concat());
    let events = ["first", "second"].map(|side| out(path, &format!("events-{side}.csv")));
    for (side, rule, events) in [("first", TODAY, &events[0]), ("second", OTHER, &events[1])] {
        let alone = told(path, &[&asked[..], &["--rule", rule]].concat());
        let here = both[side].as_object().expect("a side");
        assert!(here.len() >= 11, "{:?}", here.keys());
        assert_eq!(here["rule"], rule);
        for (key, value) in here {
            assert_eq!(*value, alone[key], "{key} of {rule}");
        }
        assert_eq!(*events, out(path, "events.csv"), "{rule}");
    }
    assert_ne!(both["first"]["figures"], both["second"]["figures"]);
}

/// What nobody at the desk decides is the same under both rules: orders drawn, called off and called in, sites that wait, plants
/// down, drivers who do not come. The week has some of each.
#[test]
fn both_rules_meet_the_same_days() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let asked = [WEEK, "-n", "1", "--replication", "3"];
    fine(
        path,
        &[&asked[..], &["--against", "Keep trucks home"]].concat(),
    );
    let fated = |side: &str| -> BTreeSet<(String, String)> {
        let words = [
            " is ordered: ",
            " cancelled",
            " not ordered",
            " is down",
            " is back up",
            " does not come",
        ];
        csv(path, &format!("events-{side}.csv"))
            .iter()
            .filter(|row| words.iter().any(|word| row[3].contains(word)))
            .map(|row| (row[0].to_owned(), row[3].to_owned()))
            .collect()
    };
    let first = fated("first");
    assert!(first.len() > 5, "{first:?}");
    assert_eq!(first, fated("second"));
    assert_ne!(
        out(path, "events-first.csv"),
        out(path, "events-second.csv")
    );
}

/// The list, the greatest difference first, says of each load what the lists of both sides say; JSON and CSV have the same cells;
/// the sentence counts the list and the figures.
#[test]
fn the_loads_that_differ_are_those_of_the_two_sides() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let asked = [DAY, "-n", "5", "--against", OTHER];
    let both = told(path, &asked);
    let rows = both["tables"]["loads-that-differ"]
        .as_array()
        .expect("rows");
    assert!(rows.len() > 3);
    let sizes: Vec<f64> = rows
        .iter()
        .map(|row| number(&row["difference_min"]).abs())
        .collect();
    assert!(sizes.is_sorted_by(|a, b| a >= b), "{sizes:?}");
    for row in rows {
        let late: Vec<f64> = ["first", "second"]
            .map(|side| row[format!("{side}_late_min")].as_f64().unwrap_or(0.0))
            .into();
        assert!(
            (late[0] - late[1] - number(&row["difference_min"])).abs() < 1e-9,
            "{row}"
        );
    }
    let mut trouble = 0;
    for side in ["first", "second"] {
        for load in both[side]["late"].as_array().expect("late loads") {
            let listed = rows.iter().find(|row| {
                row["order"] == load["order"] && row["load"].as_f64() == load["load"].as_f64()
            });
            // As late under both: not in the list.
            let Some(row) = listed else { continue };
            for key in ["truck", "plant", "late_min"] {
                assert_eq!(row[format!("{side}_{key}")], load[key], "{row}");
            }
            assert_eq!(row[format!("{side}_came_min")], load["at_min"]);
            assert_eq!(row[format!("{side}_because")], load["sentence"]);
            assert!(number(&row[format!("{side}_placed_min")]) > number(&load["at_min"]));
            trouble += 1;
        }
    }
    assert!(trouble >= rows.len(), "{trouble}");

    let table = csv(path, "loads-that-differ.csv");
    assert_eq!(table.len(), rows.len() + 1);
    for (cells, row) in table[1..].iter().zip(rows) {
        assert_eq!(row.as_object().expect("a row").len(), cells.len());
        for (key, cell) in table[0].iter().zip(cells) {
            match &row[key] {
                Value::Null => assert_eq!(cell, "", "{key}"),
                // Reading JSON back may cost the last digit.
                Value::Number(number) => {
                    let (here, there) = (
                        number.as_f64().expect("a number"),
                        cell.parse::<f64>().expect("a number"),
                    );
                    assert!((here - there).abs() < 1e-9, "{key}: {here} {there}");
                }
                text => assert_eq!(text, cell, "{key}"),
            }
        }
    }

    let later = |under: f64| {
        let of_sign = |row: &&Value| number(&row["difference_min"]) * under > 0.0;
        rows.iter().filter(of_sign).count()
    };
    let late = |side: &str| number(&both[side]["figures"]["late_loads"]["here"]);
    let sentence = format!(
        "Same Tuesday: {} late loads under today's \"{TODAY}\", {} under \"{OTHER}\"; ",
        late("first"),
        late("second")
    );
    let decision = both["decision"].as_str().expect("a decision");
    assert!(decision.starts_with(&sentence), "{decision}");
    assert_eq!(number(&both["later_under_first"]), later(1.0) as f64);
    assert_eq!(number(&both["later_under_second"]), later(-1.0) as f64);
    // The replication is the one that a plain replay of the first rule chooses.
    assert_eq!(
        both["replication"],
        told(path, &[DAY, "-n", "5"])["replication"]
    );

    // The screen shows the sentence and ten loads at most, the page two maps with one clock and all of them.
    let screen = fine(path, &asked);
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words(&screen).contains(sentence.trim()), "{screen}");
    let page = out(path, "replay.html");
    assert_eq!(page.matches("<div class=\"panel\">").count(), 2);
    assert_eq!(page.matches("id=\"time\"").count(), 1);
    assert_eq!(page.matches("<p class=\"under\">").count(), 2 * rows.len());
    assert!(page.contains(&format!(" --against &quot;{OTHER}&quot; ")));
}

/// One plant, two trucks, one site, no luck: loading 6, rack 4, out 20, discharge 10, chute wash 5, back 18. Loads are due at
/// 07:00, 07:30, 08:00 and 08:30; D1 and D2 report at 05:30. Who may begin no load later than 1.9 h after that (07:24) brings the
/// first two (they begin at 06:30 and 07:00), and nobody begins the others (07:30, 08:00), which are late until midnight: 960
/// and 930 min. Without the limit T1 is back at 07:33 and T2 at 08:03: both are 3 min late, which is tolerated.
const ON_PAPER: &str = r#"(
    name: "on paper",
    period: (first_day: Thursday, days: 1),
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "17:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", count: 2, home: "P")],
    drivers: [(name: "D1", trucks: "T1", report: "05:30"), (name: "D2", trucks: "T2", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 40, spacing_min: 30,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [
        (name: "Short days", belief: FreeFlow, gates: [LastLoadBy(hours: 1.9)]),
        (name: "Any hour", belief: FreeFlow),
    ],
)"#;

#[test]
fn a_day_on_paper() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fs::write(path.join("paper.ron"), ON_PAPER).expect("a file");
    let asked = [
        "paper.ron",
        "-n",
        "1",
        "--rule",
        "Short days",
        "--against",
        "Any hour",
    ];
    let both = told(path, &asked);
    assert_eq!(
        both["decision"],
        "Same Thursday: 2 late loads (2 of them never came) under today's \"Short days\", none under \"Any hour\"; \
         2 loads are later under the first, none under the second."
    );
    let rows = both["tables"]["loads-that-differ"]
        .as_array()
        .expect("rows");
    let seen: Vec<Vec<&Value>> = rows
        .iter()
        .map(|row| {
            [
                "load",
                "due_min",
                "difference_min",
                "first_fate",
                "first_late_min",
                "second_fate",
                "second_truck",
                "second_came_min",
                "second_placed_min",
            ]
            .map(|key| &row[key])
            .into()
        })
        .collect();
    let expected = [
        serde_json::json!([
            3.0, 480.0, 957.0, "never", 960.0, "on time", "T1", 483.0, 493.0
        ]),
        serde_json::json!([
            4.0, 510.0, 927.0, "never", 930.0, "on time", "T2", 513.0, 523.0
        ]),
    ];
    for (row, expected) in seen.iter().zip(&expected) {
        assert_eq!(serde_json::json!(row), *expected);
    }
    assert_eq!(rows.len(), 2);
    assert_eq!((&both["alike"], &both["otherwise"]), (&2.into(), &0.into()));
    let screen = fine(path, &asked);
    assert!(screen.contains("3 min late, tolerated"), "{screen}");
    // The other way round: the same loads, later under the second.
    let turned = told(
        path,
        &[
            "paper.ron",
            "-n",
            "1",
            "--rule",
            "Any hour",
            "--against",
            "Short days",
        ],
    );
    let decision = turned["decision"].as_str().expect("a decision");
    assert!(
        decision.contains("2 loads are later under the second, none under the first."),
        "{decision}"
    );
    assert_eq!(
        turned["tables"]["loads-that-differ"][0]["difference_min"],
        -957.0
    );
}

/// On the same roads X, called in at 06:00 for 07:00, takes both trucks at 06:30, and W, which wants one load at 07:00, waits for T1:
/// back at 07:33, on site at 08:03, 63 min late. A rule that takes only what the day holds turns X down, and W is on time.
#[test]
fn an_order_turned_down_is_no_late_load() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let text = changed(
        ON_PAPER,
        &[
            ("volume_yd3: 40", "volume_yd3: 10"),
            (", gates: [LastLoadBy(hours: 1.9)]", ""),
            (
                "(name: \"Any hour\",",
                "(name: \"What holds\", additions: OnlyIfHolds,",
            ),
            (
                "orders: [",
                "orders: [(name: \"X\", site: \"A\", called: \"06:00\", first: \"07:00\", volume_yd3: 20, spacing_min: 0, \
                 finish_by: \"08:00\", position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)), ",
            ),
        ],
    );
    fs::write(path.join("called.ron"), text).expect("a file");
    let asked = [
        "called.ron",
        "-n",
        "1",
        "--rule",
        "Short days",
        "--against",
        "What holds",
    ];
    let both = told(path, &asked);
    assert_eq!(
        both["decision"],
        "Same Thursday: 1 late load under today's \"Short days\", none under \"What holds\"; 1 load is later under the first, none under \
         the second; 2 loads were turned down under the second."
    );
    let rows = both["tables"]["loads-that-differ"]
        .as_array()
        .expect("rows");
    let seen: Vec<Vec<&Value>> = rows
        .iter()
        .map(|row| {
            [
                "order",
                "load",
                "first_fate",
                "second_fate",
                "second_late_min",
            ]
            .map(|key| &row[key])
            .into()
        })
        .collect();
    assert_eq!(
        serde_json::json!(seen),
        serde_json::json!([
            ["W", 1.0, "late", "on time", 0.0],
            ["X", 1.0, "on time", "turned down", null],
            ["X", 2.0, "on time", "turned down", null],
        ])
    );
    assert_eq!(rows[0]["difference_min"], 63.0);
    assert_eq!(rows[0]["first_because"], "no truck free for 63 min");
}

/// A rule under another name decides as it does, so nothing differs; one decision changed, and something does.
#[test]
fn rules_that_decide_alike() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let copied = |gate: &str| {
        let copy = format!(
            "rules: [(name: \"The same again\", belief: StraightLine, choose: Nearest, lend: Always, early_min: 10{gate}),"
        );
        changed(
            include_str!("../../scenarios/estuary_day.ron"),
            &[("rules: [", &copy)],
        )
    };
    let asked = ["copied.ron", "-n", "2", "--against", "The same again"];
    fs::write(path.join("copied.ron"), copied("")).expect("a file");
    let both = told(path, &asked);
    let decision = both["decision"].as_str().expect("a decision");
    assert!(
        decision.starts_with("Same Tuesday, and nothing differs: "),
        "{decision}"
    );
    assert_eq!(both["nothing_differs"], true);
    assert_eq!(both["otherwise"], 0);
    assert!(number(&both["alike"]) > 50.0);
    assert_eq!(both["tables"]["loads-that-differ"], serde_json::json!([]));
    assert_eq!(
        out(path, "events-first.csv"),
        out(path, "events-second.csv")
    );

    fs::write(
        path.join("copied.ron"),
        copied(", gates: [LastLoadBy(hours: 6)]"),
    )
    .expect("a file");
    let both = told(path, &asked);
    assert_eq!(both["nothing_differs"], false);
    assert!(
        !both["tables"]["loads-that-differ"]
            .as_array()
            .expect("rows")
            .is_empty()
    );
}

#[test]
fn a_rule_against_itself_or_against_none() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    for (arguments, expected) in [
        (&["--against", TODAY][..], "both are \"Nearest on the map\""),
        (
            &["--rule", OTHER, "--against", OTHER],
            "both are \"Soonest, home in time\"",
        ),
        (
            &["--against", "Soonest, home on time"],
            "did you mean \"Soonest, home in time\"?",
        ),
        (&["--against", ""], "there is no rule \"\""),
    ] {
        let (code, answer, wrong) = run(path, &[&[DAY][..], arguments].concat());
        assert_eq!((code, answer.as_str()), (Some(2), ""), "{arguments:?}");
        assert!(wrong.contains(expected), "{wrong}");
        assert!(wrong.contains("expected"), "{wrong}");
    }
    assert_eq!(
        fs::read_dir(path).expect("the folder").count(),
        0,
        "no file is written"
    );
}

/// The same bytes on any number of threads.
#[test]
fn the_same_on_any_threads() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let asked = |threads: &str| {
        let more = ["--against", OTHER, "--refusals", "--threads", threads];
        let answer = fine(path, &[&[DAY, "-n", "7"][..], &more].concat());
        [answer, out(path, "replay.html"), out(path, "replay.json")]
    };
    let one = asked("1");
    assert_eq!(one, asked("3"));
    assert!(one[1].contains("<h2>Refused for hours</h2>"));
}
