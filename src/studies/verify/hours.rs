//! Drivers' hours: worked examples of the regulations through the clocks, every one of `hours/cases.json`, where each has its source
//! beside it. A clock is asked twice, by its definition from the whole log and carried along as the world does: both must say the same.

mod log;
mod random;
mod tours;
mod weekly;

pub(super) use random::random_logs;

use self::log::{at, log_of, rules_of, status};
use super::Family;
use super::check::{Basis, Check, Sheet};
use crate::hours::review::{
    left_at, log_required, may_drive_from, off_duty_in_day, restarts, rests, violations,
};
use crate::hours::{Clock, DutyLog, RuleSet, built_in, clocks_of};
use crate::units::Millis;
use serde_json::Value;

/// The worked examples.
pub const CASES: &str = include_str!("hours/cases.json");

/// The checks of worked examples in this form.
///
/// # Panics
/// If they are not in the form of [`CASES`].
pub fn checks(cases: &str) -> Vec<Check> {
    let file: Value = serde_json::from_str(cases).expect("the examples are JSON");
    let mut sheet = Sheet::new(Family::Hours);
    for case in file["cases"].as_array().expect("a list of examples") {
        let case = Case::new(case);
        let basis = match case.json["published"] == true {
            true => Basis::Printed,
            false => Basis::Paper,
        };
        sheet.about(case.text("title").to_owned(), basis, case.source());
        match case.text("kind") {
            "timeline" => timeline(&case, &mut sheet),
            "cycle_table" => weekly::check(&case, &mut sheet),
            "restart" => restart(&case, &mut sheet),
            "short_haul" => tours::short_haul(&case, &mut sheet),
            "eligibility_16h" => tours::long_day(&case, &mut sheet),
            "canada_day" => off_in_day(&case, &mut sheet),
            other => panic!("no kind of example {other}"),
        }
    }
    sheet.into_checks()
}

/// An example, and the rule book by which it is judged.
struct Case<'a> {
    json: &'a Value,
    rules: RuleSet,
}

impl<'a> Case<'a> {
    fn new(json: &'a Value) -> Self {
        Self {
            json,
            rules: rules_of(json),
        }
    }

    fn text(&self, key: &str) -> &'a str {
        let text = self.json[key].as_str();
        text.unwrap_or_else(|| panic!("no {key} in {}", self.json))
    }

    fn expected(&self) -> &'a Value {
        &self.json["expected"]
    }

    /// The source. Of an example that was made by hand from a rule it is the rule.
    fn source(&self) -> String {
        let written = self.text("source");
        if !written.starts_with("derived from the rule text") {
            return written.to_owned();
        }
        let mut laws: Vec<&str> = Vec::new();
        let clocks = Clock::ALL.into_iter();
        for law in clocks.filter_map(|clock| self.rules.law(clock)) {
            if !laws.contains(&&*law.citation) {
                laws.push(&law.citation);
            }
        }
        let rest = written.trim_start_matches("derived from the rule text");
        match laws.is_empty() {
            true => format!("the rule of {}{rest}", self.rules.about),
            false => format!("{}:{rest}", laws.join(", ")),
        }
    }
}

fn minutes(span: Millis) -> f64 {
    span.minutes()
}

/// A clock in words.
fn name(clock: Clock) -> &'static str {
    match clock {
        Clock::Driving => "driving time",
        Clock::Window => "window",
        Clock::OnDuty => "time on duty",
        Clock::Break => "time before a break",
        Clock::Cycle => "weekly hours",
    }
}

/// The clock whose limit has this name in the rule book.
fn clock_of(rules: &RuleSet, rule: &str) -> Option<Clock> {
    let mut clocks = Clock::ALL.into_iter();
    clocks.find(|clock| rules.law(*clock).is_some_and(|law| law.rule == rule))
}

/// What is left on the clocks by both forms, as one; words of both where they differ.
fn left_on(log: &DutyLog, rules: &RuleSet, clock: Clock, moment: Millis) -> Result<Millis, String> {
    let defined = left_at(log, rules, moment).of(clock);
    let carried = clocks_of(log, rules, moment).left(rules).of(clock);
    let told = |left: Option<Millis>| left.map_or("no clock".into(), |left| left.to_string());
    match defined {
        Some(left) if defined == carried => Ok(left),
        _ => Err(format!(
            "{} by the log, {} carried along",
            told(defined),
            told(carried)
        )),
    }
}

fn left(sheet: &mut Sheet, figure: String, found: Result<Millis, String>, expected: Millis) {
    match found {
        Ok(left) => sheet.near(figure, minutes(left), minutes(expected), 0.0),
        Err(words) => sheet.words(figure, words, expected.to_string()),
    };
}

/// Driving beyond limits in words, in order of time.
fn told(mut found: Vec<(Millis, Millis, String)>) -> String {
    found.sort();
    let lines: Vec<String> = found
        .into_iter()
        .map(|(from, to, limit)| format!("past the {limit} from {from} to {to}"))
        .collect();
    match lines.is_empty() {
        true => "never".into(),
        false => lines.join(", "),
    }
}

