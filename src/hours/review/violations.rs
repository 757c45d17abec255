//! Driving beyond the limits.

use super::look::Look;
use super::shifts;
use crate::hours::exceptions::Allowance;
use crate::hours::log::{DutyLog, Entry};
use crate::hours::rule_set::{Clock, RuleSet};
use crate::hours::short_haul::was_short_haul;
use crate::hours::status::DutyStatus;
use crate::units::Millis;

/// Driving beyond a limit: one unbroken run under one rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Violation {
    /// The limit; its name and citation are [`RuleSet::law`]'s.
    pub rule: Clock,
    /// The first moment driven beyond it.
    pub from: Millis,
    /// Until just before this moment.
    pub to: Millis,
}

/// Driving beyond the limits, in order of time. A tour that turns out not to be short-haul is judged as an ordinary one
/// from its start.
pub fn violations(log: &DutyLog, rules: &RuleSet) -> Vec<Violation> {
    judged(log, rules, true)
}

/// As [`violations`], judged by what was known at each moment: the short-haul exception counts until it is lost.
pub fn violations_as_known(log: &DutyLog, rules: &RuleSet) -> Vec<Violation> {
    judged(log, rules, false)
}

pub(super) fn judged(log: &DutyLog, rules: &RuleSet, in_hindsight: bool) -> Vec<Violation> {
    let lost = if in_hindsight {
        lost_short_haul(log, rules)
    } else {
        Vec::new()
    };
    let mut found: Vec<Violation> = Vec::new();
    let driving = log
        .entries
        .iter()
        .filter(|entry| entry.status == DutyStatus::Driving);
    for entry in driving {
        let cuts = cuts(log, rules, entry);
        for piece in cuts.windows(2) {
            let (from, to) = (piece[0], piece[1]);
            let lost = lost.iter().any(|tour| tour.0 <= from && from < tour.1);
            // A shift that begins with this drive has begun when it goes on.
            let left = Look::new(log, rules, from).left(lost);
            for rule in Clock::ALL {
                if let Some(left) = left.of(rule).filter(|left| from + *left < to) {
                    add(&mut found, rule, from + left, to);
                }
            }
        }
    }
    found.sort_by_key(|violation| (violation.from, violation.rule));
    found
}

fn add(found: &mut Vec<Violation>, rule: Clock, from: Millis, to: Millis) {
    let before = found
        .iter_mut()
        .rev()
        .find(|other| other.rule == rule && other.to == from);
    match before {
        Some(before) => before.to = to,
        None => found.push(Violation { rule, from, to }),
    }
}

/// Tours that were to be short-haul and were not: from first duty to end of duty.
fn lost_short_haul(log: &DutyLog, rules: &RuleSet) -> Vec<(Millis, Millis)> {
    if rules.short_haul.is_none() {
        return Vec::new();
    }
    let tours = shifts(log, rules, log.ends()).into_iter();
    tours
        .filter(|(start, end)| {
            let allowance = Look::new(log, rules, *end).allowance();
            !was_short_haul(log, rules, &allowance, (*start, *end))
        })
        .collect()
}

/// The moments in a drive at which more can be left than before, or an exception begins or ends.
fn cuts(log: &DutyLog, rules: &RuleSet, drive: &Entry) -> Vec<Millis> {
    let mut cuts = vec![drive.from, drive.to];
    let first = rules.carrier_day(drive.from);
    let last = rules.carrier_day(drive.to);
    cuts.extend((first..=last).map(|day| rules.day_begins(day)));
    for (from, allowance) in &log.allowances {
        cuts.push(*from);
        cuts.extend(allowance.break_excused_until);
        cuts.extend(release_of(log, rules, drive, allowance));
    }
    cuts.extend(release_of(log, rules, drive, &Allowance::default()));
    cuts.retain(|at| (drive.from..=drive.to).contains(at));
    cuts.sort_unstable();
    cuts.dedup();
    cuts
}

/// When a drive that is to be short-haul no longer is.
fn release_of(
    log: &DutyLog,
    rules: &RuleSet,
    drive: &Entry,
    allowance: &Allowance,
) -> Option<Millis> {
    let within = rules.short_haul_release(allowance)?;
    let start = Look::new(log, rules, drive.from).shift_start();
    Some(start.unwrap_or(drive.from) + within)
}
