//! A rule book in words.

use super::number::number;
use crate::hours::{BreakTrigger, Clock, RuleSet};
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
        "{} off before the next shift",
        hours(rules.reset_rest)
    ));
    format!("{}: {}", rules.name, parts.join(", "))
}

/// A limit as a driver would call it: `14-hour window`, `11 hours of driving`, `60 hours in 7 days`, `30-minute break`. A book
/// without that limit is told its kind.
pub(super) fn limit_name(rules: &RuleSet, clock: Clock) -> String {
    let hours = |span: Millis| number(span.hours(), 1).trim_end_matches(".0").to_owned();
    let length = match clock {
        Clock::Driving => rules.driving.as_ref().map(|limit| limit.length),
        Clock::Window => rules.window.as_ref().map(|limit| limit.length),
        Clock::OnDuty => rules.on_duty.as_ref().map(|limit| limit.length),
        Clock::Break => rules.break_rule.as_ref().map(|rule| rule.length),
        Clock::Cycle => rules.cycle.as_ref().map(|cycle| cycle.limit),
    };
    match (clock, length) {
        (Clock::Driving, Some(length)) => format!("{} hours of driving", hours(length)),
        (Clock::Driving, None) => "driving hours".into(),
        (Clock::Window, Some(length)) => format!("{}-hour window", hours(length)),
        (Clock::Window, None) => "duty window".into(),
        (Clock::OnDuty, Some(length)) => format!("{} hours on duty", hours(length)),
        (Clock::OnDuty, None) => "hours on duty".into(),
        (Clock::Break, Some(length)) => format!("{}-minute break", number(length.minutes(), 0)),
        (Clock::Break, None) => "break".into(),
        (Clock::Cycle, length) => match (length, &rules.cycle) {
            (Some(length), Some(cycle)) => {
                format!("{} hours in {} days", hours(length), cycle.days)
            }
            _ => "weekly hours".into(),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hours::built_in;

    /// 49 CFR 395.3(a)(2), (a)(3) and (b): 14 h window, 11 h of driving, 30 min break, 60 h in 7 days.
    #[test]
    fn limits_are_named_as_drivers_call_them() {
        let rules = built_in("us_property_2020").expect("it is built in");
        let rules = rules.with_cycle("60/7").expect("it has that choice");
        let names: Vec<String> = Clock::ALL
            .iter()
            .map(|clock| limit_name(&rules, *clock))
            .collect();
        for name in [
            "11 hours of driving",
            "14-hour window",
            "30-minute break",
            "60 hours in 7 days",
        ] {
            assert!(names.iter().any(|known| known == name), "{names:?}");
        }
    }
}
