//! What a scenario may say, for a terminal: blocks, their fields in columns, one field with its choices.

use super::number::number;
use super::sources;
use super::table::{Align, Table};
use super::wrap::wrap;
use crate::scenario::defaults::Source;
use crate::scenario::{Choice, Field, LeftOut, Takes, choice_meaning, decode, meaning};
use anstyle::Style;
use std::fmt::Write;

/// The blocks of a scenario, a line each.
pub fn blocks(scenario: &Takes, width: u16) -> String {
    let mut text = paragraph(
        "A scenario is one block, `(name: \"…\", plants: [ … ], …)`. What stands in it, * must be written:",
        width,
    );
    for field in &scenario.fields {
        let mark = match field.left_out {
            LeftOut::Required => "*",
            _ => "",
        };
        let line = format!("{:13} {}", format!("{}{mark}", field.name), said(field));
        text += &indented(&line, 16, width);
    }
    text += "\n";
    for line in [
        "plantday help scenario BLOCK      its fields: what may stand there, what holds if left out",
        "plantday help scenario FIELD      one field, with its source; so orders.outlets, pay_per_h",
        "plantday help rules DECISION      the choices of a rule's decision, such as choose",
        "plantday help spreads             how a number that varies is written",
    ] {
        let _ = writeln!(text, "  {line}");
    }
    text
}

/// One block or field.
pub fn field(field: &Field, width: u16) -> String {
    let bold = Style::new().bold();
    let mut text = format!("{bold}{}{bold:#}: {}\n", field.path, said(field));
    let mut line = |what: &str, told: String| {
        if !told.is_empty() {
            text += &paragraph(&format!("{what}: {told}"), width);
        }
    };
    line("What stands there", stands(&field.takes));
    line("Left out", left_out(field));
    if let Some(entry) = field.left_out.entry() {
        line("Source", entry.about().source.to_string());
    }
    let rows = Rows::of(&field.path, &field.takes, 0);
    if rows.0.is_empty() {
        return text;
    }
    text += "\n";
    text += &rows.table(width);
    text += "\n";
    text + &paragraph(
        "In brackets: where the default comes from. An estimate has no source: use your own. plantday sources SCENARIO tells which values are yours.",
        width,
    )
}

/// How a number that varies is written.
pub fn spreads(width: u16) -> String {
    let kinds = decode::kinds();
    let mut text = paragraph(
        "Where a field takes a spread, a number stands for one that never varies. A value below 0 is drawn as 0; values are named, `Uniform(low: 2, high: 5)`, or stand in order, `Uniform(2, 5)`. Ranges are those of minutes.",
        width,
    );
    text += "\n";
    let mut table = Table::new(&[
        ("Spread", Align::Left),
        ("Values", Align::Left),
        ("What it is", Align::Left),
    ]);
    for choice in &kinds.choices {
        let values: Vec<String> = choice
            .inside
            .fields
            .iter()
            .map(|field| format!("{}: {}", field.name, stands(&field.takes)))
            .collect();
        let values = match values.is_empty() {
            true => stands(&choice.inside),
            false => values.join("; "),
        };
        let said = choice_meaning("spreads", choice.name).unwrap_or_default();
        table.row([choice.name, &values, said]);
    }
    text + &table.render(width)
}

/// What a field is, in a few words.
fn said(field: &Field) -> &'static str {
    meaning(&field.path)
        .or_else(|| field.left_out.entry().map(|entry| entry.about().name))
        .unwrap_or_default()
}

/// What may stand at a place, in words.
fn stands(takes: &Takes) -> String {
    let mut ways = Vec::new();
    let names: Vec<&str> = takes.choices.iter().map(|choice| choice.name).collect();
    match names.as_slice() {
        [] => {}
        ["Monday", .., "Sunday"] => ways.push("Monday … Sunday".into()),
        _ => ways.push(names.join(", ")),
    }
    ways.extend(takes.values.iter().cloned());
    if !takes.fields.is_empty() {
        ways.push("a block `( … )`".into());
    }
    let ways = ways.join(" or ");
    match &takes.list {
        None => ways,
        Some((item, many)) => {
            let most = number(*many.end() as f64, 0);
            let count = match many.start() {
                0 => format!("at most {most}"),
                least => format!("{least} to {most}"),
            };
            let of = match takes.fields.is_empty() {
                true => format!("{item}: {ways}"),
                false => format!("{item} `( … )`"),
            };
            format!("a list `[ … ]`, {count}, of {of}")
        }
    }
}

