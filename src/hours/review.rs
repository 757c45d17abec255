//! A whole log against a rule book, each clock straight from its definition: nothing is carried along, so that every answer
//! can be followed with the log in hand.

use super::exceptions::Allowance;
use super::left::{Drivable, Left, rest_of};
use super::log::{DutyLog, Entry};
use super::rule_set::{BreakTrigger, Rule, RuleSet};
use super::short_haul::was_short_haul;
use super::status::DutyStatus;
use crate::units::Millis;

/// Driving beyond a limit: one unbroken run under one rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Violation {
    /// The limit; its name and citation are [`RuleSet::law`]'s.
    pub rule: Rule,
    /// The first moment driven beyond it.
    pub from: Millis,
    /// Until just before this moment.
    pub to: Millis,
}

/// A moment in a log, with what the definitions look back at.
struct Look<'a> {
    log: &'a DutyLog,
    rules: &'a RuleSet,
    at: Millis,
    /// Unbroken rests, the one before the log first, the last one cut at `at`.
    rests: Vec<(Millis, Millis)>,
    /// End of the last full rest, or `at` if it still lasts.
    rested: Millis,
    /// When that rest had lasted its full length.
    rest_complete: Millis,
}

impl<'a> Look<'a> {
    fn new(log: &'a DutyLog, rules: &'a RuleSet, at: Millis) -> Self {
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
    fn shift_start(&self) -> Option<Millis> {
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

    fn allowance(&self) -> Allowance {
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

    fn left(&self, short_haul_lost: bool) -> Left {
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
    fn restarts(&self) -> Vec<(Millis, Millis)> {
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
fn runs(log: &DutyLog, at: Millis, counts: impl Fn(DutyStatus) -> bool) -> Vec<(Millis, Millis)> {
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

/// What is left on every clock at a moment, before anything that happens then.
pub fn left_at(log: &DutyLog, rules: &RuleSet, at: Millis) -> Left {
    Look::new(log, rules, at).left(false)
}

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

/// Driving beyond the limits, in order of time. A tour that turns out not to be short-haul is judged as an ordinary one
/// from its start.
pub fn violations(log: &DutyLog, rules: &RuleSet) -> Vec<Violation> {
    judged(log, rules, true)
}

/// As [`violations`], judged by what was known at each moment: the short-haul exception counts until it is lost.
pub fn violations_as_known(log: &DutyLog, rules: &RuleSet) -> Vec<Violation> {
    judged(log, rules, false)
}

fn judged(log: &DutyLog, rules: &RuleSet, in_hindsight: bool) -> Vec<Violation> {
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
            for rule in Rule::ALL {
                if let Some(left) = left.of(rule).filter(|left| from + *left < to) {
                    add(&mut found, rule, from + left, to);
                }
            }
        }
    }
    found.sort_by_key(|violation| (violation.from, violation.rule));
    found
}

fn add(found: &mut Vec<Violation>, rule: Rule, from: Millis, to: Millis) {
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
pub fn barred_since(log: &DutyLog, rules: &RuleSet, at: Millis) -> Vec<(Rule, Millis)> {
    let mut moments: Vec<Millis> = log.entries.iter().map(|entry| entry.from).collect();
    let (first, last) = (rules.carrier_day(log.begins()), rules.carrier_day(at));
    moments.extend((first..=last).map(|day| rules.day_begins(day)));
    moments.extend(log.allowances.iter().map(|(from, _)| *from));
    moments.push(log.ends());
    moments.retain(|moment| *moment < at && *moment >= log.begins());
    moments.sort_unstable();
    moments.dedup();
    let now = left_at(log, rules, at);
    let mut since: Vec<_> = Rule::ALL
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

/// Off duty within a carrier day, counted in stretches of at least 30 minutes (SOR/2005-313 s. 14(1)).
pub fn off_duty_in_day(log: &DutyLog, rules: &RuleSet, day: i64) -> Millis {
    let (begins, ends) = (rules.day_begins(day), rules.day_begins(day + 1));
    rests(log, rules, ends)
        .into_iter()
        .map(|(from, to)| to.min(ends) - from.max(begins))
        .filter(|stretch| *stretch >= Millis::MINUTE * 30)
        .sum()
}
