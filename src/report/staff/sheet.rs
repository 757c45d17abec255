//! The call-in sheet.

use crate::report::csv_text::{self, Cell};
use crate::report::number::Unit;
use crate::report::plain_text::one_line;
use crate::report::table::{Align, Table};
use crate::report::wrap::wrap;
use crate::studies::CallSheet;
use crate::units::Millis;
use maud::{Markup, html};
use std::fmt::Write;

/// A time of the sheet's day; what lies before it is `any time`.
fn clock(sheet: &CallSheet, at: Option<Millis>) -> String {
    match at.map(|at| at - Millis::midnight(sheet.day)) {
        Some(at) if at > Millis::ZERO => {
            let up = (at.0 + Millis::MINUTE.0 - 1) / Millis::MINUTE.0;
            (Millis::MINUTE * up).to_string()
        }
        _ => "any time".into(),
    }
}

fn note(sheet: &CallSheet) -> String {
    let late = sheet
        .called
        .iter()
        .any(|call| call.earliest.is_some_and(|earliest| earliest > call.report));
    format!(
        "Called: on this share of the simulated days; report is then the middle one of the times. Earliest legal report: the end of the tour before, in all but one evening in twenty, and the rest after it; check it against \
         the driver's own record.{}",
        if late {
            " Marked \"rest!\": may still be resting then; call somebody else or later."
        } else {
            ""
        }
    )
}

fn rows(sheet: &CallSheet) -> impl Iterator<Item = [String; 6]> + '_ {
    sheet.called.iter().map(|call| {
        let short = call.earliest.is_some_and(|earliest| earliest > call.report);
        [
            call.driver.clone(),
            call.plant.clone(),
            call.truck.clone(),
            clock(sheet, Some(call.report)),
            Unit::Share.show(call.share, 0),
            format!(
                "{}{}",
                clock(sheet, call.earliest),
                if short { " rest!" } else { "" }
            ),
        ]
    })
}

const HEADINGS: [&str; 6] = [
    "driver",
    "plant",
    "truck",
    "report",
    "called",
    "earliest legal report",
];

fn title(sheet: &CallSheet) -> String {
    format!(
        "Call-in sheet, day {}: {} drivers",
        sheet.day + 1,
        sheet.called.len()
    )
}

fn not_called(sheet: &CallSheet) -> Option<String> {
    (!sheet.not_called.is_empty()).then(|| format!("Not called: {}.", sheet.not_called.join(", ")))
}

pub(super) fn text(sheet: &CallSheet, width: u16) -> String {
    let mut text = format!("{}\n", title(sheet));
    let mut table = Table::new(&HEADINGS.map(|heading| (heading, Align::Left)));
    for row in rows(sheet) {
        table.row(row);
    }
    text.push_str(&table.render(width));
    for sentence in not_called(sheet).into_iter().chain([note(sheet)]) {
        for line in wrap("", &one_line(&sentence), usize::from(width)) {
            let _ = writeln!(text, "{line}");
        }
    }
    text
}

pub(super) fn section(sheet: &CallSheet) -> Markup {
    html! {
        h2 { (title(sheet)) }
        div.wide {
            table.words {
                thead { tr { @for heading in HEADINGS { th { (heading) } } } }
                tbody { @for row in rows(sheet) { tr { @for cell in row { td { (cell) } } } } }
            }
        }
        @if let Some(sentence) = not_called(sheet) { p { (sentence) } }
        p.note { (note(sheet)) }
    }
}

/// `call-in.csv`.
pub(super) fn table(sheet: &CallSheet) -> Vec<u8> {
    let mut table = csv_text::Table::new(&[
        "driver",
        "plant",
        "truck",
        "report",
        "called_share",
        "earliest_legal_report",
    ]);
    for row in rows(sheet) {
        table.row(row.iter().map(|cell| Cell::Text(cell)));
    }
    table.finish()
}
