//! The program as a whole: the same bytes whatever the threads, a short run is the beginning of a long one, a rule's rows
//! depend on no other rule, and JSON says what the tables say.

use assert_cmd::cargo::cargo_bin_cmd;
use serde_json::Value;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

fn compare(folder: &Path, out: &str, arguments: &[&str]) -> String {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .args(["compare", "--out", out])
        .args(arguments)
        .output()
        .expect("the program runs");
    assert_eq!(
        output.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).expect("output is UTF-8")
}

/// Every file of a folder, by name.
fn files(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut files: Vec<_> = fs::read_dir(folder)
        .expect("the folder")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.is_file())
        .map(|path| {
            let name = path
                .file_name()
                .expect("a name")
                .to_string_lossy()
                .into_owned();
            (name, fs::read(path).expect("a file"))
        })
        .collect();
    files.sort();
    files
}

fn figures(folder: &Path) -> String {
    fs::read_to_string(folder.join("figures.csv")).expect("figures.csv")
}

#[test]
fn the_same_bytes_for_any_number_of_threads() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let first = compare(path, "one", &["-n", "13", "--threads", "1"]);
    for (out, threads) in [("two", "2"), ("five", "5")] {
        assert_eq!(
            compare(path, out, &["-n", "13", "--threads", threads]),
            first
        );
        assert_eq!(
            files(&path.join(out)),
            files(&path.join("one")),
            "{threads} threads"
        );
    }
    assert_ne!(
        compare(path, "other", &["-n", "13", "--seed", "2"]),
        first,
        "another seed is other luck"
    );
}

#[test]
fn a_short_run_is_the_beginning_of_a_long_one() {
    let folder = TempDir::new().expect("a folder");
    compare(folder.path(), "short", &["-n", "6"]);
    compare(folder.path(), "long", &["-n", "12"]);
    let (short, long) = (
        figures(&folder.path().join("short")),
        figures(&folder.path().join("long")),
    );
    assert!(long.starts_with(&short) && long.len() > short.len());
}

#[test]
fn the_rows_of_a_rule_depend_on_no_other_rule() {
    let folder = TempDir::new().expect("a folder");
    compare(folder.path(), "all", &["-n", "8"]);
    compare(
        folder.path(),
        "one",
        &["-n", "8", "--rules", "Traffic, trucks home"],
    );
    compare(
        folder.path(),
        "two",
        &[
            "-n",
            "8",
            "--rules",
            "Traffic, trucks home; Empty road, lend on call",
        ],
    );
    let rows = |out: &str, rule: &str| -> Vec<String> {
        let text = figures(&folder.path().join(out));
        text.lines()
            .filter(|line| line.contains(rule))
            .map(str::to_owned)
            .collect()
    };
    let (soonest, nearest) = ("Traffic, trucks home", "Empty road, lend on call");
    assert_eq!(rows("one", soonest).len(), 8);
    assert_eq!(rows("all", soonest), rows("one", soonest));
    assert_eq!(rows("all", soonest), rows("two", soonest));
    assert_eq!(rows("two", nearest).len(), 8);
    assert_eq!(rows("all", nearest), rows("two", nearest));
    assert_eq!(
        rows("two", "").len(),
        17,
        "a heading and the rows of the two rules that were named"
    );
}

#[test]
fn json_says_what_the_summary_says() {
    let folder = TempDir::new().expect("a folder");
    let text = compare(
        folder.path(),
        "o",
        &["-n", "30", "--json", "--judge", "late_loads"],
    );
    let json: Value = serde_json::from_str(&text).expect("JSON");
    assert_eq!(json["judge"], "late_loads");
    assert_eq!(json["replications"], 30);
    let mut summary =
        csv::Reader::from_path(folder.path().join("o/summary.csv")).expect("summary.csv");
    let headings = summary.headers().expect("headings").clone();
    let place = |name: &str| {
        headings
            .iter()
            .position(|heading| heading == name)
            .expect("a heading")
    };
    let mut checked = 0;
    for row in summary.records() {
        let row = row.expect("a row");
        let rule = json["rules"]
            .as_array()
            .expect("rules")
            .iter()
            .find(|rule| rule["name"] == row[place("rule")]);
        let figure = &rule.expect("the rule")["figures"][&row[place("figure")]];
        let number = |column: &str| row[place(column)].parse::<f64>().ok();
        // The reader of JSON rounds the last digit its own way.
        let same = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => (a - b).abs() <= 1e-14 * a.abs().max(b.abs()),
            (a, b) => a == b,
        };
        assert!(same(figure["mean"].as_f64(), number("mean")));
        assert!(same(figure["low"].as_f64(), number("mean_low")));
        let difference = figure["difference"]["mean"].as_f64();
        assert!(same(difference, number("difference_from_base")));
        checked += 1;
    }
    assert!(checked > 90, "{checked} figures of three rules");
}

