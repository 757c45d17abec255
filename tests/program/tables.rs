//! Lists from tables: a day whose lists stand in files of separated values or in a workbook (written by openpyxl 3.1, a general-purpose
//! library) is the day whose lists are written out, to the last figure; problems are told at their file, row, column and cell.

use assert_cmd::cargo::cargo_bin_cmd;
use plantday::scenario::{Scenario, read};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const BOOK: &[u8] = include_bytes!("../data/tables/yard.xlsx");

/// A scenario around five lists.
fn day(lists: [&str; 4]) -> String {
    let [trucks, drivers, minutes, orders] = lists;
    format!(
        r#"(
    name: "two days", period: (first_day: "2026-06-08", days: 2), rule_book: "us_property_2020",
    plants: [(name: "North", bays: 1), (name: "Quay")],
    sites: [(name: "Tower"), (name: "Lock")],
    roads: (minutes: {minutes}),
    trucks: {trucks}, drivers: {drivers}, orders: {orders},
    rules: [(name: "As today", belief: FreeFlow, lend: IfSaves(minutes: 10))],
)"#
    )
}

const WRITTEN: [&str; 4] = [
    r#"[(name: "N1", home: "North", capacity_yd3: 10), (name: "N2", home: "North", capacity_yd3: 10), (name: "N3", home: "North", capacity_yd3: 10),
        (name: "N4", home: "North", capacity_yd3: 10), (name: "Q1", home: "Quay", capacity_yd3: 8)]"#,
    r#"[(name: "Driver 1", trucks: "N1", report: "05:45", shift_h: 11), (name: "Driver 2", trucks: "N2", report: "06:00", shift_h: 11),
        (name: "Driver 3", trucks: "N3", report: "05:45", shift_h: 11), (name: "Driver 4", trucks: "N4", report: "06:00", shift_h: 11),
        (name: "Driver 5", trucks: "Q1", report: "06:00", shift_h: 11)]"#,
    r#"{ "North": { "Tower": 18, "Lock": 30, "Quay": 20 }, "Quay": { "Tower": 25, "Lock": 12 } }"#,
    r#"[(name: "Deck, east", day: 1, site: "Tower", first: "07:00", volume_yd3: 60, spacing_min: 15, customer: "Tide Builders"),
        (name: "Footing", day: 2, site: "Lock", first: "08:30", volume_yd3: 24.5, spacing_min: 20),
        (name: "4000", day: 2, site: "Lock", first: "14:15", volume_yd3: 8, spacing_min: 30)]"#,
];

const IN_BOOK: [&str; 4] = [
    r#"Table("yard.xlsx", "Trucks")"#,
    r#"Table("yard.xlsx", "roster")"#,
    r#"Table(file: "yard.xlsx", sheet: "Minutes")"#,
    r#"Table("yard.xlsx")"#,
];

/// Semicolons, decimal commas, a byte order mark, Windows line ends, blank rows, quotes, headings in any order and of people's own.
const SEPARATED: [(&str, &str); 4] = [
    (
        "trucks.csv",
        "\u{feff}Home plant;Capacity;Unit;Color\r\nNorth;10,0;N1;red\r\n;;;\r\nNorth;10;N2;\r\nNorth;10;N3;\r\nNorth;10;N4;\r\nQuay;8;Q1;\r\n",
    ),
    (
        "roster.csv",
        "\n\nReport time,Truck,Name,Shift hours\n5:45 AM,N1,Driver 1,11\n6:00 am,N2,Driver 2,11\n05:45:00,N3,Driver 3,11\n6 AM,N4,Driver 4,11\n0.25,Q1,Driver 5,11\n",
    ),
    (
        "minutes.csv",
        "from\tto\tminutes\nNorth\tTower\t18\nNorth\tLock\t30\nNorth\tQuay\t20\nQuay\tTower\t25\nQuay\tLock\t12\n",
    ),
    (
        "orders.csv",
        "Job,Ticket,When,Start time,Cubic yards,Spacing,Client\nTower,\"Deck, east\",6/8/2026,7:00,60,15,Tide Builders\nLock,Footing,2026-06-09,8:30,24.5,20,\nLock,4000,9.6.2026,2:15 PM,\"8\",30,\n",
    ),
];

const IN_FILES: [&str; 4] = [
    r#"Table("trucks.csv")"#,
    r#"Table("roster.csv")"#,
    r#"Table("minutes.csv")"#,
    r#"Table(file: "orders.csv", columns: {"Ticket": "name", "When": "day"})"#,
];

fn folder() -> TempDir {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("yard.xlsx"), BOOK).expect("a file");
    for (name, text) in SEPARATED {
        fs::write(folder.path().join(name), text).expect("a file");
    }
    folder
}

