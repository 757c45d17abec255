//! One table, one number: what the writers make of it.

use super::{Answer, Block, Cell, Column, Content, Form, Narrow, Table};
use crate::report::number::Unit;
use crate::statistics::Interval;
use calamine::{Data, Reader, Xlsx};
use std::io::Cursor;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

fn pour() -> Answer {
    let mut answer = Answer::bare("pour", "A day", "Take six.", "plantday pour");
    let mut sizes = Table::new(
        "sizes",
        vec![
            Column::new("trucks").left().key("trucks"),
            Column::new("chance of a gap").with_ends("gap_chance"),
            Column::new("cost per yd³")
                .without_interval()
                .with_ends("cost"),
            Column::file("replications"),
        ],
    );
    let estimate = |value, low, high, unit, decimals| Cell::Estimate {
        value: Some(value),
        interval: Interval { low, high },
        at_least: None,
        form: Form::new(unit, decimals),
    };
    sizes.row([
        Cell::count(6),
        estimate(0.038, 0.012, 0.062, Unit::Share, 1),
        estimate(-12.25, -14.5, -10.0, Unit::Money, 2),
        400.0.into(),
    ]);
    sizes
        .row([Cell::count(7), Cell::none(), Cell::unknown(), 200.0.into()])
        .screen(false);
    answer.show("Fleet sizes", sizes);
    answer.say("Six do.");
    answer
}

/// The digits that people read are those of the number in the files.
#[test]
fn a_number_is_the_same_wherever_it_is_shown() {
    let answer = pour();
    let screen = anstream::adapter::strip_str(&answer.terminal(100)).to_string();
    assert!(screen.contains("3.8% (1.2 to 6.2%)"), "{screen}");
    assert!(
        screen.contains(" −$12.25\n") && !screen.contains("14.50"),
        "{screen}"
    );
    assert!(!screen.contains("none"), "{screen}");
    let page = answer.page_html();
    for shown in [
        "3.8%",
        "(1.2 to 6.2%)",
        "−$12.25",
        "−$14.50",
        "−$10.00",
        "none",
        "Six do.",
    ] {
        assert!(page.contains(shown), "{shown} in {page}");
    }
    assert_eq!(
        answer.csv("sizes"),
        "trucks,gap_chance,gap_chance_low,gap_chance_high,cost,cost_low,cost_high,replications\n\
         6,0.038,0.012,0.062,-12.25,-14.5,-10,400\n7,0,,,,,,200\n"
    );
    let json = answer.json();
    assert_eq!(json["tables"]["sizes"][0]["gap_chance_high"], 0.062);
    assert!(json["tables"]["sizes"][1]["cost"].is_null());
    assert_eq!(json["sentences"], serde_json::json!(["Six do."]));
    let names: Vec<String> = answer.files().into_iter().map(|(name, _)| name).collect();
    assert_eq!(names, ["sizes.csv", "pour.json", "report.html"]);
}

#[test]
#[should_panic(expected = "the numbers of the chart curve are in no file")]
fn a_chart_without_its_numbers_is_refused() {
    let mut answer = pour();
    answer
        .tables
        .push(Table::new("looked-at", vec![Column::new("trucks")]));
    answer.add_chart(
        "curve",
        "Trucks and gaps",
        "Six do",
        "<svg/>".into(),
        "looked-at",
    );
    let _ = answer.files();
}

/// Of seven rules three stay whole on 70 columns beside the name of the figure: those that come first.
#[test]
fn a_narrow_screen_says_what_it_leaves_out() {
    let mut answer = Answer::bare("rules", "A day", "Run 3.", "plantday rules");
    let mut columns = vec![Column::new("average a day").left()];
    columns.extend((1..=7).map(|rule| Column::new(format!("rule {rule}"))));
    let mut table = Table::new("means", columns);
    table.row(std::iter::once("cost".into()).chain((1..=7).map(Cell::count)));
    table.narrow = Some(Narrow {
        keep: vec![7, 3, 1, 2, 4, 5, 6],
        always: 2,
        left_out: "{shown} of 7 rules.".into(),
    });
    answer.screen.push(Block::Table(table.name));
    answer.tables.push(table);
    let screen = anstream::adapter::strip_str(&answer.terminal(70)).to_string();
    assert!(screen.contains("\n3 of 7 rules.\n"), "{screen}");
    for (rule, kept) in [(1, true), (2, false), (3, true), (4, false), (7, true)] {
        assert_eq!(screen.contains(&format!("rule {rule}")), kept, "{screen}");
    }
    assert!(!answer.terminal(160).contains("of 7 rules"));
}

