//! Off duty that every carrier day must hold.

use super::log::DutyLog;
use super::review::off_duty_in;
use super::rule_set::RuleSet;
use crate::units::Millis;

/// A carrier day with too little time off duty. It forbids no driving by itself; it is a violation of the day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ShortDay {
    /// When the carrier day begins.
    pub from: Millis,
    /// When it ends.
    pub to: Millis,
    /// Off duty in it, in stretches of at least 30 minutes.
    pub off_duty: Millis,
}

/// The carrier days of a log that hold less time off duty than the rule book asks for. After the log the driver is taken to be
/// off duty, so that a day that is under way is named only once it can no longer be met; before it too, but for the hours
/// that are known of the first day.
pub fn short_days(log: &DutyLog, rules: &RuleSet) -> Vec<ShortDay> {
    let Some(needed) = &rules.daily_off_duty else {
        return Vec::new();
    };
    let first = log.wall.carrier_day(rules, log.begins());
    let last = log.wall.carrier_day(rules, log.ends() - Millis(1));
    let worked = log.prior.iter().filter(|(day, _)| *day == first);
    let worked: Millis = worked.map(|(_, worked)| *worked).sum();
    let mut log = log.clone();
    let free_from = (log.wall.day_begins(rules, first) + worked).min(log.begins());
    log.rested_since = log.rested_since.min(free_from);
    if worked > Millis::ZERO {
        log.rested_since = free_from;
    }
    let days = (first..=last).map(|day| {
        let begins = log.wall.day_begins(rules, day);
        (begins, log.wall.day_begins(rules, day + 1))
    });
    let days: Vec<_> = days.collect();
    let off_duty = off_duty_in(&log, rules, &days);
    let days = days.into_iter().zip(off_duty);
    days.map(|((from, to), off_duty)| ShortDay { from, to, off_duty })
        .filter(|day| day.off_duty < needed.length)
        .collect()
}
