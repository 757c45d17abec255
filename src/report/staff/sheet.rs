//! The call-in sheet.

use crate::report::answer::{Block, Cell, Column, Table};
use crate::report::number::Unit;
use crate::studies::CallSheet;
use crate::units::Millis;

const CALL_IN: &str = "call-in";

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

pub(super) fn title(sheet: &CallSheet) -> String {
    let others = sheet.called.len() - sheet.regulars - sheet.haulers;
    format!(
        "Call-in sheet, day {}: {} drivers{}{}",
        sheet.day + 1,
        sheet.called.len(),
        match sheet.haulers {
            0 => String::new(),
            haulers => format!(", {haulers} of them hired haulers"),
        },
        if others > 0 {
            format!(", {others} of them rostered on few days and not in the head count")
        } else {
            String::new()
        }
    )
}

/// What stands below its title, on screen and page.
pub(super) fn blocks(sheet: &CallSheet) -> Vec<Block> {
    let mut blocks = vec![Block::Table(CALL_IN)];
    if !sheet.not_called.is_empty() {
        let names = sheet.not_called.join(", ");
        blocks.push(Block::Text(format!("Not called: {names}.")));
    }
    blocks.push(Block::Note(note(sheet)));
    blocks
}

fn note(sheet: &CallSheet) -> String {
    let late = sheet
        .called
        .iter()
        .any(|call| call.earliest.is_some_and(|earliest| earliest > call.report));
    format!(
        "Called: on this share of the simulated days; report is then the middle one of the times. Earliest legal report: the end of the \
         shift before, in all but one evening in twenty, and the rest after it; check it against the driver's own record.{}{}",
        if sheet.called.iter().any(|call| call.planned.is_some()) {
            " Where somebody would still have been resting, drivers of a plant have exchanged their starts, or are called later."
        } else {
            ""
        },
        if late {
            " Marked \"rest!\": may still be resting then; call somebody else or later."
        } else {
            ""
        }
    )
}

pub(super) fn table(sheet: &CallSheet) -> Table {
    let mut table = Table::new(
        CALL_IN,
        [
            ("driver", "driver"),
            ("plant", "plant"),
            ("truck", "truck"),
            ("report", "report"),
            ("in place of", "planned"),
            ("called", "called_share"),
            ("earliest legal report", "earliest_legal_report"),
        ]
        .map(|(heading, key)| Column::new(heading).left().key(key))
        .to_vec(),
    );
    // The study's own part of the JSON tells all of it.
    table.json = false;
    for call in &sheet.called {
        let short = call.earliest.is_some_and(|earliest| earliest > call.report);
        let rest = if short { " rest!" } else { "" };
        table.row([
            call.driver.as_str().into(),
            call.plant.as_str().into(),
            call.truck.as_str().into(),
            clock(sheet, Some(call.report)).into(),
            call.planned
                .map_or(String::new(), |planned| clock(sheet, Some(planned)))
                .into(),
            Cell::Text(Unit::Share.show(call.share, 0)),
            format!("{}{rest}", clock(sheet, call.earliest)).into(),
        ]);
    }
    table
}
