//! The chart of the queues at the bays: drawn where trucks queue, and where they hardly do a sentence says how little.

use assert_cmd::cargo::cargo_bin_cmd;
use serde_json::Value;
use std::fs;
use tempfile::TempDir;

const STARTER: &str = include_str!("../../scenarios/starter.ron");

/// The names of the charts, the page, and the longest mean wait under any rule and longest queue of any hour, from the files.
fn compared(text: &str) -> (Vec<String>, String, f64, f64) {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fs::write(path.join("day.ron"), text).expect("written");
    let mut command = cargo_bin_cmd!("plantday");
    let command = command
        .current_dir(path)
        .args(["compare", "day.ron", "-n", "20", "--json"]);
    let output = command.output().expect("the program runs");
    assert_eq!(output.status.code(), Some(0));
    let said: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let charts = said["charts"].as_array().expect("charts");
    let charts = charts
        .iter()
        .map(|chart| chart["name"].as_str().expect("a name").to_owned());
    let out = path.join("plantday-out");
    let most = |file: &str, column: &str| {
        let mut reader = csv::Reader::from_path(out.join(file)).expect(file);
        let at = reader
            .headers()
            .expect("headings")
            .iter()
            .position(|name| name == column);
        let at = at.expect("the column");
        let values = reader
            .records()
            .map(|row| row.expect("a row")[at].parse::<f64>());
        values.filter_map(Result::ok).fold(0.0, f64::max)
    };
    let page = fs::read_to_string(out.join("report.html")).expect("the page");
    // One wait is as long as the mean of a run at most.
    (
        charts.collect(),
        page,
        most("figures.csv", "bay_wait_min"),
        most("by-hour.csv", "trucks_in_bay_queues"),
    )
}

/// Two plants with room, and the same day with one bay for all loads of the larger plant that takes twice as long.
#[test]
fn a_chart_where_trucks_queue_and_a_sentence_where_they_hardly_do() {
    let (charts, page, wait, queue) = compared(STARTER);
    assert!(wait < 1.0 && queue < 0.5, "{wait} {queue}");
    assert!(!charts.contains(&"bay-queue".to_owned()), "{charts:?}");
    assert!(
        page.contains("Queues at the bays: no chart, as"),
        "no sentence"
    );

    let narrow = STARTER.replace("bays: 2,", "bays: 1,").replace(
        "fixed_min: 1.5, min_per_yd3: 0.45",
        "fixed_min: 3, min_per_yd3: 0.9",
    );
    let (charts, page, wait, queue) = compared(&narrow);
    assert!(wait > 1.0 && queue > 0.0, "{wait} {queue}");
    assert!(charts.contains(&"bay-queue".to_owned()), "{charts:?}");
    assert!(!page.contains("Queues at the bays: no chart, as"), "both");
}

/// A short day in which few loads find a bay taken.
#[test]
fn the_sentence_says_how_little_and_from_when_on_there_is_a_chart() {
    let (_, page, ..) = compared(STARTER);
    assert!(
        !page.contains("Trucks in the queues for a bay"),
        "the chart is drawn"
    );
    // Amounts stand in marks that keep them on one line.
    let start = page
        .find("Queues at the bays: no chart")
        .expect("the sentence");
    let mut words = String::new();
    let mut inside = true;
    for letter in page[start..]
        .split("</p>")
        .next()
        .expect("a paragraph")
        .chars()
    {
        match letter {
            '<' => inside = false,
            '>' => inside = true,
            letter if inside => words.push(letter),
            _ => {}
        }
    }
    let words = words.replace('\u{a0}', " ");
    for part in [
        "as bays hardly queue: under no rule does a load wait for one for more than 0.",
        " min on average, and in no hour of the day do more than 0.",
        "A chart is drawn from 1 min or 0.5 trucks on.",
    ] {
        assert!(words.contains(part), "{part}: {words}");
    }
}
