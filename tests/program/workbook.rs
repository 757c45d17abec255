//! The workbook of `--xlsx`, read back: the numbers of the CSV files of the same run, hostile names as text, the same bytes on any
//! number of threads, and one from every study.

use assert_cmd::cargo::cargo_bin_cmd;
use calamine::{Data, Range, Reader, Xlsx, open_workbook};
use std::fs::{self, File};
use std::io::BufReader;
use std::path::Path;
use tempfile::TempDir;

const DAY: &str = include_str!("../../scenarios/estuary_day.ron");

type Book = Xlsx<BufReader<File>>;

/// Runs it with `--xlsx` and opens what it wrote; a target that is not met is as good as one that is.
fn book(folder: &Path, study: &str, arguments: &[&str]) -> Book {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .arg(study)
        .args(arguments)
        .args(["--xlsx", "--out", &format!("out-{study}")])
        .output()
        .expect("the program runs");
    assert!(
        matches!(output.status.code(), Some(0 | 1)),
        "{study} {arguments:?}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    open(&folder.join(format!("out-{study}/{study}.xlsx")))
}

fn open(path: &Path) -> Book {
    open_workbook(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn sheet(book: &mut Book, name: &str) -> Range<Data> {
    book.worksheet_range(name)
        .unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// A folder with the day, a few rules of which have other names.
fn day(names: &[(&str, &str)]) -> TempDir {
    let folder = TempDir::new().expect("a folder");
    let mut text = DAY.to_owned();
    for (name, other) in names {
        assert!(text.contains(name), "{name}");
        text = text.replace(name, other);
    }
    fs::write(folder.path().join("day.ron"), text).expect("a scenario");
    folder
}

/// Every line of a CSV file, headings first.
fn lines(path: &Path) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_path(path)
        .expect("a CSV file");
    let records = reader.records();
    records
        .map(|record| record.expect("a line").iter().map(str::to_owned).collect())
        .collect()
}

/// How many numbers of a CSV file stand in the sheet, all in the same places.
///
/// # Panics
/// If a cell differs.
fn numbers_alike(csv: &[Vec<String>], sheet: &Range<Data>, name: &str) -> usize {
    assert_eq!(
        sheet.get_size(),
        (csv.len(), csv[0].len()),
        "rows and columns of {name}"
    );
    let mut numbers = 0;
    for (row, line) in csv.iter().enumerate().skip(1) {
        for (column, field) in line.iter().enumerate() {
            let at = format!("{name}, row {row}, {:?}", csv[0][column]);
            match sheet.get((row, column)).unwrap_or(&Data::Empty) {
                Data::Empty => assert_eq!(field, "", "{at}"),
                Data::String(text) => assert_eq!(text, field, "{at}"),
                Data::Float(value) => {
                    assert_eq!(Ok(*value), field.parse(), "{at}");
                    numbers += 1;
                }
                other => panic!("{at}: {other:?}"),
            }
        }
    }
    numbers
}

/// Tables that only files have, one that the page shows with its intervals, and every figure of every run.
#[test]
fn the_numbers_are_those_of_the_files() {
    let folder = day(&[]);
    let mut book = book(folder.path(), "compare", &["day.ron", "-n", "12"]);
    for (sheet_name, file, at_least) in [
        ("Differences", "differences.csv", 8),
        ("Summary", "summary.csv", 1000),
        ("Causes", "causes.csv", 50),
        ("Figures", "figures.csv", 1000),
    ] {
        let csv = lines(&folder.path().join("out-compare").join(file));
        let numbers = numbers_alike(&csv, &sheet(&mut book, sheet_name), file);
        assert!(numbers >= at_least, "{numbers} numbers in {file}");
    }
    let differences = sheet(&mut book, "Differences");
    let headings: Vec<String> = (1..4)
        .map(|column| differences[(0, column)].to_string())
        .collect();
    assert!(
        headings[0].starts_with("average (")
            && headings[1] == format!("{}: low", headings[0])
            && headings[2] == format!("{}: high", headings[0]),
        "{headings:?}"
    );
}

/// The first sheet says what the JSON says; what was assumed stands on one of its own.
#[test]
fn the_first_sheet_has_the_decision() {
    let folder = day(&[]);
    let mut book = book(folder.path(), "compare", &["day.ron", "-n", "4"]);
    let json = fs::read_to_string(folder.path().join("out-compare/compare.json")).expect("JSON");
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(book.sheet_names()[0], "Answer");
    let first = sheet(&mut book, "Answer");
    let said: Vec<String> = first.rows().map(|row| row[1].to_string()).collect();
    let mut told = vec![
        &json["scenario"],
        &json["decision"]["sentence"],
        &json["recipe"],
    ];
    for list in ["sentences", "cautions", "notes"] {
        told.extend(json[list].as_array().expect("a list"));
    }
    assert!(told.len() > 8, "{told:?}");
    for text in told {
        let text = text.as_str().expect("text");
        assert!(said.iter().any(|said| said == text), "no {text:?}");
    }
    let assumed = sheet(&mut book, "Assumptions");
    let listed = json["assumptions"].as_array().expect("a list");
    assert_eq!(assumed.get_size(), (listed.len() + 1, 4));
    assert_eq!(
        Some(assumed[(1, 0)].to_string().as_str()),
        listed[0]["what"].as_str()
    );
    let doubts = json["doubts"].as_array().expect("a list").len();
    let sheets = book.sheet_names();
    let told = sheets.iter().any(|name| name == "Doubts");
    assert_eq!(told, doubts > 0);
}

/// Names that a spreadsheet would take for formulas come back letter by letter, and there is no formula in any sheet.
#[test]
fn hostile_names_are_text() {
    let names = ["=HYPERLINK(\"http://x\")", "+1", "@a"];
    let written = names.map(|name| name.replace('"', "\\\""));
    let folder = day(&[
        ("Nearest on the map", &written[0]),
        ("Longest idle, 11 hours", &written[1]),
        ("Soonest, home in time", &written[2]),
        ("A day on the estuary", "=1+1"),
    ]);
    let mut book = book(folder.path(), "compare", &["day.ron", "-n", "3"]);
    let figures = sheet(&mut book, "Figures");
    for (row, name) in names.iter().enumerate() {
        let texts = figures.rows().map(|row| row[1].clone());
        assert_eq!(
            texts
                .filter(|cell| *cell == Data::String((*name).into()))
                .count(),
            3,
            "{name}"
        );
        let heading = &sheet(&mut book, "Side by side")[(0, row + 1)];
        assert!(
            heading.to_string().starts_with(name),
            "{heading} for {name}"
        );
    }
    assert_eq!(
        sheet(&mut book, "Answer")[(0, 1)],
        Data::String("=1+1".into())
    );
    for name in book.sheet_names() {
        let formulas = book.worksheet_formula(&name).expect("a sheet");
        assert!(
            formulas.cells().all(|(_, _, text)| text.is_empty()),
            "{name}"
        );
    }
}

#[test]
fn the_same_bytes_for_any_number_of_threads() {
    let folder = day(&[]);
    let bytes = |threads: &str| {
        let arguments = ["day.ron", "-n", "7", "--threads", threads];
        book(folder.path(), "compare", &arguments);
        fs::read(folder.path().join("out-compare/compare.xlsx")).expect("a workbook")
    };
    let first = bytes("1");
    assert!(first == bytes("2"), "the bytes differ");
}

/// Each has the sheet of its answer, and a list of sheets that are there.
#[test]
fn every_study_writes_one() {
    let folder = day(&[]);
    let week: &[(&str, &[&str])] = &[
        ("compare", &["day.ron", "-n", "2"]),
        ("causes", &["day.ron", "-n", "2"]),
        ("replay", &["day.ron", "-n", "2"]),
        (
            "habits",
            &["day.ron", "-n", "2", "--to", "Longest idle, 11 hours"],
        ),
        ("best", &["day.ron", "-n", "2", "--search", "2"]),
        ("holds", &["day.ron", "-n", "2"]),
        (
            "tune",
            &[
                "day.ron",
                "-n",
                "2",
                "--rule",
                "Longest idle, 11 hours",
                "--vary",
                "early_min=0,5",
            ],
        ),
        (
            "fleet",
            &[
                "-n",
                "60",
                "--order",
                "Clinic, mat",
                "--alone",
                "--first-load",
                "06:00",
                "--trucks-to",
                "8",
            ],
        ),
        (
            "staff",
            &[
                "-n",
                "2",
                "--rule",
                "Traffic, home, warned",
                "--late-share",
                "0.3",
            ],
        ),
        (
            "trip",
            &[
                "-n",
                "4",
                "--at",
                "Wed 12:30",
                "--driver",
                "Zoe S10",
                "--order",
                "Cannery, footings 2",
            ],
        ),
        ("sources", &["day.ron"]),
    ];
    for (study, arguments) in week {
        listed_sheets_are_there(&mut book(folder.path(), study, arguments), study);
    }
    let log = "driver,status,start,end\nA. Reyes,on,2026-03-02T05:30,2026-03-02T06:00\nA. Reyes,drive,2026-03-02T06:00,2026-03-02T10:00\n";
    fs::write(folder.path().join("log.csv"), log).expect("a log");
    let arguments = ["log.csv", "--rule-book", "us_property_2020"];
    listed_sheets_are_there(&mut book(folder.path(), "hours", &arguments), "hours");
}

fn listed_sheets_are_there(book: &mut Book, study: &str) {
    let names = book.sheet_names();
    let first = sheet(book, "Answer");
    for name in &names[1..] {
        let listed = first
            .rows()
            .any(|row| row[1].to_string().starts_with(&format!("{name}: ")));
        assert!(listed, "{study}: {name} is not listed");
        let cells = sheet(book, name).get_size();
        assert!(name == "Charts" || cells.0 > 1, "{study}: {name} is empty");
    }
    assert!(names.len() > 1, "{study}: {names:?}");
}
