//! Calendar dates.

use super::super::problem::{Problem, Problems};
use super::super::tree::{Kind, Node};
use super::{quoted, wrong_kind};
use crate::hours::Date;

const EXPECTED: &str = "a date \"2026-03-01\": year, month, day";

/// `"2026-03-01"`, as in ISO 8601.
pub fn date(node: &Node, problems: &Problems) -> Option<Date> {
    let Kind::Text(text) = &node.kind else {
        return wrong_kind(node, EXPECTED, problems);
    };
    match text.trim().parse::<jiff::civil::Date>() {
        Ok(date) => Some(Date::new(date.year(), date.month(), date.day())),
        Err(_) => problems.add(
            Problem::new(node.span.clone(), format!("{} is no date", quoted(text)))
                .label(format!("expected {EXPECTED}")),
        ),
    }
}
