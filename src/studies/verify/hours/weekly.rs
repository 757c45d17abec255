//! Weekly hours day by day, from a table of hours on duty.

use super::log::daily_hours;
use super::{Case, Sheet};
use crate::hours::review::left_at;
use crate::hours::{Clocks, DutyLog, DutyStatus, Entry, RuleSet};
use crate::units::Millis;

/// Hours left at the start of a day, once more from the table as history alone, and hours counted at its end.
pub(super) fn check(case: &Case<'_>, sheet: &mut Sheet) {
    let mut rules = case.rules.clone();
    // Only the weekly hours are looked at.
    rules.driving = None;
    rules.window = None;
    let hours = daily_hours(case.json);
    let restart = case.json["restart_before_index"].as_i64();
    let week = Week::worked(&rules, &hours, restart);
    let limit = rules.cycle.as_ref().expect("weekly hours").limit;
    let told = |left: Option<Millis>| left.map_or(f64::NAN, |left| left.hours());
    for expected in case.expected()["checks"].as_array().expect("checks") {
        let day = expected["day_index"].as_u64().expect("a day") as usize;
        if let Some(wanted) = expected["available_at_start_hours"].as_f64() {
            let figure = format!("left when day {} begins, h", day + 1);
            sheet.near(figure, told(week.at_start[day]), wanted, 0.0);
            if restart.is_none() {
                let found = as_history(&rules, &hours[..day]);
                let figure = format!("the same by the history before day {}, h", day + 1);
                sheet.near(figure, told(found), wanted, 0.0);
            }
        }
        if let Some(wanted) = expected["window_total_at_end_hours"].as_f64() {
            // A clock is never below zero: what is worked beyond the limit is not on it.
            let wanted = wanted.min(limit.hours());
            let found = limit.hours() - told(week.at_end[day]);
            let millisecond = Millis(1).hours();
            let figure = format!("counted when day {} ends, h, the limit at most", day + 1);
            sheet.near(figure, found, wanted, 1.001 * millisecond);
        }
    }
}

/// What is left when each day begins and, just before the oldest day drops, when it ends.
struct Week {
    at_start: Vec<Option<Millis>>,
    at_end: Vec<Option<Millis>>,
}

impl Week {
    /// On duty for the last hours of a day, so that a morning off never makes a restart with the evening before; a restart of the
    /// example is a rest of its own length before the day that it precedes.
    fn worked(rules: &RuleSet, hours: &[Millis], restart: Option<i64>) -> Self {
        let mut clocks = Clocks::new(rules, Millis::ZERO, Millis::ZERO, []);
        let (mut at_start, mut at_end) = (Vec::new(), Vec::new());
        for (day, worked) in hours.iter().enumerate() {
            let begins = rules.day_begins(day as i64);
            clocks.advance(rules, begins);
            if restart == Some(day as i64) {
                // The day's table has no room for 34 h off, so the rest is told apart from it.
                let length = rules.restart().expect("a restart").length;
                clocks = Clocks::new(rules, begins, begins - length, []);
            }
            at_start.push(clocks.left(rules).cycle);
            let ends = rules.day_begins(day as i64 + 1);
            // Up to the end of the day, or from its start after a day off: so a single day off is no restart.
            let from = match day.checked_sub(1) {
                Some(before) if hours[before] == Millis::ZERO => begins,
                _ => ends - *worked,
            };
            if *worked > Millis::ZERO {
                clocks.change(rules, from, DutyStatus::OnDuty);
                if from + *worked < ends {
                    clocks.change(rules, from + *worked, DutyStatus::OffDuty);
                }
            }
            clocks.advance(rules, ends - Millis(1));
            at_end.push(clocks.left(rules).cycle);
            clocks.change(rules, ends, DutyStatus::OffDuty);
        }
        clocks.advance(rules, rules.day_begins(hours.len() as i64));
        // Days off at the end of the table that are no restart leave what is left blank.
        let asked_for = restart == Some(hours.len() as i64);
        let is_one = clocks.last_restart_began().is_some();
        at_start.push(clocks.left(rules).cycle.filter(|_| is_one || !asked_for));
        Self { at_start, at_end }
    }
}

/// What is left when a day begins, where all that is known of the days before it is their hours.
fn as_history(rules: &RuleSet, before: &[Millis]) -> Option<Millis> {
    let begins = rules.day_begins(before.len() as i64);
    let log = DutyLog {
        entries: vec![Entry {
            status: DutyStatus::OffDuty,
            from: begins,
            to: begins + Millis::MINUTE,
        }],
        rested_since: begins - rules.reset_rest,
        prior: (0..).zip(before.iter().copied()).collect(),
        ..DutyLog::default()
    };
    left_at(&log, rules, begins).cycle
}