fn scenario(folder: &Path, lists: [&str; 4]) -> Scenario {
    let path = folder.join("day.ron");
    fs::write(&path, day(lists)).expect("a file");
    read(&path).unwrap_or_else(|error| panic!("{error}"))
}

fn problems(folder: &Path, text: &str) -> String {
    let path = folder.join("day.ron");
    fs::write(&path, text).expect("a file");
    let error = read(&path).expect_err("something is wrong").to_string();
    error.replace(&format!("{}/", folder.display()), "")
}

#[test]
fn a_day_from_tables_is_the_day_written_out() {
    let folder = folder();
    let written = scenario(folder.path(), WRITTEN);
    for lists in [IN_BOOK, IN_FILES] {
        let mut from_tables = scenario(folder.path(), lists);
        from_tables.ignored_columns.clear();
        from_tables.origin = written.origin.clone();
        assert_eq!(format!("{written:?}"), format!("{from_tables:?}"));
    }
}

/// A column of the roster; a blank cell leaves it to what all have.
#[test]
fn guaranteed_hours_stand_in_a_column_of_the_roster() {
    let folder = folder();
    let roster = "Report time,Truck,Name,Guaranteed hours\n5:45 AM,N1,One,8\n6:00 AM,N2,Two,\n6:00 AM,N3,Three,0\n";
    fs::write(folder.path().join("own.csv"), roster).expect("a file");
    let lists = [WRITTEN[0], r#"Table("own.csv")"#, WRITTEN[2], WRITTEN[3]];
    let drivers = scenario(folder.path(), lists).drivers;
    let hours = drivers.iter().map(|driver| driver.guaranteed_day);
    let hours: Vec<Option<f64>> = hours.map(|day| day.map(|day| day.hours())).collect();
    assert_eq!(hours, [Some(8.0), None, Some(0.0)]);
}

const BY_HOUR: &str = r#"{ "North": { "Tower": [("00:00", 11), ("05:00", 12), ("07:00", 17.5), ("09:00", 11), ("15:00", 18), ("18:00", 11)],
    "Lock": 30, "Quay": 20 }, "Quay": { "Tower": [("00:00", 25), ("07:00", 33), ("09:00", 25)], "Lock": 12 } }"#;

/// Minutes by time of day: bands in the headings of a matrix either way round, or of pairs; between bands the quickest.
#[test]
fn minutes_by_time_of_day_from_headings() {
    let folder = folder();
    let mut lists = WRITTEN;
    lists[2] = BY_HOUR;
    let written = scenario(folder.path(), lists);
    for table in [
        "Place,North 5-7,North 7-9,North 9-3,North 3-6,Quay,Quay 07:00-09:00\nTower,12,17.5,11,18,25,33\nLock,30,30,30,30,12,\nQuay,20,,,,,\nNorth,,,,,,\n",
        "Place;North 5\u{2013}7 AM;North 7 to 9 am;North 9 AM-3 PM;North 3-6 PM;Quay;Quay (7-9)\nTower;12;17,5;11;18;25;33\nLock;30;30;30;30;12;\nQuay;20;20;;;;\n",
        ",Tower,Lock,Quay\nNorth 05:00-07:00,12,30,20\nNorth 07:00-09:00,17.5,30,\nNorth 9-15,11,30,\nNorth 15-18,18,30,\nQuay,25,12,\nQuay 7-9,33,12,\n",
        "From,To,Minutes,5-7,7-9,9-15,15-18\nNorth,Tower,,12,17.5,11,18\nNorth,Lock,30,,,,\nNorth,Quay,20,,,,\nQuay,Tower,25,,33,,\nQuay,Lock,12,,,,\n",
    ] {
        fs::write(folder.path().join("minutes.csv"), table).expect("a file");
        lists[2] = r#"Table("minutes.csv")"#;
        let mut found = scenario(folder.path(), lists);
        found.origin = written.origin.clone();
        found.ignored_columns.clear();
        assert_eq!(format!("{written:?}"), format!("{found:?}"), "{table}");
    }
}

