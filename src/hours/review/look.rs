//! A moment in a log, looked back from: every clock by its definition.

use crate::hours::exceptions::Allowance;
use crate::hours::left::{Left, rest_of};
use crate::hours::log::{DutyLog, Entry};
use crate::hours::rule_set::{BreakTrigger, RuleSet};
use crate::hours::status::DutyStatus;
use crate::units::Millis;

/// A moment in a log, with what the definitions look back at.
pub(super) struct Look<'a> {
    log: &'a DutyLog,
    rules: &'a RuleSet,
    at: Millis,
    /// Unbroken rests, the one before the log first, the last one cut at `at`.
    pub(super) rests: Vec<(Millis, Millis)>,
    /// End of the last full rest, or `at` if it still lasts.
    rested: Millis,
    /// When that rest had lasted its full length.
    rest_complete: Millis,
}

impl<'a> Look<'a> {
    pub(super) fn new(log: &'a DutyLog, rules: &'a RuleSet, at: Millis) -> Self {
        let rests = runs(log, at, |status| !rules.is_duty(status));
        let full = rests
            .iter()
            .rev()
            .find(|(from, to)| *to - *from >= rules.reset_rest);
        let (rested, rest_complete) = full.map_or((log.rested_since, -Millis::NEVER), |rest| {
            (rest.1, rest.0 + rules.reset_rest)
        });
        Self {
            log,
            rules,
            at,
            rests,
            rested,
            rest_complete,
        }
    }

    /// Time in statuses that count, from a moment up to `at`.
    fn sum(&self, from: Millis, counts: impl Fn(DutyStatus) -> bool) -> Millis {
        let inside = |entry: &Entry| entry.to.min(self.at) - entry.from.max(from);
        let entries = self.log.entries.iter();
        entries
            .filter(|entry| counts(entry.status))
            .map(|entry| inside(entry).max(Millis::ZERO))
            .sum()
    }

    fn driven(&self, from: Millis) -> Millis {
        self.sum(from, |status| status == DutyStatus::Driving)
    }

    fn worked(&self, from: Millis) -> Millis {
        self.sum(from, |status| self.rules.is_duty(status))
    }

    /// First duty after the last full rest, up to `at` (a shift that begins at `at` has used nothing).
    pub(super) fn shift_start(&self) -> Option<Millis> {
        self.log
            .entries
            .iter()
            .find(|entry| {
                self.rules.is_duty(entry.status)
                    && entry.from < self.at
                    && entry.to > self.rested
                    && entry.from >= self.rested
            })
            .map(|entry| entry.from)
    }

    pub(super) fn allowance(&self) -> Allowance {
        let claimed = self.log.allowances.iter().rev();
        claimed
            .filter(|(from, _)| *from <= self.at && *from >= self.rest_complete)
            .map(|(_, allowance)| *allowance)
            .next()
            .unwrap_or_default()
    }

    fn today(&self) -> i64 {
        self.rules.carrier_day(self.at)
    }

    fn per_day(&self, limit: Millis, in_shift: Millis, today: Millis) -> Millis {
        if self.rules.limits_hold_per_day {
            rest_of(limit, in_shift).min(rest_of(limit, today))
        } else {
            rest_of(limit, in_shift)
        }
    }

    pub(super) fn left(&self, short_haul_lost: bool) -> Left {
        let (rules, allowance) = (self.rules, self.allowance());
        let day = rules.day_begins(self.today());
        let prior_today: Millis = self.prior_since(self.today());
        Left {
            driving: rules
                .driving_limit(&allowance)
                .map(|limit| self.per_day(limit, self.driven(self.rested), self.driven(day))),
            window: rules.window_limit(&allowance).map(|window| {
                let start = self.shift_start().unwrap_or(self.at);
                rest_of(window, self.at - start)
            }),
            on_duty: rules.on_duty.as_ref().map(|limit| {
                let today = self.worked(day) + prior_today;
                self.per_day(limit.length, self.worked(self.rested), today)
            }),
            break_in: self.break_left(&allowance, short_haul_lost),
            cycle: self.cycle_left(),
        }
    }

    fn break_left(&self, allowance: &Allowance, short_haul_lost: bool) -> Option<Millis> {
        let rule = self.rules.break_rule.as_ref()?;
        let shift = self.shift_start();
        let release = self.rules.short_haul_release(allowance);
        let short_haul = release.is_some_and(|within| self.at < shift.unwrap_or(self.at) + within);
        if (short_haul && !short_haul_lost)
            || allowance
                .break_excused_until
                .is_some_and(|until| self.at < until)
        {
            return None;
        }
        let pauses = runs(self.log, self.at, |status| self.rules.is_break(status));
        let last = pauses
            .iter()
            .rev()
            .find(|(from, to)| *to - *from >= rule.length)
            .map_or(-Millis::NEVER, |pause| pause.1);
        let used = match rule.trigger {
            BreakTrigger::DrivingTime => self.driven(last.max(self.rested)),
            BreakTrigger::ElapsedTime => {
                shift.map_or(Millis::ZERO, |shift| self.at - shift.max(last))
            }
        };
        Some(rest_of(rule.after, used))
    }

    /// Time on duty before the log from a carrier day on.
    fn prior_since(&self, day: i64) -> Millis {
        let prior = self.log.prior.iter();
        prior
            .filter(|(other, _)| (day..=self.today()).contains(other))
            .map(|(_, worked)| *worked)
            .sum()
    }

    fn cycle_left(&self) -> Option<Millis> {
        let cycle = self.rules.cycle.as_ref()?;
        let first = self.today() - i64::from(cycle.days) + 1;
        let begins = self.rules.day_begins(first);
        let used = match self.restarts().last() {
            Some((_, restarted)) => self.worked(begins.max(*restarted)),
            None => self.worked(begins) + self.prior_since(first),
        };
        Some(rest_of(cycle.limit, used))
    }

    /// The rests so far that start the weekly hours again.
    pub(super) fn restarts(&self) -> Vec<(Millis, Millis)> {
        let mut found: Vec<(Millis, Millis)> = Vec::new();
        if let Some(restart) = self.rules.restart() {
            for rest in &self.rests {
                let last_began = found.last().map(|last| last.0);
                if rest.1 >= restart.complete_at(rest.0, last_began) {
                    found.push(*rest);
                }
            }
        }
        found
    }
}

/// Unbroken runs of statuses that count, up to a moment; before the log the driver is off duty, and after it.
pub(super) fn runs(
    log: &DutyLog,
    at: Millis,
    counts: impl Fn(DutyStatus) -> bool,
) -> Vec<(Millis, Millis)> {
    let before = Entry {
        status: DutyStatus::OffDuty,
        from: log.rested_since,
        to: log.begins(),
    };
    let after = Entry {
        status: DutyStatus::OffDuty,
        from: log.ends(),
        to: at,
    };
    let mut runs: Vec<(Millis, Millis)> = Vec::new();
    for entry in std::iter::once(&before)
        .chain(&log.entries)
        .chain(std::iter::once(&after))
    {
        let to = entry.to.min(at);
        if entry.from >= to || !counts(entry.status) {
            continue;
        }
        match runs.last_mut() {
            Some(last) if last.1 == entry.from => last.1 = to,
            _ => runs.push((entry.from, to)),
        }
    }
    runs
}
