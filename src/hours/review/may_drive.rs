//! How long driving is allowed, since when it is barred, and from when it is allowed again.

use super::left_at;
use super::reading::Reading;
use super::violations::judged;
use crate::hours::left::Drivable;
use crate::hours::log::DutyLog;
use crate::hours::rule_set::{Clock, RuleSet};
use crate::hours::status::DutyStatus;
use crate::units::Millis;

/// How long one may drive on from a moment without a pause, and which clock ends it.
pub fn drivable_at(log: &DutyLog, rules: &RuleSet, at: Millis) -> Drivable {
    let days = Millis::DAY * 16;
    let on = log.continued(at, DutyStatus::Driving, at + days);
    let first = judged(&on, rules, false)
        .into_iter()
        .filter(|violation| violation.to > at)
        .min_by_key(|violation| (violation.from.max(at), violation.rule));
    Drivable {
        until: first.map_or(Millis::NEVER, |violation| violation.from.max(at)),
        by: first.map(|violation| violation.rule),
    }
}

/// How long one may drive on after a break that begins when a break is due: at `due`, until when one drives from `at` on.
pub fn drivable_after_break(log: &DutyLog, rules: &RuleSet, at: Millis, due: Millis) -> Drivable {
    let Some(rule) = &rules.break_rule else {
        return drivable_at(log, rules, at);
    };
    let driven = if due > at {
        log.continued(at, DutyStatus::Driving, due)
    } else {
        log.clone()
    };
    let ends = due + rule.length;
    drivable_at(
        &driven.continued(due, DutyStatus::OffDuty, ends),
        rules,
        ends,
    )
}

/// The moment from which each limit that bars driving at `at` has barred it, in order of time.
pub fn barred_since(log: &DutyLog, rules: &RuleSet, at: Millis) -> Vec<(Clock, Millis)> {
    let reading = Reading::new(log, rules);
    let mut moments: Vec<Millis> = log.entries.iter().map(|entry| entry.from).collect();
    let first = log.wall.carrier_day(rules, log.begins());
    let last = log.wall.carrier_day(rules, at);
    moments.extend((first..=last).map(|day| log.wall.day_begins(rules, day)));
    moments.extend(log.allowances.iter().map(|(from, _)| *from));
    moments.push(log.ends());
    moments.retain(|moment| *moment < at && *moment >= log.begins());
    moments.sort_unstable();
    moments.dedup();
    let now = reading.look(at).left(false);
    let mut since: Vec<_> = Clock::ALL
        .into_iter()
        .filter(|rule| now.of(*rule) == Some(Millis::ZERO))
        .map(|rule| {
            let mut barred = at;
            for moment in moments.iter().rev() {
                // A clock that runs, runs as fast as time: it was used up so much later.
                match reading.look(*moment).left(false).of(rule) {
                    Some(left) if left > Millis::ZERO => {
                        barred = barred.min(*moment + left);
                        break;
                    }
                    Some(_) => barred = *moment,
                    None => break,
                }
            }
            (rule, barred)
        })
        .collect();
    since.sort_by_key(|(rule, from)| (*from, *rule));
    since
}

/// What makes driving legal again, for a driver who is off duty until then.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Opening {
    /// A full rest is complete.
    Rest,
    /// The time off that starts the weekly hours again is complete.
    Restart,
    /// A break is complete.
    Break,
    /// A carrier day begins: a day of the weekly hours no longer counts, or the hours of the day are new.
    Day,
    /// Until then a missed break is excused.
    Excuse,
}

/// The earliest moment at which the driver may drive if off duty from `at` on; `at` if driving is not barred then.
/// [`Millis::NEVER`] if no rest opens it.
pub fn may_drive_from(log: &DutyLog, rules: &RuleSet, at: Millis) -> Millis {
    if !left_at(log, rules, at).bars() {
        return at;
    }
    opens(log, rules, at).map_or(Millis::NEVER, |(from, _)| from)
}

/// The earliest moment after `at` at which the driver may drive if off duty from `at` on, and what makes it so; none if no rest of
/// the next twenty days does.
pub fn opens(log: &DutyLog, rules: &RuleSet, at: Millis) -> Option<(Millis, Opening)> {
    let off = log.continued(at, DutyStatus::OffDuty, at + Millis::DAY * 20);
    let reading = Reading::new(&off, rules);
    let resting = reading.rests.until(off.ends()).next_back();
    let rest_from = resting.map_or(at, |rest| rest.0);
    let last_began = reading.last_restart(at).map(|rest| rest.0);
    let today = log.wall.carrier_day(rules, at);
    let mut moments: Vec<(Millis, Opening)> = (0..20)
        .map(|days| (log.wall.day_begins(rules, today + days), Opening::Day))
        .collect();
    moments.push((rest_from + rules.reset_rest, Opening::Rest));
    moments.extend(rules.break_rule.as_ref().and_then(|rule| {
        let pause = reading.pauses.until(off.ends()).next_back()?;
        Some((pause.0 + rule.length, Opening::Break))
    }));
    moments.extend(rules.restart().map(|restart| {
        let complete = restart.complete_at(&log.wall, rest_from, last_began);
        (complete, Opening::Restart)
    }));
    moments.extend(
        off.allowances
            .iter()
            .filter_map(|(_, allowance)| Some((allowance.break_excused_until?, Opening::Excuse))),
    );
    moments.retain(|(moment, _)| *moment > at && *moment < off.ends());
    moments.sort_unstable();
    moments
        .into_iter()
        .find(|(moment, _)| !reading.look(*moment).left(false).bars())
}