/// The first screen leads with the decision and holds on one: 36 lines of 100 columns.
#[test]
fn the_answer_fits_one_screen_and_leads_with_the_decision() {
    let folder = TempDir::new().expect("a folder");
    let text = compare(folder.path(), "o", &["-n", "200"]);
    assert!(
        text.lines()
            .nth(2)
            .expect("a third line")
            .starts_with("Run \"Traffic, home, warned\": it saves $"),
        "{text}"
    );
    assert!(text.lines().count() <= 36, "{text}");
    assert!(
        text.lines().skip(3).all(|line| line.chars().count() <= 100),
        "{text}"
    );
}

/// A load that is larger than every drum is cut when its truck is promised: all of the volume is still delivered.
#[test]
fn loads_larger_than_every_drum_are_delivered() {
    let folder = TempDir::new().expect("a folder");
    let day = include_str!("../../scenarios/estuary_day.ron");
    let from = "volume_yd3: 60, spacing_min: 20),";
    let to = "volume_yd3: 60, load_yd3: 12, spacing_min: 24),";
    assert!(day.contains(from));
    fs::write(folder.path().join("day.ron"), day.replacen(from, to, 1)).expect("a file");
    let soonest = ["-n", "5", "--rules", "Soonest, home in time"];
    fs::write(folder.path().join("as_it_is.ron"), day).expect("a file");
    for (out, file) in [("as_it_is", "as_it_is.ron"), ("larger", "day.ron")] {
        compare(folder.path(), out, &[&[file], soonest.as_slice()].concat());
    }
    let sums = |out: &str, column: &str| -> f64 {
        let path = folder.path().join(out).join("figures.csv");
        let mut table = csv::Reader::from_path(path).expect("figures.csv");
        let headings = table.headers().expect("headings").clone();
        let at = headings.iter().position(|heading| heading == column);
        let at = at.unwrap_or_else(|| panic!("no {column} in {headings:?}"));
        table
            .records()
            .map(|row| row.expect("a row")[at].parse::<f64>().expect("a number"))
            .sum()
    };
    for column in ["ordered_yd3", "placed_yd3", "loads"] {
        assert_eq!(
            sums("as_it_is", column),
            sums("larger", column),
            "{column}: 60 yd³ are six drums of 10 yd³ either way"
        );
    }
}

/// Every worked example is read and runs.
#[test]
fn every_example_runs() {
    let folder = TempDir::new().expect("a folder");
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let mut ran = 0;
    let all = files(&examples).into_iter();
    for (name, _) in all.filter(|(name, _)| name.ends_with(".ron")) {
        let file = examples.join(&name).display().to_string();
        let text = compare(folder.path(), &name, &[&file, "-n", "3"]);
        assert!(text.contains("\n average "), "{name}: {text}");
        ran += 1;
    }
    assert!(ran >= 3);
}

/// The starter is written once, is fine, and runs; what is there is not replaced unless asked for.
#[test]
fn a_new_scenario_runs_as_it_is() {
    let folder = TempDir::new().expect("a folder");
    let call = |arguments: &[&str]| {
        let mut program = cargo_bin_cmd!("plantday");
        let output = program
            .current_dir(folder.path())
            .args(arguments)
            .output()
            .expect("the program runs");
        (
            output.status.code(),
            String::from_utf8_lossy(&output.stderr).into_owned(),
        )
    };
    assert_eq!(call(&["new", "mine.ron"]).0, Some(0));
    assert_eq!(call(&["check", "mine.ron"]).0, Some(0));
    let text = compare(folder.path(), "o", &["mine.ron", "-n", "20"]);
    assert!(text.contains("As today"), "{text}");
    fs::write(folder.path().join("mine.ron"), "my own").expect("a file");
    let (code, message) = call(&["new", "mine.ron"]);
    assert_eq!(code, Some(2));
    assert!(message.contains("mine.ron exists already"), "{message}");
    assert_eq!(
        fs::read_to_string(folder.path().join("mine.ron")).expect("the file"),
        "my own"
    );
    assert_eq!(call(&["new", "mine.ron", "--force"]).0, Some(0));
    let (code, message) = call(&["new", "nowhere/mine.ron"]);
    assert_eq!(code, Some(2));
    assert!(message.contains("nowhere/mine.ron"), "{message}");
}
