//! What people write into cells of tables: numbers with thousands separators, times with AM and PM, yes and no.

use super::super::tree::{self, Kind, Node, Span};
use crate::units::measure;

/// The number of a node that is a number, or a cell with one: `1,200`, `$28.50`, `9,5` where the table has decimal commas.
pub(in crate::scenario) fn number(node: &Node) -> Option<f64> {
    match &node.kind {
        Kind::Number { value, .. } => Some(*value),
        Kind::Cell { text, comma } => number_in(text, *comma),
        _ => None,
    }
}

fn number_in(text: &str, comma: bool) -> Option<f64> {
    let currency = measure::here().currency;
    let text = text.trim_start_matches('$').trim();
    let text = text.strip_prefix(currency.sign()).unwrap_or(text).trim();
    if let Some(percent) = text.strip_suffix('%') {
        return Some(number_in(percent.trim_end(), comma)? / 100.0);
    }
    let (decimal, thousands) = if comma { (',', '.') } else { ('.', ',') };
    let (sign, digits) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(digits) => ("-", digits),
        None => ("", text),
    };
    let (whole, part) = match digits.split_once(decimal) {
        Some((whole, part)) => (whole, Some(part)),
        None => (digits, None),
    };
    let mut groups = whole.split([thousands, '\u{a0}', '\u{202f}', ' ']);
    let first = groups.next()?;
    let mut whole = first.to_owned();
    for group in groups {
        if group.len() != 3 || first.is_empty() || first.len() > 3 {
            return None;
        }
        whole += group;
    }
    let all_digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let exponent = |text: &str| {
        let (digits, power) = text.split_once(['e', 'E'])?;
        let power = power.trim_start_matches(['+', '-']);
        (all_digits(digits) && !power.is_empty() && all_digits(power)).then_some(())
    };
    let written = match part {
        Some(part) if all_digits(&whole) && (all_digits(part) || exponent(part).is_some()) => {
            format!("{sign}{whole}.{part}")
        }
        None if !whole.is_empty() && (all_digits(&whole) || exponent(&whole).is_some()) => {
            format!("{sign}{whole}")
        }
        _ => return None,
    };
    written.parse().ok()
}

/// What spreadsheet programs show for a formula that has no value.
const ERRORS: [&str; 7] = [
    "#N/A", "#REF!", "#DIV/0!", "#VALUE!", "#NAME?", "#NULL!", "#NUM!",
];

/// The text of a cell as a value.
pub(in crate::scenario) fn value(text: &str, span: &Span, comma: bool) -> Node {
    let here = |kind: Kind| Node {
        span: span.clone(),
        kind,
    };
    if ERRORS.contains(&text) {
        return here(Kind::Other("a formula that has no value"));
    }
    if text == "None" {
        return here(Kind::Nothing);
    }
    if text.starts_with('=') {
        return here(Kind::Other(
            "a formula whose value is not stored; a spreadsheet program stores it when it saves the workbook",
        ));
    }
    if text.starts_with(['(', '[', '{']) || is_choice(text) {
        let made_of_parts = |node: &Node| {
            matches!(
                node.kind,
                Kind::Fields(_) | Kind::List(_) | Kind::Tagged(..)
            )
        };
        if let Some(mut node) = tree::parse(text).ok().filter(made_of_parts) {
            at(&mut node, span);
            return node;
        }
    }
    here(Kind::Cell {
        text: text.to_owned(),
        comma,
    })
}

/// `Uniform(2, 5)` is one, `Deck (east)` is a name.
fn is_choice(text: &str) -> bool {
    let Some((name, _)) = text.split_once('(') else {
        return false;
    };
    text.ends_with(')')
        && name.starts_with(|c: char| c.is_ascii_uppercase())
        && name.bytes().all(|byte| byte.is_ascii_alphanumeric())
}

/// All of a node stands at one place: that of its cell.
pub(in crate::scenario) fn at(node: &mut Node, place: &Span) {
    node.span = place.clone();
    match &mut node.kind {
        Kind::Fields(fields) => {
            for field in fields {
                field.key_span = place.clone();
                at(&mut field.value, place);
            }
        }
        Kind::List(items) => items.iter_mut().for_each(|item| at(item, place)),
        Kind::Tagged(tag, inside) => {
            tag.span = place.clone();
            at(inside, place);
        }
        _ => {}
    }
}

/// The parts of a cell that holds several: at semicolons, else at commas, outside of brackets.
pub(super) fn parts(text: &str, comma: bool) -> Vec<&str> {
    let split = |between: char| {
        let (mut depth, mut from) = (0_i32, 0);
        let mut parts = Vec::new();
        for (at, c) in text.char_indices() {
            match c {
                '(' | '[' | '{' => depth += 1,
                ')' | ']' | '}' => depth -= 1,
                _ if c == between && depth == 0 => {
                    parts.push(text[from..at].trim());
                    from = at + between.len_utf8();
                }
                _ => {}
            }
        }
        parts.push(text[from..].trim());
        parts
    };
    let mut parts = split(';');
    if parts.len() == 1 && !comma {
        parts = split(',');
    }
    parts.retain(|part| !part.is_empty());
    parts
}

/// `yes`, `no` and what else stands for them.
pub(super) fn flag(text: &str) -> Option<bool> {
    match text.to_lowercase().as_str() {
        "true" | "yes" | "y" | "x" | "1" => Some(true),
        "false" | "no" | "n" | "0" => Some(false),
        _ => None,
    }
}

