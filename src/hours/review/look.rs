//! A moment in a log, looked back from: every clock by its definition.

use super::reading::Reading;
use crate::hours::exceptions::Allowance;
use crate::hours::left::{Left, rest_of};
use crate::hours::rule_set::BreakTrigger;
use crate::units::Millis;

/// A moment in a log, with what the definitions look back at.
pub(super) struct Look<'a> {
    reading: &'a Reading<'a>,
    at: Millis,
    /// End of the last full rest, or `at` if it still lasts.
    rested: Millis,
    /// When that rest had lasted its full length.
    rest_complete: Millis,
}

impl<'a> Look<'a> {
    pub(super) fn new(reading: &'a Reading<'a>, at: Millis) -> Self {
        let full = reading.rests.last_long(at);
        let before = (reading.log.rested_since, -Millis::NEVER);
        let (rested, rest_complete) =
            full.map_or(before, |rest| (rest.1, rest.0 + reading.rules.reset_rest));
        Self {
            reading,
            at,
            rested,
            rest_complete,
        }
    }

    fn driven(&self, from: Millis) -> Millis {
        self.reading.driven(from, self.at)
    }

    fn worked(&self, from: Millis) -> Millis {
        self.reading.worked(from, self.at)
    }

    /// First duty after the last full rest, up to `at` (a shift that begins at `at` has used nothing).
    pub(super) fn shift_start(&self) -> Option<Millis> {
        let first = self.reading.first_duty(self.rested)?;
        (first.from < self.at).then_some(first.from)
    }

    pub(super) fn allowance(&self) -> Allowance {
        let claimed = &self.reading.log.allowances;
        let so_far = claimed.partition_point(|(from, _)| *from <= self.at);
        let last = so_far.checked_sub(1).map(|last| claimed[last]);
        last.filter(|(from, _)| *from >= self.rest_complete)
            .map_or_else(Allowance::default, |(_, allowance)| allowance)
    }

    fn day_begins(&self, day: i64) -> Millis {
        self.reading.log.wall.day_begins(self.reading.rules, day)
    }

    fn today(&self) -> i64 {
        let reading = self.reading;
        reading.log.wall.carrier_day(reading.rules, self.at)
    }

    fn per_day(&self, limit: Millis, in_shift: Millis, today: Millis) -> Millis {
        if self.reading.rules.limits_hold_per_day {
            rest_of(limit, in_shift).min(rest_of(limit, today))
        } else {
            rest_of(limit, in_shift)
        }
    }

    pub(super) fn left(&self, short_haul_lost: bool) -> Left {
        let (rules, allowance) = (self.reading.rules, self.allowance());
        let day = self.day_begins(self.today());
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
        let rule = self.reading.rules.break_rule.as_ref()?;
        let shift = self.shift_start();
        let release = self.reading.rules.short_haul_release(allowance);
        let short_haul = release.is_some_and(|within| self.at < shift.unwrap_or(self.at) + within);
        if (short_haul && !short_haul_lost)
            || allowance
                .break_excused_until
                .is_some_and(|until| self.at < until)
        {
            return None;
        }
        let last = self.reading.pauses.last_long(self.at);
        let last = last.map_or(-Millis::NEVER, |pause| pause.1);
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
        let prior = self.reading.log.prior.iter();
        let today = self.today();
        prior
            .filter(|(other, _)| (day..=today).contains(other))
            .map(|(_, worked)| *worked)
            .sum()
    }

    fn cycle_left(&self) -> Option<Millis> {
        let cycle = self.reading.rules.cycle.as_ref()?;
        let first = self.today() - i64::from(cycle.days) + 1;
        let begins = self.day_begins(first);
        let used = match self.reading.last_restart(self.at) {
            Some((_, restarted)) => self.worked(begins.max(restarted)),
            None => self.worked(begins) + self.prior_since(first),
        };
        Some(rest_of(cycle.limit, used))
    }
}
