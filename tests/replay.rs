//! `plantday replay`: the same replication again, to the byte; what it says agrees with `compare`; bad arguments; names from
//! files stay text. No published source: the two commands are held against each other.

use assert_cmd::cargo::cargo_bin_cmd;
use serde_json::Value;
use std::fs;
use std::path::Path;
use std::process::Output;
use tempfile::TempDir;

const TODAY: &str = "Nearest on the map";
const DAY: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/estuary_day.ron");
const WEEK: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/estuary_week.ron");

fn run(folder: &Path, arguments: &[&str]) -> Output {
    cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program runs")
}

fn fine(folder: &Path, arguments: &[&str]) -> String {
    let output = run(folder, arguments);
    assert_eq!(
        output.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).expect("output is UTF-8")
}

fn refused(folder: &Path, arguments: &[&str]) -> String {
    let output = run(folder, arguments);
    assert_eq!(output.status.code(), Some(2), "{arguments:?}");
    assert_eq!(fs::read_dir(folder).expect("the folder").count(), 0);
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn files(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut files: Vec<_> = fs::read_dir(folder)
        .expect("the folder")
        .map(|entry| {
            let path = entry.expect("an entry").path();
            let name = path.file_name().expect("a name").to_string_lossy();
            (name.into_owned(), fs::read(&path).expect("a file"))
        })
        .collect();
    files.sort();
    files
}

fn replayed(folder: &Path, arguments: &[&str]) -> Value {
    let all = [&["replay", "--json"], arguments].concat();
    serde_json::from_str(&fine(folder, &all)).expect("JSON")
}

#[test]
fn the_same_bytes_again_and_on_any_number_of_threads() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let of = |out: &str, threads: &str| {
        let arguments = [
            "replay",
            DAY,
            "-n",
            "23",
            "--out",
            out,
            "--threads",
            threads,
        ];
        fine(path, &arguments)
    };
    let first = of("one", "1");
    let names: Vec<String> = files(&path.join("one"))
        .into_iter()
        .map(|(name, _)| name)
        .collect();
    for name in ["events.csv", "replay.html", "trucks.svg"] {
        assert!(names.iter().any(|known| known == name), "{name}");
    }
    for (out, threads) in [("two", "2"), ("five", "5"), ("again", "1")] {
        assert_eq!(of(out, threads), first);
        assert_eq!(files(&path.join(out)), files(&path.join("one")), "{out}");
    }
}

/// Every figure of the replication is that of its row in `compare`'s figures.csv, under each rule.
#[test]
fn a_replay_has_the_figures_of_its_row() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fine(path, &["compare", DAY, "-n", "12"]);
    let mut table =
        csv::Reader::from_path(path.join("plantday-out/figures.csv")).expect("figures.csv");
    let headings = table.headers().expect("headings").clone();
    let mut checked = 0;
    for row in table.records() {
        let row = row.expect("a row");
        if !["3", "11"].contains(&&row[0]) {
            continue;
        }
        let replay = replayed(
            path,
            &[DAY, "-n", "2", "--rule", &row[1], "--replication", &row[0]],
        );
        for (key, cell) in headings.iter().zip(&row).skip(2) {
            let here = replay["figures"][key]["here"]
                .as_f64()
                .map(|here| here as f32);
            let expected = cell.parse::<f32>().ok();
            assert_eq!(here, expected, "{key} of {}", &row[1]);
            checked += 1;
        }
    }
    assert!(checked > 200, "{checked}");
}

/// Late and undelivered loads, strandings: as many in the lists as in the figures; the parts of a late load add up.
#[test]
fn the_lists_agree_with_the_figures() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let mut late_loads = 0;
    for arguments in [
        &[DAY, "-n", "2", "--replication", "4"][..],
        &[DAY, "-n", "40", "--worst", "strandings"],
        &[WEEK, "-n", "3", "--worst", "waste"],
        &[WEEK, "-n", "1", "--replication", "21"],
    ] {
        let replay = replayed(path, arguments);
        let figure = |key: &str| replay["figures"][key]["here"].as_f64().expect(key) as usize;
        let list = |key: &str| replay[key].as_array().expect(key);
        let (late, never) = (list("late"), list("undelivered"));
        assert_eq!(never.len(), figure("undelivered_loads"), "{arguments:?}");
        assert_eq!(
            late.len() + never.len(),
            figure("late_loads"),
            "{arguments:?}"
        );
        assert_eq!(list("stranded").len(), figure("stranded"), "{arguments:?}");
        for load in late {
            let parts = load["because"].as_array().expect("parts");
            let sum: f64 = parts.iter().map(|p| p["min"].as_f64().expect("min")).sum();
            let minutes = load["late_min"].as_f64().expect("late_min");
            assert!((sum - minutes).abs() < 1e-6, "{load}");
        }
        late_loads += late.len();
    }
    assert!(late_loads > 50);
}

