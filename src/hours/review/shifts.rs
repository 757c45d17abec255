//! The rests and shifts of a log.

use super::reading::Reading;
use super::short_haul::lost_in;
use crate::hours::log::DutyLog;
use crate::hours::rule_set::RuleSet;
use crate::units::Millis;

/// Unbroken rests up to a moment, the one before the log included.
pub fn rests(log: &DutyLog, rules: &RuleSet, at: Millis) -> Vec<(Millis, Millis)> {
    Reading::new(log, rules).rests.until(at).collect()
}

/// The rests up to a moment that start the weekly hours again, from and to.
pub fn restarts(log: &DutyLog, rules: &RuleSet, at: Millis) -> Vec<(Millis, Millis)> {
    Reading::new(log, rules).restarts_until(at)
}

/// First duty since the last full rest before a moment.
pub fn shift_start(log: &DutyLog, rules: &RuleSet, at: Millis) -> Option<Millis> {
    Reading::new(log, rules).look(at).shift_start()
}

/// Shifts as first duty and end of the last duty before the next full rest, up to a moment.
pub fn shifts(log: &DutyLog, rules: &RuleSet, at: Millis) -> Vec<(Millis, Millis)> {
    shifts_of(&Reading::new(log, rules), at)
}

pub(super) fn shifts_of(reading: &Reading<'_>, at: Millis) -> Vec<(Millis, Millis)> {
    let (log, rules) = (reading.log, reading.rules);
    let mut shifts: Vec<(Millis, Millis)> = Vec::new();
    let duty = log
        .entries
        .iter()
        .filter(|entry| rules.is_duty(entry.status));
    for entry in duty.filter(|entry| entry.from < at) {
        let to = entry.to.min(at);
        // The last rest that has been a full one when this begins lies after the last duty, or that duty is of the same shift.
        let full = reading.rests.last_long(entry.from);
        let rested = |last: Millis| full.is_some_and(|rest| rest.0 >= last);
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
    let reading = Reading::new(log, rules);
    let Some(tour) = shifts_of(&reading, at).last().copied() else {
        return rules.short_haul.is_none();
    };
    let allowance = reading.look(tour.1).allowance();
    rules.short_haul.is_none() || allowance.long_day || lost_in(&reading, tour).is_some()
}

/// Off duty within a carrier day, counted in stretches of at least 30 minutes (SOR/2005-313 s. 14(1)).
pub fn off_duty_in_day(log: &DutyLog, rules: &RuleSet, day: i64) -> Millis {
    let begins = log.wall.day_begins(rules, day);
    let ends = log.wall.day_begins(rules, day + 1);
    off_duty_in(log, rules, &[(begins, ends)])[0]
}

/// The same within each of several days, from and to.
pub fn off_duty_in(log: &DutyLog, rules: &RuleSet, days: &[(Millis, Millis)]) -> Vec<Millis> {
    let reading = Reading::new(log, rules);
    let rests = &reading.rests.runs;
    let off_duty = days.iter().map(|(begins, ends)| {
        let first = rests.partition_point(|rest| rest.1 <= *begins);
        let within = rests[first..].iter().take_while(|rest| rest.0 < *ends);
        within
            .map(|rest| rest.1.min(*ends) - rest.0.max(*begins))
            .filter(|stretch| *stretch >= Millis::MINUTE * 30)
            .sum()
    });
    off_duty.collect()
}
