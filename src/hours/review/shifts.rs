//! The rests and shifts of a log.

use super::look::Look;
use crate::hours::log::DutyLog;
use crate::hours::rule_set::RuleSet;
use crate::hours::short_haul::was_short_haul;
use crate::units::Millis;

/// Unbroken rests up to a moment, the one before the log included.
pub fn rests(log: &DutyLog, rules: &RuleSet, at: Millis) -> Vec<(Millis, Millis)> {
    Look::new(log, rules, at).rests
}

/// The rests up to a moment that start the weekly hours again, from and to.
pub fn restarts(log: &DutyLog, rules: &RuleSet, at: Millis) -> Vec<(Millis, Millis)> {
    Look::new(log, rules, at).restarts()
}

/// First duty since the last full rest before a moment.
pub fn shift_start(log: &DutyLog, rules: &RuleSet, at: Millis) -> Option<Millis> {
    Look::new(log, rules, at).shift_start()
}

/// Shifts as first duty and end of the last duty before the next full rest, up to a moment.
pub fn shifts(log: &DutyLog, rules: &RuleSet, at: Millis) -> Vec<(Millis, Millis)> {
    let full: Vec<_> = rests(log, rules, at)
        .into_iter()
        .filter(|(from, to)| *to - *from >= rules.reset_rest)
        .collect();
    let mut shifts: Vec<(Millis, Millis)> = Vec::new();
    let duty = log
        .entries
        .iter()
        .filter(|entry| rules.is_duty(entry.status));
    for entry in duty.filter(|entry| entry.from < at) {
        let to = entry.to.min(at);
        let rested = |last: Millis| {
            full.iter()
                .any(|rest| rest.0 >= last && rest.1 <= entry.from)
        };
        match shifts.last_mut() {
            Some(last) if !rested(last.1) => last.1 = to,
            _ => shifts.push((entry.from, to)),
        }
    }
    shifts
}

/// Whether a record of duty status was needed for the shift that is running or has ended at a moment: always, but for a
/// short-haul tour that used no long day. The distance is not in a log: the truck is taken to stay within the radius unless
/// an allowance says otherwise.
pub fn log_required(log: &DutyLog, rules: &RuleSet, at: Millis) -> bool {
    let Some((start, end)) = shifts(log, rules, at).last().copied() else {
        return rules.short_haul.is_none();
    };
    let allowance = Look::new(log, rules, end).allowance();
    allowance.long_day || !was_short_haul(log, rules, &allowance, (start, end))
}

/// Off duty within a carrier day, counted in stretches of at least 30 minutes (SOR/2005-313 s. 14(1)).
pub fn off_duty_in_day(log: &DutyLog, rules: &RuleSet, day: i64) -> Millis {
    let (begins, ends) = (rules.day_begins(day), rules.day_begins(day + 1));
    rests(log, rules, ends)
        .into_iter()
        .map(|(from, to)| to.min(ends) - from.max(begins))
        .filter(|stretch| *stretch >= Millis::MINUTE * 30)
        .sum()
}