/// The worst is the first of the largest in `compare`'s rows, and the report names the command for it.
#[test]
fn the_worst_is_the_worst_of_the_rows_and_the_report_says_how_to_replay_it() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fine(path, &["compare", DAY, "-n", "30"]);
    let mut table =
        csv::Reader::from_path(path.join("plantday-out/figures.csv")).expect("figures.csv");
    let headings = table.headers().expect("headings").clone();
    let rows: Vec<csv::StringRecord> = table.records().map(|row| row.expect("a row")).collect();
    let worst = |figure: &str| {
        let place = headings.iter().position(|h| h == figure).expect(figure);
        let mut worst = (0, f64::NEG_INFINITY);
        for row in rows.iter().filter(|row| &row[1] == TODAY) {
            let value: f64 = row[place].parse().expect("a number");
            if value > worst.1 {
                worst = (row[0].parse().expect("a number"), value);
            }
        }
        worst.0
    };
    for (by, figure) in [
        ("lateness", "late_loads"),
        ("strandings", "stranded"),
        ("waste", "dumped_yd3"),
        ("cost", "cost"),
    ] {
        let replay = replayed(path, &[DAY, "-n", "30", "--worst", by]);
        assert_eq!(replay["replication"].as_u64(), Some(worst(figure)), "{by}");
    }
    let report = fs::read_to_string(path.join("plantday-out/report.html")).expect("report.html");
    let command = format!(
        "plantday replay FILE --rule &quot;{TODAY}&quot; --replication {} --seed 1",
        worst("late_loads")
    );
    assert!(report.contains(&command), "{command}");
}

#[test]
fn bad_arguments() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let wrong = refused(path, &["replay", DAY, "--rule", "Nearest on the mop"]);
    assert!(
        wrong.contains("did you mean \"Nearest on the map\"?"),
        "{wrong}"
    );
    let wrong = refused(path, &["replay", "--worst", "costs"]);
    assert!(wrong.contains("cost"), "{wrong}");
    refused(path, &["replay", "--replication", "-1"]);
    refused(path, &["replay", "--replication", "3", "--worst", "cost"]);
    refused(path, &["replay", "--replications", "0"]);
    refused(path, &["replay", "missing.ron"]);
}

#[test]
fn names_stay_text_in_page_and_table() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let demo = include_str!("../scenarios/estuary_day.ron")
        .replace(
            "name: \"N\", count: 15",
            "name: \"=1+1</script><b>\", count: 15",
        )
        .replace("trucks: \"N\"", "trucks: \"=1+1</script><b>\"")
        .replace(
            "name: \"Sea wall, bay 7\"",
            "name: \"<!--<script>alert(1)\"",
        );
    fs::write(path.join("hostile.ron"), demo).expect("a file");
    fine(path, &["replay", "hostile.ron", "-n", "3"]);
    let page = fs::read_to_string(path.join("plantday-replay/replay.html")).expect("the page");
    assert_eq!(
        page.matches("<script").count(),
        2,
        "the data and the player"
    );
    assert_eq!(page.matches("</script>").count(), 2);
    assert!(!page.contains("<!--"));
    let events = fs::read(path.join("plantday-replay/events.csv")).expect("events.csv");
    let mut table = csv::Reader::from_reader(&events[..]);
    let mut cells = 0;
    for row in table.records() {
        for cell in row.expect("a row").iter() {
            assert!(!cell.starts_with('='), "{cell}");
            cells += 1;
        }
    }
    assert!(cells > 1000);
}