/// The rows of a sheet of the answer's workbook; none if there is no such sheet.
fn sheet(answer: &Answer, name: &str) -> Option<Vec<Vec<Data>>> {
    let mut book = Xlsx::new(Cursor::new(answer.workbook())).expect("a workbook");
    let sheet = book.worksheet_range(name).ok()?;
    Some(sheet.rows().map(<[Data]>::to_vec).collect())
}

/// Ends of intervals stand beside their numbers, "none" is a number that reads as a word, and what is not known is blank.
#[test]
fn a_sheet_has_numbers_and_ends_of_intervals() {
    let rows = sheet(&pour(), "Sizes").expect("the sheet of the table");
    let text = |text: &str| Data::String(text.into());
    let (number, blank) = (Data::Float, Data::Empty);
    let headings = [
        "trucks",
        "chance of a gap",
        "chance of a gap: low",
        "chance of a gap: high",
        "cost per yd³",
        "cost per yd³: low",
        "cost per yd³: high",
        "replications",
    ];
    assert_eq!(rows[0], headings.map(text));
    let six = [6.0, 0.038, 0.012, 0.062, -12.25, -14.5, -10.0, 400.0];
    assert_eq!(rows[1], six.map(number));
    let none = || blank.clone();
    let seven = [
        number(7.0),
        number(0.0),
        none(),
        none(),
        none(),
        none(),
        none(),
        number(200.0),
    ];
    assert_eq!(rows[2], seven);
    assert_eq!(rows.len(), 3);
}

/// What is told in words in every row of a column stays text, with its number in a column of its own.
#[test]
fn times_of_day_are_read_and_sorted() {
    let mut answer = Answer::bare("pour", "A day", "Take six.", "plantday pour");
    let columns = vec![
        Column::new("truck").left(),
        Column::new("home").key("home_min"),
    ];
    let mut table = Table::new("home", columns);
    table.row(["N1".into(), Cell::worded("Wed 15:40", Some(940.0))]);
    table.row(["N2".into(), Cell::unknown()]);
    answer.show("When trucks are home", table);
    let rows = sheet(&answer, "Home").expect("the sheet of the table");
    let text = |text: &str| Data::String(text.into());
    assert_eq!(rows[0], ["truck", "home", "home min"].map(text));
    assert_eq!(rows[1], [text("N1"), text("Wed 15:40"), Data::Float(940.0)]);
    assert_eq!(rows[2], [text("N2"), Data::Empty, Data::Empty]);
}

/// More cells than a workbook should have stay in their file, and the first sheet says so.
#[test]
fn too_many_figures_stay_in_their_file() {
    let mut answer = pour();
    let figures = |rows| format!("rule,cost\n{}", "'=a,12.5\n".repeat(rows)).into_bytes();
    answer
        .beside
        .push(("figures.csv".into(), figures(99_999).into()));
    let rows = sheet(&answer, "Figures").expect("200,000 cells are not too many");
    assert_eq!(rows[99_999], [Data::String("=a".into()), Data::Float(12.5)]);
    answer.beside[0].1 = figures(100_000).into();
    assert_eq!(sheet(&answer, "Figures"), None);
    let said = sheet(&answer, "Answer").expect("the first sheet");
    let told = |row: &Vec<Data>| row[1].to_string().starts_with("figures.csv has more cells");
    assert_eq!(said.iter().filter(|row| told(row)).count(), 1);
}

/// What may be large is made once, when its file is written: an answer is told before, and no two such files are in memory together.
#[test]
fn what_is_large_is_made_when_it_is_written() {
    let made = Arc::new(AtomicUsize::new(0));
    let count = Arc::clone(&made);
    let mut answer = pour();
    let page = Content::page(move || {
        count.fetch_add(1, Ordering::Relaxed);
        "<p>the day</p>".to_owned()
    });
    answer.beside.push(("day.html".into(), page));
    answer.terminal(80);
    answer.workbook();
    let files = answer.files();
    assert_eq!(made.load(Ordering::Relaxed), 0);
    drop(files);

    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("out");
    answer.write(&path, true).expect("it can be written");
    assert_eq!(made.load(Ordering::Relaxed), 1);
    let written = std::fs::read(path.join("day.html")).expect("it is there");
    assert_eq!(written, b"<p>the day</p>");
    let json = std::fs::read_to_string(path.join("pour.json")).expect("it is there");
    assert_eq!(json, format!("{:#}\n", answer.json()));
}
