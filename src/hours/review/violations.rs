//! Driving beyond the limits.

use super::reading::Reading;
use super::short_haul;
use crate::hours::exceptions::Allowance;
use crate::hours::log::{DutyLog, Entry};
use crate::hours::rule_set::{Clock, RuleSet};
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
    let reading = Reading::new(log, rules);
    let lost = if in_hindsight {
        short_haul::lost(&reading)
    } else {
        Vec::new()
    };
    let mut found = Found::default();
    let driving = log
        .entries
        .iter()
        .filter(|entry| entry.status == DutyStatus::Driving);
    for entry in driving {
        let cuts = cuts(&reading, entry);
        for piece in cuts.windows(2) {
            let (from, to) = (piece[0], piece[1]);
            let begun = lost.partition_point(|tour| tour.came_on_duty <= from);
            let lost = begun.checked_sub(1).map(|last| &lost[last]);
            let lost = lost.is_some_and(|tour| from < tour.released);
            // A shift that begins with this drive has begun when it goes on.
            let left = reading.look(from).left(lost);
            for rule in Clock::ALL {
                if let Some(left) = left.of(rule).filter(|left| from + *left < to) {
                    found.add(rule, from + left, to);
                }
            }
        }
    }
    let mut found = found.violations;
    found.sort_by_key(|violation| (violation.from, violation.rule));
    found
}

/// Violations in the order in which they are found, and where the last one of each clock stands.
#[derive(Default)]
struct Found {
    violations: Vec<Violation>,
    last: [Option<usize>; Clock::ALL.len()],
}

impl Found {
    fn add(&mut self, rule: Clock, from: Millis, to: Millis) {
        let last = &mut self.last[rule as usize];
        let before = last.map(|at| &mut self.violations[at]);
        match before.filter(|before| before.to == from) {
            Some(before) => before.to = to,
            None => {
                *last = Some(self.violations.len());
                self.violations.push(Violation { rule, from, to });
            }
        }
    }
}

/// The moments in a drive at which more can be left than before, or an exception begins or ends.
fn cuts(reading: &Reading<'_>, drive: &Entry) -> Vec<Millis> {
    let (log, rules) = (reading.log, reading.rules);
    let mut cuts = vec![drive.from, drive.to];
    let first = log.wall.carrier_day(rules, drive.from);
    let last = log.wall.carrier_day(rules, drive.to);
    cuts.extend((first..=last).map(|day| log.wall.day_begins(rules, day)));
    let claimed = &log.allowances;
    let begun = claimed.partition_point(|(from, _)| *from < drive.from);
    let before = begun.checked_sub(1).map(|last| &claimed[last]);
    let within = claimed[begun..]
        .iter()
        .take_while(|(from, _)| *from <= drive.to);
    for (from, allowance) in before.into_iter().chain(within) {
        cuts.push(*from);
        cuts.extend(allowance.break_excused_until);
    }
    if let Some(within) = rules.short_haul_release(&Allowance::default()) {
        let start = reading.look(drive.from).shift_start();
        cuts.push(start.unwrap_or(drive.from) + within);
    }
    cuts.retain(|at| (drive.from..=drive.to).contains(at));
    cuts.sort_unstable();
    cuts.dedup();
    cuts
}
