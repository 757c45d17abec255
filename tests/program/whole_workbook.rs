//! A scenario as one workbook: what `plantday new FILE.xlsx` writes is the starter, to the last figure; what is wrong in it is told at its
//! sheet, row and cell. Sheets are changed here as a spreadsheet program would, by writing them again (rust_xlsxwriter).

use assert_cmd::cargo::cargo_bin_cmd;
use plantday::scenario::{self, Scenario, as_workbook, read};
use rust_xlsxwriter::Workbook;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const STARTER: &str = include_str!("../../scenarios/starter.ron");

fn plantday(folder: &Path, arguments: &[&str]) -> (i32, String, String) {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program runs");
    (
        output.status.code().unwrap_or(-1),
        String::from_utf8_lossy(&output.stdout).into_owned(),
        String::from_utf8_lossy(&output.stderr).into_owned(),
    )
}

/// All of a scenario but where it comes from.
fn content(mut scenario: Scenario) -> String {
    let origin = scenario::parse("x", STARTER).expect("it is right").origin;
    scenario.origin = origin;
    format!("{scenario:?}")
}

#[test]
fn the_starter_is_the_same_in_text_and_as_a_workbook() {
    let folder = TempDir::new().expect("a folder");
    let (code, said, _) = plantday(folder.path(), &["new", "yard.xlsx"]);
    assert_eq!(code, 0);
    assert!(said.contains("plantday compare yard.xlsx"), "{said}");
    let book = read(&folder.path().join("yard.xlsx")).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(
        content(book),
        content(scenario::parse("x", STARTER).expect("it is right"))
    );
    let again = as_workbook("x", STARTER, None, &[])
        .expect("it is right")
        .bytes;
    assert_eq!(
        fs::read(folder.path().join("yard.xlsx")).expect("a file"),
        again
    );
    let (code, _, error) = plantday(folder.path(), &["new", "yard.xlsx"]);
    assert_eq!(
        (code, error.contains("--force replaces it")),
        (2, true),
        "{error}"
    );
}

/// The same workbook, opened in a spreadsheet program and saved again.
#[test]
fn a_workbook_that_was_saved_again_is_the_same() {
    let folder = TempDir::new().expect("a folder");
    let saved = include_bytes!("../data/tables/saved.xlsx");
    fs::write(folder.path().join("saved.xlsx"), saved).expect("a file");
    let read = read(&folder.path().join("saved.xlsx")).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(
        content(read),
        content(scenario::parse("x", STARTER).expect("it is right"))
    );
}

/// Days with more in them than the starter: helpers, drawn orders, weigh stations, the drum, prices.
#[test]
fn other_examples_survive_the_way_through_a_workbook() {
    let folder = TempDir::new().expect("a folder");
    for text in [
        include_str!("../../scenarios/shuttle_day.ron"),
        include_str!("../../scenarios/yard_study.ron"),
    ] {
        let book = as_workbook("x", text, None, &[])
            .expect("it is right")
            .bytes;
        fs::write(folder.path().join("day.xlsx"), book).expect("a file");
        let read = read(&folder.path().join("day.xlsx")).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(
            content(read),
            content(scenario::parse("x", text).expect("it is right"))
        );
    }
}

/// Every command takes it where it takes a scenario.
#[test]
fn commands_take_a_workbook() {
    let folder = TempDir::new().expect("a folder");
    plantday(folder.path(), &["new", "yard.xlsx"]);
    for arguments in [
        &["check", "yard.xlsx", "--summary"][..],
        &["compare", "yard.xlsx", "-n", "4"],
        &["fleet", "yard.xlsx", "--order", "Floor", "-n", "60"],
        &["replay", "yard.xlsx"],
        &["sources", "yard.xlsx"],
    ] {
        let (code, _, error) = plantday(folder.path(), arguments);
        // 1: a target of the study is not met.
        let most = i32::from(arguments[0] == "fleet");
        assert!((0..=most).contains(&code), "{arguments:?}: {error}");
    }
}

