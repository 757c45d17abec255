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
        Err(found) => problems.add_all(found),
    };
    match set {
        Some(set) if problems.is_empty() => Ok(set),
        _ => Err(Box::new(problems.into_faults(file, text))),
    }
}

/// A built-in rule book as text that [`parse`] reads, every limit written out. Sources stay as in the book that it is `like` as long
/// as their limits are not changed.
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
                "    break_after_h: {}, break_min: {}, break_by: {by}, work_is_break: {}, waiting_is_break: {},   // {}\n    \
                 waiting_is_break_from: {},   // before that date, waiting in a log is work",
                rule.after.hours(),
                rule.length.minutes(),
                rule.work_counts,
                rule.waiting_counts,
                rule.law.citation,
                day(rule.waiting_counts_from)
            );
        }
    }
    match &set.cycle {
        None => text.push_str("    cycle: None,\n"),
        Some(cycle) => {
            let _ = writeln!(
                text,
                "    cycle: \"{}\",   // {}\n    restart_h: {}, restart_nights: {}, restart_apart_h: {},   // nights from 01:00 to 05:00 in it; \
                 hours since the last one began",
                cycle.name(),
                cycle.law.citation,
                cycle.restart.length.hours(),
                cycle.restart.nights,
                cycle.restart.since_last_began.hours()
            );
        }
    }
    exceptions(set, &mut text);
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

/// Short haul, adverse conditions, the restart for construction materials, and what holds by the day.
fn exceptions(set: &RuleSet, text: &mut String) {
    let _ = match &set.short_haul {
        None => writeln!(text, "    short_haul_air_miles: None,"),
        Some(exception) => writeln!(
            text,
            "    short_haul_air_miles: {}, short_haul_release_h: {}, short_haul_mixer_release_h: {},   // {}",
            exception.radius_air_miles,
            exception.release_within.hours(),
            exception.release_within_ready_mix.hours(),
            exception.citation
        ),
    };
    let _ = match &set.adverse {
        None => writeln!(text, "    adverse_driving_h: None,"),
        Some(extension) => writeln!(
            text,
            "    adverse_driving_h: {}, adverse_window_h: {},   // more under adverse driving conditions, {}",
            extension.driving.hours(),
            extension.window.hours(),
            extension.citation
        ),
    };
    let daily = set.daily_off_duty.as_ref();
    let source = daily.map_or(String::new(), |limit| {
        format!("   // off duty in a day, {}", limit.law.citation)
    });
    let _ = writeln!(
        text,
        "    construction_restart_h: {},\n    daily_off_h: {},{source}\n    per_day: {},   // driving and on-duty limits hold in each \
         day as well\n    ready_mix_vehicles: {},",
        hours(set.construction_restart),
        hours(daily.map(|limit| limit.length)),
        set.limits_hold_per_day,
        set.ready_mix_vehicles
    );
}

fn hours(limit: Option<Millis>) -> String {
    limit.map_or("None".to_owned(), |limit| limit.hours().to_string())
}
