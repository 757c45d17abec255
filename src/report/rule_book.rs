//! A rule book in words.

use super::number::number;
use crate::hours::{BreakTrigger, RuleSet};
use crate::units::Millis;

/// Its name and its limits: `us_property_2020: driving 11 h, window 14 h, …`.
pub(super) fn limits(rules: &RuleSet) -> String {
    let hours = |span: Millis| format!("{} h", number(span.hours(), 1).trim_end_matches(".0"));
    let mut parts = Vec::new();
    if let Some(limit) = &rules.driving {
        parts.push(format!("{} of driving", hours(limit.length)));
    }
    if let Some(limit) = &rules.window {
        parts.push(format!(
            "no driving {} after coming on duty",
            hours(limit.length)
        ));
    }
    if let Some(limit) = &rules.on_duty {
        parts.push(format!("{} on duty", hours(limit.length)));
    }
    if let Some(rule) = &rules.break_rule {
        let of = match rule.trigger {
            BreakTrigger::DrivingTime => "driving",
            BreakTrigger::ElapsedTime => "duty",
        };
        let length = number(rule.length.minutes(), 0);
        parts.push(format!(
            "{length} min break within {} of {of}",
            hours(rule.after)
        ));
    }
    if let Some(cycle) = &rules.cycle {
        parts.push(format!(
            "{} on duty in {} days",
            hours(cycle.limit),
            cycle.days
        ));
    }
    parts.push(format!(
        "{} off before the next tour",
        hours(rules.reset_rest)
    ));
    format!("{}: {}", rules.name, parts.join(", "))
}
