//! The sheets of lists: which columns each has, and what stands in their cells.

use super::sheet::{Cell, Choices, Sheet};
use super::words::{CHOICES, COLUMNS, MORE_DECISIONS, head};
use crate::scenario::decode::{date_in, number_in_cell, time_in_cell};
use crate::scenario::tree::{Field, Kind, Node, written};

/// How many there are of what other sheets name.
#[derive(Clone, Copy)]
pub(super) struct Places {
    pub(super) plants: u32,
    pub(super) sites: u32,
}

/// The sheet of a list; none if there is nothing to write.
pub(super) fn list(list: &str, node: &Node, places: Places) -> Option<Sheet> {
    let Kind::List(items) = &node.kind else {
        return None;
    };
    let usual = COLUMNS.iter().filter(|(of, ..)| *of == list);
    let mut keys: Vec<String> = usual.map(|(_, key, ..)| (*key).to_owned()).collect();
    if list == "rules" {
        keys.extend(MORE_DECISIONS.map(str::to_owned));
    }
    let rows: Vec<Vec<(String, Cell)>> = items
        .iter()
        .map(|item| match &item.kind {
            Kind::Fields(fields) => cells(list, fields, ""),
            _ => Vec::new(),
        })
        .collect();
    for (key, _) in rows.iter().flatten() {
        if !keys.contains(key) {
            keys.push(key.clone());
        }
    }
    let heads: Vec<(String, String)> = keys.iter().map(|key| head(list, key)).collect();
    let widths = keys.iter().enumerate().map(|(column, key)| {
        let longest = rows.iter().flatten().filter(|(of, _)| of == key);
        let longest = longest.map(|(_, cell)| length(cell)).max().unwrap_or(0);
        (longest.max(heads[column].0.len()) as f64 + 2.0).clamp(10.0, 44.0)
    });
    let widths: Vec<f64> = widths.collect();
    let heads: Vec<(&str, &str, f64)> = heads
        .iter()
        .zip(widths)
        .map(|((heading, note), width)| (heading.as_str(), note.as_str(), width))
        .collect();
    let mut sheet = Sheet::new(&heads);
    for row in rows {
        let cell = |key: &String| row.iter().find(|(of, _)| of == key);
        let cells = keys
            .iter()
            .map(|key| cell(key).map_or(Cell::Blank, |(_, cell)| cell.clone()));
        sheet.row(cells.collect());
    }
    for (column, key) in keys.iter().enumerate() {
        let range = |sheet: &str, many: u32| {
            Choices::Range(format!("={sheet}!$A$2:$A${}", many.max(1) + 1))
        };
        let offered = CHOICES.iter().find(|(of, _)| list == "rules" && of == key);
        match (list, key.as_str()) {
            _ if offered.is_some() => {
                let offered = offered.map_or(&[][..], |(_, choices)| choices);
                sheet.offer(column, Choices::Written(offered.to_vec()));
            }
            ("orders", "site") => sheet.offer(column, range("Sites", places.sites)),
            ("orders", "plant") | ("trucks", "home") | ("helpers", "at") => {
                sheet.offer(column, range("Plants", places.plants));
            }
            ("drivers" | "helpers", "class") => {
                sheet.offer(column, Choices::Written(vec!["A", "B", "C", "Ordinary"]));
            }
            ("sites", "parking") | ("orders", "outdoor" | "pump") => {
                sheet.offer(column, Choices::Written(vec!["yes", "no"]));
            }
            _ => {}
        }
    }
    Some(sheet)
}

/// The fields of an entry as cells; blocks of a rule with dots.
fn cells(list: &str, fields: &[Field], before: &str) -> Vec<(String, Cell)> {
    let mut cells_found = Vec::new();
    for field in fields {
        let key = format!("{before}{}", field.key);
        match &field.value.kind {
            Kind::Fields(inside) if list == "rules" && !inside.is_empty() => {
                cells_found.extend(cells(list, inside, &format!("{key}.")));
            }
            _ => cells_found.push((key, cell(list, &field.key, &field.value))),
        }
    }
    cells_found
}

pub(super) fn cell(list: &str, key: &str, node: &Node) -> Cell {
    let is_time = matches!(
        key,
        "first" | "report" | "called" | "finish_by" | "from" | "to"
    );
    match &node.kind {
        Kind::Number { value, .. } => Cell::Number(*value),
        Kind::Bool(yes) => Cell::Yes(*yes),
        Kind::Text(text) | Kind::Cell { text, .. } if is_time => match minutes_of(text) {
            Some(minutes) => Cell::Time(minutes),
            None => Cell::Text(text.clone()),
        },
        Kind::Text(text) | Kind::Cell { text, .. } if key == "day" => match date_in(text) {
            Some(date) => Cell::Date(date.year as u16, date.month as u8, date.day as u8),
            None => number_or_text(text),
        },
        // As numbers look in its own table: $28.50, or 9,5 with a decimal comma.
        Kind::Cell { text, .. } if !NAMES.contains(&key) => match number_in_cell(node) {
            Some(number) => Cell::Number(number),
            None => Cell::Text(text.clone()),
        },
        Kind::Cell { text, .. } => number_or_text(text),
        Kind::Text(text) => Cell::Text(text.clone()),
        Kind::List(spans) if list == "plants" && key == "hours" => {
            Cell::Text(hours(spans).unwrap_or_else(|| written(node)))
        }
        Kind::List(items) if list == "rules" && !items.is_empty() => {
            let several: Vec<String> = items.iter().map(written).collect();
            Cell::Text(several.join("; "))
        }
        // Several names in one cell.
        Kind::List(items) if items.iter().all(|item| item.text().is_some()) && items.len() > 1 => {
            let names: Vec<&str> = items.iter().filter_map(Node::text).collect();
            match names.iter().any(|name| name.contains([';', '(', '['])) {
                true => Cell::Text(written(node)),
                false => Cell::Text(names.join("; ")),
            }
        }
        _ => Cell::Text(written(node)),
    }
}

/// Fields that hold names, which may look like numbers.
const NAMES: [&str; 7] = ["name", "customer", "site", "mix", "trucks", "home", "plant"];

/// A number only if it is written as numbers are: `007` is a name.
fn number_or_text(text: &str) -> Cell {
    match text.parse::<f64>() {
        Ok(number) if number.to_string() == text => Cell::Number(number),
        _ => Cell::Text(text.to_owned()),
    }
}

pub(super) fn minutes_of(text: &str) -> Option<u32> {
    let clock = time_in_cell(text)?;
    let (hour, minute) = clock.split_once(':')?;
    let minutes = hour.parse::<u32>().ok()? * 60 + minute.parse::<u32>().ok()?;
    (minutes <= 1_440).then_some(minutes)
}

/// One span, every day the same: `05:00-18:00`.
fn hours(spans: &[Node]) -> Option<String> {
    let [span] = spans else { return None };
    let Kind::Fields(fields) = &span.kind else {
        return None;
    };
    let [open, close] = &fields[..] else {
        return None;
    };
    (open.key == "open" && close.key == "close")
        .then(|| Some(format!("{}-{}", open.value.text()?, close.value.text()?)))
        .flatten()
}

fn length(cell: &Cell) -> usize {
    match cell {
        Cell::Text(text) => text.chars().count(),
        Cell::Date(..) => 10,
        _ => 6,
    }
}
