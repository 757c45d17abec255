//! What the hours on duty of earlier days say of the time before a log.

use super::clocks::Clocks;
use super::log::{DutyLog, Entry};
use super::rule_set::RuleSet;
use super::status::DutyStatus;
use super::wall_clock::WallClock;
use crate::units::Millis;

/// A log with what a history says of the time before it.
#[derive(Clone, Debug, PartialEq)]
pub struct WithHistory {
    /// The log; days that leave no room for a full rest are on duty in it from their start on.
    pub log: DutyLog,
    /// The history leaves no room for a full rest before the first duty, so its last days belong to the same shift.
    pub no_rest_before: bool,
    /// The last carrier day by which the history shows that the weekly hours had started again.
    pub restarted_by: Option<i64>,
    /// Carrier days of which the history says nothing, though the weekly hours look at them.
    pub missing: Vec<i64>,
}

/// A log that begins with `entries` (at least one) after `days`: time on duty by carrier day, each day once, in order.
///
/// A full rest and no more lies before the log, unless the last day with hours leaves no room for one: then its hours are taken
/// to lie at its start, which is the longest rest that it allows, and so on backwards. Days that are given as zero hours are
/// rest; days that are left out count as no hours, but not as rest. Days begin by the clock `wall`.
pub fn with_history(
    rules: &RuleSet,
    entries: Vec<Entry>,
    days: impl IntoIterator<Item = (i64, Millis)>,
    wall: WallClock,
) -> WithHistory {
    let begins = entries[0].from;
    let first_duty = entries.iter().find(|entry| rules.is_duty(entry.status));
    let mut shift_begins = first_duty.map_or(Millis::NEVER, |entry| entry.from);
    let mut log = DutyLog {
        entries,
        rested_since: begins - rules.reset_rest,
        prior: Vec::new(),
        allowances: Vec::new(),
        wall,
    };
    let mut days_off = 0;
    let mut restarted_by = None;
    let mut last_known: Option<i64> = None;
    for (day, worked) in days {
        let follows = last_known.is_none_or(|last| last + 1 == day);
        last_known = Some(day);
        days_off = match worked {
            Millis::ZERO if follows => days_off + 1,
            Millis::ZERO => 1,
            _ => 0,
        };
        log.prior.push((day, worked));
        let restart = rules.restart().filter(|restart| restart.nights == 0);
        if restart.is_some_and(|restart| Millis::DAY * days_off >= restart.length) {
            restarted_by = Some(day);
            for prior in &mut log.prior {
                prior.1 = Millis::ZERO;
            }
        }
    }
    let missing = missing(&log, rules, begins, restarted_by);
    if days_off > 0
        && let Some(last) =
            last_known.filter(|last| last + 1 >= log.wall.carrier_day(rules, begins))
    {
        let off_since = log.wall.day_begins(rules, last + 1 - days_off);
        log.rested_since = log.rested_since.min(off_since);
    }
    let mut no_rest_before = false;
    for at in (0..log.prior.len()).rev() {
        let (day, worked) = log.prior[at];
        let room = shift_begins - log.wall.day_begins(rules, day) - worked;
        if worked == Millis::ZERO {
            continue;
        }
        if room >= rules.reset_rest {
            break;
        }
        no_rest_before = true;
        log.prior.remove(at);
        let begun = log.begins();
        let released = (log.wall.day_begins(rules, day) + worked).min(begun);
        let off = Entry {
            status: DutyStatus::OffDuty,
            from: released,
            to: begun,
        };
        let on = Entry {
            status: DutyStatus::OnDuty,
            from: released - worked,
            to: released,
        };
        let earlier = [on, off].into_iter().filter(|entry| entry.from < entry.to);
        log.entries.splice(0..0, earlier);
        shift_begins = log.begins();
        log.rested_since = shift_begins - rules.reset_rest;
    }
    WithHistory {
        log,
        no_rest_before,
        restarted_by,
        missing,
    }
}

/// The carrier days before a log that weekly hours look at and the history leaves out; those before a restart do not matter.
fn missing(log: &DutyLog, rules: &RuleSet, begins: Millis, restarted_by: Option<i64>) -> Vec<i64> {
    let Some(cycle) = &rules.cycle else {
        return Vec::new();
    };
    let today = log.wall.carrier_day(rules, begins);
    let first = today + 1 - i64::from(cycle.days);
    let first = restarted_by.map_or(first, |by| first.max(by + 1));
    (first..today)
        .filter(|day| log.prior.iter().all(|(known, _)| known != day))
        .collect()
}

/// The clocks of a log at a moment not before its beginning, carried along. Of what is claimed with an entry that begins then they
/// know already; what is done from then on they do not.
pub fn clocks_of(log: &DutyLog, rules: &RuleSet, at: Millis) -> Clocks {
    let mut clocks = Clocks::new(
        rules,
        log.begins(),
        log.rested_since,
        log.prior.iter().copied(),
    );
    let mut claims = log.allowances.iter().peekable();
    for entry in log.entries.iter().take_while(|entry| entry.from <= at) {
        while let Some((from, allowance)) = claims.next_if(|(from, _)| *from <= entry.from) {
            clocks.allow(rules, *from, *allowance);
        }
        if entry.from < at {
            clocks.change(rules, entry.from, entry.status);
        }
    }
    if log.ends() < at {
        clocks.change(rules, log.ends(), DutyStatus::OffDuty);
    }
    clocks.advance(rules, at);
    clocks
}