/// Jobs at known sites: the nearest name is told where one is misspelt, the one that stands in a longer text where one does, and with
/// `sites_within` that one counts.
#[test]
fn sites_within_longer_texts() {
    let folder = folder();
    let orders = "Order,Site,Day,First load,Yd3,Spacing\n\"Deck, east\",tower deck (east),1,7:00,60,15\nFooting,Lock,2,8:30,24.5,20\n4000,lower Lock gate,2,14:15,8,30\n";
    fs::write(folder.path().join("jobs.csv"), orders).expect("a file");
    let mut lists = WRITTEN;
    lists[3] = r#"Table("jobs.csv")"#;
    let told = problems(folder.path(), &day(lists));
    assert!(
        told.contains("jobs.csv:2:14: there is no site \"tower deck (east)\""),
        "{told}"
    );
    assert!(
        told.contains("jobs.csv:4:6: there is no site \"lower Lock gate\""),
        "{told}"
    );
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder.path())
        .args(["check", "day.ron"])
        .output()
        .expect("the program runs");
    let screen = String::from_utf8_lossy(&output.stderr);
    for said in [
        "the name of a site stands in it: \"Tower\"",
        "sites_within: true",
    ] {
        assert!(screen.contains(said), "{screen}");
    }
    lists[3] = r#"Table(file: "jobs.csv", sites_within: true)"#;
    let found = scenario(folder.path(), lists);
    let sites: Vec<u32> = found.orders.iter().map(|order| order.stay.site.0).collect();
    assert_eq!(sites, [2, 3, 3]);
    assert!(
        found.table_notes[0].contains("2 orders name their site within"),
        "{:?}",
        found.table_notes
    );
}

/// Rules in rows or in columns; a decision that is misspelt is a problem, unlike a remark in another list.
#[test]
fn rules_in_a_table() {
    let folder = folder();
    let written = r#"[(name: "As today", belief: FreeFlow, lend: IfSaves(minutes: 10))]"#;
    let text = day(WRITTEN);
    let in_table = text.replace(written, r#"Table("rules.csv")"#);
    assert_ne!(text, in_table);
    let expected = scenario(folder.path(), WRITTEN);
    for table in [
        "Rule,Belief,Lend\nAs today,FreeFlow,IfSaves(minutes: 10)\n",
        "Decision,As today\nbelief,freeflow\nlend,IfSaves(minutes: 10)\n",
    ] {
        fs::write(folder.path().join("rules.csv"), table).expect("a file");
        fs::write(folder.path().join("day.ron"), &in_table).expect("a file");
        let found = read(&folder.path().join("day.ron")).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(found.rules, expected.rules, "{table}");
    }
    let wrong = "Decision,As today\nbelief,FreeFlow\nlende,Never\n";
    fs::write(folder.path().join("rules.csv"), wrong).expect("a file");
    let told = problems(folder.path(), &in_table);
    assert!(
        told.contains("rules.csv:3:1: unknown field `lende` in a rule"),
        "{told}"
    );
}

#[test]
fn bands_that_are_wrong_are_told() {
    let folder = folder();
    for (table, told) in [
        (
            "Place,North 5-7,North 6-9,Quay\nTower,12,17,25\nLock,30,30,12\nQuay,20,20,\n",
            "minutes.csv:2:10: this band of the day overlaps another",
        ),
        (
            "Place,North 5-7,North 7-9,Quay\nTower,12,0,25\nLock,30,30,12\nQuay,20,20,\n",
            "minutes.csv:2:10: \"0\" is out of range",
        ),
        (
            "Place,Nort 5-7,North,Quay\nTower,12,17,25\nLock,30,30,12\nQuay,20,20,\n",
            "minutes.csv:1:7: there is no plant \"Nort\"",
        ),
    ] {
        fs::write(folder.path().join("minutes.csv"), table).expect("a file");
        let mut lists = WRITTEN;
        lists[2] = r#"Table("minutes.csv")"#;
        let problem = problems(folder.path(), &day(lists));
        assert!(problem.contains(told), "{told} in {problem}");
    }
}

/// To the last byte of figures.csv, and from any folder: tables stand beside their scenario.
#[test]
fn the_same_figures_from_any_folder() {
    let folder = folder();
    let mut figures = Vec::new();
    for (at, lists) in [WRITTEN, IN_BOOK, IN_FILES].into_iter().enumerate() {
        fs::write(folder.path().join("day.ron"), day(lists)).expect("a file");
        let elsewhere = TempDir::new().expect("a folder");
        let output = cargo_bin_cmd!("plantday")
            .current_dir(elsewhere.path())
            .arg("compare")
            .arg(folder.path().join("day.ron"))
            .args(["-n", "4", "--out", &format!("o{at}")])
            .output()
            .expect("the program runs");
        assert_eq!(output.status.code(), Some(0));
        figures
            .push(fs::read(elsewhere.path().join(format!("o{at}/figures.csv"))).expect("a file"));
    }
    assert_eq!(figures[0], figures[1]);
    assert_eq!(figures[0], figures[2]);
}

/// What no field is named for is told once, for all uses of a table together.
#[test]
fn columns_that_nobody_reads_are_told() {
    let folder = folder();
    let ignored = |lists| {
        let ignored = scenario(folder.path(), lists).ignored_columns.into_iter();
        let name = |path: String| path.rsplit('/').next().unwrap_or_default().to_owned();
        ignored
            .map(|(table, heading)| (name(table), heading))
            .collect::<Vec<_>>()
    };
    let told = |table: &str, heading: &str| (table.to_owned(), heading.to_owned());
    assert_eq!(
        ignored(IN_BOOK),
        [told("yard.xlsx, sheet \"Orders\"", "Remarks")]
    );
    assert_eq!(ignored(IN_FILES), [told("trucks.csv", "Color")]);
    let one_file = [
        r#"Table(file: "roster.csv", columns: {"Truck": "name", "Home": "home"})"#,
        r#"Table("roster.csv")"#,
        WRITTEN[2],
        WRITTEN[3],
    ];
    let both = "Truck,Home,Report,Driver,Shoe size\nN1,North,6:00,A,44\nQ1,Quay,6:00,B,43\n";
    fs::write(folder.path().join("roster.csv"), both).expect("a file");
    assert_eq!(ignored(one_file), [told("roster.csv", "Shoe size")]);
}

/// All at once, each at its file, line and column, and in its cell.
#[test]
fn problems_are_told_at_their_cells() {
    let folder = folder();
    let orders = "Order,Site,First load,Yd3\nA,Towr,7:00,60\nB,Lock,25:00,ten\n";
    fs::write(folder.path().join("orders.csv"), orders).expect("a file");
    let trucks = "Truck,Plant\nN1,North\nN1,Quay\n";
    fs::write(folder.path().join("trucks.csv"), trucks).expect("a file");
    let lists = [
        IN_FILES[0],
        WRITTEN[1],
        WRITTEN[2],
        r#"Table("orders.csv")"#,
    ];
    let told = problems(folder.path(), &day(lists));
    for expected in [
        "orders.csv:2:3: there is no site \"Towr\"",
        "orders.csv:3:8: \"25:00\" is not such a time",
        "orders.csv:3:14: expected a number, found \"ten\"",
        "trucks.csv:3:1: the truck or group \"N1\" exists already",
    ] {
        assert!(told.contains(expected), "{expected} in {told}");
    }
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder.path())
        .args(["check", "day.ron"])
        .output()
        .expect("the program runs");
    let screen = String::from_utf8_lossy(&output.stderr);
    assert!(
        screen.contains("help: row 3, column \"First load\""),
        "{screen}"
    );
    assert!(screen.contains("B,Lock,25:00,ten"), "{screen}");
}