fn driven_beyond(log: &DutyLog, rules: &RuleSet) -> String {
    let found = violations(log, rules).into_iter();
    told(
        found
            .map(|beyond| (beyond.from, beyond.to, name(beyond.rule).to_owned()))
            .collect(),
    )
}

fn expected_beyond(list: &Value, rules: &RuleSet) -> String {
    let list = list.as_array().expect("violations").iter();
    told(
        list.map(|beyond| {
            let rule = beyond["rule"].as_str().expect("a rule");
            let limit = clock_of(rules, rule).map_or(rule, |clock| name(clock));
            (at(&beyond["from"]), at(&beyond["to"]), limit.to_owned())
        })
        .collect(),
    )
}

fn timeline(case: &Case<'_>, sheet: &mut Sheet) {
    let (rules, expected) = (&case.rules, case.expected());
    let log = log_of(case.json, rules);
    sheet.words(
        "driven beyond a limit",
        driven_beyond(&log, rules),
        expected_beyond(&expected["violations"], rules),
    );
    for clock in expected["clocks"].as_array().into_iter().flatten() {
        let moment = at(&clock["at"]);
        for (key, of) in [
            ("drive_left", Clock::Driving),
            ("window_left", Clock::Window),
            ("onduty_left", Clock::OnDuty),
            ("break_left", Clock::Break),
            ("cycle_left", Clock::Cycle),
        ] {
            if let Some(wanted) = clock.get(key) {
                let figure = format!("{} left at {moment}, min", name(of));
                left(sheet, figure, left_on(&log, rules, of, moment), at(wanted));
            }
        }
    }
    if let Some(minute) = expected.get("may_drive_again_at") {
        let mut entries = log.entries.iter();
        let duty = entries.rfind(|entry| rules.is_duty(entry.status));
        let released = duty.expect("some duty").to;
        let found = may_drive_from(&log, rules, released);
        sheet.words(
            "may drive again at",
            found.to_string(),
            at(minute).to_string(),
        );
    }
    for (rule, minute) in expected["no_drive_from"].as_object().into_iter().flatten() {
        let clock = clock_of(rules, rule).expect("a limit of the book");
        let (moment, before) = (at(minute), at(minute) - Millis::MINUTE);
        let last = format!("{} left at {before}, min", name(clock));
        let none = format!("{} left at {moment}, min", name(clock));
        left(
            sheet,
            last,
            left_on(&log, rules, clock, before),
            Millis::MINUTE,
        );
        left(
            sheet,
            none,
            left_on(&log, rules, clock, moment),
            Millis::ZERO,
        );
    }
    for (word, wanted) in expected["totals"].as_object().into_iter().flatten() {
        let of = log
            .entries
            .iter()
            .filter(|entry| entry.status == status(word));
        let sum: Millis = of.map(|entry| entry.to - entry.from).sum();
        let figure = format!("total of the line \"{word}\", min");
        sheet.near(figure, minutes(sum), minutes(at(wanted)), 0.0);
    }
    if let Some(strict) = expected.get("violations_strict_reading") {
        let mut log = log.clone();
        log.allowances.clear();
        sheet.words(
            "driven beyond a limit, read strictly",
            driven_beyond(&log, rules),
            expected_beyond(strict, rules),
        );
    }
    if let Some(required) = expected.get("record_of_duty_status_required") {
        // The day was to be short-haul: judged under that book.
        let short_haul = built_in("us_short_haul_2020").expect("a built-in name");
        let mut log = log.clone();
        log.allowances[0].1.outside_short_haul = case.json["options"].get("q33_aware_at").is_some();
        let found = log_required(&log, &short_haul, log.ends());
        sheet.yes("a log is needed", found, *required == true);
    }
}

fn restart(case: &Case<'_>, sheet: &mut Sheet) {
    let (rules, expected) = (&case.rules, case.expected());
    let mut log = log_of(case.json, rules);
    log.rested_since = log.begins();
    let ends = log.ends();
    let rests = rests(&log, rules, ends).into_iter();
    let longest = rests.map(|(from, to)| to - from).max();
    sheet.near(
        "longest time off, min",
        minutes(longest.unwrap_or_default()),
        minutes(at(&expected["longest_off_min"])),
        0.0,
    );
    let wanted = expected["restart_valid"] == true;
    let defined = !restarts(&log, rules, ends).is_empty();
    sheet.yes("it starts the weekly hours again", defined, wanted);
    let carried = clocks_of(&log, rules, ends).last_restart_began().is_some();
    sheet.yes("the same carried along", carried, wanted);
}

fn off_in_day(case: &Case<'_>, sheet: &mut Sheet) {
    let (rules, expected) = (&case.rules, case.expected());
    let off = off_duty_in_day(&log_of(case.json, rules), rules, 0);
    let wanted = minutes(at(&expected["off_duty_min"]));
    sheet.near("off duty in the day, min", minutes(off), wanted, 0.0);
    let least = rules.daily_off_duty.as_ref().map(|limit| limit.length);
    let met = least.is_some_and(|least| off >= least);
    sheet.yes("enough", met, expected["ten_hours_met"] == true);
}
