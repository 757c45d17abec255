//! Rule books in files of their own: a built-in one written out to be changed, and read back. The form is that of an entry of
//! `rule_books` in a scenario (see `read/rule_books.rs`).

use super::problem::{Faults, Problems};
use super::read::{ReadError, own_rule_book, read_text};
use super::tree;
use crate::hours::{BreakTrigger, Date, Limit, RuleSet};
use crate::units::Millis;
use std::fmt::Write;
use std::path::Path;

/// Reads and checks a rule book.
///
/// # Errors
/// If the file cannot be read, is larger than 64 MiB, is not UTF-8, or holds anything that is not a valid rule book.
pub fn read(path: &Path) -> Result<RuleSet, ReadError> {
    let text = read_text(path)?;
    parse(&path.display().to_string(), &text).map_err(ReadError::Faults)
}

/// Checks the text of a rule book; `file` is what problems call it.
///
/// # Errors
/// All that is wrong in the text; only the first problem if it is one of syntax.
pub fn parse(file: &str, text: &str) -> Result<RuleSet, Box<Faults>> {
    let problems = Problems::new();
    let set = match tree::parse(text) {
        Ok(node) => own_rule_book(&node, &problems),
        Err(problem) => problems.add(*problem),
    };
    match set {
        Some(set) if problems.is_empty() => Ok(set),
        _ => Err(Box::new(problems.into_faults(file, text))),
    }
}

/// A built-in rule book as text that [`parse`] reads, every limit that can be changed written out. What cannot be written stays as
/// in the book that it is `like`: its exceptions and their sources.
pub fn write(set: &RuleSet) -> String {
    let mut text = String::new();
    let limit = |limit: &Option<Limit>| limit.as_ref().map(|limit| limit.length);
    let source = |limit: &Option<Limit>| {
        let law = limit.as_ref().map(|limit| limit.law.citation.as_ref());
        law.map_or(String::new(), |law| format!("   // {law}"))
    };
    let _ = writeln!(
        text,
        "// A rule book to change and use: plantday hours LOG.csv --rule-book FILE.ron, or as an entry of `rule_books` in a scenario.\n\
         // Hours, but for break_min (minutes); None: no such limit. A planning aid: local rules decide.\n\
         (\n    name: \"{name}, changed\",\n    like: \"{name}\",\n    about: {about:?},",
        name = set.name,
        about = set.about
    );
    let day = |date: Option<Date>| date.map_or("None".to_owned(), |date| format!("\"{date}\""));
    let _ = writeln!(
        text,
        "    valid_from: {}, valid_to: {},   // of the book as it was written; to be changed with its limits",
        day(set.valid_from),
        day(set.valid_to)
    );
    for (field, of) in [
        ("driving_h", &set.driving),
        ("window_h", &set.window),
        ("on_duty_h", &set.on_duty),
    ] {
        let _ = writeln!(text, "    {field}: {},{}", hours(limit(of)), source(of));
    }
    if set.reset_rest > Millis::ZERO {
        let _ = writeln!(text, "    rest_h: {},", set.reset_rest.hours());
    }
    match &set.break_rule {
        None => text.push_str("    break_after_h: None,\n"),
        Some(rule) => {
            let by = match rule.trigger {
                BreakTrigger::DrivingTime => "Driving",
                BreakTrigger::ElapsedTime => "Elapsed",
            };
            let _ = writeln!(
                text,
                "    break_after_h: {}, break_min: {}, break_by: {by}, work_is_break: {}, waiting_is_break: {},   // {}",
                rule.after.hours(),
                rule.length.minutes(),
                rule.work_counts,
                rule.waiting_counts,
                rule.law.citation
            );
        }
    }
    match &set.cycle {
        None => text.push_str("    cycle: None,\n"),
        Some(cycle) => {
            let _ = writeln!(
                text,
                "    cycle: \"{}\", restart_h: {},   // {}",
                cycle.name(),
                cycle.restart.length.hours(),
                cycle.law.citation
            );
        }
    }
    let day_start = set.day_start.minutes();
    let _ = writeln!(
        text,
        "    day_start: \"{:02}:{:02}\",\n    long_day_h: {},\n    construction_materials: {},\n    riding_is_duty: {},\n    \
         relieved_waiting_is_duty: {},\n)",
        (day_start / 60.0) as i64,
        (day_start % 60.0) as i64,
        hours(set.long_day_window),
        set.construction_materials,
        set.riding_is_duty,
        set.relieved_waiting_is_duty
    );
    text
}

fn hours(limit: Option<Millis>) -> String {
    limit.map_or("None".to_owned(), |limit| limit.hours().to_string())
}