#[test]
fn problems_of_a_sheet_name_its_cells() {
    let folder = folder();
    let text = day(IN_BOOK).replace("(name: \"Lock\")", "(name: \"Lok\")");
    let told = problems(folder.path(), &text);
    assert!(told.contains("yard.xlsx, sheet \"Orders\":4:"), "{told}");
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder.path())
        .args(["check", "day.ron"])
        .output()
        .expect("the program runs");
    let screen = String::from_utf8_lossy(&output.stderr);
    assert!(
        screen.contains("help: cell C4, column \"Site\""),
        "{screen}"
    );
}

#[test]
fn tables_that_cannot_be_read_are_told() {
    let folder = folder();
    fs::write(folder.path().join("empty.csv"), "\n\n").expect("a file");
    fs::write(folder.path().join("open.csv"), "Truck,Plant\n\"N1,North\n").expect("a file");
    fs::write(folder.path().join("broken.xlsx"), b"PK\x03\x04 no book").expect("a file");
    for (table, told) in [
        (r#"Table("truks.csv")"#, "cannot read truks.csv"),
        (r#"Table("empty.csv")"#, "the table is empty"),
        (
            r#"Table("open.csv")"#,
            "a quote is opened in the file and never closed",
        ),
        (
            r#"Table("broken.xlsx")"#,
            "broken.xlsx cannot be read as a workbook",
        ),
        (
            r#"Table("yard.xlsx", "Truks")"#,
            "no sheet \"Truks\"; did you mean \"Trucks\"?",
        ),
        (
            r#"Table("yard.xlsx", "Stray")"#,
            "row 1048576, column 16384",
        ),
        (
            r#"Table("trucks.csv", "Trucks")"#,
            "the file is no .xlsx workbook",
        ),
        ("Table(7)", "a table that is not asked for like this"),
    ] {
        let lists = [table, WRITTEN[1], WRITTEN[2], WRITTEN[3]];
        let problem = problems(folder.path(), &day(lists));
        assert!(problem.contains(told), "{told} in {problem}");
        assert!(!problem.contains("expected a list"), "{problem}");
    }
}
