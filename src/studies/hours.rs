//! Drivers' logs against a rule book: what is left, what binds, what was driven beyond.

use jiff::civil::Date as CivilDate;

use crate::hours::review::{
    Violation, barred_since, drivable_at, left_at, log_required, may_drive_from, violations,
};
use crate::hours::{Date, DutyLog, DutyStatus, Entry, Left, Rule, RuleSet};
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
    pub binds: Option<Rule>,
    /// From when driving is barred if the driver drives on without a pause; if it is barred already, since when.
    pub barred_from: Option<Millis>,
    /// If driving is barred: when it is allowed again if the driver is off duty from then on, unless no rest allows it.
    pub may_drive_again_at: Option<Millis>,
    /// Driving beyond a limit, in order of time.
    pub violations: Vec<Violation>,
    /// Whether a record of duty status is needed for the last tour.
    pub log_required: bool,
    /// A history was given.
    pub has_history: bool,
    /// The history leaves no room for a full rest before the log, so its last day counts as the same shift.
    pub no_rest_before: bool,
}

/// Judges every driver at `at`, or at the end of each log. None if a log begins after `at`: then the first such driver's
/// name is the error.
///
/// # Errors
/// The name of a driver whose log begins after `at`.
pub fn hours(logs: &DutyLogs, rules: &RuleSet, at: Option<Millis>) -> Result<HoursReview, String> {
    let mut drivers = Vec::new();
    for log in &logs.drivers {
        let begins = log.entries[0].from;
        if at.is_some_and(|at| at < begins) {
            return Err(log.driver.clone());
        }
        drivers.push(driver_hours(log, rules, at));
    }
    Ok(HoursReview {
        rules: rules.clone(),
        first_date: logs.first_date,
        drivers,
        out_of_force: out_of_force(logs, rules, at),
    })
}

fn driver_hours(logged: &DriverLog, rules: &RuleSet, at: Option<Millis>) -> DriverHours {
    let (mut log, no_rest_before) = duty_log(logged, rules);
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
    let left = left_at(&log, rules, at);
    let (binds, barred_from, may_drive_again_at) = if left.bars() {
        let since = barred_since(&log, rules, at).first().copied();
        let again = Some(may_drive_from(&log, rules, at)).filter(|again| *again < Millis::NEVER);
        (
            since.map(|since| since.0),
            since.map(|since| since.1),
            again,
        )
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
        may_drive_again_at,
        violations: violations(&log, rules),
        log_required: log_required(&log, rules, at),
        has_history: !logged.history.is_empty(),
        no_rest_before,
    }
}

/// The log with what the history says of the time before. Without one, a full rest and no more lies before the log. Days
/// that the history gives as zero hours are rest; days that it leaves out count as no hours, but not as rest.
fn duty_log(logged: &DriverLog, rules: &RuleSet) -> (DutyLog, bool) {
    let begins = logged.entries[0].from;
    let today = rules.carrier_day(begins);
    let mut log = DutyLog {
        entries: logged.entries.clone(),
        rested_since: begins - rules.reset_rest,
        prior: Vec::new(),
        allowances: Vec::new(),
    };
    let mut days_off = 0;
    for (day, worked) in &logged.history {
        let follows = log.prior.last().is_none_or(|(last, _)| last + 1 == *day);
        days_off = match *worked {
            Millis::ZERO if follows => days_off + 1,
            Millis::ZERO => 1,
            _ => 0,
        };
        log.prior.push((*day, *worked));
        let restart = rules.restart().filter(|restart| restart.nights == 0);
        if restart.is_some_and(|restart| Millis::DAY * days_off >= restart.length) {
            log.prior
                .iter_mut()
                .for_each(|prior| prior.1 = Millis::ZERO);
        }
    }
    let mut no_rest_before = false;
    match log.prior.last().copied() {
        Some((last, Millis::ZERO)) if last + 1 == today => {
            let off_since = rules.day_begins(today - days_off);
            log.rested_since = log.rested_since.min(off_since);
        }
        Some((last, worked)) if last + 1 == today => {
            let room = begins - rules.day_begins(last) - worked;
            if room < rules.reset_rest {
                no_rest_before = true;
                log.prior.pop();
                let room = room.max(Millis::ZERO);
                let released = begins - room;
                let mut earlier = vec![Entry {
                    status: DutyStatus::OnDuty,
                    from: released - worked,
                    to: released,
                }];
                if room > Millis::ZERO {
                    earlier.push(Entry {
                        status: DutyStatus::OffDuty,
                        from: released,
                        to: begins,
                    });
                }
                log.entries.splice(0..0, earlier);
                log.rested_since = log.begins() - rules.reset_rest;
            }
        }
        _ => {}
    }
    (log, no_rest_before)
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
