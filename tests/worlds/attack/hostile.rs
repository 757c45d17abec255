//! What is small on disk and enormous in memory, and what is valid but for its size: each is refused by a limit that `plantday help limits`
//! states, before the memory is taken, beside a twin within the limit that is taken.

use super::workbooks::packed;
use super::{BYTES_A_BYTE, BYTES_BESIDES, in_folder, wrongly_refused};
use allocation_counter::measure;
use plantday::report::guide;
use plantday::scenario::duty_log::{self, Known};
use plantday::scenario::past_tickets::{self, PastTickets};
use plantday::scenario::problem::Faults;
use plantday::scenario::{Scenario, parse, read};
use tempfile::TempDir;

/// What any of these may take at once.
const MOST: u64 = 900 << 20;

/// A workbook of one sheet with these rows, shared texts, and what follows the rows.
fn workbook(rows: &str, strings: &str, behind: &str) -> Vec<u8> {
    let parts = [
        (
            "[Content_Types].xml",
            r#"<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/></Types>"#.to_owned(),
        ),
        (
            "_rels/.rels",
            r#"<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>"#.to_owned(),
        ),
        (
            "xl/workbook.xml",
            r#"<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="June" sheetId="1" r:id="rId1"/></sheets></workbook>"#.to_owned(),
        ),
        (
            "xl/_rels/workbook.xml.rels",
            r#"<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/></Relationships>"#.to_owned(),
        ),
        ("xl/sharedStrings.xml", format!(r#"<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" {strings}</sst>"#)),
        (
            "xl/worksheets/sheet1.xml",
            format!(r#"<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>{HEADINGS}{rows}</sheetData>{behind}</worksheet>"#),
        ),
    ];
    packed(
        &parts
            .into_iter()
            .map(|(name, text)| (name.to_owned(), text.into_bytes()))
            .collect(),
    )
}

const HEADINGS: &str = r#"<row r="1"><c r="A1" t="inlineStr"><is><t>Order</t></is></c><c r="B1" t="inlineStr"><is><t>Left plant</t></is></c><c r="C1" t="inlineStr"><is><t>On site</t></is></c></row>"#;

/// A ticket in a row.
fn ticket(row: usize, more: &str) -> String {
    format!(
        r#"<row r="{row}"><c r="A{row}" t="inlineStr"><is><t>Deck</t></is></c><c r="B{row}" t="inlineStr"><is><t>06:12</t></is></c><c r="C{row}" t="inlineStr"><is><t>06:30</t></is></c>{more}</row>"#
    )
}

/// Reads a file as tickets within the bounds of memory.
fn tickets(file: &str, bytes: Vec<u8>) -> Result<PastTickets, Box<Faults>> {
    let size = bytes.len();
    let mut found = None;
    let took = measure(|| found = Some(past_tickets::parse(file, bytes, None))).bytes_max;
    assert!(took < MOST, "{size} bytes take {took}");
    found.expect("it has been read")
}

/// Refused with these words.
fn refused<T: std::fmt::Debug>(read: Result<T, Box<Faults>>, words: &str) {
    let faults = read.expect_err(words);
    assert_eq!(wrongly_refused(&faults), None);
    let said = faults.to_string();
    assert!(said.contains(words), "{words:?} is not in {said}");
}

#[test]
fn workbooks_that_are_larger_than_they_look() {
    let few = r#"uniqueCount="1"><si><t>Deck</t></si>"#;
    let good = |rows: &str, strings: &str, behind: &str| {
        let found = tickets("june.xlsx", workbook(rows, strings, behind));
        found
            .unwrap_or_else(|faults| panic!("{faults}"))
            .tickets
            .len()
    };
    assert_eq!(good(&ticket(2, ""), few, ""), 1);

    // A text of a megabyte that stands in a hundred cells, and in ten.
    let long = format!(
        r#"uniqueCount="1"><si><t>{}</t></si>"#,
        "Quay".repeat(1 << 18)
    );
    let rows = |count: usize| -> String {
        (2..2 + count)
            .map(|row| ticket(row, &format!(r#"<c r="D{row}" t="s"><v>0</v></c>"#)))
            .collect()
    };
    assert_eq!(good(&rows(10), &long, ""), 10);
    refused(
        tickets("june.xlsx", workbook(&rows(100), &long, "")),
        "more than 64 MiB of text",
    );

    // A list of texts that says of itself that it is endless.
    for count in [
        "4611686018427387904",
        "999999999999",
        "99999999999999999999999",
    ] {
        let strings = format!(r#"count="1" uniqueCount="{count}"><si><t>Deck</t></si>"#);
        refused(
            tickets("june.xlsx", workbook(&ticket(2, ""), &strings, "")),
            "announces more texts",
        );
    }

    // The last cell of all.
    let last = r#"<c r="XFD1048576"><v>1</v></c>"#;
    refused(
        tickets("june.xlsx", workbook(&ticket(2, last), few, "")),
        "row 1048576, column 16384",
    );

    // A few rows that reach to the last column, and very many.
    let wide = |count: usize| -> String {
        (2..2 + count)
            .map(|row| ticket(row, &format!(r#"<c r="SF{row}"><v>1</v></c>"#)))
            .collect()
    };
    assert_eq!(good(&wide(10), few, ""), 10);
    refused(
        tickets("june.xlsx", workbook(&wide(9_000), few, "")),
        "more than 4000000 cells",
    );

    // A cell that is merged over all rows, once for each of many cells.
    let merged = |count: usize| -> String {
        let areas: String = (2..2 + count)
            .map(|row| format!(r#"<mergeCell ref="A{row}:A1048576"/>"#))
            .collect();
        format!("<mergeCells>{areas}</mergeCells>")
    };
    let short = |count: usize| -> String { (2..2 + count).map(|row| ticket(row, "")).collect() };
    refused(
        tickets("june.xlsx", workbook(&short(500), few, &merged(500))),
        "more than 4000000 cells",
    );

    // A formula that says that four thousand million others stand before it.
    let shared = r#"<c r="D2"><f t="shared" si="4000000000" ref="D2:D9">A1</f><v>1</v></c>"#;
    assert_eq!(good(&ticket(2, shared), few, ""), 1);
}

#[test]
fn tables_in_text_that_are_larger_than_they_look() {
    let head = "Order,Left plant,On site";
    let good = |text: String| {
        let found = tickets("june.csv", text.into_bytes());
        found
            .unwrap_or_else(|faults| panic!("{faults}"))
            .tickets
            .len()
    };
    let row = "Deck,06:12,06:30";
    assert_eq!(good(format!("{head}\n{row}\n")), 1);
    // Blank cells at the end of a row are none.
    assert_eq!(good(format!("{head}\n{row}{}\n", ",".repeat(1_000_000))), 1);
    let refused_text =
        |text: String, words: &str| refused(tickets("june.csv", text.into_bytes()), words);
    refused_text(
        format!("{head}\n{row}{}x\n", ",".repeat(1_000_000)),
        "column 1000003 of a row",
    );
    refused_text(
        format!("{head}\n{}", "\n".repeat(1_000_001)),
        "more than 1000000 rows",
    );
    refused_text(
        format!(
            "{head}\n{}",
            format!("{row}{}x\n", ",".repeat(450)).repeat(9_000)
        ),
        "4000000 cells",
    );
    refused_text(
        format!(
            "{head},{}\n{}",
            "x".repeat(1_000_000),
            format!("{row},1\n").repeat(1_000)
        ),
        "more than 300 characters",
    );
}

/// A log with more columns than anybody has.
#[test]
fn logs_with_columns_without_an_end() {
    let log = "driver,status,start,end,exception\nHeron,on,2026-03-02T05:00,2026-03-02T06:00,\n";
    let read = |log: &str| duty_log::parse("log.csv", log, &Known::default());
    assert_eq!(read(log).expect("it is good").drivers.len(), 1);
    let columns = log.replace("exception", &"a,".repeat(1_000_000));
    refused(read(&columns), "1000005 columns");
}

const DAY: &str = r#"(
    name: "large", period: (days: DAYS),
    plants: [(name: "North")], sites: [(name: "Tower")], roads: (minutes: { "North": { "Tower": 18 } }),
    trucks: [(name: "N", count: TRUCKS, home: "North")], drivers: [(name: "D", trucks: "N", report: "06:00")],
    ORDERS
    rules: [(name: "As today")],
)"#;

fn scenario(days: u64, trucks: u64, orders: &str) -> Result<Scenario, Box<Faults>> {
    let text = DAY
        .replace("DAYS", &days.to_string())
        .replace("TRUCKS", &trucks.to_string())
        .replace("ORDERS", orders);
    let mut found = None;
    let took = measure(|| found = Some(parse("day.ron", &text))).bytes_max;
    assert!(took < MOST, "{} bytes take {took}", text.len());
    found.expect("it has been read")
}

/// Of so many orders each has so many loads of half a yard.
fn orders(count: usize, loads: f64) -> String {
    let order = |number: usize| {
        let volume = loads / 2.0;
        format!(
            "(name: \"O{number}\", site: \"Tower\", first: \"07:00\", volume_yd3: {volume}, load_yd3: 0.5, spacing_min: 1), "
        )
    };
    let orders: String = (0..count).map(order).collect();
    format!("orders: [{orders}],")
}

#[test]
fn scenarios_that_are_enormous_by_their_numbers_alone() {
    let few = orders(1, 10.0);
    let good =
        |read: Result<Scenario, Box<Faults>>| read.unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(good(scenario(28, 5_000, &few)).trucks.len(), 5_000);
    refused(scenario(1_000_000, 10, &few), "1000000 is out of range");
    refused(
        scenario(1, 1_000_000_000, &few),
        "1000000000 is out of range",
    );
    refused(scenario(1, 5_001, &few), "5001 is out of range");

    assert_eq!(good(scenario(1, 10, &orders(25, 40_000.0))).loads(), 1e6);
    refused(
        scenario(1, 10, &orders(26, 40_000.0)),
        "about 1040000 loads are asked for",
    );

    let drawn = |lists: usize| {
        let list = |number: usize| {
            format!(
                "(name: \"L{number}\", per_day: 3, at_most: 500, first: (\"07:00\", \"09:00\"), volume_yd3: 10, spacing_min: 10, site: \"Tower\"), "
            )
        };
        let lists: String = (0..lists).map(list).collect();
        format!("drawn: [{lists}],")
    };
    assert_eq!(good(scenario(28, 10, &drawn(7))).orders.len(), 98_000);
    refused(scenario(28, 10, &drawn(8)), "112000 orders can be drawn");
}

/// Rows of one letter: of each a ticket is kept that tells next to nothing.
#[test]
fn very_many_rows_that_hold_next_to_nothing() {
    let text = format!(
        "Order,Left plant,On site\nDeck,06:12,06:30\n{}",
        "D\n".repeat(100_000)
    );
    let bound = BYTES_BESIDES + BYTES_A_BYTE * text.len() as u64;
    let mut found = None;
    let took = measure(|| found = Some(past_tickets::parse("june.csv", text.into(), None)));
    let tickets = found.expect("it has been read").expect("it is good");
    assert_eq!(tickets.tickets.len(), 100_001);
    assert!(took.bytes_max < bound, "{} of {bound}", took.bytes_max);
}

/// A list of lists without end, and values that are many rather than deep.
#[test]
fn texts_with_more_values_than_memory_has_room_for() {
    refused(
        parse("day.ron", &format!("(name: [{}])", "1,".repeat(4_000_001))),
        "more than 4000000 values",
    );
    refused(parse("day.ron", &"[".repeat(100_000)), "too deeply");
    refused(parse("day.ron", &"(a:".repeat(100_000)), "too deeply");
}

/// Every limit that is told here stands where users look for it.
#[test]
fn the_limits_are_told() {
    let topic = guide::TOPICS.iter().find(|topic| topic.name == "limits");
    let told = topic.expect("there is such a topic").terminal(1_000);
    for words in [
        "500 columns",
        "4,000,000 cells",
        "1,000,000 rows",
        "200,000 rows",
        "64 MiB of text",
        "300 characters",
        "4,000,000 values",
        "100,000 that can be drawn",
        "about 1,000,000 loads",
        "5,000 trucks",
        "1 to 28 days",
        "no longer list of texts",
    ] {
        assert!(told.contains(words), "{words:?} is not in {told}");
    }
}

/// A workbook that is a scenario, with more settings than fields.
#[test]
fn settings_without_an_end() {
    let folder = TempDir::new().expect("a folder");
    let cell =
        |at: &str, text: &str| format!(r#"<c r="{at}" t="inlineStr"><is><t>{text}</t></is></c>"#);
    let row = |row: usize| {
        format!(
            r#"<row r="{row}">{}{}</row>"#,
            cell(&format!("A{row}"), &format!("a{row}.b")),
            cell(&format!("B{row}"), "1")
        )
    };
    let book = |count: usize| {
        let rows: String = (2..2 + count).map(row).collect();
        let bytes = workbook(&rows, r#"uniqueCount="0">"#, "");
        // The sheet of tickets as one of settings.
        let mut parts = super::workbooks::unpacked(&bytes);
        for (name, bytes) in &mut parts {
            let text = String::from_utf8(bytes.clone()).expect("it is text");
            if name == "xl/workbook.xml" {
                *bytes = text.replace("\"June\"", "\"Settings\"").into_bytes();
            }
        }
        in_folder(folder.path(), "book.xlsx", &packed(&parts))
    };
    let said = |count: usize| {
        read(&book(count))
            .expect_err("there are no plants")
            .to_string()
    };
    assert!(said(10).contains("unknown field `a2`"), "{}", said(10));
    assert!(
        said(5_001).contains("more than 5000 settings"),
        "{}",
        said(5_001)
    );
}
