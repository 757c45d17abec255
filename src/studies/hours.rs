//! Drivers' logs against a rule book: what is left, what governs, what was driven beyond.

use jiff::civil::Date as CivilDate;

use crate::hours::review::{
    LostShortHaul, Opening, Violation, allowance_at, barred_since, drivable_after_break,
    drivable_at, left_at, log_required, lost_short_haul, opens, release_by, violations,
};
use crate::hours::{
    Allowance, Claims, Clock, Date, Drivable, DutyStatus, Entry, Exception, JudgedClaim, Left,
    RuleSet, ShortDay, WallClock, WithHistory, short_days, use_claims, with_history,
};
use crate::montecarlo::Progress;
use crate::scenario::duty_log::{DriverLog, DutyLogs};
use crate::scenario::local_time::LocalTime;
use crate::units::Millis;

/// What the logs come to. Times are milliseconds since midnight before the first date of `time`.
#[derive(Clone, Debug, PartialEq)]
pub struct HoursReview {
    /// The rule book that was asked about.
    pub rules: RuleSet,
    /// The date that times count from, and the zone of the clock.
    pub time: LocalTime,
    /// One answer a driver, in the order of the log.
    pub drivers: Vec<DriverHours>,
    /// Drivers whose log begins after the moment that is asked about.
    pub not_yet: Vec<String>,
    /// Dates in the logs on which the rule book was not in force: the first and the last.
    pub out_of_force: Option<(Date, Date)>,
    /// Whether somebody was in a sleeper berth.
    pub has_sleeper: bool,
    /// When the clock was put forward within the logs, and by how much; back if that is below zero.
    pub clock_changes: Vec<(Millis, Millis)>,
}

impl HoursReview {
    /// Whether a log holds a violation: driving beyond a limit, or a day with too little time off duty.
    pub fn has_violation(&self) -> bool {
        let mut drivers = self.drivers.iter();
        drivers.any(|driver| !driver.violations.is_empty() || !driver.short_days.is_empty())
    }
}

/// What one driver's log comes to at a moment.
#[derive(Clone, Debug, PartialEq)]
pub struct DriverHours {
    /// The driver.
    pub driver: String,
    /// The moment that is asked about; only what the log holds before it counts.
    pub at: Millis,
    /// The status with which the log ends, and when, if that is taken to go on until the moment that is asked about.
    pub goes_on: Option<(DutyStatus, Millis)>,
    /// What is left on every clock.
    pub left: Left,
    /// Exceptions in use at that moment.
    pub allowance: Allowance,
    /// The clock that ends driving first, if the driver drives on from then, or that bars it already.
    pub binds: Option<Clock>,
    /// From when driving is barred if the driver drives on without a pause; if it is barred already, since when.
    pub barred_from: Option<Millis>,
    /// If a break is what ends driving first: how long driving may go on after it.
    pub after_break: Option<Drivable>,
    /// Every clock that bars driving, and since when, in order of time; empty if driving is not barred.
    pub barred: Vec<(Clock, Millis)>,
    /// If driving is barred: when it is allowed again if the driver is off duty from then on, and what makes it so; unless no rest
    /// does.
    pub opens: Option<(Millis, Opening)>,
    /// Driving beyond a limit, in order of time.
    pub violations: Vec<Violation>,
    /// Carrier days with too little time off duty, in order of time.
    pub short_days: Vec<ShortDay>,
    /// Exceptions that the log claims.
    pub claims: Vec<JudgedClaim>,
    /// Exceptions that are not claimed, whose conditions are met as far as the log shows, and that would cover a violation.
    pub may_apply: Vec<Exception>,
    /// Whether a record of duty status is needed for the last tour.
    pub log_required: bool,
    /// Tours that were to be short-haul and were not, in order of time.
    pub lost: Vec<LostShortHaul>,
    /// Until when the driver must be released for the shift that is running to stay short-haul.
    pub release_by: Option<Millis>,
    /// A history was given.
    pub has_history: bool,
    /// The history leaves no room for a full rest before the log, so its last day counts as the same shift.
    pub no_rest_before: bool,
    /// Days, counted from the first date, of which a history that is given says nothing, though the weekly hours look at them.
    pub missing: Vec<i64>,
}

/// Judges every driver at `at`, or at the end of each log. `progress` is told of each driver that is done.
pub fn hours(
    logs: &DutyLogs,
    rules: &RuleSet,
    at: Option<Millis>,
    progress: &dyn Fn(Progress),
) -> HoursReview {
    let mut drivers = Vec::new();
    let mut not_yet = Vec::new();
    // Histories and rests reach beyond the logs.
    let around = Millis::DAY * 40;
    let begins = logs.drivers.iter().map(|log| log.entries[0].from).min();
    let begins = begins.unwrap_or(Millis::ZERO);
    let ends = at.map_or(logs.ends(), |at| at.max(logs.ends()));
    let asked = Asked {
        rules,
        at,
        waiting_counts_from: waiting_counts_from(logs, rules),
        wall: logs.time.wall_clock(begins - around, ends + around),
    };
    for (done, log) in logs.drivers.iter().enumerate() {
        if at.is_some_and(|at| at < log.entries[0].from) {
            not_yet.push(log.driver.clone());
        } else {
            drivers.push(driver_hours(log, &asked));
        }
        progress(Progress {
            done: done as u64 + 1,
            total: logs.drivers.len() as u64,
            under_way: 0,
            begun_with: 0,
        });
    }
    let mut entries = logs.drivers.iter().flat_map(|log| &log.entries);
    HoursReview {
        rules: rules.clone(),
        drivers,
        not_yet,
        out_of_force: out_of_force(logs, rules, at),
        has_sleeper: entries.any(|entry| entry.status == DutyStatus::Sleeper),
        clock_changes: logs.time.changes(begins, ends),
        time: logs.time.clone(),
    }
}