fn left_out(field: &Field) -> String {
    let told = match &field.left_out {
        LeftOut::Required | LeftOut::Needed(_) => "must be written".into(),
        LeftOut::Nothing => "–".into(),
        LeftOut::Usual(entry) => sources::value(entry.about(), &entry.value()),
        LeftOut::Form(debug) => form(debug, &field.takes),
        LeftOut::Words(words) => (*words).into(),
    };
    match field.or_none {
        true if told.is_empty() => "None: none".into(),
        true => format!("{told}; None: none"),
        false => told,
    }
}

/// A default that a reader holds, as a scenario writes it; nothing if it is a whole block.
fn form(debug: &str, takes: &Takes) -> String {
    let inner = debug
        .strip_prefix("Some(")
        .and_then(|rest| rest.strip_suffix(')'));
    let debug = inner.unwrap_or(debug);
    let name: String = debug.chars().take_while(|c| c.is_alphanumeric()).collect();
    if takes.choices.iter().any(|choice| choice.name == name) {
        return name;
    }
    if let Ok(number) = debug.parse::<f64>() {
        return match number.is_finite() {
            true => format!("{number}"),
            false => String::new(),
        };
    }
    match debug {
        _ if !takes.fields.is_empty() && takes.list.is_none() => "its defaults".into(),
        "None" | "[]" | "\"\"" => "none".into(),
        "true" | "false" => debug.into(),
        _ if debug.starts_with("[Monday, ") && debug.matches(',').count() == 6 => {
            "every day".into()
        }
        _ if debug.starts_with('[') && !debug.contains(['{', '(']) => debug.into(),
        _ => String::new(),
    }
}

/// Rows of a table of fields and choices.
struct Rows(Vec<[String; 4]>);

impl Rows {
    fn of(path: &str, takes: &Takes, depth: usize) -> Self {
        let mut rows = Self(Vec::new());
        rows.choices(path, &takes.choices, depth);
        rows.fields(&takes.fields, depth);
        rows
    }

    fn fields(&mut self, fields: &[Field], depth: usize) {
        for field in fields {
            let mut told = said(field).to_owned();
            if let Some(entry) = field.left_out.entry() {
                let source = entry.about().source;
                match source {
                    Source::Published(text) => told += &format!(" [{text}]"),
                    Source::Practice("") => told += " [estimate]",
                    Source::Practice(known) => told += &format!(" [estimate; {known}]"),
                    Source::Memory(text) => told += &format!(" [from memory: {text}]"),
                    Source::Off => {}
                }
            }
            let takes = &field.takes;
            self.0.push([
                label(field.name, depth),
                stands(takes),
                left_out(field),
                told,
            ]);
            self.choices(&field.path, &takes.choices, depth + 1);
            self.fields(&takes.fields, depth + 1);
        }
    }

    /// Choices with something to be said of them.
    fn choices(&mut self, path: &str, choices: &[Choice], depth: usize) {
        for choice in choices {
            let said = choice_meaning(path, choice.name);
            if said.is_none() && choice.inside.is_empty() {
                continue;
            }
            let brackets = match (choice.inside.is_empty(), choice.may_be_bare) {
                (true, _) => "",
                (false, true) => "(…) or bare",
                (false, false) => "(…)",
            };
            let name = label(&format!("{}{brackets}", choice.name), depth);
            let values = match choice.inside.fields.is_empty() {
                true => stands(&choice.inside),
                false => String::new(),
            };
            let said = said.unwrap_or_default().to_owned();
            self.0.push([name, values, String::new(), said]);
            self.fields(&choice.inside.fields, depth + 1);
        }
    }

    fn table(&self, width: u16) -> String {
        let headings = ["Name", "What may stand there", "Left out", "What it is"];
        let mut table = Table::new(&headings.map(|heading| (heading, Align::Left)));
        for row in &self.0 {
            table.row(row);
        }
        table.render(width)
    }
}

/// A name, a dot before it for each block that it stands in.
fn label(name: &str, depth: usize) -> String {
    format!("{}{name}", "· ".repeat(depth))
}

fn paragraph(text: &str, width: u16) -> String {
    let mut lines = String::new();
    for (nth, line) in wrap("", text, usize::from(width)).iter().enumerate() {
        let line = if nth == 0 { line } else { line.trim_start() };
        let _ = writeln!(lines, "{line}");
    }
    lines
}

/// A line that goes on so far from the edge.
fn indented(text: &str, by: usize, width: u16) -> String {
    let mut lines = String::new();
    let room = usize::from(width).saturating_sub(by).max(24);
    let (head, rest) = text.split_at(
        text.char_indices()
            .nth(by - 2)
            .map_or(text.len(), |(at, _)| at),
    );
    for (nth, line) in wrap("", rest, room).iter().enumerate() {
        let line = line.trim_start();
        let _ = match nth {
            0 => writeln!(lines, "  {head}{line}"),
            _ => writeln!(lines, "{}{line}", " ".repeat(by)),
        };
    }
    lines
}