/// A time of day as a scenario writes it, of one as people do: `6:30 AM`, `6 pm`, `06:30:00`, and the number that spreadsheets keep for a
/// time, a fraction of the day.
pub(in crate::scenario) fn time(text: &str) -> Option<String> {
    if let Some(day) = fraction(text) {
        let minutes = libm::round(day * 1_440.0);
        return Some(format!(
            "{:02}:{:02}",
            (minutes / 60.0) as u32,
            minutes as u32 % 60
        ));
    }
    let at = clock(text)?;
    let minutes = at / 60_000;
    (at % 60_000 == 0).then(|| format!("{:02}:{:02}", minutes / 60, minutes % 60))
}

/// The same in milliseconds since midnight, with seconds and parts of them: `6:30:15 AM`, `06:30:15.250`.
pub(super) fn clock(text: &str) -> Option<i64> {
    if let Some(day) = fraction(text) {
        return Some(libm::round(day * 86_400_000.0) as i64);
    }
    let lower = text.trim().to_lowercase();
    let half = |of: &str| {
        let dotted = format!("{}.{}.", &of[..1], &of[1..]);
        let clock = lower.strip_suffix(of);
        clock.or_else(|| lower.strip_suffix(dotted.as_str()))
    };
    let (clock, noon) = match (half("am"), half("pm")) {
        (Some(clock), _) => (clock.trim_end(), Some(0)),
        (_, Some(clock)) => (clock.trim_end(), Some(12)),
        _ => (lower.as_str(), None),
    };
    // `6.30 pm`: nobody writes seconds so.
    let dotted = clock.replace('.', ":");
    let clock = match (clock.contains(':'), noon) {
        (false, Some(_)) => dotted.as_str(),
        _ => clock,
    };
    let mut parts = clock.split(':').map(str::trim);
    let hour: i64 = digits(parts.next()?, 1..=2)?;
    let minute = match parts.next() {
        Some(minute) => digits(minute, 2..=2).filter(|minute| *minute < 60)?,
        None => noon.map(|_| 0)?,
    };
    let millis = match parts.next() {
        None => 0,
        Some(seconds) => {
            let (whole, part) = seconds.split_once(['.', ',']).unwrap_or((seconds, "0"));
            let whole = digits(whole, 2..=2).filter(|whole| *whole < 60)?;
            let length = part.len();
            let part = digits(part, 1..=9)?;
            whole * 1_000 + part * 1_000 / 10_i64.pow(length as u32)
        }
    };
    let hour = match noon {
        None => hour,
        Some(_) if !(1..=12).contains(&hour) => return None,
        Some(noon) => hour % 12 + noon,
    };
    parts
        .next()
        .is_none()
        .then_some((hour * 60 + minute) * 60_000 + millis)
}

/// The fraction of the day that a spreadsheet keeps for a time.
fn fraction(text: &str) -> Option<f64> {
    let day: f64 = text.trim().parse().ok()?;
    (text.contains('.') && (0.0..=1.0).contains(&day)).then_some(day)
}

fn digits(text: &str, lengths: std::ops::RangeInclusive<usize>) -> Option<i64> {
    let all = text.bytes().all(|byte| byte.is_ascii_digit());
    (all && lengths.contains(&text.len()))
        .then(|| text.parse().ok())
        .flatten()
}

#[cfg(test)]
mod tests {
    use super::{clock, number_in, time};

    /// ISO 31-0 of numbers: groups of three; a comma or a point as decimal sign.
    #[test]
    fn numbers_as_people_write_them() {
        for (text, comma, expected) in [
            ("1,200", false, Some(1200.0)),
            ("1,20", false, None),
            ("9.5", false, Some(9.5)),
            ("$28.50", false, Some(28.5)),
            ("1.200", true, Some(1200.0)),
            ("9,5", true, Some(9.5)),
            ("12 000", false, Some(12000.0)),
            ("-3", false, Some(-3.0)),
            ("1e3", false, Some(1000.0)),
            ("", false, None),
            ("4000 psi", false, None),
            ("85%", false, Some(0.85)),
            ("2,5 %", true, Some(0.025)),
        ] {
            assert_eq!(number_in(text, comma), expected, "{text}");
        }
    }

    /// Noon is 12 PM and midnight 12 AM (US practice; NIST, "Times of Day FAQs", from memory).
    #[test]
    fn times_as_people_write_them() {
        for (text, expected) in [
            ("6:30 AM", Some("06:30")),
            ("12:05 am", Some("00:05")),
            ("12:15 PM", Some("12:15")),
            ("5 pm", Some("17:00")),
            ("06:30:00", Some("06:30")),
            ("24:00", Some("24:00")),
            ("0.25", Some("06:00")),
            ("0.270833333333333", Some("06:30")),
            ("13:00 PM", None),
            ("half past six", None),
            ("6:30:15", None),
            ("6:30 a.m.", Some("06:30")),
            ("6.30 pm", Some("18:30")),
            ("6:3", None),
        ] {
            assert_eq!(time(text).as_deref(), expected, "{text}");
        }
        for (text, expected) in [
            ("6:30:15", Some(23_415_000)),
            ("06:30:15.250", Some(23_415_250)),
            ("06:30:15,25", Some(23_415_250)),
            ("1:00:01 PM", Some(46_801_000)),
            ("6:30:60", None),
        ] {
            assert_eq!(clock(text), expected, "{text}");
        }
    }
}