/// What every driver is asked.
struct Asked<'a> {
    rules: &'a RuleSet,
    at: Option<Millis>,
    waiting_counts_from: Option<Millis>,
    wall: WallClock,
}

/// The moment from which waiting counts as a break, if the rule book names a date.
fn waiting_counts_from(logs: &DutyLogs, rules: &RuleSet) -> Option<Millis> {
    let date = rules.break_rule.as_ref()?.waiting_counts_from?;
    let date = CivilDate::new(date.year, date.month, date.day).ok()?;
    Some(logs.time.moment(date.at(0, 0, 0, 0)))
}

/// Entries in which waiting is work before a moment.
fn with_waiting_as_work(entries: &[Entry], before: Option<Millis>) -> Vec<Entry> {
    let mut judged = Vec::with_capacity(entries.len());
    for entry in entries {
        match before {
            Some(before) if entry.status == DutyStatus::Waiting && entry.from < before => {
                let middle = entry.to.min(before);
                judged.push(Entry {
                    status: DutyStatus::OnDuty,
                    to: middle,
                    ..*entry
                });
                if middle < entry.to {
                    judged.push(Entry {
                        from: middle,
                        ..*entry
                    });
                }
            }
            _ => judged.push(*entry),
        }
    }
    judged
}

fn driver_hours(logged: &DriverLog, asked: &Asked<'_>) -> DriverHours {
    let rules = asked.rules;
    let days = logged.history.iter().map(|(day, worked)| (*day, *worked));
    let WithHistory {
        mut log,
        no_rest_before,
        restarted_by,
        missing,
    } = with_history(
        rules,
        with_waiting_as_work(&logged.entries, asked.waiting_counts_from),
        days,
        asked.wall.clone(),
    );
    let at = asked.at.unwrap_or(log.ends());
    log.entries.retain(|entry| entry.from < at);
    let mut goes_on = None;
    if let Some(last) = log.entries.last_mut() {
        // Whoever is at work when the log ends is taken to be so still; who is off duty, off duty.
        let is_off = matches!(last.status, DutyStatus::OffDuty | DutyStatus::Sleeper);
        if last.to < at && !is_off {
            goes_on = Some((last.status, last.to));
            last.to = at;
        }
        last.to = last.to.min(at);
    }
    if log.entries.is_empty() {
        // Asked about the very beginning: a log of nothing, off duty up to then.
        log.entries.push(Entry {
            status: DutyStatus::OffDuty,
            from: log.rested_since.max(at - Millis::MINUTE),
            to: at,
        });
    }
    let used_before = logged.long_days.last().copied();
    let used_before = used_before.filter(|day| restarted_by.is_none_or(|by| by <= *day));
    let claims = logged.claims.iter().filter(|claim| claim.from < at);
    let claims: Vec<_> = claims.copied().collect();
    let claims = use_claims(&mut log, rules, &claims, used_before);
    let violations = violations(&log, rules);
    let left = left_at(&log, rules, at);
    let (mut barred, mut after_break, mut again) = (Vec::new(), None, None);
    let (binds, barred_from) = if left.bars() {
        barred = barred_since(&log, rules, at);
        again = opens(&log, rules, at);
        barred.first().copied().unzip()
    } else {
        let drivable = drivable_at(&log, rules, at);
        if drivable.by == Some(Clock::Break) {
            after_break = Some(drivable_after_break(&log, rules, at, drivable.until));
        }
        (drivable.by, drivable.by.map(|_| drivable.until))
    };
    DriverHours {
        driver: logged.driver.clone(),
        at,
        goes_on,
        left,
        allowance: allowance_at(&log, rules, at),
        binds,
        barred_from,
        after_break,
        barred,
        opens: again,
        short_days: short_days(&log, rules),
        may_apply: may_apply(&claims, rules, &violations),
        claims: claims.judged,
        violations,
        log_required: log_required(&log, rules, at),
        lost: lost_short_haul(&log, rules),
        release_by: release_by(&log, rules, at),
        has_history: !logged.history.is_empty(),
        no_rest_before,
        missing: if logged.history.is_empty() {
            Vec::new()
        } else {
            missing
        },
    }
}

fn may_apply(claims: &Claims, rules: &RuleSet, violations: &[Violation]) -> Vec<Exception> {
    let covers = |what: &Exception| claims.may_cover(*what, rules, violations);
    Exception::ALL.into_iter().filter(covers).collect()
}

fn out_of_force(logs: &DutyLogs, rules: &RuleSet, at: Option<Millis>) -> Option<(Date, Date)> {
    let last = at.unwrap_or(logs.ends() - Millis(1));
    let last = logs.time.civil(last).date().max(logs.time.first_date());
    let dates =
        [logs.time.first_date(), last].map(|date| Date::new(date.year(), date.month(), date.day()));
    let [first, last] = dates;
    (!rules.in_force_on(first) || !rules.in_force_on(last)).then_some((first, last))
}
