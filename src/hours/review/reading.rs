//! A log as it is looked into: gone through once, so that what any moment looks back at is found without going through it again.

use super::look::Look;
use crate::hours::log::{DutyLog, Entry};
use crate::hours::rule_set::RuleSet;
use crate::hours::status::DutyStatus;
use crate::units::Millis;

/// A log with its sums, rests, breaks and restarts. Time and space to make it grow with the entries; a look takes the logarithm.
pub(super) struct Reading<'a> {
    pub(super) log: &'a DutyLog,
    pub(super) rules: &'a RuleSet,
    driven: Sum,
    worked: Sum,
    /// Unbroken rests, the one before the log first.
    pub(super) rests: Runs,
    /// Unbroken stretches that can be breaks.
    pub(super) pauses: Runs,
    restarts: Vec<Restarted>,
    /// The entry at a place or the first one after it that is duty.
    next_duty: Vec<Option<usize>>,
}

/// A rest that starts the weekly hours again once it has lasted until `complete`.
struct Restarted {
    from: Millis,
    to: Millis,
    complete: Millis,
}

impl<'a> Reading<'a> {
    pub(super) fn new(log: &'a DutyLog, rules: &'a RuleSet) -> Self {
        let is_duty = |entry: &Entry| rules.is_duty(entry.status);
        let rests = Runs::new(log, rules.reset_rest, |status| !rules.is_duty(status));
        let break_length = rules.break_rule.as_ref().map(|rule| rule.length);
        let mut next_duty = vec![None; log.entries.len() + 1];
        for (at, entry) in log.entries.iter().enumerate().rev() {
            next_duty[at] = is_duty(entry).then_some(at).or(next_duty[at + 1]);
        }
        Self {
            driven: Sum::new(log, |entry| entry.status == DutyStatus::Driving),
            worked: Sum::new(log, is_duty),
            restarts: restarts(log, rules, &rests),
            pauses: Runs::new(log, break_length.unwrap_or(Millis::NEVER), |status| {
                rules.is_break(status)
            }),
            rests,
            next_duty,
            log,
            rules,
        }
    }

    pub(super) fn look(&self, at: Millis) -> Look<'_> {
        Look::new(self, at)
    }

    /// Time driven between two moments.
    pub(super) fn driven(&self, from: Millis, to: Millis) -> Millis {
        self.driven.between(self.log, from, to)
    }

    /// Time on duty between two moments.
    pub(super) fn worked(&self, from: Millis, to: Millis) -> Millis {
        self.worked.between(self.log, from, to)
    }

    /// The first entry of duty that begins at `from` or later, and does not end with it.
    pub(super) fn first_duty(&self, from: Millis) -> Option<&'a Entry> {
        let entries = &self.log.entries;
        let mut at = entries.partition_point(|entry| entry.from < from);
        while let Some(duty) = self.next_duty[at] {
            if entries[duty].to > from {
                return Some(&entries[duty]);
            }
            at = duty + 1;
        }
        None
    }

    /// The last rest that has started the weekly hours again by a moment, cut there.
    pub(super) fn last_restart(&self, at: Millis) -> Option<(Millis, Millis)> {
        let so_far = self.restarts.partition_point(|rest| rest.complete <= at);
        let last = &self.restarts[so_far.checked_sub(1)?];
        Some((last.from, last.to.min(at)))
    }

    /// All of them, in order of time.
    pub(super) fn restarts_until(&self, at: Millis) -> Vec<(Millis, Millis)> {
        let so_far = self.restarts.iter().take_while(|rest| rest.complete <= at);
        so_far.map(|rest| (rest.from, rest.to.min(at))).collect()
    }
}

fn restarts(log: &DutyLog, rules: &RuleSet, rests: &Runs) -> Vec<Restarted> {
    let mut found: Vec<Restarted> = Vec::new();
    let Some(restart) = rules.restart() else {
        return found;
    };
    for (from, to) in &rests.runs {
        let last_began = found.last().map(|last| last.from);
        let complete = restart.complete_at(&log.wall, *from, last_began);
        if *to >= complete && complete < Millis::NEVER {
            found.push(Restarted {
                from: *from,
                to: *to,
                complete,
            });
        }
    }
    found
}

/// Time in entries that count, summed up to the beginning of each.
struct Sum {
    before: Vec<Millis>,
    counts: Vec<bool>,
}

impl Sum {
    fn new(log: &DutyLog, counts: impl Fn(&Entry) -> bool) -> Self {
        let counts: Vec<bool> = log.entries.iter().map(counts).collect();
        let mut sum = Millis::ZERO;
        let before = log.entries.iter().zip(&counts).map(|(entry, counts)| {
            let before = sum;
            if *counts {
                sum += entry.to - entry.from;
            }
            before
        });
        Self {
            before: before.collect(),
            counts,
        }
    }

    fn until(&self, log: &DutyLog, at: Millis) -> Millis {
        let begun = log.entries.partition_point(|entry| entry.from < at);
        let Some(last) = begun.checked_sub(1) else {
            return Millis::ZERO;
        };
        let entry = &log.entries[last];
        let inside = if self.counts[last] {
            entry.to.min(at) - entry.from
        } else {
            Millis::ZERO
        };
        self.before[last] + inside
    }

    fn between(&self, log: &DutyLog, from: Millis, to: Millis) -> Millis {
        self.until(log, to) - self.until(log, from.min(to))
    }
}

/// Unbroken runs of statuses that count; before the log the driver is off duty, and after it.
pub(super) struct Runs {
    pub(super) runs: Vec<(Millis, Millis)>,
    /// The last run up to each that is long enough, by its place.
    long: Vec<Option<usize>>,
    enough: Millis,
}

impl Runs {
    pub(super) fn new(log: &DutyLog, enough: Millis, counts: impl Fn(DutyStatus) -> bool) -> Self {
        let off = |from, to| Entry {
            status: DutyStatus::OffDuty,
            from,
            to,
        };
        let before = off(log.rested_since, log.begins());
        let after = off(log.ends(), Millis::NEVER);
        let mut runs: Vec<(Millis, Millis)> = Vec::new();
        for entry in std::iter::once(&before)
            .chain(&log.entries)
            .chain(std::iter::once(&after))
        {
            if entry.from >= entry.to || !counts(entry.status) {
                continue;
            }
            match runs.last_mut() {
                Some(last) if last.1 == entry.from => last.1 = entry.to,
                _ => runs.push((entry.from, entry.to)),
            }
        }
        let mut last = None;
        let long = runs.iter().enumerate().map(|(at, run)| {
            if run.1 - run.0 >= enough {
                last = Some(at);
            }
            last
        });
        Self {
            long: long.collect(),
            runs,
            enough,
        }
    }

    /// The runs so far at a moment, the last one cut there.
    pub(super) fn until(&self, at: Millis) -> impl DoubleEndedIterator<Item = (Millis, Millis)> {
        let begun = self.runs.partition_point(|run| run.0 < at);
        self.runs[..begun]
            .iter()
            .map(move |run| (run.0, run.1.min(at)))
    }

    /// The last run so far that has been long enough, cut at the moment.
    pub(super) fn last_long(&self, at: Millis) -> Option<(Millis, Millis)> {
        let last = self.until(at).next_back()?;
        if last.1 - last.0 >= self.enough {
            return Some(last);
        }
        let begun = self.runs.partition_point(|run| run.0 < at);
        let before = begun.checked_sub(2)?;
        self.long[before].map(|long| self.runs[long])
    }
}
