//! Tables as other programs and people make them, each read right or refused with its place. The workbooks were written by openpyxl
//! 3.1 (odd.xlsx) and XlsxWriter 3.2 (epoch1904.xlsx; cached.xlsx, with values of formulas), two general-purpose libraries; what
//! spreadsheet programs do to dates: ECMA-376 part 1, 18.17.4 (serial dates, both epochs). The rest is common practice, no source.

use plantday::scenario::{Scenario, read};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const BOOKS: [(&str, &[u8]); 3] = [
    ("odd.xlsx", include_bytes!("../data/tables/odd.xlsx")),
    (
        "epoch1904.xlsx",
        include_bytes!("../data/tables/epoch1904.xlsx"),
    ),
    ("cached.xlsx", include_bytes!("../data/tables/cached.xlsx")),
];

fn folder() -> TempDir {
    let folder = TempDir::new().expect("a folder");
    for (name, bytes) in BOOKS {
        fs::write(folder.path().join(name), bytes).expect("a file");
    }
    folder
}

/// Two days that begin on a date, with the orders of a table.
fn orders(folder: &Path, table: &str) -> Result<Scenario, String> {
    let text = format!(
        r#"(
    name: "two days", period: (first_day: "2026-06-08", days: 2),
    plants: [(name: "North")], sites: [(name: "Tower"), (name: "Lock")],
    roads: (minutes: {{ "North": {{ "Tower": 18, "Lock": 30 }} }}),
    trucks: [(name: "N1", home: "North")], drivers: [(name: "D", trucks: "N1", report: "06:00")],
    orders: {table}, rules: [(name: "As today")],
)"#
    );
    let path = folder.join("day.ron");
    fs::write(&path, text).expect("a file");
    let read = read(&path);
    read.map_err(|error| {
        error
            .to_string()
            .replace(&format!("{}/", folder.display()), "")
    })
}

/// `name day time yd³ site`, an order a line.
fn told(scenario: &Scenario) -> String {
    let lines = scenario.orders.iter().map(|order| {
        let minutes = order.first.minutes() as i64;
        let (day, minutes) = (minutes / 1_440 + 1, minutes % 1_440);
        let site = &scenario.sites[order.stay.site.0 as usize - 1].name;
        format!(
            "{} {day} {:02}:{:02} {} {site}\n",
            order.name,
            minutes / 60,
            minutes % 60,
            order.volume.yd3()
        )
    });
    lines.collect()
}

const BOTH: &str = "Deck 1 07:00 60 Tower\nFooting 2 14:15 24.5 Lock\n";

#[test]
fn workbooks_of_other_programs() {
    let folder = folder();
    for (table, expected) in [
        // A merged title, a printed line, a blank row and a row of sums around the list; real dates and times.
        ("Table(\"odd.xlsx\", \"Title\")", BOTH),
        // The first sheet is hidden.
        ("Table(\"odd.xlsx\")", BOTH),
        // The same serial numbers are other dates where days are counted from 1904.
        ("Table(\"epoch1904.xlsx\")", BOTH),
        // A serial number without a format, a text, a time, a time with its date, a length of time.
        (
            "Table(\"odd.xlsx\", \"Times\")",
            "serial 1 07:30 10 Tower\ntext 1 07:30 10 Tower\ntime 1 07:30 10 Tower\nboth 2 07:30 10 Lock\ninterval 1 07:30 10 Lock\n",
        ),
        // A date merged over two rows is that of both.
        (
            "Table(\"odd.xlsx\", \"Merged\")",
            "Deck 2 07:00 60 Tower\nWall 2 08:00 12 Lock\nSlab 1 09:00 9 Lock\n",
        ),
        // The first of three columns with one heading.
        ("Table(\"odd.xlsx\", \"Twice\")", "Deck 1 07:00 60 Tower\n"),
        // Not in the corner, headings with blanks, names that look like a choice and like a number.
        (
            "Table(\"odd.xlsx\", \"Spread\")",
            "Deck (east) 1 07:00 60 Tower\n4000 1 08:00 12 Lock\n",
        ),
        (
            "Table(\"odd.xlsx\", \"Flags\")",
            "Deck 1 07:00 60 Tower\nWall 1 07:00 60 Lock\n",
        ),
    ] {
        let found = orders(folder.path(), table).unwrap_or_else(|error| panic!("{table}: {error}"));
        assert_eq!(told(&found), expected, "{table}");
    }
    let title = orders(folder.path(), "Table(\"odd.xlsx\", \"Title\")").expect("it is read");
    let notes = title.table_notes.join("\n");
    assert!(
        notes.contains("row 8, \"Total\", is a row of sums and not read"),
        "{notes}"
    );
    let twice = orders(folder.path(), "Table(\"odd.xlsx\", \"Twice\")").expect("it is read");
    assert_eq!(
        twice.ignored_columns.len(),
        1,
        "{:?}",
        twice.ignored_columns
    );
    let flags = orders(folder.path(), "Table(\"odd.xlsx\", \"Flags\")").expect("it is read");
    let flags: Vec<_> = flags
        .orders
        .iter()
        .map(|order| (order.pump, order.outdoor, order.chance))
        .collect();
    assert_eq!(flags, [(true, false, 0.85), (true, true, 0.85)]);
}

