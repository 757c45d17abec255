//! How long driving is allowed, since when it is barred, and from when it is allowed again.

use super::look::runs;
use super::violations::judged;
use super::{left_at, restarts, rests};
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

/// The moment from which each limit that bars driving at `at` has barred it, in order of time.
pub fn barred_since(log: &DutyLog, rules: &RuleSet, at: Millis) -> Vec<(Clock, Millis)> {
    let mut moments: Vec<Millis> = log.entries.iter().map(|entry| entry.from).collect();
    let (first, last) = (rules.carrier_day(log.begins()), rules.carrier_day(at));
    moments.extend((first..=last).map(|day| rules.day_begins(day)));
    moments.extend(log.allowances.iter().map(|(from, _)| *from));
    moments.push(log.ends());
    moments.retain(|moment| *moment < at && *moment >= log.begins());
    moments.sort_unstable();
    moments.dedup();
    let now = left_at(log, rules, at);
    let mut since: Vec<_> = Clock::ALL
        .into_iter()
        .filter(|rule| now.of(*rule) == Some(Millis::ZERO))
        .map(|rule| {
            let mut barred = at;
            for moment in moments.iter().rev() {
                // A clock that runs, runs as fast as time: it was used up so much later.
                match left_at(log, rules, *moment).of(rule) {
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

/// The earliest moment at which the driver may drive if off duty from `at` on; `at` if driving is not barred then.
/// [`Millis::NEVER`] if no rest opens it.
pub fn may_drive_from(log: &DutyLog, rules: &RuleSet, at: Millis) -> Millis {
    if !left_at(log, rules, at).bars() {
        return at;
    }
    let off = log.continued(at, DutyStatus::OffDuty, at + Millis::DAY * 20);
    let resting = rests(&off, rules, off.ends());
    let last_began = restarts(log, rules, at).last().map(|rest| rest.0);
    let rest_from = resting.last().map_or(at, |rest| rest.0);
    let mut moments: Vec<Millis> = (0..20)
        .map(|days| rules.day_begins(rules.carrier_day(at) + days))
        .collect();
    moments.push(rest_from + rules.reset_rest);
    moments.extend(rules.break_rule.as_ref().and_then(|rule| {
        let pauses = runs(&off, off.ends(), |status| rules.is_break(status));
        pauses.last().map(|pause| pause.0 + rule.length)
    }));
    moments.extend(
        rules
            .restart()
            .map(|restart| restart.complete_at(rest_from, last_began)),
    );
    moments.extend(
        off.allowances
            .iter()
            .filter_map(|(_, allowance)| allowance.break_excused_until),
    );
    moments.retain(|moment| *moment > at && *moment < off.ends());
    moments.sort_unstable();
    moments
        .into_iter()
        .find(|moment| !left_at(&off, rules, *moment).bars())
        .unwrap_or(Millis::NEVER)
}
