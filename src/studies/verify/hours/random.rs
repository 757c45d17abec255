//! Both forms of the clocks on random logs of two weeks. No published source: they share the rule books and nothing else that counts.

use super::super::Family;
use super::super::check::{Basis, Check, Sheet};
use crate::engine::{Entity, Luck};
use crate::hours::review::left_at;
use crate::hours::{DutyLog, DutyStatus, Entry, NAMES, RuleSet, built_in, clocks_of};
use crate::units::{Millis, Purpose};
use rand::{Rng, RngExt};

/// Logs for each rule book.
const LOGS: u32 = 200;
const DAYS: i64 = 14;

/// Driving and other work come most often.
const STATUSES: [DutyStatus; 9] = [
    DutyStatus::Driving,
    DutyStatus::Driving,
    DutyStatus::Driving,
    DutyStatus::OnDuty,
    DutyStatus::OnDuty,
    DutyStatus::OffDuty,
    DutyStatus::OffDuty,
    DutyStatus::Sleeper,
    DutyStatus::Waiting,
];

/// The very lengths, in minutes, at which breaks, rests and restarts begin to count, and their neighbors.
const EDGES: [i64; 14] = [
    29, 30, 31, 479, 480, 481, 599, 600, 601, 840, 1440, 2039, 2040, 2160,
];

/// A check for each rule book: in how many random logs, at the end of any entry, the two forms of the clocks differ.
pub(in super::super) fn random_logs(seed: u64) -> Vec<Check> {
    let mut sheet = Sheet::new(Family::Hours);
    for name in NAMES {
        let rules = built_in(name).expect("a built-in name");
        let draws = Luck::new(seed, 0);
        let differ = (0..LOGS).filter(|log| {
            let mut draws = draws.stream(Purpose::CheckedLog, Entity::named(name), *log);
            let log = random_log(&rules, &mut draws);
            let mut ends = log.entries.iter().map(|entry| entry.to);
            ends.any(|at| clocks_of(&log, &rules, at).left(&rules) != left_at(&log, &rules, at))
        });
        sheet.about(
            format!("{LOGS} random logs: {}", rules.about),
            Basis::Paper,
            "Clocks carried along against their definitions, at every change of status",
        );
        sheet.near("logs on which they differ", differ.count() as f64, 0.0, 0.0);
    }
    sheet.into_checks()
}

fn random_log(rules: &RuleSet, draws: &mut impl Rng) -> DutyLog {
    let mut entries = Vec::new();
    let mut from = Millis::ZERO;
    while from < Millis::DAY * DAYS {
        let minutes = match draws.random_range(0..3) {
            0 => EDGES[draws.random_range(0..EDGES.len())],
            _ => draws.random_range(1..180),
        };
        let to = from + Millis::MINUTE * minutes;
        let status = STATUSES[draws.random_range(0..STATUSES.len())];
        entries.push(Entry { status, from, to });
        from = to;
    }
    let days_before = draws.random_range(0..8);
    let prior = (1..=days_before).map(|ago| (-ago, Millis::HOUR * draws.random_range(0..14)));
    DutyLog {
        entries,
        rested_since: -rules.reset_rest,
        prior: prior.collect(),
        ..DutyLog::default()
    }
}