type Sheet<'a> = (&'a str, &'a [&'a [&'a str]]);

/// A workbook of texts.
fn book(folder: &Path, sheets: &[Sheet<'_>]) -> Result<Scenario, String> {
    let mut book = Workbook::new();
    for (name, rows) in sheets {
        let sheet = book.add_worksheet();
        sheet.set_name(*name).expect("a name");
        for (row, cells) in rows.iter().enumerate() {
            for (column, cell) in cells.iter().enumerate() {
                if !cell.is_empty() {
                    sheet
                        .write_string(row as u32, column as u16, *cell)
                        .expect("a cell");
                }
            }
        }
    }
    let path = folder.join("yard.xlsx");
    book.save(&path).expect("a file");
    read(&path).map_err(|error| {
        error
            .to_string()
            .replace(&format!("{}/", folder.display()), "")
    })
}

const PLANTS: Sheet<'_> = (
    "Plants",
    &[
        &["Plant", "Hours", "Bays"],
        &["North", "5 AM-6 PM", "2"],
        &["Quay", "", ""],
    ],
);
const SITES: Sheet<'_> = ("sites", &[&["Site"], &["Tower"]]);
const MINUTES: Sheet<'_> = (
    "Minutes",
    &[
        &["", "North 5-7", "North 7-9", "Quay"],
        &["Tower", "12", "17", "25"],
        &["Quay", "20", "20", ""],
    ],
);
const TRUCKS: Sheet<'_> = (
    "Trucks",
    &[&["Truck", "Home plant"], &["N1", "North"], &["Q1", "Quay"]],
);
const DRIVERS: Sheet<'_> = (
    "Drivers",
    &[
        &["Name", "Truck", "Report time", "CDL", "Pay"],
        &["Ann", "N1", "6:00 AM", "CDL B", "$28.50"],
        &["Bo", "Q1", "06:30", "Class A", ""],
    ],
);
const ORDERS: Sheet<'_> = (
    "Orders",
    &[
        &["Order", "Site", "Date", "First load", "Yd3", "Spacing"],
        &["Deck", "Tower", "2026-06-09", "7:00", "60", "15"],
    ],
);
const RULES: Sheet<'_> = (
    "Rules",
    &[
        &["Decision", "As today", "By the hour"],
        &["today", "yes", ""],
        &["belief", "FreeFlow", "TimeOfDay(quantile: 0.7)"],
        &["choose", "nearest", "SoonestOnSite"],
        &[
            "gates",
            "",
            "LastLoadBy(hours: 11); HomeWithin(probability: 0.95)",
        ],
        &["yard.warning", "", "OnAdmixture"],
    ],
);
const SETTINGS: Sheet<'_> = (
    "Settings",
    &[
        &["Name", "Value", "What it is"],
        &["name", "River mouth", ""],
        &["period.first day", "2026-06-08", ""],
        &["period.days", "2", ""],
        &["rule_book", "us_property_2020", ""],
        &["Money.overtime_after_h", "9", ""],
        &["money.overtime_factor", "", "blank: the usual value"],
        &["roads.luck", "Lognormal(mean: 1, cv: 0.2)", ""],
    ],
);

/// The same as text, written by hand.
const AS_TEXT: &str = r#"(
    name: "River mouth", period: (first_day: "2026-06-08", days: 2), rule_book: "us_property_2020",
    plants: [(name: "North", hours: [(open: "05:00", close: "18:00")], bays: 2), (name: "Quay")],
    sites: [(name: "Tower")],
    roads: (minutes: {
        "North": { "Tower": [("00:00", 12), ("05:00", 12), ("07:00", 17), ("09:00", 12)], "Quay": 20 },
        "Quay": { "Tower": 25 } }, luck: Lognormal(mean: 1, cv: 0.2)),
    trucks: [(name: "N1", home: "North"), (name: "Q1", home: "Quay")],
    drivers: [(name: "Ann", trucks: "N1", report: "06:00", class: B, pay_per_h: 28.5), (name: "Bo", trucks: "Q1", report: "06:30", class: A)],
    orders: [(name: "Deck", site: "Tower", day: 2, first: "07:00", volume_yd3: 60, spacing_min: 15)],
    money: (overtime_after_h: 9),
    rules: [(name: "As today", today: true, belief: FreeFlow, choose: Nearest),
        (name: "By the hour", belief: TimeOfDay(quantile: 0.7), choose: SoonestOnSite,
            gates: [LastLoadBy(hours: 11), HomeWithin(probability: 0.95)], yard: (warning: OnAdmixture))],
)"#;

