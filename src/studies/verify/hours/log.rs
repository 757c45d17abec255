//! An example as a log and a rule book.

use crate::hours::{Adverse, Allowance, DelayCause, DutyLog, DutyStatus, Entry, RuleSet, built_in};
use crate::units::Millis;
use serde_json::Value;

/// A moment or a length, in minutes.
pub(super) fn at(value: &Value) -> Millis {
    let minutes = value.as_i64();
    Millis::MINUTE * minutes.unwrap_or_else(|| panic!("minutes: {value}"))
}

/// A line of a log by its word.
pub(super) fn status(word: &str) -> DutyStatus {
    match word {
        "off" => DutyStatus::OffDuty,
        "sleeper" => DutyStatus::Sleeper,
        "on" => DutyStatus::OnDuty,
        "drive" => DutyStatus::Driving,
        _ => panic!("no status {word}"),
    }
}

/// The rule book of an example: weekly hours only where it is about them.
pub(super) fn rules_of(case: &Value) -> RuleSet {
    let name = case["rule_set"].as_str().expect("a name");
    let mut rules = built_in(name).unwrap_or_else(|| panic!("no rule book {name}"));
    match case["options"]["cycle"].as_str() {
        Some(cycle) => rules = rules.with_cycle(cycle).expect("weekly hours of that name"),
        None if case["kind"] == "timeline" => rules.cycle = None,
        None => {}
    }
    let day_start = &case["carrier_day_start_min"];
    if !day_start.is_null() {
        rules.day_start = at(day_start);
    }
    rules.construction_materials = case["options"]["construction_24h_restart"] == true;
    rules
}

/// The log of an example: a full rest before it, and no more.
pub(super) fn log_of(case: &Value, rules: &RuleSet) -> DutyLog {
    let options = &case["options"];
    let waiting = options["ready_mix_waiting"].as_array();
    let waiting: Vec<(Millis, Millis)> = waiting
        .into_iter()
        .flatten()
        .map(|pair| (at(&pair[0]), at(&pair[1])))
        .collect();
    let mut entries = Vec::new();
    for entry in case["timeline"].as_array().expect("a timeline") {
        let (from, to) = (at(&entry[1]), at(&entry[2]));
        let status = status(entry[0].as_str().expect("a word"));
        // Waiting lies inside an entry; it is cut out of it.
        let mut cuts = vec![from, to];
        cuts.extend(waiting.iter().flat_map(|wait| [wait.0, wait.1]));
        cuts.retain(|cut| (from..=to).contains(cut));
        cuts.sort();
        cuts.dedup();
        for piece in cuts.windows(2) {
            let mut waits = waiting.iter();
            let waits = waits.any(|wait| wait.0 <= piece[0] && piece[1] <= wait.1);
            entries.push(Entry {
                status: if waits { DutyStatus::Waiting } else { status },
                from: piece[0],
                to: piece[1],
            });
        }
    }
    let adverse = (options["adverse_conditions"] == true)
        .then(|| Adverse::claim(DelayCause::Weather, false, true).expect("weather is a claim"));
    let excused = &options["q33_break_taken_at"];
    let allowance = Allowance {
        adverse,
        long_day: options["sixteen_hour_exception_valid"] == true,
        outside_short_haul: false,
        break_excused_until: (!excused.is_null()).then(|| at(excused)),
    };
    let daily = daily_hours(case);
    let days = daily.len() as i64;
    DutyLog {
        rested_since: entries[0].from - rules.reset_rest,
        entries,
        prior: (-days..).zip(daily).collect(),
        allowances: vec![(Millis::ZERO, allowance)],
        ..DutyLog::default()
    }
}

/// Time on duty day by day before a log, or in a table without one.
pub(super) fn daily_hours(case: &Value) -> Vec<Millis> {
    let daily = case["prior"]["daily_on_duty_hours"].as_array();
    let hours = daily.into_iter().flatten();
    hours
        .map(|hours| Millis::from_hours(hours.as_f64().expect("hours")))
        .collect()
}
