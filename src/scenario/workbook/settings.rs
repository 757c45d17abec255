//! The sheet of all that is in no list: what the scenario writes, and below it every usual value that it might.

use super::sheet::{Cell, Sheet};
use crate::scenario::defaults::{self, Source, Value};
use crate::scenario::tables::SHEETS;
use crate::scenario::tree::{Field, Kind, written};

/// The fields that stand in no sheet of their own, blocks with dots: `money.pay_per_h`.
pub(super) fn flat(fields: &[Field], before: &str, into: &mut Vec<(String, Cell)>) {
    for field in fields {
        let path = match before {
            "" => field.key.clone(),
            _ => format!("{before}.{}", field.key),
        };
        let in_sheet = SHEETS.iter().any(|(_, sheet)| *sheet == path);
        match &field.value.kind {
            Kind::List(items)
                if in_sheet
                    && items
                        .iter()
                        .all(|item| matches!(item.kind, Kind::Fields(_))) => {}
            Kind::Fields(_) if in_sheet => {}
            Kind::Fields(inside) if !inside.is_empty() => flat(inside, &path, into),
            Kind::Bool(yes) => into.push((path, Cell::Yes(*yes))),
            Kind::Number { value, .. } => into.push((path, Cell::Number(*value))),
            Kind::Text(text) => into.push((path, Cell::Text(text.clone()))),
            _ => into.push((path, Cell::Text(written(&field.value)))),
        }
    }
}

pub(super) fn sheet(settings: &[(String, Cell)]) -> Sheet {
    let mut sheet = Sheet::new(&[
        (
            "Name",
            "The name of the setting: block and field. A row may be added for any field of a scenario; a misspelt name is told.",
            34.0,
        ),
        (
            "Value",
            "Blank: the usual value holds. A number, a time (17:00), yes or no, or what a scenario writes, such as Triangular(2, 5, 10).",
            44.0,
        ),
        ("Usual value", "What holds where the value is blank.", 30.0),
        ("Unit", "", 16.0),
        ("What it is", "", 60.0),
        ("Where the usual value comes from", "", 60.0),
    ]);
    let about = |path: &str| {
        let full = [path.to_owned(), format!("scenario.{path}")];
        defaults::all().find(|entry| full.iter().any(|path| path == entry.about().path))
    };
    for (path, value) in settings {
        let mut row = vec![Cell::Text(path.clone()), value.clone()];
        match about(path) {
            Some(entry) => row.extend(usual(entry)),
            None => row.extend([
                Cell::Blank,
                Cell::Blank,
                Cell::Text(form(path).to_owned()),
                Cell::Blank,
            ]),
        }
        sheet.row(row);
    }
    let lists = |path: &str| {
        SHEETS.iter().any(|(_, list)| {
            path.strip_prefix(list)
                .is_some_and(|rest| rest.starts_with('.'))
        })
    };
    // What counts only within something that the scenario has not.
    let alone = ["company.", "yard.", "changes.", "money.", "concrete.age"];
    for entry in defaults::all() {
        let path = entry.about().path;
        let own = settings.iter().any(|(written, _)| {
            path == written
                || path.starts_with(&format!("{written}."))
                || written.starts_with(&format!("{path}."))
        });
        if own || lists(path) || !alone.iter().any(|block| path.starts_with(block)) {
            continue;
        }
        let mut row = vec![Cell::Text(path.to_owned()), Cell::Blank];
        row.extend(usual(entry));
        sheet.row(row);
    }
    sheet
}

/// The usual value, its unit, what it is and its source.
fn usual(entry: &dyn defaults::Entry) -> [Cell; 4] {
    let about = entry.about();
    let usual = match entry.value() {
        Value::Number(number) => Cell::Number(number),
        Value::Money(dollars) => Cell::Text(format!("${dollars}")),
        Value::Yes(yes) => Cell::Yes(yes),
        Value::Spread(spread) => {
            Cell::Text(format!("{spread:?}").replace(" { ", "(").replace(" }", ")"))
        }
        Value::Words(words) => Cell::Text(words),
        Value::Nothing | Value::Written => Cell::Text("not counted".into()),
    };
    let source = match about.source {
        Source::Off => "not counted unless you write it".to_owned(),
        source => source.to_string(),
    };
    [
        usual,
        Cell::Text(about.unit.to_owned()),
        Cell::Text(about.name.to_owned()),
        Cell::Text(source),
    ]
}

/// What settings without a usual value are.
fn form(path: &str) -> &'static str {
    match path {
        "name" => "what answers call the scenario",
        "about" => "a sentence about it",
        "period.first_day" => "a weekday, or a date: then orders may have dates",
        "period.days" => "days of the period, 1 to 28",
        "rule_book" => "hours-of-service limits: `plantday help hours`",
        _ => "",
    }
}
