//! Drivers' logs against a rule book: what is left, what binds, what was driven beyond.

use jiff::civil::Date as CivilDate;

use crate::hours::review::{
    Violation, barred_since, drivable_at, left_at, log_required, may_drive_from, violations,
};
use crate::hours::{
    Claims, Clock, Date, DutyStatus, Entry, Exception, JudgedClaim, Left, RuleSet, ShortDay,
    WithHistory, short_days, use_claims, with_history,
};
use crate::scenario::duty_log::{DriverLog, DutyLogs};
use crate::units::Millis;

/// What the logs come to. Times are milliseconds since midnight before `first_date`.
#[derive(Clone, Debug, PartialEq)]
pub struct HoursReview {
    /// The rule book that was asked about.
    pub rules: RuleSet,
    /// The date that times count from.
    pub first_date: CivilDate,
    /// One answer a driver, in the order of the log.
    pub drivers: Vec<DriverHours>,
    /// Drivers whose log begins after the moment that is asked about.
    pub not_yet: Vec<String>,
    /// Dates in the logs on which the rule book was not in force: the first and the last.
    pub out_of_force: Option<(Date, Date)>,
}

/// What one driver's log comes to at a moment.
#[derive(Clone, Debug, PartialEq)]
pub struct DriverHours {
    /// The driver.
    pub driver: String,
    /// The moment that is asked about; only what the log holds before it counts.
    pub at: Millis,
    /// What is left on every clock.
    pub left: Left,
    /// The clock that ends driving first, if the driver drives on from then, or that bars it already.
    pub binds: Option<Clock>,
    /// From when driving is barred if the driver drives on without a pause; if it is barred already, since when.
    pub barred_from: Option<Millis>,
    /// Every clock that bars driving, and since when, in order of time; empty if driving is not barred.
    pub barred: Vec<(Clock, Millis)>,
    /// If driving is barred: when it is allowed again if the driver is off duty from then on, unless no rest allows it.
    pub may_drive_again_at: Option<Millis>,
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
    /// A history was given.
    pub has_history: bool,
    /// The history leaves no room for a full rest before the log, so its last day counts as the same shift.
    pub no_rest_before: bool,
    /// Days, counted from the first date, of which a history that is given says nothing, though the weekly hours look at them.
    pub missing: Vec<i64>,
}

/// Judges every driver at `at`, or at the end of each log.
pub fn hours(logs: &DutyLogs, rules: &RuleSet, at: Option<Millis>) -> HoursReview {
    let mut drivers = Vec::new();
    let mut not_yet = Vec::new();
    let counts_from = waiting_counts_from(logs, rules);
    for log in &logs.drivers {
        if at.is_some_and(|at| at < log.entries[0].from) {
            not_yet.push(log.driver.clone());
        } else {
            drivers.push(driver_hours(log, rules, at, counts_from));
        }
    }
    HoursReview {
        rules: rules.clone(),
        first_date: logs.first_date,
        drivers,
        not_yet,
        out_of_force: out_of_force(logs, rules, at),
    }
}

/// The moment from which waiting counts as a break, if the rule book names a date.
fn waiting_counts_from(logs: &DutyLogs, rules: &RuleSet) -> Option<Millis> {
    let date = rules.break_rule.as_ref()?.waiting_counts_from?;
    let date = CivilDate::new(date.year, date.month, date.day).ok()?;
    Some(logs.moment(date.at(0, 0, 0, 0)))
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

fn driver_hours(
    logged: &DriverLog,
    rules: &RuleSet,
    at: Option<Millis>,
    waiting_counts_from: Option<Millis>,
) -> DriverHours {
    let days = logged.history.iter().map(|(day, worked)| (*day, *worked));
    let WithHistory {
        mut log,
        no_rest_before,
        restarted_by,
        missing,
    } = with_history(
        rules,
        with_waiting_as_work(&logged.entries, waiting_counts_from),
        days,
    );
    let at = at.unwrap_or(log.ends());
    log.entries.retain(|entry| entry.from < at);
    if let Some(last) = log.entries.last_mut() {
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
    let barred = if left.bars() {
        barred_since(&log, rules, at)
    } else {
        Vec::new()
    };
    let (binds, barred_from, may_drive_again_at) = if left.bars() {
        let (clock, since) = barred.first().copied().unzip();
        let again = Some(may_drive_from(&log, rules, at)).filter(|again| *again < Millis::NEVER);
        (clock, since, again)
    } else {
        let drivable = drivable_at(&log, rules, at);
        (drivable.by, drivable.by.map(|_| drivable.until), None)
    };
    DriverHours {
        driver: logged.driver.clone(),
        at,
        left,
        binds,
        barred_from,
        barred,
        may_drive_again_at,
        short_days: short_days(&log, rules),
        may_apply: may_apply(&claims, rules, &violations),
        claims: claims.judged,
        violations,
        log_required: log_required(&log, rules, at),
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
    let entries = logs.drivers.iter().flat_map(|log| &log.entries);
    let last = entries
        .map(|entry| (entry.to - Millis(1)).day())
        .max()
        .unwrap_or(0);
    let last = at.map_or(last, |at| at.day());
    let dates = [0, last].map(|day| {
        let day = jiff::Span::new().try_days(day).ok();
        let date = day.and_then(|day| logs.first_date.checked_add(day).ok());
        let date = date.unwrap_or(logs.first_date);
        Date::new(date.year(), date.month(), date.day())
    });
    let [first, last] = dates;
    (!rules.in_force_on(first) || !rules.in_force_on(last)).then_some((first, last))
}