#[test]
fn workbooks_that_are_refused_say_where() {
    let folder = folder();
    for (table, expected) in [
        (
            "Table(\"odd.xlsx\", \"Unsaved\")",
            "sheet \"Unsaved\":2:24: expected a number, found a formula whose value is not stored",
        ),
        (
            "Table(\"odd.xlsx\", \"Errors\")",
            "found a formula that has no value",
        ),
        (
            "Table(\"odd.xlsx\", \"Blank\")",
            "day.ron:6:19: the table is empty",
        ),
        (
            "Table(\"cached.xlsx\")",
            "found a formula that has no value",
        ),
    ] {
        let problem = orders(folder.path(), table).expect_err("it is refused");
        assert!(problem.contains(expected), "{expected} in {problem}");
        assert!(!problem.contains("Deck"), "{problem}");
    }
}

/// Text of any encoding, any separator, any line end; what a list has around it.
#[test]
fn text_files_of_other_programs() {
    let folder = folder();
    let utf16 = |text: &str, little: bool| -> Vec<u8> {
        let units = "\u{feff}".encode_utf16().chain(text.encode_utf16());
        let bytes = units.flat_map(|unit| match little {
            true => unit.to_le_bytes(),
            false => unit.to_be_bytes(),
        });
        bytes.collect()
    };
    let plain = "Order,Site,Date,First load,Yd3,Spacing\nDeck,Tower,6/8/2026,7:00,60,15\nFooting,Lock,6/9/2026,14:15,24.5,20\n";
    let swap = |from: &str, to: &str| plain.replace(from, to);
    let semicolons = "Order;Site;Date;First load;Yd3;Spacing\nDeck;Tower;8.6.2026;7:00;60,0;15\nFooting;Lock;9.6.2026;14:15;24,5;20\n";
    for (what, bytes) in [
        ("plain", plain.as_bytes().to_vec()),
        ("byte order mark", format!("\u{feff}{plain}").into_bytes()),
        (
            "UTF-16, little end first, tabs",
            utf16(&swap(",", "\t"), true),
        ),
        ("UTF-16, big end first", utf16(plain, false)),
        ("Windows line ends", swap("\n", "\r\n").into_bytes()),
        ("carriage returns", swap("\n", "\r").into_bytes()),
        ("decimal commas", semicolons.as_bytes().to_vec()),
        (
            "separator told",
            format!("sep=;\r\n{semicolons}").into_bytes(),
        ),
        (
            "title, printed line, sums",
            format!("\"Tuesday, early\",,,,,\nprinted,6/7,,,,\n\n{plain},,,,,\nTotals:,,,,84.5,\n")
                .into_bytes(),
        ),
        (
            "quotes with a line end",
            swap("Order,Site", "\"Order\",\"Site\"")
                .replace("First load", "\"First\nload\"")
                .into_bytes(),
        ),
        (
            "AM and PM",
            swap("7:00", "7 a.m.")
                .replace("14:15", "2:15PM")
                .into_bytes(),
        ),
        (
            "numbers as texts",
            swap("60,15", "=\"60\",=\"15\"").into_bytes(),
        ),
        (
            "month in front of the year",
            swap("6/8/2026", "2026-06-08").into_bytes(),
        ),
        (
            "dates with the times",
            swap("Date,First load", "First load")
                .replace("2026,", "2026 ")
                .into_bytes(),
        ),
        ("thousands", swap(",60,", ",\"60.0\",").into_bytes()),
        (
            "blank rows and columns",
            swap("\nDeck", ",,,\n,,,,,,,,\n\nDeck").into_bytes(),
        ),
    ] {
        fs::write(folder.path().join("orders.csv"), bytes).expect("a file");
        let found = orders(folder.path(), "Table(\"orders.csv\")");
        let found = found.unwrap_or_else(|error| panic!("{what}: {error}"));
        assert_eq!(told(&found), BOTH, "{what}");
    }
    let accents = b"Order;Site;Date;First load;Yd3;Spacing\nCaf\xe9;Tower;8.6.2026;7:00;60;15\n";
    fs::write(folder.path().join("orders.csv"), accents).expect("a file");
    let found = orders(folder.path(), "Table(\"orders.csv\")").expect("it is read");
    assert_eq!(found.orders[0].name, "Café");
    assert!(
        found.table_notes[0].contains("read as Windows-1252"),
        "{:?}",
        found.table_notes
    );
}