const ALL: [Sheet<'_>; 8] = [
    SETTINGS, PLANTS, SITES, MINUTES, TRUCKS, DRIVERS, ORDERS, RULES,
];

#[test]
fn a_workbook_typed_by_hand_is_the_text_typed_by_hand() {
    let folder = TempDir::new().expect("a folder");
    let found = book(folder.path(), &ALL).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(
        content(found),
        content(scenario::parse("x", AS_TEXT).expect("it is right"))
    );
}

/// Each at its sheet and cell, all at once; what is no list is told as not read.
#[test]
fn what_is_wrong_is_told_at_its_cell() {
    let folder = TempDir::new().expect("a folder");
    let mut sheets = ALL;
    sheets[0] = (
        "Settings",
        &[
            &["Name", "Value"],
            &["name", "X"],
            &["mony.overtime_after_h", "9"],
            &["period.days", "two"],
        ],
    );
    sheets[4] = (
        "Trucks",
        &[&["Truck", "Home plant"], &["N1", "Nort"], &["Q1", "Quay"]],
    );
    sheets[7] = (
        "Rules",
        &[
            &["Rule", "belief", "chose"],
            &["As today", "FreeFlw", "Nearest"],
        ],
    );
    let told = book(folder.path(), &sheets).expect_err("it is wrong");
    for expected in [
        "yard.xlsx, sheet \"Settings\":3:1: ",
        "`mony`",
        "sheet \"Settings\":4:15: expected a whole number, found \"two\"",
        "sheet \"Trucks\":2:6: there is no plant \"Nort\"",
        "sheet \"Rules\":1:17: ",
        "`chose`",
        "sheet \"Rules\":2:12: unknown belief `FreeFlw`",
    ] {
        assert!(told.contains(expected), "{expected} in {told}");
    }
    let (code, _, error) = plantday(folder.path(), &["check", "yard.xlsx"]);
    assert_eq!(code, 2);
    assert!(error.contains("cell B2, column \"Home plant\""), "{error}");
    assert!(
        error.contains("a similar name exists: \"North\""),
        "{error}"
    );
}

#[test]
fn what_is_missing_is_told() {
    let folder = TempDir::new().expect("a folder");
    let told = book(folder.path(), &ALL[..7]).expect_err("there are no rules");
    assert!(
        told.contains("yard.xlsx:1:1: ") && told.contains("`rules`"),
        "{told}"
    );
    let told =
        book(folder.path(), &[("Sheet1", &[&["a", "b"], &["1", "2"]])]).expect_err("it is none");
    assert!(
        told.contains("no sheet of this workbook is a list of a scenario"),
        "{told}"
    );
    let mut sheets = ALL.to_vec();
    sheets.push(("Remarks", &[&["see", "Monday"]]));
    let found = book(folder.path(), &sheets).unwrap_or_else(|error| panic!("{error}"));
    assert!(
        found.table_notes[0].contains("sheet \"Remarks\": this sheet is not read"),
        "{:?}",
        found.table_notes
    );
    fs::write(folder.path().join("bad.xlsx"), b"PK\x03\x04 none").expect("a file");
    let (code, _, error) = plantday(folder.path(), &["check", "bad.xlsx"]);
    assert_eq!(
        (code, error.contains("cannot be read as a workbook")),
        (2, true),
        "{error}"
    );
}
