//! The last loads on one sheet, by hand: the slipway yard without luck.

use super::desk::YARD;
use assert_cmd::cargo::cargo_bin_cmd;
use std::fs;
use tempfile::TempDir;

/// Who has been on duty since 01:32, and who since 06:00.
const TWO: &str = r#"(day: 1, at: "13:40", drivers: [
    (name: "D1", doing: Free, at: "Slipway", since: "13:05", reported: "01:32", driven_h: 2, since_break_h: 1, week_h: 20),
    (name: "D2", doing: Free, at: "Slipway", since: "13:05", reported: "06:00", driven_h: 2, since_break_h: 1, week_h: 20),
    (name: "D3", doing: Off), (name: "E", doing: Off)])"#;

/// The page of a yard at a moment.
fn page(yard: &str, state: &str) -> String {
    let folder = TempDir::new().expect("a folder");
    let path = |name: &str| folder.path().join(name);
    fs::write(path("yard.ron"), yard.replace("LUCK", "Constant(1)")).expect("it can be written");
    fs::write(path("now.ron"), state).expect("it can be written");
    let mut command = cargo_bin_cmd!("plantday");
    let asked = ["trip", "yard.ron", "--state", "now.ron", "--last-loads"];
    let command = command.current_dir(&folder).args(asked);
    command.args(["--out", "out"]).assert().success();
    fs::read_to_string(path("out/last-loads.html")).expect("it is there")
}

/// Its rows, each cell as it is read.
pub(crate) fn rows(page: &str) -> Vec<Vec<String>> {
    let table = page.split("<table>").nth(1).expect("a table");
    let table = table.split("</table>").next().expect("its end");
    let cells = |row: &str| {
        let cells = row.split("<t").skip(1);
        let cells = cells.filter(|cell| cell.starts_with(['d', 'h']) && !cell.starts_with("head"));
        cells.map(|cell| plain(&format!("<t{cell}"))).collect()
    };
    table.split("<tr").skip(1).map(cells).collect()
}

/// What is read of a page or a part of it.
pub(crate) fn plain(markup: &str) -> String {
    let markup = markup.split("<main>").last().unwrap_or_default();
    let parts = markup.split('<').map(|part| match part.split_once('>') {
        Some((_, text)) => text,
        None => part,
    });
    let text: String = parts.collect();
    let named = [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&amp;", "&"),
    ];
    let text = named
        .iter()
        .fold(text, |text, (name, of)| text.replace(name, of));
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Loading 6, rack 4, trips 10 / 30 / 75 each way, on site 15. D1's 14 hours end at 15:32: Near 15:32 − 45 = 14:47, 67 min from
/// 13:40, Half 14:07, Far 12:37, too late. D2's end at 20:00: Far 17:05; the others are ended at 17:59 by the plant, which closes at
/// 18:00, 259 min from 13:40.
#[test]
fn a_row_for_each_driver_and_a_column_for_each_site() {
    let page = page(YARD, TWO);
    let heading = [
        "driver",
        "ready",
        "out of hours",
        "last load",
        "min left",
        "Far",
        "Half",
        "Near",
    ];
    let trips = [
        "Slipway",
        "",
        "trip out, min",
        "",
        "",
        "75 far",
        "30 middle",
        "10 near",
    ];
    let d1 = [
        "D1",
        "13:40",
        "15:32 14-hour window",
        "14:47",
        "67",
        "late",
        "14:07",
        "14:47",
    ];
    let d2 = [
        "D2",
        "13:40",
        "20:00 14-hour window",
        "17:59",
        "259",
        "17:05",
        "17:59¹",
        "17:59¹",
    ];
    assert_eq!(rows(&page), [heading, trips, d1, d2]);
    let said = plain(&page);
    for words in [
        "Last loads, 13:40: Slipway yard",
        "98% of runs",
        "late: too late already",
        "¹ plant closes",
        "own log decide",
        "not a permission",
        "Tired drivers stop",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
    assert!(!said.contains('*'), "all is said of both");
}

/// Of 60 min age Half takes 6 + 4 + 30 + 2 + 10 = 52, and Far 97.
#[test]
fn concrete_that_would_be_too_old_is_told_in_a_word() {
    let yard = YARD.replace("age_limit_min: 120", "age_limit_min: 60");
    let rows = rows(&page(&yard, TWO));
    assert_eq!(rows[2][5..], ["late", "14:07", "14:47"]);
    assert_eq!(rows[3][5..], ["old", "17:59¹", "17:59¹"]);
}

/// Who is not in the file, or of whom it says too little, has a mark.
#[test]
fn careful_rows_are_marked() {
    let state = TWO.replace("06:00\", driven_h: 2, since_break_h: 1", "06:00\"");
    let page = page(YARD, &state.replace("(name: \"E\", doing: Off)", ""));
    let drivers: Vec<String> = rows(&page).into_iter().map(|row| row[0].clone()).collect();
    assert_eq!(drivers, ["driver", "Slipway", "D1", "D2 *", "E *"]);
    let said = plain(&page);
    for words in [
        "1 driver is not in the file and follows the roster",
        "hours driven of D2; a break of D2",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
}

#[test]
fn names_are_text() {
    let yard = YARD.replace("\"Near\"", "\"<b>Near</b>\"");
    let page = page(&yard, TWO);
    assert!(page.contains("&lt;b&gt;Near") && !page.contains("<b>Near"));
    assert!(rows(&page)[0].contains(&"<b>Near</b>".to_owned()));
}