#[test]
fn text_files_that_are_refused_say_where() {
    let folder = folder();
    let head = "Order,Site,Date,First load,Yd3,Spacing\n";
    for (rows, expected) in [
        (
            "Deck,Tower,6/8/2026,7:00,60,15\nWall,Tower,,8:00,60,15\n",
            "orders.csv:3:1: this row has no date, and others have one",
        ),
        (
            "Deck,Tower,6/18/2026,7:00,60,15\n",
            "orders.csv:2:12: 2026-06-18 is not in the period",
        ),
        (
            "Deck,Tower,6/8/2026,19:65,60,15\n",
            "orders.csv:2:21: \"19:65\" is not such a time",
        ),
        (
            "Deck,Tower,6/8/2026,6/9/2026 7:00,60,15\n",
            "orders.csv:2:21: \"6/9/2026 7:00\" is not such a time",
        ),
        (
            "Deck,Tower,6/8/2026,7:00,60 yd,15\n",
            "orders.csv:2:26: expected a number, found \"60 yd\"",
        ),
        (
            "Deck,Tower,6/8/2026,7:00,#N/A,15\n",
            "orders.csv:2:26: expected a number, found a formula that has no value",
        ),
        ("", "there are no orders"),
        (
            ",Tower,6/8/2026,7:00,60,15\n",
            "`name` is missing in an order",
        ),
    ] {
        fs::write(folder.path().join("orders.csv"), format!("{head}{rows}")).expect("a file");
        let problem = orders(folder.path(), "Table(\"orders.csv\")").expect_err("it is refused");
        assert!(problem.contains(expected), "{expected} in {problem}");
    }
    for (bytes, expected) in [
        (
            &b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"[..],
            "a workbook of an old kind: save it as .xlsx",
        ),
        (b"O\0r\0d\0e\0r\0", "is no text"),
        (
            b"PK\x03\x04mimetypeapplication/vnd.oasis",
            "cannot be read as a workbook (.xlsx)",
        ),
        (b"", "the table is empty"),
    ] {
        fs::write(folder.path().join("orders.csv"), bytes).expect("a file");
        let problem = orders(folder.path(), "Table(\"orders.csv\")").expect_err("it is refused");
        assert!(problem.contains(expected), "{expected} in {problem}");
    }
}
